package sound

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"
)

// Mains hum: lines on multiples of the mains frequency that stand still, as blade tones never do. Networks keep
// their frequency to 0.1 % or so (from memory: 49.95 to 50.05 Hz in ordinary running of the European network).
const (
	mainsOff      = 0.0014 // of the frequency at most, relative
	mainsStep     = 0.0002
	mainsMultiple = 60 // highest multiple that is looked at
	mainsFirst    = 8  // of the first so many multiples mainsLeast must stand, or there is no hum
	mainsLeast    = 3
	mainsRatio    = 25 // by which a line stands over what is about it, in power
	mainsNearHz   = 22 // about it
	mainsBlockS   = 1  // longest block
)

// withoutHum is a recording without the mains' hum, itself if there is none. Blocks are windowed, lose the bins of
// the lines, and are added up again.
func withoutHum(r *Recording) *Recording {
	size := 1
	for float64(2*size) <= mainsBlockS*r.RateHz {
		size *= 2
	}
	if len(r.Channels[0]) < size {
		return r
	}
	hann := make([]float64, size+1)
	for i := range hann {
		hann[i] = 1
	}
	window.Hann(hann) // periodic: half a block on, two add up to 1
	hann = hann[:size]
	transform := fourier.NewFFT(size)
	binHz := r.RateHz / float64(size)
	lines := mainsLines(r, transform, hann, binHz)
	if lines == nil {
		return r
	}
	out := &Recording{RateHz: r.RateHz, CutToS: r.CutToS}
	in, bins := make([]float64, size), make([]complex128, size/2+1)
	for _, x := range r.Channels {
		clean := make([]float64, len(x))
		for at := -size / 2; at < len(x); at += size / 2 {
			for i := range in {
				in[i] = 0
				if k := at + i; k >= 0 && k < len(x) {
					in[i] = hann[i] * x[k]
				}
			}
			transform.Coefficients(bins, in)
			for _, hz := range lines {
				middle := hz / binHz
				for i := int(math.Ceil(middle - 2.5)); i <= int(middle+2.5); i++ {
					bins[i] = 0
				}
			}
			transform.Sequence(in, bins)
			for i := range in {
				if k := at + i; k >= 0 && k < len(x) {
					clean[k] += in[i] / float64(size)
				}
			}
		}
		out.Channels = append(out.Channels, clean)
	}
	return out
}

// mainsLines are the frequencies of the hum's lines, nil if there is no hum.
func mainsLines(r *Recording, transform *fourier.FFT, hann []float64, binHz float64) []float64 {
	size := len(hann)
	var blocks [][]float64 // power by bin
	in := make([]float64, size)
	for _, x := range r.Channels {
		for at := 0; at+size <= len(x); at += size / 2 {
			for i := range in {
				in[i] = hann[i] * x[at+i]
			}
			c := transform.Coefficients(nil, in)
			power := make([]float64, min(len(c), int(61*mainsMultiple/binHz)))
			for i := range power {
				a := cmplx.Abs(c[i])
				power[i] = a * a
			}
			blocks = append(blocks, power)
		}
	}
	var best []float64
	most := 0.0
	for _, base := range [...]float64{50, 60} {
		floor := mainsFloor(blocks, base, binHz)
		for off := -mainsOff; off <= mainsOff; off += mainsStep {
			var lines []float64
			sum, low := 0.0, 0
			for m := 1; m <= min(mainsMultiple, len(floor)); m++ {
				hz := base * float64(m) * (1 + off)
				ratio := stillRatio(blocks, floor[m-1], hz/binHz)
				if ratio < mainsRatio {
					continue
				}
				sum += math.Log(ratio)
				lines = append(lines, hz)
				if m <= mainsFirst {
					low++
				}
			}
			if low >= mainsLeast && sum > most {
				best, most = lines, sum
			}
		}
	}
	return best
}

// mainsFloor is the median power about each multiple of the mains frequency, by block.
func mainsFloor(blocks [][]float64, base, binHz float64) [][]float64 {
	var floor [][]float64
	for m := 1; m <= mainsMultiple; m++ {
		at := base * float64(m) / binHz
		wide := mainsNearHz / binHz
		if len(blocks) == 0 || int(at+wide)+3 >= len(blocks[0]) {
			break
		}
		var each []float64
		for _, power := range blocks {
			near := slices.Clone(power[int(at-wide) : int(at+wide)+1])
			slices.Sort(near)
			each = append(each, math.Max(quietest*quietest, near[len(near)/2]))
		}
		floor = append(floor, each)
	}
	return floor
}

// stillRatio is by how much a bin stands over the floor in three of four blocks.
func stillRatio(blocks [][]float64, floor []float64, bin float64) float64 {
	var ratios []float64
	i := int(math.Round(bin))
	for b, power := range blocks {
		ratios = append(ratios, power[i]/floor[b])
	}
	slices.Sort(ratios)
	return ratios[len(ratios)/4]
}
