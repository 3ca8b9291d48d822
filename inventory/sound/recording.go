package sound

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/dsp/window"
)

// Recording is sound as samples, one slice a channel, all of one length; full scale is 1.
type Recording struct {
	RateHz   float64
	Channels [][]float64
	// CutToS is how long what was read is, in s, if the file went on; 0 if it was read whole.
	CutToS float64
}

// Bounds of what is listened to.
const (
	LowestRateHz  = 4000
	HighestRateHz = 768000
	// LongestS is how much of a recording is listened to, in s.
	LongestS = 60
	// ShortestS is the shortest recording that says something.
	ShortestS = 2.0
	// MostChannels are listened to; further ones are left out.
	MostChannels = 2
)

// Seconds is the length of the recording.
func (r *Recording) Seconds() float64 {
	if len(r.Channels) == 0 || !(r.RateHz > 0) {
		return 0
	}
	return float64(len(r.Channels[0])) / r.RateHz
}

// check returns an error for what is no recording.
func (r *Recording) check() error {
	switch {
	case !(r.RateHz >= LowestRateHz && r.RateHz <= HighestRateHz):
		return fmt.Errorf("sample rate must be from %d to %d Hz, got %g", LowestRateHz, HighestRateHz, r.RateHz)
	case len(r.Channels) == 0:
		return fmt.Errorf("the recording has no channel")
	}
	for _, c := range r.Channels {
		if len(c) != len(r.Channels[0]) {
			return fmt.Errorf("channels must be of one length, got %d and %d samples", len(r.Channels[0]), len(c))
		}
	}
	return nil
}

// decimated is the recording at the lowest whole part of its rate that carries what lies under highestHz, without its
// mean and at most LongestS long. Samples that are no numbers are silent.
func (r *Recording) decimated(highestHz float64) *Recording {
	by := max(1, int(r.RateHz/(2.4*highestHz)))
	out := &Recording{RateHz: r.RateHz / float64(by)}
	for _, c := range r.Channels[:min(len(r.Channels), MostChannels)] {
		c = c[:min(len(c), int(LongestS*r.RateHz))]
		clean := make([]float64, len(c))
		mean, n := 0.0, 0
		for i, x := range c {
			if x >= -1e3 && x <= 1e3 {
				clean[i] = x
				mean += x
				n++
			}
		}
		mean /= math.Max(1, float64(n))
		for i := range clean {
			clean[i] -= mean
		}
		out.Channels = append(out.Channels, decimate(clean, by))
	}
	return out
}

// decimate filters by a windowed sinc that cuts at 0.46 of the new rate and takes every by-th sample.
func decimate(x []float64, by int) []float64 {
	if by == 1 {
		return x
	}
	half := 12 * by
	taps := make([]float64, 2*half+1)
	sum := 0.0
	for i := range taps {
		taps[i] = 1
	}
	window.Blackman(taps)
	for i := range taps {
		if t := math.Pi * float64(i-half) * 2 * highestLinePart / float64(by); t != 0 {
			taps[i] *= math.Sin(t) / t
		}
		sum += taps[i]
	}
	for i := range taps {
		taps[i] /= sum
	}
	out := make([]float64, 0, len(x)/by)
	for at := half; at+half < len(x); at += by {
		y := 0.0
		for i, t := range taps {
			y += t * x[at-half+i]
		}
		out = append(out, y)
	}
	return out
}
