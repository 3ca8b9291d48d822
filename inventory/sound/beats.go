package sound

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Beats: harmonics this far over the noise tell them, and at most so many frames.
const (
	beatDB     = 10
	beatLines  = 2
	beatFrames = 150
	beatLn     = 0.02
)

// beats is by how much the levels of the harmonics go their own ways, as the standard deviation in ln power without
// what all have in common; NaN where too few are loud. Rotors beat, each harmonic at its own pace; a machine of one
// shaft or a held tone does not, whether it wanders or not.
func (f *found) beats(d *Recording) float64 {
	s := f.spectra
	n, hop := quickLength(int(math.Round(s.frameS*d.RateHz))), int(math.Round(s.hopS*d.RateHz))
	binHz := d.RateHz / float64(n)
	var loud []int
	for _, h := range f.strong {
		if f.lineDB(float64(h)) >= beatDB {
			loud = append(loud, h)
		}
	}
	if len(loud) < beatLines {
		return math.NaN()
	}
	transform := fourier.NewFFT(n)
	in, hann := make([]float64, n), make([]float64, n)
	for k := range hann {
		hann[k] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(k)+0.5)/float64(n))
	}
	levels := make([][]float64, len(loud))
	from := f.from + max(0, f.to-f.from-beatFrames)/2
	for i := from; i < min(f.to, from+beatFrames) && i*hop+n <= len(d.Channels[0]); i++ {
		for k := range in {
			in[k] = hann[k] * d.Channels[0][i*hop+k]
		}
		c := transform.Coefficients(nil, in)
		common := 0.0
		for j, h := range loud {
			middle := float64(h) * f.passingHz * math.Exp(f.track[i]+f.alone.centre) / binHz
			half := math.Max(2, beatLn*middle)
			sum := 1e-20
			for b := max(0, int(math.Ceil(middle-half))); b <= int(middle+half) && b < len(c); b++ {
				sum += real(c[b])*real(c[b]) + imag(c[b])*imag(c[b])
			}
			levels[j] = append(levels[j], math.Log(sum))
			common += math.Log(sum) / float64(len(loud))
		}
		for j := range loud {
			levels[j][len(levels[j])-1] -= common
		}
	}
	var each []float64
	for _, l := range levels {
		if len(l) > 0 {
			each = append(each, deviation(l))
		}
	}
	if len(each) == 0 {
		return math.NaN()
	}
	slices.Sort(each)
	return each[len(each)/2] / math.Sqrt(1-1/float64(len(loud)))
}

// quickLength is the longest length up to n without a prime factor over 5: a transform's time grows with its largest
// one.
func quickLength(n int) int {
	for ; ; n-- {
		rest := n
		for _, prime := range [...]int{2, 3, 5} {
			for rest%prime == 0 && rest > 1 {
				rest /= prime
			}
		}
		if rest <= 1 {
			return n
		}
	}
}
