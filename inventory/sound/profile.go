package sound

import (
	"math"
	"slices"
)

// profileLn is how far about the track the profile reaches.
const profileLn = 0.09

// nearPeakLn is how far from the track a lobe's highest point is looked for.
const nearPeakLn = 0.03

// profile is the mean evidence about the teeth of a comb by distance in ln f, and each harmonic's best near the middle.
type profile struct {
	sum  []float64
	each [harmonics]float64
}

func (s *spectra) profile(t *teeth, reach float64) profile {
	half := int(math.Round(reach / gridStep))
	p := profile{sum: make([]float64, 2*half+1)}
	one, factor := make([]float64, len(p.sum)), make([]float64, len(p.sum))
	for i := range factor {
		factor[i] = math.Exp(float64(i-half) * gridStep)
	}
	for h := range harmonics {
		clear(one)
		base := float64(h+1) * t.passingHz / s.binHz * math.Exp(t.moved[h])
		for f := t.from; f < t.to; f++ {
			centre := base * math.Exp(t.centre[f])
			for i := range one {
				if bin := centre * factor[i]; s.carries(bin) {
					one[i] += s.at(s.evidence[f], bin) / float64(t.to-t.from)
				}
			}
		}
		for i, x := range one {
			p.sum[i] += harmonicWeights[h] * x
			if i >= half-boxes[1] && i <= half+boxes[1] {
				p.each[h] = math.Max(p.each[h], x)
			}
		}
	}
	return p
}

// lobe is a hump of a profile: its capped centroid, its width (standard deviation), where it begins and ends, and its
// height over the profile's base.
type lobe struct {
	centre, width, from, to, height float64
}

// Shares of a lobe's height: what lies under the lower one does not count, what lies over the upper one counts no
// more, so that a quiet rotor counts like a loud one; a lobe ends where nothing counts over a gap.
const (
	lobeFoot  = 0.2
	lobeCap   = 0.5
	lobeGapLn = 0.02
)

// lobe is the hump of the profile whose highest point lies within near of middle, and that ends between from and to.
func (p *profile) lobe(middle, near, from, to float64) lobe {
	half := len(p.sum) / 2
	sorted := slices.Clone(p.sum)
	slices.Sort(sorted)
	base := sorted[len(sorted)/4]
	low := max(0, half+int(math.Round(from/gridStep)))
	high := min(len(p.sum)-1, half+int(math.Round(to/gridStep)))
	at := half + int(math.Round(middle/gridStep))
	peak := at
	for i := max(low, at-int(near/gridStep)); i <= min(high, at+int(near/gridStep)); i++ {
		if p.sum[i] > p.sum[peak] {
			peak = i
		}
	}
	l := lobe{height: p.sum[peak] - base}
	first, last := peak, peak
	var sum, moment, square float64
	for _, step := range [...]int{1, -1} {
		for i, gap := peak, 0; i >= low && i <= high && float64(gap)*gridStep <= lobeGapLn; i += step {
			x := math.Min(p.sum[i]-base, lobeCap*l.height) - lobeFoot*l.height
			if x <= 0 {
				gap++
				continue
			}
			gap = 0
			first, last = min(first, i), max(last, i)
			if i == peak && step < 0 {
				continue
			}
			u := float64(i-half) * gridStep
			sum += x
			moment += x * u
			square += x * u * u
		}
	}
	l.from, l.to = float64(first-half)*gridStep, float64(last-half)*gridStep
	if sum > 0 {
		l.centre = moment / sum
		l.width = math.Sqrt(math.Max(0, square/sum-l.centre*l.centre))
	}
	return l
}
