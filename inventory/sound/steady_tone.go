package sound

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// purity is the share of the power about the comb's lines that lies in one bin and its neighbours of a transform of
// the whole stretch. A tone that does not wander gives nearly 1; four rotors spread over many bins.
func (f *found) purity(d *Recording) {
	from, to := int(float64(f.from)*f.spectra.hopS*d.RateHz), int(float64(f.to)*f.spectra.hopS*d.RateHz)
	to = min(to, from+int(3*d.RateHz), len(d.Channels[0]))
	n := to - from
	x := slices.Clone(d.Channels[0][from:to])
	for i := range x {
		x[i] *= 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n))
	}
	size := 1
	for size < n {
		size *= 2
	}
	x = append(x, make([]float64, size-n)...)
	c := fourier.NewFFT(size).Coefficients(nil, x)
	binHz := d.RateHz / float64(size)
	line := f.passingHz * math.Exp(mean(f.track[f.from:f.to])+f.alone.centre)
	var shares []float64
	for _, h := range f.strong {
		low, high := int(float64(h)*line*0.985/binHz), int(float64(h)*line*1.015/binHz)
		if high+3 >= len(c) || low < 3 {
			continue
		}
		sum, top, at := 0.0, 0.0, 0
		p := func(i int) float64 { return real(c[i])*real(c[i]) + imag(c[i])*imag(c[i]) }
		for i := low; i <= high; i++ {
			sum += p(i)
			if p(i) > top {
				top, at = p(i), i
			}
		}
		near := 0.0
		for i := max(low, at-3); i <= min(high, at+3); i++ {
			near += p(i)
		}
		if sum > 0 {
			shares = append(shares, near/sum)
		}
	}
	if len(shares) > 0 {
		slices.Sort(shares)
		f.pure = shares[len(shares)/2]
	}
}
