package learn

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// without is what the readings let one expect of some of them when these are left out.
type without struct {
	mean []float64 // latent numbers
	sds  []float64 // of the predictions of the observation left out, on the scale of its readings
}

// leaveOut takes readings of one observation out of a posterior by its derivatives there and with the
// weights that the readings have:
//
//	mean' = mean − C Sᵀ (W⁻¹ − H)⁻¹ r,  H' = H + H (W⁻¹ − H)⁻¹ H,  H = S C Sᵀ
//
// with S the derivatives of what is left out, W its weights over variances and r its residuals
// (the formula of Sherman, Morrison and Woodbury). Predictions made from the mean are exact.
func (p *posterior) leaveOut(k int, which []int) (without, bool) {
	d := &p.linearised[k]
	n := len(which)
	rows := make([]row, n)
	for i, reading := range which {
		rows[i] = d.row(reading)
	}
	h := mat.NewSymDense(n, nil)
	a := mat.NewSymDense(n, nil)
	residual := mat.NewVecDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			x := p.covarianceOf(rows[i], rows[j])
			h.SetSym(i, j, x)
			a.SetSym(i, j, -x)
		}
		at := which[i]
		residual.SetVec(i, d.residual[at])
		a.SetSym(i, i, a.At(i, i)+d.sd[at]*d.sd[at]/d.robust[at])
	}
	var factor mat.Cholesky
	if !factor.Factorize(a) {
		return without{}, false
	}
	var by mat.VecDense
	var spread mat.Dense
	if factor.SolveVecTo(&by, residual) != nil || factor.SolveTo(&spread, h) != nil {
		return without{}, false
	}
	out := without{mean: append([]float64{}, p.mean...), sds: make([]float64, n)}
	for i, r := range rows {
		for _, t := range r {
			for latent := range out.mean {
				out.mean[latent] -= p.covariance.At(latent, t.latent) * t.by * by.AtVec(i)
			}
		}
	}
	for i := range n {
		variance := h.At(i, i)
		for j := range n {
			variance += h.At(i, j) * spread.At(j, i)
		}
		out.sds[i] = math.Sqrt(math.Max(variance, 0))
	}
	return out, true
}

func all(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// CrossCheck is how well entries of the log are predicted when they are left out: mean absolute
// errors in units of what the parts' figures alone let one expect (their doubt and the reading's),
// each held at mostError.
type CrossCheck struct {
	Readings int
	// Before is that of the parts' figures alone, After that of what the other entries taught.
	Before, After float64
}

// mostError is the error at which one reading counts no more in the mean: it is bad then, whatever
// was learned.
const mostError = 4.0

// leaveOneOut predicts every entry of the log from the others. The predictions are by observation, nil
// for benches and for crafts that are not predicted to do what was read.
func (g *evidence) leaveOneOut(p *posterior) (CrossCheck, []*prediction) {
	var total CrossCheck
	outs := make([]*prediction, len(g.observations))
	prior := g.prior()
	for k, s := range g.observations {
		if g.entries[k].log < 0 {
			continue
		}
		read := s.read()
		out, ok := p.leaveOut(k, all(len(read)))
		if !ok {
			continue
		}
		after, ok := predictions(s, out.mean)
		if !ok {
			continue
		}
		outs[k] = &prediction{after, out.sds}
		if prior.linearised[k].predicted == nil {
			continue
		}
		sds := prior.predictionSDs(k)
		for i := range read {
			r := &read[i]
			width := math.Hypot(sds[i], r.sd())
			total.Readings++
			total.Before += math.Min(math.Abs(r.scaled(r.Measured)-prior.linearised[k].predicted[i])/width, mostError)
			total.After += math.Min(math.Abs(r.scaled(r.Measured)-after[i])/width, mostError)
		}
	}
	if total.Readings > 0 {
		total.Before /= float64(total.Readings)
		total.After /= float64(total.Readings)
	}
	return total, outs
}
