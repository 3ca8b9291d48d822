package cli

import (
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/objective"
)

func newStyles(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "styles",
		Short: "Show the built-in styles and which figure feeds which axis",
		Long: `styles shows the built-in styles: what they weigh, which limits they keep and how they are flown,
and which figure feeds which axis over which range. With --style it shows that style alone, a file
or one changed by --weights and --limit as well.`,
		Example: "  partsaloft styles\n  partsaloft styles --style race --weights grip=2,top_speed=1",
		Args:    exit.NoArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			var styles []objective.Style
			if changesStyle(c) {
				one, err := s.LoadStyle(s.Options.Style)
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
			d := answer.ShowStyles(s.Head(), styles)
			return s.Deliver(c.Context(), d, session.Sheet{Page: stylesPage(d)})
		},
	}, session.UsesStyle|session.UsesGoals|session.UsesResult)
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
	feeds := &render.Table{Columns: []render.Column{render.Left("axis"), render.Left("figure").Titled(), render.Right("0 at"),
		render.Right("1 at"), render.Left("steps"), render.Left("meaning").Wrapped(44)}}
	for _, f := range d.Feeds {
		steps := "even"
		if f.Scale == "log" {
			steps = "by ratio"
		}
		axis, _ := objective.AxisByKey(f.Axis)
		feeds.Add(axis.String(), f.Figure, catalogue.WithUnit(catalogue.Raw(f.Worst), f.Unit),
			catalogue.WithUnit(catalogue.Raw(f.Best), f.Unit), steps, f.Meaning)
	}
	page.Add(render.Heading("Which figure feeds which axis"), feeds,
		render.Paragraph(`An axis is 100 times the geometric mean of its figures' desirabilities, the score the weighted geometric mean of the axes.
The ranges are the same for every style and drawer, so that a score means the same everywhere; a figure at or beyond its 0, or one that cannot be computed, counts as a hundredth.`))
	return page
}
