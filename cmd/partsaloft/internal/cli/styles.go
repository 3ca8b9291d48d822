package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
)

func newStyles(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "styles",
		Short: "Show the built-in styles and which figure feeds which axis",
		Long: `styles shows the built-in styles: what they weigh, which limits they keep and how they are flown,
and which figure feeds which axis over which range. With --style it shows that style alone, a file
or one changed by --weights and --limit as well.`,
		Example: "  partsaloft styles\n  partsaloft styles --style race --weights grip=2,top_speed=1",
		Args:    noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			var styles []objective.Style
			if changesStyle(c) {
				one, err := s.loadStyle(s.options.style)
				if err != nil {
					return err
				}
				styles = append(styles, one)
			} else {
				for _, name := range objective.PresetNames() {
					preset, _ := objective.Preset(name)
					styles = append(styles, preset)
				}
			}
			d := answer.ShowStyles(s.head(), styles)
			return s.deliver(c.Context(), d, sheet{page: stylesPage(d)})
		},
	}
}

func changesStyle(c *cobra.Command) bool {
	return slices.ContainsFunc([]string{"style", "weights", "limit"}, c.Flags().Changed)
}

func stylesPage(d *answer.Styles) render.Page {
	var page render.Page
	weights := &render.Table{Columns: []render.Column{render.Left("style")}}
	for a := range objective.AxisCount {
		weights.Columns = append(weights.Columns, render.Right(a.String()+"\n%"))
	}
	weights.Columns = append(weights.Columns, render.Right("speed\nm/s"), render.Right("landing\nV a cell"),
		render.Right("reserve\n%"), render.Left("limits"))
	flown := render.List{}
	for i := range d.Styles {
		s := &d.Styles[i]
		row := []string{s.Name}
		for _, w := range s.Weights {
			row = append(row, strconv.FormatFloat(100*w.Value.(float64), 'f', 0, 64))
		}
		weights.Add(append(row, catalogue.Raw(s.Flying.SpeedMps), s.Flying.LandingText(), s.Flying.ReserveText(),
			strings.Join(s.LimitTexts(), "\n"))...)
		flown = append(flown, s.Sentence())
	}
	page.Add(render.Heading("What a style weighs and which limits it keeps"), weights)
	page.Add(render.Heading("How it is flown"), flown, render.Paragraph(catalogue.UsualLandings()))
	feeds := &render.Table{Columns: []render.Column{render.Left("axis"), render.Left("figure"), render.Right("0 at"),
		render.Right("1 at"), render.Left("steps"), render.Left("meaning")}}
	for _, f := range d.Feeds {
		steps := "even"
		if f.Scale == "log" {
			steps = "by ratio"
		}
		axis, _ := objective.AxisByKey(f.Axis)
		feeds.Add(axis.String(), f.Figure, catalogue.WithUnit(catalogue.Raw(f.Worst), f.Unit),
			catalogue.WithUnit(catalogue.Raw(f.Best), f.Unit), steps, render.Wrap(f.Meaning, 44, ""))
	}
	page.Add(render.Heading("Which figure feeds which axis"), feeds,
		render.Paragraph(`An axis is 100 times the geometric mean of its figures' desirabilities, the score the weighted geometric mean of the axes.
The ranges are the same for every style and drawer, so that a score means the same everywhere; a figure at or beyond its 0, or one that cannot be computed, counts as a hundredth.`))
	return page
}

// loadStyle is the style of a name or file, with the weights, limits and extras that the options ask for.
func (s *session) loadStyle(name string) (objective.Style, error) {
	style, err := s.styleNamed(name)
	if err != nil {
		return style, err
	}
	o := &s.options
	if o.weights != "" {
		w, err := objective.ParseWeights(o.weights)
		if err != nil {
			return style, usagef("--weights: %w", err)
		}
		style.Weights = w
	}
	for _, role := range o.with {
		if err := knownRole(role); err != nil {
			return style, usagef("--with: %w", err)
		}
	}
	for _, text := range o.limits {
		l, err := objective.ParseLimit(text)
		if err != nil {
			return style, usagef("--limit: %w", err)
		}
		style = style.With(l)
	}
	return style, nil
}

// styleNamed is a preset, or the style in a file.
func (s *session) styleNamed(name string) (objective.Style, error) {
	if style, ok := objective.Preset(name); ok {
		return style, nil
	}
	if !strings.ContainsAny(name, `/\.`) {
		if _, err := os.Stat(name); err != nil {
			return objective.Style{}, usagef("--style: %q is not a built-in style (%s) and no file of that name is here%s",
				name, strings.Join(objective.PresetNames(), ", "), didYouMean(name, objective.PresetNames()))
		}
	}
	content, err := s.read(name)
	if err != nil {
		return objective.Style{}, err
	}
	return readStyle(filepath.Base(name), content)
}

// readStyle reads the text of a style's file; one without a name takes the file's.
func readStyle(file string, content []byte) (objective.Style, error) {
	var w objective.Written
	doc := strict.Read(file, bytes.NewReader(content), &w)
	style, faults := w.Style()
	for _, f := range faults {
		if doc.Sound(f.Path) {
			doc.Add(f.Path, f.Problem)
		}
	}
	for i, role := range w.RequiredRoles {
		path := fmt.Sprintf("required_roles[%d]", i)
		if err := knownRole(role); err != nil && doc.Sound(path) {
			doc.Add(path, *err)
		}
	}
	if err := doc.Err(); err != nil {
		return objective.Style{}, dataError{err}
	}
	if style.Name == "" {
		style.Name = strings.TrimSuffix(file, filepath.Ext(file))
	}
	return style, nil
}

// roles are what an extra can be for.
var roles = []string{
	string(inventory.Camera), string(inventory.Video), string(inventory.Receiver), string(inventory.Antenna),
	string(inventory.Capacitor),
	string(inventory.Adapter), string(inventory.Strap), string(inventory.Hardware),
}

func knownRole(role string) *strict.Problem {
	if slices.Contains(roles, role) {
		return nil
	}
	return &strict.Problem{Code: "style.role", Values: strict.Values{"got": strict.Quoted(role), "roles": roles}}
}
