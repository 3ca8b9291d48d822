package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

type explainOptions struct {
	answer.ExplainOptions
	pick, plot string
}

func newExplain(s *commands) *cobra.Command {
	o := &explainOptions{}
	c := &cobra.Command{
		Use:   "explain [RANK|PART...] [DRAWER]",
		Short: "Explain one build in depth",
		Long: `explain takes one build apart: its figures with their likely range, what each axis adds to its score,
its limiting part, its trade-offs, the best swap of one part for each axis, and what to read on its
first flight. Name it by its rank (1 if left out) or by parts, as motor=ID or ID alone: the best build with
them is meant.`,
		Example: `  partsaloft explain 2 --style race
  partsaloft explain m1507-27 k4s-720
  partsaloft explain --pick motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24 --packs`,
		RunE: func(c *cobra.Command, args []string) error {
			which, err := s.which(args, o.pick)
			if err != nil {
				return err
			}
			if c.Flags().Changed("class-g") && !session.Inside(o.ClassG, 10, 25000) {
				return exit.Usagef("--class-g must be from 10 to 25000, got %g", o.ClassG)
			}
			if err := s.willPlot(o.plot); err != nil {
				return err
			}
			return s.explain(c.Context(), which, o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.pick, "pick", "", "build by its `PARTS`: "+answer.PickForm)
	f.BoolVar(&o.Packs, "packs", false, "show what every owned pack does on it")
	f.Float64Var(&o.ClassG, "class-g", 0, "weight class in `GRAMS`: what is left to it, or which swap gets there")
	f.StringVar(&o.plot, "plot", "", "draw its curves into a `FILE` that ends in .svg or .png")
	return s.Take(c, session.UsesSearch|session.UsesTop)
}

// which is the build that the words of a command line or --pick name; a word that ends as drawers do is the drawer.
func (s *commands) which(words []string, pick string) (answer.Which, error) {
	words, err := s.TakeDrawer(words, session.IsDrawer)
	if err != nil {
		return answer.Which{}, err
	}
	which, err := answer.Named(words, pick)
	return which, exit.Asked(err)
}

// cardTable is the first-flight card.
func cardTable(readings []answer.FlightReading) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("read"), render.Left("what").Wrapped(24).Titled(), render.Right("expect"),
		render.Right("likely range"), render.Left("higher points to").Wrapped(30)}}
	for _, r := range readings {
		t.Add(r.Where, r.What, r.Expect, r.Between, strings.Join(r.Higher, "; "))
	}
	return t
}

// figureTable shows every figure with its interval and basis, in groups.
func figureTable(r *predict.Result) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("figure"), render.Right("value"),
		render.Right("likely range"), render.Left("basis")}}
	for g := range figure.GroupCount {
		t.Add(g.String())
		for _, of := range figure.In(g, figure.Listed) {
			f := catalogue.ShownOf(r, of.Quantity)
			if !f.Defined() {
				t.Add("  "+f.Name, "–", "", catalogue.Undefined(f.Why))
				continue
			}
			t.Add("  "+f.Name, f.String(), f.Span(), f.Basis)
			if of.Quantity == figure.HoverThrottle {
				shown := catalogue.ShownAs(r.Shown, figure.Of(of.Quantity))
				t.Add("  "+catalogue.ShownThrottle, shown.String(), shown.Span(), shown.Basis)
			}
		}
	}
	return t
}

// scoreTable shows what each axis and each figure behind it does to the score.
func scoreTable(sub *answer.Subject) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("axis"), render.Right("weight\n%"), render.Right("0 to 100"),
		render.Right("costs\npoints"), render.Left("figures behind it")}}
	for _, share := range sub.Problem.Style.Shortfalls(&sub.Result.Performance) {
		var figures []string
		for _, feed := range share.Criteria {
			f := catalogue.ShownOf(sub.Result, feed.Criterion.Quantity)
			figures = append(figures, fmt.Sprintf("%s %s (%.0f)", f.Name, f.String(), 100*feed.Desirability))
		}
		t.Add(share.Axis.String(), catalogue.Fixed(100*share.Weight, 0), catalogue.Fixed(share.Value, 0),
			catalogue.Fixed(share.Points, 1), strings.Join(figures, "\n"))
	}
	return t
}

func (s *commands) explain(ctx context.Context, which answer.Which, o *explainOptions) error {
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d, nothing, err := answer.Explain(ctx, ask, which, o.ExplainOptions)
	if err != nil {
		return exit.Asked(err)
	}
	if nothing != nil {
		return s.deliverNothing(ctx, nothing)
	}
	if o.plot != "" {
		if err := s.plot(ctx, d.Subject, o.plot); err != nil {
			return err
		}
	}
	return s.Deliver(ctx, d, explainSheet(d))
}

func explainSheet(d *answer.Explanation) session.Sheet {
	one, sub, words := &d.Results[0], d.Subject, &d.Words
	var page render.Page
	page.Add(section("Dangers", words.Dangers)...)
	page.Add(render.Paragraph(words.IDs), render.Paragraph(words.Standing))
	page.Add(section("What it breaks", words.Broken)...)
	page.Add(render.Heading("Figures"), figureTable(sub.Result), render.Paragraph(words.Endurance))
	page.Add(render.Heading("The score taken apart"), scoreTable(sub), render.Paragraph(words.Score))
	page.Add(render.Heading("Limiting part"), render.Paragraph(words.Binds))
	gives := render.List{}
	for _, g := range one.GivesUp {
		gives = append(gives, g.Text)
	}
	page.Add(render.Heading("Trade-offs"), gives)
	page.Add(section("Same motor, prop and pack otherwise", words.Variants)...)
	page.Add(section("Best swap of one part for each axis", words.Swaps)...)
	page.Add(packBlocks(one.Packs, d.Style)...)
	if one.Class != nil {
		page.Add(render.Heading("Weight class"), render.Paragraph(one.Class.Text))
	}
	page.Add(render.Heading("First flight"), cardTable(one.FirstFlight), render.Paragraph(words.Spares))
	page.Add(section("Watch for", words.Notes)...)
	page.Add(section("Assumptions", words.Assumed)...)
	return session.Sheet{Page: page, Searched: words.Searched}
}

// packBlocks show what every owned pack does on the craft, the longest flight first.
func packBlocks(packs []answer.PackOnCraft, style string) []render.Block {
	if len(packs) == 0 {
		return nil
	}
	t := &render.Table{Columns: []render.Column{render.Left("pack"), render.Right("pack\ng"), render.Right("all-up\ng"),
		render.Right("hover\nmin"), render.Right("gentle\nmin"),
		render.Right("hard\nmin"), render.Right(style + "\nmin"), render.Right("gain\ns/g"), render.Left("mind").Wrapped(32)}}
	for i := range packs {
		one := &packs[i]
		decimals := 0
		if one.MassG < 100 {
			decimals = 1
		}
		row := []string{one.Pack, catalogue.Raw(catalogue.Decimal(one.MassG, decimals))}
		for _, q := range [...]figure.Quantity{figure.AllUpMass, figure.HoverTime, figure.CruiseTime, figure.HardTime,
			figure.StyleTime} {
			f := catalogue.ShownOf(one.Found, q)
			row = append(row, f.Number())
		}
		gain := ""
		if one.SecondsPerGram != nil {
			gain = catalogue.SignedFixed(*one.SecondsPerGram, 1)
		}
		t.Add(append(row, gain, one.Text)...)
	}
	return []render.Block{render.Heading("Packs on this craft"), t,
		render.Paragraph("Gain: seconds of flight in this style for each gram over the lightest pack.")}
}
