package learn

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/mat"
)

// subject is something that was read: it predicts its readings, in their units, from the latent
// numbers, and returns false where it cannot do what was read.
type subject interface {
	touched() []int
	read() []Reading
	predict(z, into []float64) bool
}

// studentFreedom is the number of degrees of freedom of the tails of the readings' errors, which
// are normal within one standard deviation: a reading within it counts in full, one that is off by
// four has a third of its weight (after K. L. Lange, R. J. A. Little, J. M. G. Taylor, J. Am. Stat.
// Assoc. 84, 881, 1989).
const studentFreedom = 6.0

// surprise is minus the logarithm of the likelihood of a residual in standard deviations.
//
//	½ r² for |r| ≤ 1, else ½ + (ν+1)/2 ln((ν + r²)/(ν + 1))
func surprise(r float64) float64 {
	if math.Abs(r) <= 1 {
		return r * r / 2
	}
	return 0.5 + (studentFreedom+1)/2*math.Log((studentFreedom+r*r)/(studentFreedom+1))
}

// trust is the weight of a residual in standard deviations: the derivative of surprise over r.
func trust(r float64) float64 { return math.Min(1, (studentFreedom+1)/(studentFreedom+r*r)) }

// Steps of the fit.
const (
	differenceStep = 0.2 // of a latent number, to either side
	mostSteps      = 25
	smallStep      = 1e-2 // a step that changes no latent number by more is the last
)

// model is the latent numbers with all that was read.
type model struct {
	latents
	subjects []subject
	// weight scales the readings' variances by 1/weight, 1 unless they scatter more than stated.
	weight float64
}

// data is one subject at one place of the latent numbers: predictions, derivatives, residuals.
type data struct {
	touched    []int
	predicted  []float64   // on the scale of the readings
	slopes     [][]float64 // by reading and touched number
	residual   []float64   // measured less predicted, on the scale
	sd, robust []float64   // standard deviation on the scale, Student's weight
}

// posterior is what the readings leave of the latent numbers.
type posterior struct {
	mean       []float64
	covariance *mat.SymDense
	data       []data // by subject, at the mean
}

var (
	errNoStart = errors.New("no craft that its parts could make does what was read")
	errNoFit   = errors.New("the readings do not settle on one answer")
)

// predictions of a subject on the scale of its readings.
func predictions(s subject, z []float64) ([]float64, bool) {
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

// cost is minus the logarithm of prior times likelihood; it returns +Inf where a subject cannot do
// what was read.
//
//	½ |z|² + Σ surprise((measured − predicted)/sd)
func (m *model) cost(z []float64) float64 {
	var sum float64
	for _, x := range z {
		sum += x * x / 2
	}
	for _, s := range m.subjects {
		p, ok := predictions(s, z)
		if !ok {
			return math.Inf(1)
		}
		for i, r := range s.read() {
			sum += surprise((r.scaled(r.Measured) - p[i]) / m.sd(&r))
		}
	}
	return sum
}

func (m *model) sd(r *Reading) float64 { return r.sd() / math.Sqrt(m.weight) }

// look takes predictions and derivatives of one subject.
func (m *model) look(s subject, z []float64) (data, bool) {
	read := s.read()
	d := data{touched: s.touched()}
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
func (d *data) weigh(residual []float64) {
	d.robust = make([]float64, len(residual))
	for i, e := range residual {
		d.robust[i] = trust(e / d.sd[i])
	}
}

// fit finds the most likely latent numbers. It starts where all readings would lead if none were
// bad; if one looks bad there, also from what is known without readings, and takes the better.
func (m *model) fit(ctx context.Context) (*posterior, error) {
	first, err := m.start()
	if err != nil {
		return nil, err
	}
	z, cost := m.descend(ctx, m.trusting(ctx, first))
	if !math.IsInf(cost, 1) {
		p, err := m.settle(ctx, z)
		if err != nil || p.clean() {
			return p, err
		}
	}
	if other, c := m.descend(ctx, first); c < cost-1e-9 {
		z, cost = other, c
	}
	if math.IsInf(cost, 1) {
		return nil, errNoFit
	}
	return m.settle(ctx, z)
}

// clean says that every reading has nearly its full weight.
func (p *posterior) clean() bool {
	for k := range p.data {
		for _, w := range p.data[k].robust {
			if w < misfitTrust {
				return false
			}
		}
	}
	return true
}

// start is the prior's mean, or the nearest stronger craft that can do what was read.
func (m *model) start() ([]float64, error) {
	z := make([]float64, len(m.list))
	for step := 0; math.IsInf(m.cost(z), 1); step++ {
		if step == 8 {
			return nil, errNoStart
		}
		for i, l := range m.list {
			z[i] = stronger[l.input] * 0.5 * float64(step+1)
		}
	}
	return z, nil
}

// trusting goes from a start to where all readings lead at their full weight.
func (m *model) trusting(ctx context.Context, z []float64) []float64 {
	for range 2 {
		ds, ok := m.lookAll(ctx, z)
		if !ok {
			return z
		}
		for k := range ds {
			for i := range ds[k].robust {
				ds[k].robust[i] = 1
			}
		}
		step, err := solve(normal(len(z), z, ds))
		if err != nil {
			return z
		}
		next := add(z, step, 1)
		if math.IsInf(m.cost(next), 1) {
			return z
		}
		z = next
	}
	return z
}

// descend takes Gauss-Newton steps with Student's weights, halved until the cost falls.
func (m *model) descend(ctx context.Context, z []float64) ([]float64, float64) {
	cost := m.cost(z)
	for range mostSteps {
		ds, ok := m.lookAll(ctx, z)
		if !ok {
			return z, math.Inf(1)
		}
		step, err := solve(normal(len(z), z, ds))
		if err != nil {
			return z, math.Inf(1)
		}
		largest := 0.0
		for _, x := range step {
			largest = math.Max(largest, math.Abs(x))
		}
		fell := false
		for share := 1.0; share > 1e-3 && !fell; share /= 2 {
			next := add(z, step, share)
			if c := m.cost(next); c < cost {
				z, cost, fell = next, c, true
			}
		}
		if !fell || largest < smallStep {
			break
		}
	}
	return z, cost
}

// settle takes the covariance at the most likely numbers.
func (m *model) settle(ctx context.Context, z []float64) (*posterior, error) {
	ds, ok := m.lookAll(ctx, z)
	if !ok {
		return nil, errNoFit
	}
	a, _ := normal(len(z), z, ds)
	covariance, err := inverse(a)
	if err != nil {
		return nil, err
	}
	return &posterior{z, covariance, ds}, nil
}

// lookAll looks at every subject, on all processors; it fails where one cannot do what was read and
// when the context ends.
func (m *model) lookAll(ctx context.Context, z []float64) ([]data, bool) {
	ds := make([]data, len(m.subjects))
	fine := make([]bool, len(m.subjects))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(m.subjects)) {
		wait.Go(func() {
			for ctx.Err() == nil {
				k := int(next.Add(1)) - 1
				if k >= len(ds) {
					return
				}
				ds[k], fine[k] = m.look(m.subjects[k], z)
			}
		})
	}
	wait.Wait()
	return ds, !slices.Contains(fine, false)
}
