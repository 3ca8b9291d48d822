// Package robust is least squares and statistics in which single wild figures decide little.
package robust

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// Problem is a least-squares problem whose large residuals count linearly: the cost is
//
//	sum of w c² (sqrt(1 + (r/c)²) − 1) over the residuals r + half the sum of ((x − start)/prior)²
//
// with c = robustCorner standard deviations (pseudo-Huber). Unknowns are counted in steps of
// their scale.
type Problem struct {
	Start, Scale, Prior []float64 // prior 0: none
	First               []float64 // where to begin, if not at start
	Weights             []float64
	Residuals           func(x, r []float64)
}

const RobustCorner = 1.5

// Solution is what a fit found.
type Solution struct {
	X    []float64
	cost float64
	Sd   []float64 // standard deviations of x from the curvature of the cost
}

// Solve minimises by gonum's Newton method, with the Gauss-Newton matrix for the Hessian and
// slopes by differences.
func (p *Problem) Solve() (Solution, error) {
	n, m := len(p.Start), len(p.Weights)
	at := make([]float64, n)
	x := func(z []float64) []float64 {
		for i := range z {
			at[i] = p.Start[i] + z[i]*p.Scale[i]
		}
		return at
	}
	r := make([]float64, m)
	jac := mat.NewDense(m, n, nil)
	var known []float64
	high := make([]float64, m)
	slopes := func(z []float64) {
		if slices.Equal(known, z) {
			return
		}
		known = slices.Clone(z)
		p.Residuals(x(z), r)
		moved := slices.Clone(z)
		const step = 0.02
		for k := range n {
			moved[k] = z[k] + step
			p.Residuals(x(moved), high)
			moved[k] = z[k]
			for i := range m {
				jac.Set(i, k, (high[i]-r[i])/step)
			}
		}
	}
	ratio := func(k int) float64 {
		if p.Prior[k] == 0 {
			return 0
		}
		return p.Scale[k] / p.Prior[k]
	}
	problem := optimize.Problem{
		Func: func(z []float64) float64 {
			p.Residuals(x(z), r)
			known = nil
			var sum float64
			for i, v := range r {
				sum += p.Weights[i] * RobustCorner * RobustCorner * (math.Sqrt(1+v*v/(RobustCorner*RobustCorner)) - 1)
			}
			for k := range z {
				sum += 0.5 * z[k] * z[k] * ratio(k) * ratio(k)
			}
			if math.IsNaN(sum) {
				return math.Inf(1)
			}
			return sum
		},
		Grad: func(grad, z []float64) {
			slopes(z)
			for k := range grad {
				grad[k] = z[k] * ratio(k) * ratio(k)
				for i, v := range r {
					grad[k] += p.Weights[i] * v / math.Sqrt(1+v*v/(RobustCorner*RobustCorner)) * jac.At(i, k)
				}
			}
		},
		Hess: func(h *mat.SymDense, z []float64) {
			slopes(z)
			for a := range n {
				for b := a; b < n; b++ {
					var sum float64
					for i, v := range r {
						sum += p.Weights[i] / math.Sqrt(1+v*v/(RobustCorner*RobustCorner)) * jac.At(i, a) * jac.At(i, b)
					}
					if a == b {
						sum += ratio(a)*ratio(a) + 1e-9
					}
					h.SetSym(a, b, sum)
				}
			}
		},
	}
	first := make([]float64, n)
	for i := range p.First {
		first[i] = (p.First[i] - p.Start[i]) / p.Scale[i]
	}
	result, err := optimize.Minimize(problem, first, &optimize.Settings{
		MajorIterations: 60, Converger: &optimize.FunctionConverge{Relative: 1e-4, Iterations: 2},
	}, &optimize.Newton{})
	if result == nil || result.X == nil || math.IsInf(result.F, 0) {
		return Solution{}, fmt.Errorf("fit: %w", err)
	}
	s := Solution{X: slices.Clone(x(result.X)), cost: result.F, Sd: make([]float64, n)}
	h := mat.NewSymDense(n, nil)
	problem.Hess(h, result.X)
	var chol mat.Cholesky
	if chol.Factorize(h) {
		var inverse mat.SymDense
		if chol.InverseTo(&inverse) == nil {
			for k := range n {
				s.Sd[k] = math.Sqrt(inverse.At(k, k)) * p.Scale[k]
			}
		}
	}
	return s, nil
}
