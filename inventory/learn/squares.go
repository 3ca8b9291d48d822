package learn

import "gonum.org/v1/gonum/mat"

// normal sums up the normal equations of data linearised at z for the change of the latent
// numbers: (I + Σ w s sᵀ/sd²) step = −z + Σ w s residual/sd².
func normal(n int, z []float64, all []data) (*mat.SymDense, *mat.VecDense) {
	a := mat.NewSymDense(n, nil)
	b := mat.NewVecDense(n, nil)
	for i := range n {
		a.SetSym(i, i, 1)
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

func add(z, step []float64, share float64) []float64 {
	sum := make([]float64, len(z))
	for i := range z {
		sum[i] = z[i] + share*step[i]
	}
	return sum
}
