package uncertain

import (
	"cmp"
	"math"
	"slices"
)

// Shares of the draws that lie under the ends of an interval, and the share of a figure's variance from
// which on an input counts as one of its causes.
const (
	LowShare   = 0.10
	HighShare  = 0.90
	CauseShare = 0.10
)

// Model predicts figures with the inputs at a deviation. It fills all of values; NaN says that a figure
// is undefined there. It must be safe for concurrent use if the propagation runs it so.
type Model func(at *Deviation, values []float64)

// Each calls do once for every index under n, in any order, concurrently if it likes.
type Each func(n int, do func(i int))

// inOrder is the Each of a nil one.
func inOrder(n int, do func(i int)) {
	for i := range n {
		do(i)
	}
}

// Propagation is a model with the uncertainty of its inputs carried through: nominally, on random draws
// (JCGM 101:2008), and with each input moved alone by one standard deviation up and down. Figures are
// known by their index.
type Propagation struct {
	budget   *Budget
	nominal  []float64
	drawn    [][]float64 // by figure, draw by draw
	up, down [][]float64 // by input; nil for one that is certain
}

// Propagate runs a model of a number of figures nominally, on draws and with each input moved alone: 1 +
// draws + twice the uncertain inputs runs, handed out by each; nil is one after the other. What each
// leaves out counts as undefined.
func Propagate(model Model, figures int, budget *Budget, draws []Deviation, each Each) *Propagation {
	p := &Propagation{budget: budget, up: make([][]float64, InputCount), down: make([][]float64, InputCount)}
	points := make([]Deviation, 1, 1+len(draws)+2*int(InputCount))
	points = append(points, draws...)
	rows := make([][]float64, 0, cap(points))
	row := func() []float64 {
		one := make([]float64, figures)
		for k := range one {
			one[k] = math.NaN()
		}
		rows = append(rows, one)
		return one
	}
	p.nominal = row()
	for range draws {
		row()
	}
	for i, sd := range budget.LnSD {
		if sd == 0 {
			continue
		}
		var up, down Deviation
		up[i], down[i] = sd, -sd
		points = append(points, up, down)
		p.up[i], p.down[i] = row(), row()
	}
	if each == nil {
		each = inOrder
	}
	each(len(points), func(i int) { model(&points[i], rows[i]) })
	p.drawn = make([][]float64, figures)
	for k := range p.drawn {
		p.drawn[k] = make([]float64, len(draws))
		for s := range draws {
			p.drawn[k][s] = rows[1+s][k]
		}
	}
	return p
}

// Nominal is a figure without deviation, NaN where it is undefined.
func (p *Propagation) Nominal(figure int) float64 { return p.nominal[figure] }

// Drawn are a figure's values draw by draw, NaN where it is undefined. They must not be changed.
func (p *Propagation) Drawn(figure int) []float64 { return p.drawn[figure] }

// Undefined is the share of draws in which a figure is undefined.
func (p *Propagation) Undefined(figure int) float64 {
	if len(p.drawn[figure]) == 0 {
		return 0
	}
	n := 0
	for _, x := range p.drawn[figure] {
		if math.IsNaN(x) {
			n++
		}
	}
	return float64(n) / float64(len(p.drawn[figure]))
}

// Interval is the 80 % interval of a figure: from LowShare to HighShare of the draws in which it is
// defined, widened to hold the nominal value, which lies to one side of the draws where a limit cuts
// them off.
func (p *Propagation) Interval(figure int) (low, high float64) {
	return Interval(p.nominal[figure], slices.DeleteFunc(slices.Clone(p.drawn[figure]), math.IsNaN))
}

// Interval is the 80 % interval of values that are drawn, widened to hold the nominal one unless that is NaN. It sorts
// the values.
func Interval(nominal float64, values []float64) (low, high float64) {
	if len(values) == 0 {
		return nominal, nominal
	}
	slices.Sort(values)
	low, high = SortedQuantile(values, LowShare), SortedQuantile(values, HighShare)
	if math.IsNaN(nominal) {
		return low, high
	}
	return math.Min(nominal, low), math.Max(nominal, high)
}

// Cause is an uncertain input that moves a figure.
type Cause struct {
	Input Input
	// Change is half the change of the figure when the input goes from one standard deviation under its
	// nominal value to one over it.
	Change float64
	// Share is its share of the figure's variance when each input moves alone.
	Share float64
}

// Causes are the inputs that carry CauseShare and more of a figure's variance, the strongest first;
// inputs that move it as much stay in their order. An input at which the figure is undefined to one
// side does not count.
func (p *Propagation) Causes(figure int) []Cause {
	var causes []Cause
	var total float64
	for i := range InputCount {
		if p.up[i] == nil {
			continue
		}
		change := (p.up[i][figure] - p.down[i][figure]) / 2
		if math.IsNaN(change) {
			continue
		}
		causes = append(causes, Cause{Input: i, Change: change})
		total += change * change
	}
	if !(total > 0) {
		return nil
	}
	for i := range causes {
		causes[i].Share = causes[i].Change * causes[i].Change / total
	}
	causes = slices.DeleteFunc(causes, func(c Cause) bool { return c.Share < CauseShare })
	slices.SortStableFunc(causes, func(a, b Cause) int { return cmp.Compare(math.Abs(b.Change), math.Abs(a.Change)) })
	return causes
}

// Basis is the weakest basis among the causes of a figure. A figure that hangs on no uncertain input
// follows from labels.
func (p *Propagation) Basis(figure int) Basis {
	causes := p.Causes(figure)
	if causes == nil {
		return Label
	}
	basis := Measured
	for _, c := range causes {
		basis = max(basis, p.budget.Basis[c.Input])
	}
	return basis
}
