package sound

import (
	"math"
	"slices"
)

// mostBlades of a prop.
const mostBlades = 8

const (
	betweenMask = 0.03 // about blade-passing harmonics, where no shaft lines are looked for, relative
	shaftNulls  = 24
	shaftChance = 1 // score of shaft lines that chance may bring
	mostShaftLn = 6
)

// shaftBlades looks for lines of the shaft between the comb's: imbalance, the motor and blades that differ put weak
// ones at k/N of the blade-passing frequency, N the blade count. Of each count it gives by how many standard
// deviations those fractions in lowest terms that belong to no other count stand over the same fractions moved.
func (f *found) shaftBlades() {
	s := *f.spectra
	s.evidence = make([][]float32, f.to)
	groups := []float64{f.first.centre}
	if f.paired() {
		groups = []float64{f.alone.centre, f.second.centre}
	}
	for i := f.from; i < f.to; i++ {
		s.evidence[i] = slices.Clone(f.spectra.evidence[i])
		for _, u := range groups {
			erase(s.evidence[i], f.passingHz*math.Exp(f.track[i]+u)/s.binHz, betweenMask)
		}
	}
	t := teeth{passingHz: f.passingHz * math.Exp(groups[0]), from: f.from, to: f.to, centre: f.track}
	for n := 2; n <= mostBlades; n++ {
		orders := primitive(n)
		moved := make([]float64, len(orders))
		real := s.between(&t, orders, n, moved)
		var null []float64
		for _, shift := range nullShifts(shaftNulls) {
			for i := range moved {
				moved[i] = 0.75 * shift[i%harmonics] / float64(n)
			}
			null = append(null, s.between(&t, orders, n, moved))
		}
		f.shaft[n] = against(real, null)
	}
}

// primitive are the orders under twice the blade count that have no factor in common with it.
func primitive(n int) []int {
	var list []int
	for k := 1; k < 2*n; k++ {
		if divisor(k, n) == 1 {
			list = append(list, k)
		}
	}
	return list
}

// divisor is the greatest common one.
func divisor(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// between is the mean evidence of lines at k/n of the comb's frequency, each moved by ln.
func (s *spectra) between(t *teeth, orders []int, n int, moved []float64) float64 {
	sum, count := 0.0, 0
	box := boxes[1]
	for j, k := range orders {
		base := float64(k) / float64(n) * t.passingHz / s.binHz * math.Exp(moved[j])
		line, frames := 0.0, 0
		for f := t.from; f < t.to; f++ {
			centre := base * math.Exp(t.centre[f])
			if !s.carries(centre*0.97) || !s.carries(centre*1.03) {
				continue
			}
			frames++
			for i := -box; i <= box; i++ {
				line += s.at(s.evidence[f], centre*(1+float64(i)*gridStep))
			}
		}
		if frames > 0 {
			cells := math.Max(1, float64(2*box+1)*gridStep*base*s.binHz*s.frameS/hannBandwidth)
			sum += line / float64(frames) / float64(2*box+1) * math.Sqrt(cells)
			count++
		}
	}
	return sum / math.Sqrt(math.Max(1, float64(count)))
}

// otherBlades is the blade count that may be the right one rather than the one given, 0 if there is none, and the odds
// of the likeliest other count over the given one's: from the prior of the speed, how often a wrong count is said, and
// the shaft lines that one count explains and the other does not.
func (f *found) otherBlades(off float64) (count int, odds float64) {
	given := f.prior.Blades
	for n := 2; n <= mostBlades; n++ {
		if n == given {
			continue
		}
		u := (off + math.Log(float64(given)/float64(n))) / f.prior.LnSD
		ln := (sq(off/f.prior.LnSD)-u*u)/2 + f.shaftFor(n, given) - f.shaftFor(given, n)
		if x := wrongBladesIn * math.Exp(ln); x > odds {
			count, odds = n, x
		}
	}
	return count, odds
}

// shaftFor is the evidence for a blade count from shaft lines that another count does not explain, in ln.
func (f *found) shaftFor(n, other int) float64 {
	most := 0.0
	for d := 2; d <= n; d++ {
		if n%d == 0 && other%d != 0 {
			most = math.Max(most, math.Min(mostShaftLn, f.shaft[d]-shaftChance))
		}
	}
	return most
}
