package sound

import "math"

// The grid of blade-passing frequencies: deviations in ln f from the prior.
const gridStep = 0.0025

// boxes are half widths in grid steps over which the evidence of a tooth is gathered: one rotor, and four of one
// group that run a little apart.
var boxes = [...]int{3, 9}

// hannBandwidth is the noise bandwidth of a Hann frame times its length.
const hannBandwidth = 1.5

// comb is evidence of a comb of harmonics, by box, frame and grid point, in units in which noise has the spread of a
// single tooth.
type comb struct {
	half  int // grid points on each side of the middle
	score [len(boxes)][][]float64
}

// teeth says where the teeth of a comb stand: each moved by ln from its harmonic, which gives a comb that no rotor
// makes, and around what.
type teeth struct {
	passingHz float64
	moved     [harmonics]float64
	centre    []float64 // deviation in ln f by frame of the grid's middle, nil for none
	from, to  int       // frames
}

// newComb gathers the evidence within ± half grid points about the centre.
func (s *spectra) newComb(t *teeth, half int) *comb {
	c := &comb{half: half}
	points := 2*half + 1
	for w := range c.score {
		c.score[w] = make([][]float64, t.to-t.from)
		flat := make([]float64, points*(t.to-t.from))
		for f := range c.score[w] {
			c.score[w][f], flat = flat[:points:points], flat[points:]
		}
	}
	margin := boxes[len(boxes)-1]
	wide := half + margin
	factor := make([]float64, 2*wide+1)
	for i := range factor {
		factor[i] = math.Exp(float64(i-wide) * gridStep)
	}
	sums := make([]float64, len(factor)+1)
	for h := range harmonics {
		base := float64(h+1) * t.passingHz / s.binHz * math.Exp(t.moved[h])
		var weight [len(boxes)]float64
		for w, box := range boxes {
			cells := float64(2*box+1) * gridStep * base * s.binHz * s.frameS / hannBandwidth
			weight[w] = harmonicWeights[h] * math.Sqrt(math.Max(1, cells)) / float64(2*box+1)
		}
		for f := t.from; f < t.to; f++ {
			centre := base
			if t.centre != nil {
				centre *= math.Exp(t.centre[f])
			}
			row := s.evidence[f]
			from, to := s.carried(centre, factor)
			clear(sums[:from+1])
			sum := 0.0
			for i, x := range factor[from:to] {
				sum += s.at(row, centre*x)
				sums[from+i+1] = sum
			}
			for i := to + 1; i < len(sums); i++ {
				sums[i] = sum
			}
			for w, box := range boxes {
				into := c.score[w][f-t.from]
				above, below := sums[margin+box+1:][:len(into)], sums[margin-box:][:len(into)]
				for i := range into {
					into[i] += weight[w] * (above[i] - below[i])
				}
			}
		}
	}
	return c
}

// carried is the range of rising factors on a bin that lead to where lines are looked for.
func (s *spectra) carried(bin float64, factor []float64) (from, to int) {
	for from < len(factor) && bin*factor[from] < s.lowBin {
		from++
	}
	for to = len(factor); to > from && bin*factor[to-1] > s.highBin; to-- {
	}
	return from, to
}

// nullShifts are combs that no rotor makes: every tooth moved by 0.08 to 0.30 up or down, from a linear congruential
// sequence, so that they are the same for every recording.
func nullShifts(count int) [][harmonics]float64 {
	list := make([][harmonics]float64, count)
	state := uint32(1)
	next := func() float64 {
		state = state*1664525 + 1013904223
		return float64(state>>8) / (1 << 24)
	}
	for i := range list {
		for h := range list[i] {
			shift := 0.08 + 0.22*next()
			if next() < 0.5 {
				shift = -shift
			}
			list[i][h] = shift
		}
	}
	return list
}
