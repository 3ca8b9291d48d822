package learn

import "math"

// without is the posterior that the readings leave when those whose use is false are left out. It
// starts from the posterior of all and solves for the change by the derivatives there, with
// Student's weights brought up to date; predictions made from it are exact.
func (m *model) without(p *posterior, use func(subject, reading int) bool) (*posterior, error) {
	ds := make([]data, len(p.data))
	for k := range ds {
		ds[k] = p.data[k]
		ds[k].used = make([]bool, len(ds[k].residual))
		for i := range ds[k].used {
			ds[k].used[i] = use(k, i)
		}
	}
	z := p.mean
	const rounds = 4
	for range rounds {
		step, err := solve(normal(len(z), p.mean, ds))
		if err != nil {
			return nil, err
		}
		z = add(p.mean, step, 1)
		for k := range ds {
			d := &ds[k]
			moved := make([]float64, len(d.residual))
			for i, slope := range d.slopes {
				moved[i] = d.residual[i]
				for x, latent := range d.touched {
					moved[i] -= slope[x] * step[latent]
				}
			}
			d.weigh(moved)
		}
	}
	a, _ := normal(len(z), p.mean, ds)
	covariance, err := inverse(a)
	if err != nil {
		return nil, err
	}
	return &posterior{z, covariance, p.data}, nil
}

// expected is what a posterior says of one subject's readings: value and standard deviation on
// the scale of each. The derivatives are those at the posterior of all readings.
func (m *model) expected(p *posterior, k int) (values, sds []float64, ok bool) {
	values, ok = predictions(m.subjects[k], p.mean)
	if !ok {
		return nil, nil, false
	}
	return values, p.spreads(k), true
}

// spreads are the standard deviations of a subject's predictions, the readings' own left out.
func (p *posterior) spreads(k int) []float64 {
	d := &p.data[k]
	sds := make([]float64, len(d.slopes))
	for i, slope := range d.slopes {
		r := make(row, len(slope))
		for x, latent := range d.touched {
			r[x] = term{latent, slope[x]}
		}
		sds[i] = math.Sqrt(p.between(r, r))
	}
	return sds
}

// LeftOut is how well entries of the log are predicted when they are left out: mean absolute
// errors in units of what the parts' figures alone let one expect (their doubt and the reading's),
// each held at worst.
type LeftOut struct {
	Readings int
	// Before is that of the parts' figures alone, After that of what the other entries taught.
	Before, After float64
}

// worst is the error at which one reading counts no more in the mean: it is bad then, whatever
// was learned.
const worst = 4.0

// leaveOut predicts every entry of the log from the others. outs holds their posteriors, by
// subject, nil for benches.
func (g *gathered) leaveOut(p *posterior) (total LeftOut, outs []*posterior, err error) {
	outs = make([]*posterior, len(g.subjects))
	prior := g.prior()
	for k := range g.subjects {
		if g.entries[k].log < 0 {
			continue
		}
		out, err := g.without(p, func(subject, _ int) bool { return subject != k })
		if err != nil {
			return total, nil, err
		}
		outs[k] = out
		before, sds, okBefore := g.expected(prior, k)
		after, _, okAfter := g.expected(out, k)
		if !okBefore || !okAfter {
			continue
		}
		for i, r := range g.subjects[k].read() {
			width := math.Hypot(sds[i], r.sd())
			total.Readings++
			total.Before += math.Min(math.Abs(r.scaled(r.Measured)-before[i])/width, worst)
			total.After += math.Min(math.Abs(r.scaled(r.Measured)-after[i])/width, worst)
		}
	}
	if total.Readings > 0 {
		total.Before /= float64(total.Readings)
		total.After /= float64(total.Readings)
	}
	return total, outs, nil
}
