package series

import (
	"cmp"
	"math"
	"slices"
)

// Stretch is a part of the flight in which the craft is steady or at full throttle. What was not read is not a number.
type Stretch struct {
	FromS, ToS                        float64 // from the first row of the recording
	ThrottlePct, RPM, CurrentA, PackV float64 // means
	SpeedMS, TiltDeg, ClimbMS         float64
	Verdict                           Verdict
	run                               run
	level                             float64 // logarithm of thrust
}

// Verdict says what a steady stretch is taken for.
type Verdict string

// The verdicts.
const (
	Hovers   Verdict = "hover"
	Moves    Verdict = "moves"     // over the ground
	Tilted   Verdict = "tilted"    // more than still air needs
	Climbs   Verdict = "climbs"    // or sinks
	OffLevel Verdict = "off_level" // its thrust is not that of the others
	OverMean Verdict = "over_mean" // more thrust than the flight's mean, which no hover takes
	EdgeOf   Verdict = "edge"      // takes off or lands
)

// Bounds of what is steady, and of hover (judgement).
const (
	windowS        = 1.6  // over which steadiness is judged
	smoothS        = 0.5  // over which thrust is averaged before
	steadiest      = 0.05 // sd of ln thrust, at least
	leastSteady    = 0.12 // at most
	shortestHoverS = 2
	edgeS          = 1.5
	joinLevels     = 0.03 // ln thrust
	sameLevel      = 0.06
	stillMS        = 1.5
	levelDeg       = 12
	climbMS        = 0.4
	overMean       = 0.10 // ln thrust over that of the flight's mean
)

// steady finds the steady stretches of the flight by change points in thrust.
func (f *frames) steady(flights []run) []Stretch {
	thrust := f.thrust()
	if thrust == nil {
		return nil
	}
	level := smooth(thrust, f.over(smoothS))
	width := f.over(windowS)
	scatter := make([]float64, f.n)
	for k := range scatter {
		scatter[k] = math.NaN()
	}
	var all []float64
	for _, r := range flights {
		for k := r.from; k < r.to; k++ {
			a, b := max(k-width/2, r.from), min(k-width/2+width, r.to)
			scatter[k] = sdOf(level[a:b])
			all = append(all, scatter[k])
		}
	}
	bound := math.Min(math.Max(1.5*quantileOf(all, 0.1), steadiest), leastSteady)
	var list []Stretch
	for _, r := range flights {
		for k := r.from; k < r.to; k++ {
			if !(scatter[k] < bound) {
				continue
			}
			end := k
			for end < r.to && scatter[end] < bound {
				end++
			}
			// The window ends half its width before what is not steady begins.
			for _, p := range f.parts(level, run{k, end}) {
				if p.frames() >= f.over(shortestHoverS) {
					list = append(list, f.stretch(p, level, r))
				}
			}
			k = end
		}
	}
	return list
}

// parts cuts a run at the change points of its level: optimal partitioning of means over half a second, with the
// penalty of the Bayesian information criterion at the scatter that levels of one hover have; neighbours of one level
// are joined.
func (f *frames) parts(level []float64, r run) []run {
	width := f.over(0.5)
	n := r.frames() / width
	if n < 4 || n > 4000 {
		return []run{r}
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = meanOf(level, r.from+i*width, r.from+(i+1)*width)
		if math.IsNaN(x[i]) {
			return []run{r}
		}
	}
	sums, squares := make([]float64, n+1), make([]float64, n+1)
	for i, v := range x {
		sums[i+1], squares[i+1] = sums[i]+v, squares[i]+v*v
	}
	cost := func(a, b int) float64 {
		s := sums[b] - sums[a]
		return squares[b] - squares[a] - s*s/float64(b-a)
	}
	const scatter, shortest = 0.04, 4
	penalty := 2 * scatter * scatter * math.Log(float64(n)) * 2
	best, from := make([]float64, n+1), make([]int, n+1)
	best[0] = -penalty
	for b := 1; b <= n; b++ {
		best[b] = math.Inf(1)
		for a := 0; a <= b-shortest || a == 0; a++ {
			if c := best[a] + cost(a, b) + penalty; c < best[b] {
				best[b], from[b] = c, a
			}
		}
	}
	var cuts []int
	for b := n; b > 0; b = from[b] {
		cuts = append(cuts, b)
	}
	slices.Reverse(cuts)
	var list []run
	a := 0
	for _, b := range cuts {
		one := run{r.from + a*width, r.from + b*width}
		if b == n {
			one.to = r.to
		}
		if k := len(list); k > 0 && math.Abs(meanOf(level, list[k-1].from, list[k-1].to)-meanOf(level, one.from, one.to)) <
			joinLevels {
			list[k-1].to = one.to
		} else {
			list = append(list, one)
		}
		a = b
	}
	return list
}

func (f *frames) stretch(p run, level []float64, flight run) Stretch {
	s := Stretch{FromS: float64(p.from) * f.stepS, ToS: float64(p.to) * f.stepS, run: p,
		ThrottlePct: meanOf(f.throttle, p.from, p.to), RPM: meanOf(f.rpm, p.from, p.to),
		CurrentA: meanOf(f.amps, p.from, p.to), PackV: meanOf(f.volts, p.from, p.to),
		SpeedMS: math.NaN(), TiltDeg: meanOf(f.tilt, p.from, p.to), ClimbMS: math.NaN(),
		level: meanOf(level, p.from, p.to)}
	if f.speed != nil {
		s.SpeedMS = medianOf(f.speed[p.from:p.to])
	}
	if f.height != nil {
		s.ClimbMS = slope(f.height[p.from:p.to], f.stepS)
	}
	edge := f.over(edgeS)
	switch {
	case s.SpeedMS > stillMS:
		s.Verdict = Moves
	case s.TiltDeg > levelDeg:
		s.Verdict = Tilted
	case math.Abs(s.ClimbMS) > climbMS:
		s.Verdict = Climbs
	case p.to <= flight.from+edge+f.over(1) || p.from >= flight.to-edge-f.over(1):
		s.Verdict = EdgeOf
	}
	return s
}

// slope of values over time by least squares.
func slope(x []float64, stepS float64) float64 {
	var n, st, sx, stt, stx float64
	for i, v := range x {
		if math.IsNaN(v) {
			continue
		}
		t := float64(i) * stepS
		n++
		st += t
		sx += v
		stt += t * t
		stx += t * v
	}
	d := n*stt - st*st
	if !(d > 0) {
		return math.NaN()
	}
	return (n*stx - st*sx) / d
}

func sdOf(x []float64) float64 {
	m, n, sum := meanOf(x, 0, len(x)), 0, 0.0
	for _, v := range x {
		if !math.IsNaN(v) {
			sum += (v - m) * (v - m)
			n++
		}
	}
	if n < 3 {
		return math.NaN()
	}
	return math.Sqrt(sum / float64(n-1))
}

// judge tells which of the steady stretches are hover. Rotors carry the weight on average over a flight, and more than
// it wherever they also pull sideways, so that hover takes no more thrust than the mean; among the levels at which
// the craft is steady for long it is the lowest.
func (f *frames) judge(list []Stretch, flights []run) (level float64, found bool) {
	thrust := f.thrust()
	sum, n := 0.0, 0
	for _, r := range flights {
		for _, x := range thrust[r.from:r.to] {
			if !math.IsNaN(x) {
				sum += math.Exp(x)
				n++
			}
		}
	}
	if n == 0 {
		return 0, false
	}
	most := math.Log(sum/float64(n)) + overMean
	var open []*Stretch
	for i := range list {
		s := &list[i]
		switch {
		case s.Verdict != "":
		case s.level > most:
			s.Verdict = OverMean
		default:
			open = append(open, s)
		}
	}
	if len(open) == 0 {
		return 0, false
	}
	slices.SortStableFunc(open, func(a, b *Stretch) int { return cmp.Compare(a.level, b.level) })
	// The time spent about each level; the lowest that holds a fair share of the longest is hover's.
	weight := func(level float64) (w float64) {
		for _, s := range open {
			if math.Abs(s.level-level) < sameLevel/2 {
				w += s.ToS - s.FromS
			}
		}
		return w
	}
	longest := 0.0
	for _, s := range open {
		longest = math.Max(longest, weight(s.level))
	}
	for i, s := range open {
		if weight(s.level) < 0.3*longest {
			continue
		}
		// Of the levels close by the one with most time about it.
		best := s
		for _, t := range open[i:] {
			if t.level < s.level+sameLevel && weight(t.level) > weight(best.level) {
				best = t
			}
		}
		level = best.level
		break
	}
	for _, s := range open {
		if math.Abs(s.level-level) < sameLevel {
			s.Verdict = Hovers
		} else {
			s.Verdict = OffLevel
		}
	}
	return level, true
}
