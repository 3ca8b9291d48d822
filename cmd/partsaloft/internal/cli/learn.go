package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/files"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

func newLearn(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "learn",
		Short: "Correct the estimates of parts by what you weighed, flew and measured",
		Long: `learn takes the drawer's log and benches, corrects the uncertain figures of the parts concerned, shows
each reading beside what was predicted before and after, and says what the readings tell of each part
and what they cannot tell. What was learned goes to --output, or beside the drawer as NAME.learned.yaml,
where every other command finds it. The drawer itself is never written.`,
		Example: `  partsaloft learn
  partsaloft learn --drawer drawer.yaml
  partsaloft learn --drawer drawer.yaml --output better.yaml
  partsaloft rank --drawer drawer.yaml --learned better.yaml`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error { return s.learn(c.Context()) },
	}
}

func (s *session) learn(ctx context.Context) error {
	style, err := s.loadStyle(s.options.style)
	if err != nil {
		return err
	}
	drawer, err := s.bareDrawer()
	if err != nil {
		return err
	}
	target, err := s.learnedTarget()
	if err != nil {
		return err
	}
	ways := waysOf(&style)
	s.addWays(ways, drawer)
	report, err := learn.Learn(ctx, drawer, ways)
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		return dataError{err}
	case err != nil:
		return err
	}
	report.Learned.Version = Version
	if err := ctx.Err(); err != nil {
		return err
	}
	if target != "" {
		if err := s.write(ctx, "--output", target, report.Learned.YAML()); err != nil {
			return fmt.Errorf("what was learned is not kept: %w", err)
		}
		// It is written: an interrupt is too late to keep the report back.
		ctx = context.WithoutCancel(ctx)
	}
	// --output names the learned file here; the report goes to the standard output.
	s.options.output = ""
	base := ""
	if target != "" {
		base = filepath.Base(target)
	}
	d := answer.Learn(s.head(), drawer, &style, report, base)
	if err := s.deliver(ctx, d, sheet{page: learnPage(d)}); err != nil {
		return err
	}
	switch {
	case target == "":
		s.remark("Nothing was written: name a file with --output to keep what was learned from the embedded example.")
	case s.options.drawer != "" && target == learnedBeside(s.options.drawer):
		s.remark("Written to %s: the other commands use it with this drawer from now on.", target)
	default:
		s.remark("Written to %s: name it with --learned to use it.", target)
	}
	return nil
}

// learnedTarget is the file to write: never the drawer, nor anything that is no learned file.
func (s *session) learnedTarget() (string, error) {
	target := s.options.output
	if target == "" {
		if s.options.drawer == "" {
			return "", nil
		}
		target = learnedBeside(s.options.drawer)
	}
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return target, nil
	}
	if err != nil {
		return "", fmt.Errorf("--output: %w", err)
	}
	if info.Mode().IsRegular() && info.Size() > 0 && !wroteIt(target) {
		return "", usagef("--output: %s exists and is not a learned file: name another", filepath.Base(target))
	}
	return target, nil
}

// wroteIt reports whether a file begins as a learned file does.
func wroteIt(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	start := make([]byte, len(learn.FileStart))
	n, _ := f.Read(start)
	return string(start[:n]) == learn.FileStart
}

// addWays adds the styles that the log names and that lie beside the drawer, or in a folder styles
// there. One that cannot be read is left out: the log's line is then at fault.
func (s *session) addWays(ways learn.Ways, d *inventory.Drawer) {
	for i := range d.Log {
		name := d.Log[i].Flown
		if _, known := ways[name]; known || !strict.ValidID(name) || strings.HasPrefix(name, ".") {
			continue
		}
		for _, folder := range [...]string{"", "styles"} {
			if w, ok := s.wayIn(folder, name); ok {
				ways[name] = w.Flying
				break
			}
		}
	}
}

func (s *session) wayIn(folder, name string) (objective.Style, bool) {
	var w objective.Written
	var doc *strict.Document
	if s.options.drawer == "" {
		content, err := examples.Files.ReadFile(strings.TrimPrefix(folder+"/"+name+".yaml", "/"))
		if err != nil {
			return objective.Style{}, false
		}
		doc = strict.Read(name+".yaml", bytes.NewReader(content), &w)
	} else {
		content, err := s.read(filepath.Join(filepath.Dir(s.options.drawer), folder, name+".yaml"))
		if err != nil {
			return objective.Style{}, false
		}
		doc = strict.Read(name+".yaml", bytes.NewReader(content), &w)
	}
	style, faults := w.Style()
	return style, doc.Err() == nil && len(faults) == 0
}

// learnTables show every reading beside its predictions: the log, then the benches. A star marks a
// reading that does not fit.
func learnTables(r *learn.Report) []render.Block {
	log := &render.Table{Columns: []render.Column{render.Left("entry"), render.Left("reading"), render.Right("read"),
		render.Right("before"), render.Right("after"), render.Right("left out")}}
	bench := &render.Table{Columns: []render.Column{render.Left("bench"), render.Left("reading"), render.Right("read"),
		render.Right("before"), render.Right("after")}}
	put := func(t *render.Table, e *learn.Entry, first, second string) {
		labels := []string{first, second}
		if len(e.Readings) == 1 {
			labels = []string{strings.TrimSpace(first + " " + second)}
		}
		for k := range e.Readings {
			c := &e.Readings[k]
			label := ""
			if k < len(labels) {
				label = labels[k]
			}
			measured := catalogue.Number(c.Measured, c.Measured-c.SD, c.Measured+c.SD)
			if !c.Fits {
				measured += "*"
			}
			t.Add(label, catalogue.WithUnit(catalogue.ReadingName(c.Key), catalogue.ReadingUnit(c.Key)), measured,
				spanText(&c.Before), spanText(&c.After), valueText(&c.LeftOut))
		}
	}
	for i := range r.Entries {
		put(log, &r.Entries[i], fmt.Sprint(r.Entries[i].Number), r.Entries[i].Date)
	}
	for i := range r.Bench {
		b := r.Bench[i].Bench
		if b.Motor == "" {
			put(bench, &r.Bench[i], b.Prop, "")
		} else {
			put(bench, &r.Bench[i], b.Motor, fmt.Sprintf("%s, %g V, %g %%", b.Prop, b.VoltageV, b.ThrottlePct))
		}
	}
	return []render.Block{log, bench}
}

func spanText(x *learn.Interval) string {
	if !x.Known {
		return "–"
	}
	return fmt.Sprintf("%s (%s)", catalogue.Number(x.Value, x.Low, x.High), catalogue.Interval(x.Value, x.Low, x.High))
}

func valueText(x *learn.Interval) string {
	if !x.Known {
		return "–"
	}
	return catalogue.Number(x.Value, x.Low, x.High)
}

func learnPage(d *answer.Learned) render.Page {
	page := render.Page{render.Paragraph(d.Words.Log)}
	page.Add(learnTables(d.Report)...)
	page.Add(section("Readings that do not fit", d.Words.Misfits)...)
	page.Add(section("What the readings tell of the parts", d.Words.Parts)...)
	page.Add(section("Cannot be separated", d.Words.Doubts)...)
	if d.Words.Holds != "" {
		page.Add(render.Heading("Cross-check"), render.Paragraph(d.Words.Holds))
	}
	return page
}

// learnedSuffix replaces the ending of a drawer's name for what was learned from its log.
const learnedSuffix = ".learned.yaml"

// learnedBeside is the learned file that belongs to a drawer's file.
func learnedBeside(drawer string) string {
	return strings.TrimSuffix(drawer, filepath.Ext(drawer)) + learnedSuffix
}

// useLearned corrects a drawer by the learned file that --learned names, or by the one beside the
// drawer's file, or else by what the drawer's own benches teach. One that was named must hold; one that was found is
// passed over with a remark if it does not.
func (s *session) useLearned(d *inventory.Drawer) error {
	path, named := s.options.learned, s.options.learnedGiven
	if !named && s.options.drawer != "" {
		path = learnedBeside(s.options.drawer)
		if _, err := os.Stat(path); err != nil {
			path = ""
		}
	}
	if path == "" {
		return s.useBenches(d)
	}
	entries, err := s.correct(d, path)
	switch {
	case err != nil && (named || errors.As(err, new(*files.ClashError))):
		return asData(err)
	case err != nil:
		s.remark("%s, beside the drawer, is not used: %s", filepath.Base(path), faults.Error(err))
		return nil
	}
	if entries > 0 {
		s.learnedFile, s.learnedFrom = filepath.Base(path), entries
	}
	return nil
}

// useBenches corrects a drawer by its own benches, which takes a fraction of a second.
func (s *session) useBenches(d *inventory.Drawer) error {
	style, err := s.loadStyle(s.options.style)
	if err != nil {
		return err
	}
	l, err := learn.Benches(context.Background(), d)
	if err == nil && l != nil {
		err = l.Apply(d, style.Name, waysOf(&style))
	}
	if err != nil {
		s.remark("the benches in %s are not used: %s", d.Name, faults.Error(err))
	}
	return nil
}

// correct applies a learned file and returns the number of entries that it was learned from.
func (s *session) correct(d *inventory.Drawer, path string) (int, error) {
	content, err := s.read(path)
	if err != nil {
		return 0, err
	}
	base := filepath.Base(path)
	l, err := learn.Read(base, bytes.NewReader(content))
	if err != nil {
		return 0, err
	}
	if l.Version != Version {
		return 0, fmt.Errorf("%s: was written by version %s, this is %s: run learn again", base, l.Version, Version)
	}
	style, err := s.loadStyle(s.options.style)
	if err != nil {
		return 0, err
	}
	ways := waysOf(&style)
	if err := l.Apply(d, style.Name, ways); err != nil {
		var faults inventory.Faults
		if errors.As(err, &faults) {
			for i := range faults {
				faults[i].File = base
			}
			return 0, faults
		}
		return 0, fmt.Errorf("%s: %w", base, err)
	}
	if len(l.Parts) == 0 {
		return 0, nil
	}
	return len(l.From), nil
}

// waysOf are the built-in styles and the one in use as ways of flying.
func waysOf(style *objective.Style) learn.Ways {
	ways := learn.Ways{}
	for _, name := range objective.PresetNames() {
		if p, ok := objective.Preset(name); ok {
			ways[name] = p.Flying
		}
	}
	if style != nil {
		ways[style.Name] = style.Flying
	}
	return ways
}

// correctedText says that and from what figures were corrected, "" if they were not.
func (s *session) correctedText() string {
	if s.learnedFile == "" {
		return ""
	}
	return fmt.Sprintf("The figures are corrected by %s, learned from %s.", s.learnedFile,
		phrase.Plural(int64(s.learnedFrom), "entry or bench", "entries and benches"))
}
