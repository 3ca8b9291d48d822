package cli

import (
	"context"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

type compareOptions struct {
	picks []string
}

func newCompare(s *commands) *cobra.Command {
	o := &compareOptions{}
	c := &cobra.Command{
		Use:   "compare [RANK|CRAFT|PART]... [DRAWER]",
		Short: "Set two or more builds side by side, and say what makes the difference",
		Long: `compare sets 2 to 5 builds side by side: ranks, crafts of the drawer's fleet by their name, the
best build with a part by its id, and builds by --pick. It says first which to take. Differences larger than their uncertainty are marked as real. In one
--pick, pack=* stands for every pack that fits.`,
		Example: `  partsaloft compare 1 2 3
  partsaloft compare 1 --pick motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24
  partsaloft compare --pick motor=m1507-27,prop=p3.5-26x3,pack=*,frame=f3.5-yawl,board=b22-24`,
		RunE: func(c *cobra.Command, args []string) error {
			words, err := s.TakeDrawer(args, session.IsDrawer)
			if err != nil {
				return err
			}
			return s.compare(c.Context(), words, o)
		},
	}
	c.Flags().StringArrayVar(&o.picks, "pick", nil, "build by its `PARTS`: "+answer.PickForm+", or pack=*; may "+
		"be repeated")
	return s.Take(c, session.UsesSearch)
}

// chunks divide the contestants into tables that are narrow enough; the first is in each.
func (c *sideBySide) chunks() [][]int {
	const names, least = 37, 9
	widthOf := func(i int) int { return 2 + max(len([]rune(c.Results[i].Name)), least) }
	chunk, width := []int{0}, names+widthOf(0)
	var all [][]int
	for i := 1; i < len(c.Found); i++ {
		if width+widthOf(i) > render.Width && len(chunk) > 1 {
			all = append(all, chunk)
			chunk, width = []int{0}, names+widthOf(0)
		}
		chunk, width = append(chunk, i), width+widthOf(i)
	}
	return append(all, chunk)
}

// table sets axes and figures of some contestants side by side.
func (c *sideBySide) table(contestants []int) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("")}}
	for _, i := range contestants {
		t.Columns = append(t.Columns, render.Right(c.Results[i].Name))
	}
	row := func(name string, cell func(i int, r *predict.Result) string) {
		cells := []string{name}
		for _, i := range contestants {
			r := &c.Found[i]
			if len(r.Misfits) > 0 {
				cells = append(cells, "–")
				continue
			}
			cells = append(cells, cell(i, r))
		}
		t.Rows = append(t.Rows, cells)
	}
	row("score", func(_ int, r *predict.Result) string { return catalogue.Fixed(r.Evaluation.Score, 1) })
	for axis := range objective.AxisCount {
		row(axis.String(), func(_ int, r *predict.Result) string { return catalogue.Fixed(r.Evaluation.Axes[axis], 0) })
	}
	for g := range figure.GroupCount {
		t.Add(g.String())
		for _, f := range figure.In(g, figure.Listed) {
			decimals := c.decimals(f.Quantity)
			row(strings.TrimSuffix("  "+catalogue.WithUnit(f.Name+",", f.Unit), ","), func(i int, r *predict.Result) string {
				v := catalogue.ShownOf(r, f.Quantity)
				if !v.Defined() {
					return "–  "
				}
				if f.Quantity == figure.ThrottleCap {
					return v.Number() + c.mark(i, f.Quantity) // rounded down, as everywhere
				}
				return catalogue.Fixed(v.Value, decimals) + c.mark(i, f.Quantity)
			})
		}
	}
	return t
}

// decimals shows every contestant's doubt, and what is really different as different.
func (c *sideBySide) decimals(q figure.Quantity) int {
	most, digits := -3, 0
	for i := range c.Found {
		if v := catalogue.ShownOf(&c.Found[i], q); v.Defined() {
			low, high := v.Low, v.High
			if !(high > low) {
				// Without doubt it is shown to a hundredth.
				low, high = 0.98*v.Value, 1.02*v.Value
			}
			most = max(most, catalogue.Decimals(v.Value, low, high))
			digits = max(digits, int(math.Log10(math.Max(math.Abs(v.Value), 1))))
		}
	}
	for i := range c.Against {
		for k := range c.Against[i] {
			if d := &c.Against[i][k]; d.Quantity == q && d.Real {
				scale := figure.Of(q).PerSI
				most = max(most, min(catalogue.Decimals(scale*d.Value.Value, scale*d.Value.Low, scale*d.Value.High), 2-digits))
			}
		}
	}
	return most
}

// mark is a star where contestant i differs from the first by more than the doubt.
func (c *sideBySide) mark(i int, q figure.Quantity) string {
	if i > 0 && i <= len(c.Against) {
		for k := range c.Against[i-1] {
			if d := &c.Against[i-1][k]; d.Quantity == q && d.Real {
				return " *"
			}
		}
	}
	return "  "
}

func (s *commands) compare(ctx context.Context, args []string, o *compareOptions) error {
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d, nothing, err := answer.Compare(ctx, ask, args, o.picks)
	if err != nil {
		return exit.Asked(err)
	}
	if nothing != nil {
		return s.deliverNothing(ctx, nothing)
	}
	return s.Deliver(ctx, d, session.Sheet{Page: comparePage(d)})
}

// sideBySide is a comparison as tables.
type sideBySide struct{ *answer.Comparison }

func comparePage(d *answer.Comparison) render.Page {
	page := render.Page(section("Dangers", d.Words.Dangers))
	page.Add(render.Heading(d.Words.Title), render.List(d.Words.Sides))
	c := sideBySide{d}
	for _, columns := range c.chunks() {
		page.Add(c.table(columns))
	}
	page.Add(render.Paragraph("* a difference from the first that is larger than its uncertainty; what is not marked is " +
		"too close to call."))
	for _, told := range d.Words.Told {
		page.Add(section(told.Title, told.Sentences)...)
	}
	page.Add(render.List(d.Words.Notes))
	return page
}
