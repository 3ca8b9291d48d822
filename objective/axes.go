package objective

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Axis is one of the four things a pilot trades against each other.
type Axis uint8

// The axes.
const (
	Grip Axis = iota
	Endurance
	Smoothness
	TopSpeed
	AxisCount
)

var (
	axisKeys  = [AxisCount]string{"grip", "endurance", "smoothness", "top_speed"}
	axisNames = [AxisCount]string{"grip", "endurance", "smoothness", "top speed"}
)

// Key is the axis's key in files and JSON.
func (a Axis) Key() string { return axisKeys[a] }

// String returns the axis in words.
func (a Axis) String() string { return axisNames[a] }

// AxisByKey finds an axis by its key.
func AxisByKey(key string) (Axis, bool) {
	for a, k := range axisKeys {
		if k == key {
			return Axis(a), true
		}
	}
	return 0, false
}

// Criterion is a figure that an axis is made of, over a range in the figure's unit.
type Criterion struct {
	Axis     Axis
	Quantity figure.Quantity
	Scale    Scale
}

// Figure returns the criterion's figure.
func (c *Criterion) Figure() figure.Figure { return figure.Of(c.Quantity) }

// criteria are the figures behind the axes. The ranges are ours: wide enough that neither a 30 g
// whoop nor a 5-inch racer on six cells reaches an end, but for whoops at a racer's speed (over 781
// feasible builds of eight drawers from 1S whoop to 7 inch in four styles: throttle 25 to 216 %, load
// factor 0.35 to 10.5, pull-out 0.2 to 9.0 m, 1.5 to 32 minutes, 25 to 92 ms, thrust step 2.6 to 10.9 %,
// 9 to 48 m/s; 15 of them, whoops in style race, take over 150 %). Times, load factors, heights
// and speeds are ratios to a pilot and go by logarithm, and so does throttle, for what a turn takes over
// what there is goes on past full throttle; so does a load factor under 1, with which a craft sinks. The
// first criterion of an axis leads it in tables.
var criteria = [...]Criterion{
	{Grip, figure.TurnThrottle, Scale{Worst: 150, Best: 15, Log: true}},
	{Grip, figure.TurnLoadFactor, Scale{Worst: 0.85, Best: 12, Log: true}},
	{Grip, figure.PullOut, Scale{Worst: 20, Best: 0.15, Log: true}},
	{Endurance, figure.StyleTime, Scale{Worst: 1, Best: 45, Log: true}},
	{Smoothness, figure.Response, Scale{Worst: 160, Best: 15, Log: true}},
	{Smoothness, figure.ThrustStep, Scale{Worst: 15, Best: 1.5, Log: true}},
	{TopSpeed, figure.TopSpeed, Scale{Worst: 5, Best: 60, Log: true}},
}

// Criteria returns which figure makes which axis over which range.
func Criteria() []Criterion { return append([]Criterion(nil), criteria[:]...) }

// LeadingFigure is the figure shown beside an axis.
func LeadingFigure(a Axis) figure.Figure {
	i := 0
	for criteria[i].Axis != a {
		i++
	}
	return criteria[i].Figure()
}

// Axes are the four axes from 0 to 100.
type Axes [AxisCount]float64

// Sum is the unweighted sum.
func (x *Axes) Sum() float64 {
	var sum float64
	for _, v := range x {
		sum += v
	}
	return sum
}

// Dominates reports whether x is nowhere under y and somewhere over it (Pareto dominance).
func (x *Axes) Dominates(y *Axes) bool {
	over := false
	for a := range x {
		if x[a] < y[a] {
			return false
		}
		over = over || x[a] > y[a]
	}
	return over
}

// CriterionCount is the number of criteria of all axes.
const CriterionCount = len(criteria)

// AxesOf computes the axes of a performance: each the geometric mean of the desirabilities of its
// figures, times 100; an undefined figure has leastDesirability.
func AxesOf(p *physics.Performance) Axes {
	d := Desirabilities(p)
	return AxesFrom(&d)
}

// leastDesirability is that of a figure at the worst end of its range, beyond it or undefined (judgement). At 0 one
// such figure would annul whatever the others say; so it costs an axis of one figure all but a hundredth, and one
// of three nearly four fifths.
const leastDesirability = 0.01

// Desirabilities returns those of a performance in the order of Criteria, leastDesirability for an undefined figure.
func Desirabilities(p *physics.Performance) [CriterionCount]float64 {
	var d [CriterionCount]float64
	for i := range criteria {
		f := &criteria[i]
		d[i] = leastDesirability
		if si, why := p.Get(f.Quantity); why == physics.Defined {
			d[i] = f.Desirability(si)
		}
	}
	return d
}

// Desirability of the criterion at a value in SI units, leastDesirability to 1.
func (c *Criterion) Desirability(si float64) float64 {
	return math.Max(c.Scale.Desirability(c.Quantity.FromSI(si)), leastDesirability)
}

// CriterionOf returns the criterion with an index in the order of Criteria. It is shared: do not change it.
func CriterionOf(i int) *Criterion { return &criteria[i] }

// AxesFrom computes the axes from the desirabilities of their figures in the order of Criteria.
func AxesFrom(d *[CriterionCount]float64) Axes {
	var x Axes
	for a := range x {
		product, n := 1.0, 0
		for i := range criteria {
			if criteria[i].Axis == Axis(a) {
				product *= d[i]
				n++
			}
		}
		x[a] = 100 * nthRoot(product, n)
	}
	return x
}

// nthRoot is the n-th root of x ≥ 0, by the cheaper functions for small n.
func nthRoot(x float64, n int) float64 {
	switch n {
	case 1:
		return x
	case 2:
		return math.Sqrt(x)
	case 3:
		return math.Cbrt(x)
	}
	return math.Pow(x, 1/float64(n))
}
