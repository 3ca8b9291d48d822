package learn

import (
	"context"
	"math"
	"partsaloft/inventory/strict"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// normalEquations sums up the normal equations of observations linearised at z for the change of the latent
// numbers: (I + Σ w s sᵀ/sd²) step = −z + Σ w s residual/sd².
func normalEquations(n int, z []float64, all []linearisation) (*mat.SymDense, *mat.VecDense) {
	a, b := identity(n), mat.NewVecDense(n, nil)
	for i := range n {
		b.SetVec(i, -z[i])
	}
	for k := range all {
		d := &all[k]
		for i, slope := range d.slopes {
			w := d.robust[i] / (d.sd[i] * d.sd[i])
			for x, p := range d.touched {
				b.SetVec(p, b.AtVec(p)+w*slope[x]*d.residual[i])
				for y := x; y < len(d.touched); y++ {
					q := d.touched[y]
					a.SetSym(p, q, a.At(p, q)+w*slope[x]*slope[y])
				}
			}
		}
	}
	return a, b
}

// identity is the unit matrix of a size: the precision of the latent numbers under the prior.
func identity(n int) *mat.SymDense {
	one := mat.NewSymDense(n, nil)
	for i := range n {
		one.SetSym(i, i, 1)
	}
	return one
}

// solve solves a x = b for a positive definite a, by Cholesky's factors.
func solve(a *mat.SymDense, b *mat.VecDense) ([]float64, error) {
	var factor mat.Cholesky
	if !factor.Factorize(a) {
		return nil, errNoFit
	}
	var x mat.VecDense
	if err := factor.SolveVecTo(&x, b); err != nil {
		return nil, err
	}
	return x.RawVector().Data, nil
}

// inverse of a positive definite a.
func inverse(a *mat.SymDense) (*mat.SymDense, error) {
	var factor mat.Cholesky
	if !factor.Factorize(a) {
		return nil, errNoFit
	}
	var inv mat.SymDense
	if err := factor.InverseTo(&inv); err != nil {
		return nil, err
	}
	return &inv, nil
}

// Steps of the fit.
const (
	differenceStep = 0.2 // of a latent number, to either side
	mostSteps      = 25
	smallStep      = 1e-2 // a step that changes no latent number by more is the last
)

// What keeps readings from being fitted.
var (
	errNoStart = &strict.Problem{Code: "learn.no_start"}
	errNoFit   = &strict.Problem{Code: "learn.no_fit"}
)

// fit finds the most likely latent numbers. It starts where all readings would lead if none were
// bad; if one looks bad there, also from what is known without readings, and takes the better.
func (m *model) fit(ctx context.Context) (*posterior, error) {
	first, err := m.start()
	if err != nil {
		return nil, err
	}
	z, cost := m.gaussNewton(ctx, m.atFullWeight(ctx, first))
	if !math.IsInf(cost, 1) {
		p, err := m.laplace(ctx, z)
		if err != nil || p.atNearlyFullWeight() {
			return p, err
		}
	}
	if other, c := m.gaussNewton(ctx, first); c < cost-1e-9 {
		z, cost = other, c
	}
	if math.IsInf(cost, 1) {
		return nil, errNoFit
	}
	return m.laplace(ctx, z)
}

// atNearlyFullWeight says that every reading has nearly its full weight.
func (p *posterior) atNearlyFullWeight() bool {
	for k := range p.linearised {
		for _, w := range p.linearised[k].robust {
			if w < misfitWeight {
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
			z[i] = l.stronger() * 0.5 * float64(step+1)
		}
	}
	return z, nil
}

// atFullWeight goes from a start to where all readings lead at their full weight.
func (m *model) atFullWeight(ctx context.Context, z []float64) []float64 {
	for range 2 {
		ds, ok := m.lineariseAll(ctx, z)
		if !ok {
			return z
		}
		for k := range ds {
			for i := range ds[k].robust {
				ds[k].robust[i] = 1
			}
		}
		step, err := solve(normalEquations(len(z), z, ds))
		if err != nil {
			return z
		}
		next := make([]float64, len(z))
		floats.AddTo(next, z, step)
		if math.IsInf(m.cost(next), 1) {
			return z
		}
		z = next
	}
	return z
}

// gaussNewton takes Gauss-Newton steps with Student's weights, halved until the cost falls.
func (m *model) gaussNewton(ctx context.Context, z []float64) ([]float64, float64) {
	cost := m.cost(z)
	for range mostSteps {
		ds, ok := m.lineariseAll(ctx, z)
		if !ok {
			return z, math.Inf(1)
		}
		step, err := solve(normalEquations(len(z), z, ds))
		if err != nil {
			return z, math.Inf(1)
		}
		largest := floats.Norm(step, math.Inf(1))
		fell := false
		for share := 1.0; share > 1e-3 && !fell; share /= 2 {
			next := make([]float64, len(z))
			floats.AddScaledTo(next, z, share, step)
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

// laplace takes the covariance at the most likely numbers.
func (m *model) laplace(ctx context.Context, z []float64) (*posterior, error) {
	ds, ok := m.lineariseAll(ctx, z)
	if !ok {
		return nil, errNoFit
	}
	a, _ := normalEquations(len(z), z, ds)
	covariance, err := inverse(a)
	if err != nil {
		return nil, err
	}
	return &posterior{z, covariance, ds}, nil
}
