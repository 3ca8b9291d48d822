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
	care := answer.CareOf(&answer.Scene{Drawer: drawer, Styles: []objective.Style{style}, Stand: asksForStand(report)})
	if err := s.deliver(ctx, learnAnswer(s.head(drawer.Name, "", care), drawer, report, base, care)); err != nil {
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
		return "", usagef("--output: %s exists and is no learned file: name another", filepath.Base(target))
	}
	return target, nil
}

// wroteIt says whether a file begins as a learned file does.
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
