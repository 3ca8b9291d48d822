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

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

func newLearn(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "learn [DRAWER]",
		Short: "Correct the estimates of parts by what you weighed, flew and measured",
		Long: `learn takes the drawer's log and benches, corrects the uncertain figures of the parts concerned, shows
each reading beside what was predicted before and after, and says what the readings tell of each part
and what they cannot tell. What was learned goes to --output, or beside the drawer as NAME.learned.yaml,
where every other command finds it. The drawer itself is never written.`,
		Example: `  partsaloft learn
  partsaloft learn --drawer drawer.yaml
  partsaloft learn --drawer drawer.yaml --output better.yaml
  partsaloft rank --drawer drawer.yaml --learned better.yaml`,
		Args: exit.OneDrawer,
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := s.TakeDrawer(args, session.Any); err != nil {
				return err
			}
			return s.learn(c.Context())
		},
	}, session.UsesDrawer|session.UsesAir|session.UsesStyle|session.UsesResult)
}

func (s *commands) learn(ctx context.Context) error {
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return err
	}
	drawer, err := s.BareDrawer()
	if err != nil {
		return err
	}
	target, err := s.learnedTarget()
	if err != nil {
		return err
	}
	ways := question.Ways(&style)
	s.addWays(ways, drawer)
	report, err := learn.Learn(ctx, drawer, ways)
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		return exit.Data(err)
	case err != nil:
		return err
	}
	report.Learned.Version = session.Version
	if err := ctx.Err(); err != nil {
		return err
	}
	if target != "" {
		if err := s.Write(ctx, "--output", target, report.Learned.YAML()); err != nil {
			return fmt.Errorf("what was learned is not kept: %w", err)
		}
		// It is written: an interrupt is too late to keep the report back.
		ctx = context.WithoutCancel(ctx)
	}
	// --output names the learned file here; the report goes to the standard output.
	s.Options.Output = ""
	base := ""
	if target != "" {
		base = filepath.Base(target)
	}
	d := answer.Learn(s.Head(), drawer, &style, report, base)
	again, err := s.Quietly((*session.Session).BareDrawer)
	if err != nil {
		return err
	}
	if err := d.Gained(ctx, drawer, again, &style, ways, s.SearchOptions()); err != nil {
		return err
	}
	if err := s.Deliver(ctx, d, session.Sheet{Page: learnPage(d)}); err != nil {
		return err
	}
	switch {
	case target == "":
		s.Remark("Nothing was written: name a file with --output to keep what was learned.")
	case s.DrawerFile() != "" && target == session.LearnedBeside(s.DrawerFile()):
		s.Remark("Written to %s: the other commands use it with this drawer from now on.", target)
	default:
		s.Remark("Written to %s: name it with --learned to use it.", target)
	}
	return nil
}

// learnedTarget is the file to write: never the drawer, nor anything that is no learned file.
func (s *commands) learnedTarget() (string, error) {
	target := s.Options.Output
	if target == "" {
		if s.DrawerFile() == "" {
			return "", nil
		}
		target = session.LearnedBeside(s.DrawerFile())
	}
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return target, nil
	}
	if err != nil {
		return "", fmt.Errorf("--output: %w", err)
	}
	if info.Mode().IsRegular() && info.Size() > 0 && !wroteIt(target) {
		return "", exit.Usagef("--output: %s exists and is not a learned file: name another", filepath.Base(target))
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
func (s *commands) addWays(ways learn.Ways, d *inventory.Drawer) {
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

func (s *commands) wayIn(folder, name string) (objective.Style, bool) {
	var w objective.Written
	var doc *strict.Document
	if s.Options.Drawer == "" {
		content, err := examples.Files.ReadFile(strings.TrimPrefix(folder+"/"+name+".yaml", "/"))
		if err != nil {
			return objective.Style{}, false
		}
		doc = strict.Read(name+".yaml", bytes.NewReader(content), &w)
	} else {
		content, err := s.Read(filepath.Join(filepath.Dir(s.DrawerFile()), folder, name+".yaml"))
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
	log := &render.Table{Columns: []render.Column{render.Left("entry"), render.Left("reading").Titled(), render.Right("read"),
		render.Right("before"), render.Right("after"), render.Right("left out")}}
	bench := &render.Table{Columns: []render.Column{render.Left("bench"), render.Left("reading").Titled(), render.Right("read"),
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
			measured, _ := catalogue.In(catalogue.ReadingUnit(c.Key), c.Measured, c.Measured-c.SD, c.Measured+c.SD)
			if !c.Fits {
				measured += "*"
			}
			t.Add(label, catalogue.ReadingHead(c.Key), measured,
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

// gainBlocks show how sure the log's crafts were and are.
func gainBlocks(g *answer.Gain) []render.Block {
	if g == nil || len(g.Crafts) == 0 {
		return nil
	}
	t := &render.Table{Columns: []render.Column{render.Left("craft of"), render.Left("figure"), render.Right("before"),
		render.Right("now"), render.Right("range\nis")}}
	for i := range g.Crafts {
		label := fmt.Sprintf("entry %d", g.Crafts[i].Entry)
		for k := range g.Crafts[i].Figures {
			f := &g.Crafts[i].Figures[k]
			t.Add(label, f.Name, f.BeforeText, f.AfterText, catalogue.Fixed(100*f.Width, 0)+" %")
			label = ""
		}
	}
	blocks := []render.Block{render.Heading("What it brought"), t}
	return append(blocks, render.List(g.Texts))
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
	page.Add(gainBlocks(d.Gain)...)
	page.Add(section("Readings that do not fit", d.Words.Misfits)...)
	page.Add(section("What the readings tell of the parts", d.Words.Parts)...)
	page.Add(section("Cannot be separated", d.Words.Doubts)...)
	if d.Words.Holds != "" {
		page.Add(render.Heading("Cross-check"), render.Paragraph(d.Words.Holds))
	}
	return page
}
