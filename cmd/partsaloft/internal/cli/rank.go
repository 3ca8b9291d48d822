package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

type rankOptions struct {
	answer.RankOptions
	variants bool
}

func newRank(s *commands) *cobra.Command {
	o := &rankOptions{}
	c := &cobra.Command{
		Use:   "rank [DRAWER]",
		Short: "Rank every possible build from the drawer",
		Long: `rank predicts what every possible build from the drawer's parts would do in the air, ranks those that
can be flown in a style, and says first what to build. A row is a motor, a prop and a pack with the
best board and frame for them; --variants lists the others. Without --drawer it ranks the embedded
example. When nothing can be built it counts the reasons, shows what comes closest and exits with 4.`,
		Example: `  partsaloft rank
  partsaloft rank --drawer drawer.yaml --style race --limit all_up_g=..250
  partsaloft rank --weights grip=2,endurance=1 --format json
  partsaloft rank --spread --novel 0.3`,
		Args: exit.OneDrawer,
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := s.TakeDrawer(args, session.Any); err != nil {
				return err
			}
			return s.rank(c.Context(), o)
		},
	}
	c.Flags().BoolVar(&o.Spread, "spread", false, "show builds that differ in kind: no two share two of motor, "+
		"prop and pack")
	c.Flags().BoolVar(&o.variants, "variants", false, "list the builds behind each row: same motor, prop and pack, "+
		"another board, frame or twin pack")
	c.Flags().Float64Var(&o.Novel, "novel", 0, "prefer what is unlike the crafts that fly already, by a `WEIGHT` from "+
		"0 to 1")
	return s.Take(c, session.UsesSearch|session.UsesTop)
}

// rankTable shows ranked results.
func rankTable(results []predict.Result) *render.Table {
	return resultTable(results, render.Right("#"), func(i int) string { return fmt.Sprint(i + 1) }, true)
}

// resultTable shows results with the figures that lead a choice, two lines a row, each under a name; ahead adds how
// often it stays ahead of the next.
func resultTable(results []predict.Result, names render.Column, name func(int) string, ahead bool) *render.Table {
	score := render.Right("score")
	if ahead {
		score.Head += "\nahead"
	}
	t := &render.Table{Columns: []render.Column{names, render.Left("motor prop\npack frame board").Titled(), score.Each()}}
	for a := range objective.AxisCount {
		t.Columns = append(t.Columns, render.Right(axisHead(a)).Each())
	}
	t.Columns = append(t.Columns, render.Right("grams\nT/W").Each(), render.Right("hover\n%"),
		render.Right("full A\n% pack").Each(), render.Right("cap %\nby").Each())
	for i := range results {
		r := &results[i]
		row := []string{name(i), twoLines(&r.Combination), catalogue.Fixed(r.Evaluation.Score, 1)}
		if ahead && i+1 < len(results) {
			row[2] += "\n" + catalogue.Percent(r.AheadShare)
		}
		for a := range objective.AxisCount {
			lead := catalogue.Leading(r, a)
			row = append(row, catalogue.Fixed(r.Evaluation.Axes[a], 0)+"\n"+lead.Number())
		}
		number := func(q figure.Quantity) string { f := catalogue.ShownOf(r, q); return f.Number() }
		t.Add(append(row, number(figure.AllUpMass)+"\n"+number(figure.ThrustToWeight), number(figure.HoverThrottle),
			number(figure.FullThrottleCurrent)+"\n"+number(figure.PackCurrentUse), capText(r))...)
	}
	return t
}

// axisHead is the head of an axis's column: its name over its leading figure's unit.
func axisHead(a objective.Axis) string {
	name := a.String()
	switch a {
	case objective.Grip:
		return name + "\nturn %"
	case objective.Endurance:
		name = "endur."
	case objective.Smoothness:
		name = "smooth"
	case objective.TopSpeed:
		name = "speed"
	}
	return name + "\n" + objective.LeadingFigure(a).Unit
}

func capText(r *predict.Result) string {
	f := catalogue.ShownOf(r, figure.ThrottleCap)
	if r.Performance.Cap == physics.NoLimit {
		return "none"
	}
	return f.Number() + "\n" + catalogue.Brief[r.Performance.Cap]
}

func (s *commands) rank(ctx context.Context, o *rankOptions) error {
	if !session.Inside(o.Novel, 0, 1) {
		return exit.Usagef("--novel must be from 0 to 1, got %g", o.Novel)
	}
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	if s.LearnedFile != "" {
		if o.Bare, err = s.Quietly((*session.Session).BareDrawer); err != nil {
			return err
		}
	}
	o.Partial = s.Options.Output == ""
	d, err := answer.Rank(ctx, ask, o.RankOptions)
	if err != nil {
		return exit.Asked(err)
	}
	cut := error(nil)
	if o.Partial && d.Found.Interrupted && len(d.Results) > 0 {
		ctx, cut = context.WithoutCancel(ctx), exit.ErrBestSoFar
	}
	if err := s.Deliver(ctx, d, rankSheet(d, o.variants)); err != nil {
		return err
	}
	if cut == nil && len(d.Results) == 0 {
		return exit.ErrNothing
	}
	return cut
}

// deliverNothing tells that nothing is feasible, or that the combination in question is not to be built.
func (s *commands) deliverNothing(ctx context.Context, d *answer.Ranking) error {
	told := rankSheet(d, false)
	if d.Odd != nil {
		told = session.Sheet{Page: render.Page{render.List(d.Words.Odd), render.Paragraph(d.Words.IDs)}}
	}
	if err := s.Deliver(ctx, d, told); err != nil {
		return err
	}
	return exit.ErrNothing
}

func rankSheet(d *answer.Ranking, variants bool) session.Sheet {
	if len(d.Results) == 0 {
		return session.Sheet{Page: nothingFeasible(d), Searched: d.Words.Searched}
	}
	var page render.Page
	page.Add(section("Dangers", d.Words.Dangers)...)
	page.Add(render.Paragraph(d.Words.IDs), render.Paragraph(d.Words.Sure), rankTable(d.Found.Best),
		render.Paragraph(d.Words.Scale))
	page.Add(section("Dangers of the others", d.Words.Others)...)
	page.Add(variantBlocks(d, variants)...)
	if len(d.Words.Unlike) > 0 {
		page.Add(render.Paragraph("Against what flies already:"), render.List(d.Words.Unlike))
	}
	page.Add(render.Paragraph(d.Words.Why))
	if len(d.Words.Instead) > 0 {
		page.Add(render.Paragraph("To take instead, for more of one axis:"), render.List(d.Words.Instead),
			render.Paragraph(d.Words.InsteadGap))
	}
	if len(d.Words.Notes) > 0 {
		page.Add(render.Paragraph("Watch for:"), render.List(d.Words.Notes))
	}
	page.Add(section("Left out", d.Words.LeftOut)...)
	switch {
	case d.Moves == nil:
	case len(d.Moves) == 0:
		page.Add(render.Paragraph("Your readings change nothing in the list."))
	default:
		var list render.List
		for _, m := range d.Moves {
			list = append(list, m.Text+".")
		}
		page.Add(render.Heading("Changed by your readings"), list)
	}
	page.Add(render.Paragraph(d.Words.RuledOut))
	return session.Sheet{Page: page, Searched: d.Words.Searched}
}

// variantBlocks list the builds behind each row, or say how many there are.
func variantBlocks(d *answer.Ranking, all bool) []render.Block {
	if !all || d.Words.Variants == "" {
		return []render.Block{render.Paragraph(d.Words.Variants)}
	}
	blocks := []render.Block{render.Heading("Variants")}
	for i := range d.Results {
		var list render.List
		for _, v := range d.Results[i].Variants.Builds {
			list = append(list, v.Text+".")
		}
		if list != nil {
			blocks = append(blocks, render.Paragraph(fmt.Sprintf("%d: %s", i+1,
				catalogue.BareText(&d.Found.Best[i].Combination))), list)
		}
	}
	return blocks
}

// nothingFeasible says why there is no result, and what comes nearest.
func nothingFeasible(d *answer.Ranking) []render.Block {
	reasons := &render.Table{Columns: []render.Column{render.Left("ruled out by"), render.Right("combinations")}}
	for _, f := range d.Words.Fallen {
		reasons.Add(f.Key, phrase.Grouped(f.Value.(int64)))
	}
	blocks := []render.Block{reasons}
	for _, note := range d.Words.Drawer {
		blocks = append(blocks, render.Paragraph(note))
	}
	blocks = append(blocks, section("Left out", d.Words.LeftOut)...)
	return append(blocks, section("Closest", d.Words.Misses)...)
}

// section is a list under a heading, nothing if the list is empty.
func section(title string, list []string) []render.Block {
	if len(list) == 0 {
		return nil
	}
	return []render.Block{render.Heading(title), render.List(list)}
}

// twoLines names a combination in a table's cell; extras are left out.
func twoLines(c *inventory.Combination) string {
	p := c.Parts()
	return p.Motor + " " + p.Prop + "\n" + p.Pack + " " + p.Frame + " " + p.Board
}
