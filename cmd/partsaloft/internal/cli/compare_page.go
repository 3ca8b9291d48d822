package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// differenceSentence says how much more or less of a figure there is and what makes it.
func differenceSentence(d *predict.Difference) string {
	f := figure.Of(d.Quantity)
	value, low, high := f.PerSI*d.Value.Value, f.PerSI*d.Value.Low, f.PerSI*d.Value.High
	text := fmt.Sprintf("%s %s", nameOf(f.Key), withUnit(catalogue.Signed(value, low, high), f.Unit))
	if interval := catalogue.Interval(value, low, high); interval != "" {
		text += " (" + interval + ")"
	}
	var causes []string
	for k, cause := range d.Causes {
		if k == 3 {
			break
		}
		causes = append(causes, fmt.Sprintf("%s %s", cause.Name, catalogue.Signed(f.PerSI*cause.By, low, high)))
	}
	if len(causes) > 0 {
		text += ": " + strings.Join(causes, ", ")
	}
	return text
}

func (c *comparison) page() render.Page {
	var page render.Page
	var list render.List
	for i := range c.contestants {
		r := &c.contestants[i].result
		text := fmt.Sprintf("%s: %s", c.label(i), combinationText(&r.Combination))
		if len(r.Misfits) > 0 {
			text += "; cannot be built: " + joined(r.Misfits)
		}
		for k := range r.Violations {
			text += "; breaks a limit: " + brokenSentence(&r.Violations[k])
		}
		list = append(list, text+".")
	}
	page.Add(render.Heading(fmt.Sprintf("Side by side, %s", styleWords(&c.problem.Style))), list)
	for _, columns := range c.chunks() {
		page.Add(c.table(columns))
	}
	page.Add(render.Paragraph("* a difference from the first that is larger than its doubt; what is not marked lies within doubt."))
	for i, differences := range c.differences {
		var real render.List
		for k := range differences {
			if d := &differences[k]; d.Real && figure.Of(d.Quantity).Shown == figure.Headline && noticeable(&c.contestants[0].result, d) {
				real = append(real, differenceSentence(&differences[k])+".")
			}
		}
		if len(real) > 0 {
			page.Add(render.Heading(fmt.Sprintf("What %s has over %s, and what makes it", c.label(i+1), c.label(0))), real)
		}
	}
	var own render.List
	for i := range c.contestants {
		for _, note := range ownNotes(&c.contestants[i].result.Combination) {
			if !slices.Contains(own, note) {
				own = append(own, note)
			}
		}
	}
	page.Add(own)
	return page
}

// leastTold is the share of a figure from which on a difference is told in words.
const leastTold = 0.02

func noticeable(first *predict.Result, d *predict.Difference) bool {
	return math.Abs(d.Value.Value) >= leastTold*math.Abs(first.Figures[d.Quantity].Value)
}

// chunks divide the contestants into tables that are narrow enough; the first is in each.
func (c *comparison) chunks() [][]int {
	const names, least = 37, 9
	widthOf := func(i int) int { return 2 + max(len([]rune(c.label(i))), least) }
	chunk, width := []int{0}, names+widthOf(0)
	var all [][]int
	for i := 1; i < len(c.contestants); i++ {
		if width+widthOf(i) > render.Width && len(chunk) > 1 {
			all = append(all, chunk)
			chunk, width = []int{0}, names+widthOf(0)
		}
		chunk, width = append(chunk, i), width+widthOf(i)
	}
	return append(all, chunk)
}

// table sets axes and figures of some contestants side by side.
func (c *comparison) table(contestants []int) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("")}}
	for _, i := range contestants {
		t.Columns = append(t.Columns, render.Right(c.label(i)))
	}
	row := func(name string, cell func(i int, r *predict.Result) string) {
		cells := []string{name}
		for _, i := range contestants {
			r := &c.contestants[i].result
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
			row(strings.TrimSuffix("  "+withUnit(f.Name+",", f.Unit), ","), func(i int, r *predict.Result) string {
				v := shownOf(r, f.Quantity)
				if !v.defined() {
					return "–  "
				}
				return catalogue.Fixed(v.value, decimals) + c.mark(i, f.Quantity)
			})
		}
	}
	return t
}

// decimals shows every contestant's doubt, and what is really different as different.
func (c *comparison) decimals(q figure.Quantity) int {
	most, digits := -3, 0
	for i := range c.contestants {
		if v := shownOf(&c.contestants[i].result, q); v.defined() {
			low, high := v.low, v.high
			if !(high > low) {
				// Without doubt it is shown to a hundredth.
				low, high = 0.98*v.value, 1.02*v.value
			}
			most = max(most, catalogue.Decimals(v.value, low, high))
			digits = max(digits, int(math.Log10(math.Max(math.Abs(v.value), 1))))
		}
	}
	for i := range c.differences {
		for k := range c.differences[i] {
			if d := &c.differences[i][k]; d.Quantity == q && d.Real {
				scale := figure.Of(q).PerSI
				most = max(most, min(catalogue.Decimals(scale*d.Value.Value, scale*d.Value.Low, scale*d.Value.High), 2-digits))
			}
		}
	}
	return most
}

// mark is a star where contestant i differs from the first by more than the doubt.
func (c *comparison) mark(i int, q figure.Quantity) string {
	if i > 0 && i <= len(c.differences) {
		for k := range c.differences[i-1] {
			if d := &c.differences[i-1][k]; d.Quantity == q && d.Real {
				return " *"
			}
		}
	}
	return "  "
}
