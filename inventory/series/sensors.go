package series

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/physics/uncertain"
)

// Sensors is what sensors of a flight controller are off by as a rule, standard deviations (common practice, no
// source): a divider's and a shunt's gain as they leave the factory, the current that is shown while none flows. They
// are in the doubt of every figure that rests on the sensor; ratios of two currents are free of the gain.
const (
	voltsGainSD   = 0.007
	ampsGainSD    = 0.05
	ampsOffsetSDA = 0.15
)

// Figure is a reading with its standard deviation, both in the unit of its name.
type Figure struct{ Value, SD float64 }

// Low and High bound the 80 % interval.
func (f Figure) Low() float64 { return f.Value - uncertain.HalfWidth()*f.SD }

// High is the upper bound of the 80 % interval.
func (f Figure) High() float64 { return f.Value + uncertain.HalfWidth()*f.SD }

func (f *Figure) widen(sd float64) {
	f.SD = math.Hypot(f.SD, sd)
}

// known is a figure, nil if its value is not finite.
func known(value, sd float64) *Figure {
	if math.IsNaN(value) || math.IsInf(value, 0) || math.IsNaN(sd) || math.IsInf(sd, 0) {
		return nil
	}
	return &Figure{value, sd}
}

// studentFactor widens a standard deviation that was found from few values, so that the normal 80 % interval holds
// what Student's does.
func studentFactor(freedom float64) float64 {
	if freedom >= 60 {
		return 1
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: math.Max(freedom, 1)}
	return t.Quantile(0.9) / uncertain.HalfWidth()
}

// meanWithDoubt is the mean of block means at some times with its standard deviation: their scatter about a straight
// line where there are enough of them, for a slow drift is no doubt of the mean; neighbours that hang together count
// less.
func meanWithDoubt(at, blocks []float64) (value, sd float64) {
	n := len(blocks)
	value = mean(blocks)
	if n < 2 {
		return value, math.NaN()
	}
	rest, freedom := make([]float64, n), float64(n-1)
	for i, x := range blocks {
		rest[i] = x - value
	}
	if n >= 5 {
		var xx, xy float64
		middle := mean(at)
		for i, t := range at {
			xx += (t - middle) * (t - middle)
			xy += (t - middle) * rest[i]
		}
		if xx > 0 {
			for i, t := range at {
				rest[i] -= xy / xx * (t - middle)
			}
			freedom--
		}
	}
	var squares, neighbours float64
	for i, x := range rest {
		squares += x * x
		if i > 0 {
			neighbours += x * rest[i-1]
		}
	}
	if squares == 0 {
		return value, 0
	}
	variance := squares / freedom / float64(n)
	if n >= 8 {
		// First-order autocorrelation, its small-sample bias of (1 + 3 r)/n added, between none and 0.8.
		r := neighbours / squares
		r = math.Min(math.Max(r+(1+3*r)/float64(n), 0), 0.8)
		variance *= (1 + r) / (1 - r)
		freedom *= (1 - r) / (1 + r)
	}
	return value, math.Sqrt(variance) * studentFactor(freedom)
}
