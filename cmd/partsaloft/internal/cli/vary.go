package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

type varyOptions struct {
	pick    string
	changes []string
}

func newVary(s *commands) *cobra.Command {
	o := &varyOptions{}
	c := &cobra.Command{
		Use:   "vary [RANK|PART...] [DRAWER]",
		Short: "Make one change at a time to a build and see what each does",
		Long: `vary makes one change at a time to a build, each alone: a little weight, pitch, blades, cells,
capacity, a throttle cap, where the blades' mass sits, air, wind, a worn pack. With --change it makes
yours instead. The change that the style gains most from comes first.`,
		Example: `  partsaloft vary 1 --style cruise
  partsaloft vary k4s-720 --style race
  partsaloft vary 1 --change pack.capacity_mah=850 --change craft.mass_g=+12`,
		RunE: func(c *cobra.Command, args []string) error {
			which, err := s.which(args, o.pick)
			if err != nil {
				return err
			}
			return s.vary(c.Context(), which, o)
		},
	}
	c.Flags().StringVar(&o.pick, "pick", "", "build by its `PARTS`: "+answer.PickForm)
	c.Flags().StringArrayVar(&o.changes, "change", nil, "`CHANGE` to make: "+answer.ChangeForm+"; may be repeated")
	return s.Take(c, session.UsesSearch)
}

// deltaText is a difference with the digits that its doubt leaves.
func deltaText(v *search.Varied, q figure.Quantity) string {
	d := v.Deltas[q]
	if d.Why != physics.Defined {
		return "–"
	}
	scale := figure.Of(q).PerSI
	value, low, high := scale*d.Value, scale*d.Low, scale*d.High
	return catalogue.SignedFixed(value, min(max(catalogue.Decimals(value, low, high), 0), 1))
}

// mindText names what a change breaks, or the cap that it brings or moves.
func mindText(base *predict.Result, v *search.Varied) string {
	if len(v.Violations) > 0 {
		return "breaks: " + catalogue.Violation(&v.Violations[0])
	}
	before, after := catalogue.ShownOf(base, figure.ThrottleCap), catalogue.ShownOf(&v.Result, figure.ThrottleCap)
	if d := after.Value - before.Value; d >= 1 || d <= -1 {
		text := fmt.Sprintf("cap %s → %s", before.Number(), after.String())
		if by := v.Performance.Cap; by != physics.NoLimit && v.Change.Kind != search.CapChange &&
			v.Change.Kind != search.StickChange {
			text += " (" + catalogue.Brief[by] + ")"
		}
		return text
	}
	return ""
}

func (s *commands) vary(ctx context.Context, which answer.Which, o *varyOptions) error {
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d, nothing, err := answer.Vary(ctx, ask, which, o.changes)
	if err != nil {
		return exit.Asked(err)
	}
	if nothing != nil {
		return s.deliverNothing(ctx, nothing)
	}
	return s.Deliver(ctx, d, session.Sheet{Page: varyPage(d)})
}

func varyPage(d *answer.Variations) render.Page {
	page := render.Page(section("Dangers", d.Words.Dangers))
	page.Add(render.Paragraph(d.Words.IDs), render.Paragraph(d.Words.Base))
	t := &render.Table{Columns: []render.Column{render.Left("change").Wrapped(24), render.Right("score")}}
	for a := range objective.AxisCount {
		t.Columns = append(t.Columns, render.Right(axisHead(a)).Each())
	}
	t.Columns = append(t.Columns, render.Right("weight\ng"), render.Right("hover\n%"), render.Left("mind").Wrapped(26))
	for i := range d.Varied {
		v := &d.Varied[i]
		if len(v.Misfits) > 0 {
			continue
		}
		row := []string{catalogue.ChangeName(&v.Change), catalogue.SignedFixed(v.ScoreDelta, 1)}
		for a := range objective.AxisCount {
			row = append(row, catalogue.SignedFixed(v.AxesDelta[a], 0)+"\n"+deltaText(v, objective.LeadingFigure(a).Quantity))
		}
		t.Add(append(row, deltaText(v, figure.AllUpMass), deltaText(v, figure.HoverThrottle),
			mindText(d.Subject.Result, v))...)
	}
	page.Add(t)
	page.Add(section("Not possible", d.Words.Cannot)...)
	page.Add(render.List(d.Words.Notes))
	return page
}
