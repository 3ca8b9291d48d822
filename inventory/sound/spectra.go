package sound

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"
)

// Frames: how many blade passings, and bounds of their length in s. 80 passings tell lines 2.5 % apart at the
// fundamental and 0.3 % at the eighth harmonic, and are short enough for a hover's wander.
const (
	framePassings  = 80
	shortestFrameS = 0.06
	longestFrameS  = 0.4
	padding        = 2 // times that a frame is padded with zeros
)

// The comb: blade-passing harmonics and how much each counts.
const harmonics = 8

var harmonicWeights = [harmonics]float64{1, 1, 1, 1, 0.8, 0.7, 0.6, 0.5}

// Lines are looked for between these, the upper one a part of the sample rate.
const (
	lowestLineHz    = 70
	highestLinePart = 0.46
)

// Evidence of a line in a bin whose power is r times the floor: ln(1 + r/3), a smooth stand-in for the log
// likelihood ratio of a line of unknown level in exponentially distributed noise, capped so that no single line
// carries the comb, and shifted to mean 0 in noise: ∫ ln(1 + r/3) e^-r dr = e³ E1(3) = 0.262.
const (
	evidenceScale = 3
	evidenceCap   = 3.5
	evidenceMean  = 0.262
)

// spectra are short-time spectra of a recording as evidence of lines.
type spectra struct {
	binHz, frameS, hopS float64
	lowBin, highBin     float64     // lines are looked for between these
	evidence            [][]float32 // [frame][bin]
	power               []float64   // mean power over floor by bin
	silent              bool
}

// newSpectra cuts a decimated recording into frames that suit a blade-passing frequency in Hz.
func newSpectra(whole *Recording, passingHz float64) *spectra {
	frame := int(math.Max(shortestFrameS, math.Min(longestFrameS, framePassings/passingHz)) * whole.RateHz)
	size := 1
	for size < padding*frame {
		size *= 2
	}
	s := &spectra{
		binHz: whole.RateHz / float64(size), frameS: float64(frame) / whole.RateHz,
		hopS: float64(frame/2) / whole.RateHz,
	}
	bins := size / 2
	s.lowBin = lowestLineHz / s.binHz
	s.highBin = math.Min(highestLinePart*whole.RateHz/s.binHz, float64(bins-2))
	hann := make([]float64, frame)
	for i := range hann {
		hann[i] = 1
	}
	window.Hann(hann)
	transform := fourier.NewFFT(size)
	in, out := make([]float64, size), make([]complex128, size/2+1)
	power, floor := make([]float64, bins), newFloor(bins, passingHz/8/s.binHz)
	s.power = make([]float64, bins)
	loudest := 0.0
	for at := 0; at+frame <= len(whole.Channels[0]); at += frame / 2 {
		clear(power)
		for _, c := range whole.Channels {
			for i := range hann {
				in[i] = hann[i] * c[at+i]
			}
			transform.Coefficients(out, in)
			for i := range power {
				power[i] += real(out[i])*real(out[i]) + imag(out[i])*imag(out[i])
			}
		}
		loudest = math.Max(loudest, slices.Max(power))
		floor.under(power)
		row := make([]float32, bins)
		for i, p := range power {
			ratio := p / floor.level[i]
			if floor.level[i] < quietest {
				ratio = 1 // digital silence
			}
			s.power[i] += math.Min(ratio, 1e6)
			row[i] = float32(math.Min(evidenceCap, math.Log1p(ratio/evidenceScale)) - evidenceMean)
		}
		s.evidence = append(s.evidence, row)
	}
	for i := range s.power {
		s.power[i] /= math.Max(1, float64(len(s.evidence)))
	}
	s.silent = loudest < quietest
	return s
}

// quietest is the power of a bin under which there is silence: far below the rounding of 16 bit in a frame of some
// thousand samples.
const quietest = 1e-9

// floorOf is the level of the noise by bin: the running median of medians of blocks.
type floorOf struct {
	level  []float64
	block  int
	median []float64
	smooth []float64
	sorted []float64
}

const floorBlocks = 9

func newFloor(bins int, block float64) *floorOf {
	b := max(8, int(block))
	blocks := (bins + b - 1) / b
	return &floorOf{level: make([]float64, bins), block: b,
		median: make([]float64, blocks), smooth: make([]float64, blocks)}
}

// under sets the floor under a spectrum: of exponentially distributed power the median is ln 2 of the mean.
func (f *floorOf) under(power []float64) {
	for b := range f.median {
		f.sorted = append(f.sorted[:0], power[b*f.block:min((b+1)*f.block, len(power))]...)
		slices.Sort(f.sorted)
		f.median[b] = f.sorted[len(f.sorted)/2] / math.Ln2
	}
	var wide [floorBlocks]float64
	for b := range f.median {
		near := append(wide[:0], f.median[max(0, b-floorBlocks/2):min(len(f.median), b+floorBlocks/2+1)]...)
		slices.Sort(near)
		f.smooth[b] = near[len(near)/2]
	}
	for i := range f.level {
		x := (float64(i)+0.5)/float64(f.block) - 0.5
		b := max(0, min(int(x), len(f.smooth)-2))
		share := math.Max(0, math.Min(1, x-float64(b)))
		f.level[i] = f.smooth[b] + share*(f.smooth[min(b+1, len(f.smooth)-1)]-f.smooth[b])
	}
}

// at is the evidence of a frame between two bins.
func (s *spectra) at(row []float32, bin float64) float64 {
	i := int(bin)
	f := float32(bin - float64(i))
	return float64(row[i] + f*(row[i+1]-row[i]))
}

// carries reports whether lines are looked for at a bin.
func (s *spectra) carries(bin float64) bool { return bin >= s.lowBin && bin <= s.highBin }
