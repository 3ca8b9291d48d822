package learn

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// observation is a craft, a stand or a label that was read: it predicts its readings, in their units, from the latent
// numbers, and reports whether it can do what was read.
type observation interface {
	touched() []int
	read() []Reading
	predict(z, into []float64) bool
}

// studentFreedom is the number of degrees of freedom of the tails of the readings' errors, which
// are normal within one standard deviation: a reading within it counts in full, one that is off by
// four has a third of its weight (after K. L. Lange, R. J. A. Little, J. M. G. Taylor, J. Am. Stat.
// Assoc. 84, 881, 1989).
const studentFreedom = 6.0

// robustLoss is minus the logarithm of the likelihood of a residual in standard deviations: normal in the middle,
// Student's in the tails.
//
//	½ r² for |r| ≤ 1, else ½ + (ν+1)/2 ln((ν + r²)/(ν + 1))
func robustLoss(r float64) float64 {
	if math.Abs(r) <= 1 {
		return r * r / 2
	}
	return 0.5 + (studentFreedom+1)/2*math.Log((studentFreedom+r*r)/(studentFreedom+1))
}

// robustWeight is the weight of a residual in standard deviations: the derivative of robustLoss over r.
func robustWeight(r float64) float64 { return math.Min(1, (studentFreedom+1)/(studentFreedom+r*r)) }

// model is the latent numbers with all that was read.
type model struct {
	latents
	observations []observation
	// precision scales the readings' variances by 1/weight, 1 unless they scatter more than stated.
	precision float64
}

// linearisation is one observation at one place of the latent numbers: predictions, derivatives, residuals.
type linearisation struct {
	touched    []int
	predicted  []float64   // on the scale of the readings
	slopes     [][]float64 // by reading and touched number
	residual   []float64   // measured less predicted, on the scale
	sd, robust []float64   // standard deviation on the scale, Student's weight
}

// predictions of an observation on the scale of its readings.
func predictions(s observation, z []float64) ([]float64, bool) {
	read := s.read()
	out := make([]float64, len(read))
	if !s.predict(z, out) {
		return nil, false
	}
	for i := range out {
		out[i] = read[i].scaled(out[i])
		if math.IsNaN(out[i]) || math.IsInf(out[i], 0) {
			return nil, false
		}
	}
	return out, true
}

// cost is minus the logarithm of prior times likelihood; it returns +Inf where an observation
// cannot be made.
//
//	½ |z|² + Σ robustLoss((measured − predicted)/sd)
func (m *model) cost(z []float64) float64 {
	var sum float64
	for _, x := range z {
		sum += x * x / 2
	}
	for _, s := range m.observations {
		p, ok := predictions(s, z)
		if !ok {
			return math.Inf(1)
		}
		for i, r := range s.read() {
			sum += robustLoss((r.scaled(r.Measured) - p[i]) / m.sd(&r))
		}
	}
	return sum
}

func (m *model) sd(r *Reading) float64 { return r.sd() / math.Sqrt(m.precision) }

// linearise takes predictions and derivatives (central differences) of one observation.
func (m *model) linearise(s observation, z []float64) (linearisation, bool) {
	read := s.read()
	d := linearisation{touched: s.touched()}
	var ok bool
	if d.predicted, ok = predictions(s, z); !ok {
		return d, false
	}
	d.slopes = make([][]float64, len(read))
	for i := range read {
		r := &read[i]
		d.slopes[i] = make([]float64, len(d.touched))
		d.residual = append(d.residual, r.scaled(r.Measured)-d.predicted[i])
		d.sd = append(d.sd, m.sd(r))
	}
	moved := append([]float64{}, z...)
	for j, k := range d.touched {
		moved[k] = z[k] + differenceStep
		above, okAbove := predictions(s, moved)
		moved[k] = z[k] - differenceStep
		below, okBelow := predictions(s, moved)
		moved[k] = z[k]
		width := 2 * differenceStep
		switch {
		case !okAbove && !okBelow:
			continue
		case !okAbove:
			above, width = d.predicted, differenceStep
		case !okBelow:
			below, width = d.predicted, differenceStep
		}
		for i := range read {
			d.slopes[i][j] = (above[i] - below[i]) / width
		}
	}
	d.weigh(d.residual)
	return d, true
}

// weigh sets Student's weights for residuals.
func (d *linearisation) weigh(residual []float64) {
	d.robust = make([]float64, len(residual))
	for i, e := range residual {
		d.robust[i] = robustWeight(e / d.sd[i])
	}
}

// lineariseAll linearises every observation, on all processors; it fails where one cannot do what was read and
// when the context ends.
func (m *model) lineariseAll(ctx context.Context, z []float64) ([]linearisation, bool) {
	ds := make([]linearisation, len(m.observations))
	fine := make([]bool, len(m.observations))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(m.observations)) {
		wait.Go(func() {
			for ctx.Err() == nil {
				k := int(next.Add(1)) - 1
				if k >= len(ds) {
					return
				}
				ds[k], fine[k] = m.linearise(m.observations[k], z)
			}
		})
	}
	wait.Wait()
	return ds, !slices.Contains(fine, false)
}
