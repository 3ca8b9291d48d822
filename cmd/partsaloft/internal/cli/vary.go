package cli

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
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

func newVary(s *session) *cobra.Command {
	o := &varyOptions{}
	c := &cobra.Command{
		Use:   "vary [RANK]",
		Short: "Make one change at a time to a combination and see what each does",
		Long: `vary makes one change at a time to a combination, each alone: a little weight, pitch, blades, cells,
capacity, a throttle cap, where the blades' mass sits, air, wind, a worn pack. With --change it makes
yours instead. What the style gains most from comes first.`,
		Example: `  partsaloft vary 1 --style cruise
  partsaloft vary 1 --change pack.capacity_mah=850 --change craft.mass_g=+12`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			rank, err := rankArgument(args, o.pick)
			if err != nil {
				return err
			}
			return s.vary(c.Context(), rank, o)
		},
	}
	c.Flags().StringVar(&o.pick, "pick", "", "combination by its `PARTS`: "+pickForm)
	c.Flags().StringArrayVar(&o.changes, "change", nil, "`CHANGE` to make: "+changeForm+"; may be repeated")
	return c
}

func (s *session) vary(ctx context.Context, rank int, o *varyOptions) error {
	sub, err := s.varied(ctx, rank, o)
	if err != nil {
		return err
	}
	if sub.result == nil || len(sub.result.Misfits) > 0 {
		return s.deliverNothing(ctx, sub)
	}
	changes, err := sub.changes(o.changes)
	if err != nil {
		return err
	}
	base, varied, err := search.Vary(ctx, *sub.problem, sub.result.Combination, changes, s.searchOptions().Sampling())
	if err != nil {
		return err
	}
	slices.SortStableFunc(varied, func(a, b search.Varied) int {
		return cmp.Or(cmp.Compare(len(a.Misfits), len(b.Misfits)), cmp.Compare(b.ScoreDelta, a.ScoreDelta))
	})
	care := answer.CareOf(&answer.Scene{Drawer: sub.problem.Drawer, Styles: []objective.Style{sub.problem.Style}, Crafts: []*predict.Result{&base}})
	return s.deliver(ctx, variedAnswer(s.head(sub.problem.Drawer.Name, sub.problem.Style.Name, care), sub, &base, varied, care))
}

// varied finds the combination to vary; one that --pick names needs no ranking.
func (s *session) varied(ctx context.Context, rank int, o *varyOptions) (*subject, error) {
	for _, text := range o.changes {
		if _, err := parseChange(text, inventory.Air{}); err != nil {
			return nil, usagef("--change: %w", err)
		}
	}
	if rank > 0 {
		return s.subject(ctx, rank, "")
	}
	p, err := s.problem()
	if err != nil {
		return nil, err
	}
	c, err := picked(p.Drawer, o.pick)
	if err != nil {
		return nil, err
	}
	sub := &subject{problem: p, ranking: named(1)}
	return sub, sub.assess(ctx, c, s.searchOptions().Sampling())
}

// changes are those asked for, or the usual ones.
func (sub *subject) changes(texts []string) ([]search.Change, error) {
	c := &sub.result.Combination
	air := sub.problem.Drawer.Air
	if len(texts) == 0 {
		places, err := search.AirChanges(air)
		return append(search.UsualChanges(c), places...), err
	}
	var list []search.Change
	for _, text := range texts {
		change, err := parseChange(text, air)
		if err == nil {
			err = tryChange(c, text)
		}
		if err != nil {
			return nil, usagef("--change: %w", err)
		}
		list = append(list, change)
	}
	return list, nil
}

type varyDocument struct {
	answer.Head
	Search  answer.Search   `json:"search"`
	Results []answer.Result `json:"results"`
	Changes []changeJSON    `json:"changes"`
}

// changeJSON is what one change does; score, axes and figures are differences.
type changeJSON struct {
	Change       string               `json:"change"`
	Feasible     bool                 `json:"feasible"`
	Score        *float64             `json:"score"`
	Axes         answer.Fields        `json:"axes"`
	Figures      answer.Fields        `json:"figures"`
	BrokenLimits []answer.BrokenLimit `json:"broken_limits"`
	Misfits      []string             `json:"misfits"`
}

func variedAnswer(head answer.Head, sub *subject, base *predict.Result, varied []search.Varied, care answer.Care) reply {
	one := resultOf(base, 0)
	if sub.rank > 0 {
		one.Rank = &sub.rank
	}
	document := varyDocument{Head: head, Search: searchOf(sub.ranking), Results: []answer.Result{one}, Changes: []changeJSON{}}
	rows := &render.Table{Columns: []render.Column{render.Left("change"), render.Left("feasible"), render.Left("score")}}
	for a := range objective.AxisCount {
		rows.Columns = append(rows.Columns, render.Left(a.Key()))
	}
	for _, f := range figure.All() {
		rows.Columns = append(rows.Columns, render.Left(f.Key), render.Left(f.Key+"_low"), render.Left(f.Key+"_high"))
	}
	for i := range varied {
		v := &varied[i]
		one := changeJSON{Change: v.Name, Feasible: v.Feasible(), Axes: answer.Fields{}, Figures: answer.Fields{},
			BrokenLimits: brokenOf(v.Violations), Misfits: append([]string{}, v.Misfits...)}
		row := []string{v.Name, fmt.Sprint(one.Feasible)}
		if len(v.Misfits) == 0 {
			score := hundredths(v.ScoreDelta)
			one.Score, one.Axes = &score, axesFields(&v.AxesDelta)
			row = append(row, raw(score))
			for a := range objective.AxisCount {
				row = append(row, raw(hundredths(v.AxesDelta[a])))
			}
			for q, d := range v.Deltas {
				f := figure.Of(figure.Quantity(q))
				value := answer.Unknown(d.Basis.String(), d.Why.String())
				cells := []string{"", "", ""}
				if d.Why == physics.Defined {
					value = answer.Known(f.PerSI*d.Value, f.PerSI*d.Low, f.PerSI*d.High, d.Basis.String())
					cells = []string{raw(*value.Value), raw(*value.Low), raw(*value.High)}
				}
				one.Figures = append(one.Figures, answer.Field{Key: f.Key, Value: value})
				row = append(row, cells...)
			}
		}
		for len(row) < len(rows.Columns) {
			row = append(row, "")
		}
		document.Changes, rows.Rows = append(document.Changes, one), append(rows.Rows, row)
	}
	return reply{document, rows, variedPage(sub, base, varied), care}
}

func variedPage(sub *subject, base *predict.Result, varied []search.Varied) render.Page {
	title := combinationText(&base.Combination)
	if sub.rank > 0 {
		title = fmt.Sprintf("%d: %s", sub.rank, title)
	}
	page := render.Page{render.Heading(title), render.Paragraph(fmt.Sprintf("Score %.1f in %s: %s.", base.Evaluation.Score, styleWords(&sub.problem.Style), axesText(base)))}
	t := &render.Table{Columns: []render.Column{render.Left("change"), render.Right("score")}}
	for a := range objective.AxisCount {
		t.Columns = append(t.Columns, render.Right(axisHead(a)))
	}
	t.Columns = append(t.Columns, render.Right("weight\ng"), render.Right("hover\n%"), render.Left("mind"))
	var cannot render.List
	for i := range varied {
		v := &varied[i]
		if len(v.Misfits) > 0 {
			cannot = append(cannot, v.Name+": "+joined(v.Misfits)+".")
			continue
		}
		row := []string{render.Wrap(v.Name, 24, ""), catalogue.SignedFixed(v.ScoreDelta, 1)}
		for a := range objective.AxisCount {
			row = append(row, catalogue.SignedFixed(v.AxesDelta[a], 0)+"\n"+deltaText(v, objective.LeadingFigure(a).Quantity))
		}
		row = append(row, deltaText(v, figure.AllUpMass), deltaText(v, figure.HoverThrottle), mindText(base, v))
		t.Rows = append(t.Rows, row)
	}
	page.Add(t)
	if len(cannot) > 0 {
		page.Add(render.Heading("What cannot be"), cannot)
	}
	page.Add(ownNotes(&base.Combination))
	return page
}

// axesText lists the axes with their leading figures.
func axesText(r *predict.Result) string {
	text := ""
	for a := range objective.AxisCount {
		lead := leading(r, a)
		if a > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s %.0f (%s)", a, r.Evaluation.Axes[a], lead.String())
	}
	return text
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
		return render.Wrap("breaks: "+brokenSentence(&v.Violations[0]), 26, "")
	}
	before, after := shownOf(base, figure.ThrottleCap), shownOf(&v.Result, figure.ThrottleCap)
	if d := after.value - before.value; d >= 1 || d <= -1 {
		text := fmt.Sprintf("cap %s → %s", before.number(), after.String())
		if by := v.Performance.Cap; by != physics.NoLimit && v.Name != search.CappedChange {
			text += " (" + brief[by] + ")"
		}
		return render.Wrap(text, 26, "")
	}
	return ""
}
