package sound

import (
	"math"
	"slices"
)

// found is what a search for a craft's comb gave: everything that verdict and doubt hang on. Deviations are in ln f
// from the prior.
type found struct {
	spectra   *spectra
	prior     Prior
	passingHz float64 // of the prior
	half      int     // grid points on each side

	box      int       // index of the box that tells the comb best
	path     []int     // grid point by frame
	track    []float64 // smoothed deviation by frame
	z        float64   // of the track against combs that no rotor makes
	from, to int       // frames of the steadiest stretch
	trackSD  float64   // of the track in it
	edge     bool      // the track runs along the edge of the grid

	first    lobe    // about the track
	alone    lobe    // the same without what is nearer to a second group
	second   lobe    // of a second group, about the track
	secondZ  float64 // of a comb at a steady distance from the track
	secondLn float64 // that distance
	strong   []int   // harmonics that stand out
	persist  float64 // share of the stretch in which the comb stands out
	pure     float64 // share of the lines' power that a single bin of a long transform holds
	shaft    [mostBlades + 1]float64
	beat     float64   // by how much the harmonics' levels go their own ways, ln; NaN if too few are loud
	pieces   []float64 // deviation by piece of the stretch
}

// nulls is how many combs that no rotor makes a score is held against.
const nulls = 12

// widestLn is how far from the prior is looked at most; octaves lie beyond.
const widestLn = 0.40

// fewestFrames are needed for a track.
const fewestFrames = 8

func (p *Prior) passingHz() float64 { return p.SpeedRadS * float64(p.Blades) / (2 * math.Pi) }

// search finds the comb of a craft.
func search(r *Recording, p *Prior) *found {
	f := &found{prior: *p, passingHz: p.passingHz(), half: int(math.Min(widestLn, 3*p.LnSD) / gridStep)}
	whole := withoutHum(r.decimated(math.Min(highestLinePart*r.RateHz, harmonics*f.passingHz*math.Exp(widestLn+0.1))))
	f.spectra = newSpectra(whole, f.passingHz)
	if f.spectra.silent || len(f.spectra.evidence) < fewestFrames {
		return f
	}
	shifts := nullShifts(nulls)
	f.firstTrack(shifts)
	f.smooth()
	f.steadiest()
	masked := f.masked()
	f.secondGroup(masked, shifts)
	f.profiles(masked)
	f.persistence()
	f.purity(whole)
	f.beat = f.beats(whole)
	f.shaftBlades()
	return f
}

// firstTrack finds the likeliest track by the box that tells it best.
func (f *found) firstTrack(shifts [][harmonics]float64) {
	s := f.spectra
	t := teeth{passingHz: f.passingHz, to: len(s.evidence)}
	real := s.newComb(&t, f.half)
	var null [len(boxes)][]float64
	for _, t.moved = range shifts {
		c := s.newComb(&t, f.half)
		for w := range boxes {
			_, mean := viterbi(c.score[w], s.hopS, false)
			null[w] = append(null[w], mean)
		}
	}
	f.z = math.Inf(-1)
	for w := range boxes {
		path, mean := viterbi(real.score[w], s.hopS, true)
		if z := against(mean, null[w]); z > f.z {
			f.z, f.path, f.box = z, path, w
		}
	}
}

const (
	smoothS         = 0.25 // over what time to either side the track is averaged, s
	edgeSteps       = 3    // grid points that count as the edge
	steadyS         = 3    // shortest steady stretch, s
	usualDeviation  = 0.01 // of a hover's track
	absentDeviation = 0.05 // that a frame without a comb counts as
)

func (f *found) smooth() {
	n := max(1, int(smoothS/f.spectra.hopS))
	f.track = make([]float64, len(f.path))
	for i := range f.track {
		sum, count := 0.0, 0
		for j := max(0, i-n); j <= min(len(f.path)-1, i+n); j++ {
			sum += float64(f.path[j] - f.half)
			count++
		}
		f.track[i] = gridStep * sum / float64(count)
	}
}

// present says of each frame whether the comb stands out about it.
func (f *found) present() []bool {
	t := teeth{passingHz: f.passingHz, centre: f.track, to: len(f.track)}
	row := f.spectra.newComb(&t, 0).score[f.box]
	n := max(1, int(persistS/2/f.spectra.hopS))
	there := make([]bool, len(row))
	for i := range row {
		sum, count := 0.0, 0.0
		for j := max(0, i-n); j <= min(len(row)-1, i+n); j++ {
			sum += row[j][0]
			count++
		}
		there[i] = sum/count > persistMin
	}
	return there
}

// steadiest picks the stretch, at least steadyS or half of the track long, whose mean says best what the hover's is:
// the square of its error is taken as that of the track's deviation and of a hover's usual one, over the length.
func (f *found) steadiest() {
	n := len(f.track)
	shortest := min(n, int(steadyS/f.spectra.hopS))
	there := f.present()
	best := math.Inf(1)
	for from := 0; from+shortest <= n; from++ {
		sum, square, absent := 0.0, 0.0, 0.0
		for to := from; to < n; {
			sum += f.track[to]
			square += f.track[to] * f.track[to]
			if !there[to] {
				absent++
			}
			to++
			k := float64(to - from)
			if to-from < shortest {
				continue
			}
			variance := math.Max(0, square/k-sum*sum/k/k)
			x := (sq(usualDeviation) + variance + sq(absentDeviation)*absent/k) / (k*f.spectra.hopS + steadyS/2)
			if x < best {
				best, f.from, f.to, f.trackSD = x, from, to, math.Sqrt(variance)
			}
		}
	}
	for _, at := range f.path[f.from:f.to] {
		f.edge = f.edge || at < edgeSteps || at > 2*f.half-edgeSteps
	}
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func deviation(x []float64) float64 {
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum / float64(len(x)))
}

// What is masked about the track's lines, relative, and up to which order.
const (
	maskHarmonic = 0.015
	maskOrder    = 0.008 // shaft orders: imbalance, commutation
	mostOrder    = 16
)

// masked are the spectra without the track's harmonics and shaft orders.
func (f *found) masked() *spectra {
	s := *f.spectra
	s.evidence = make([][]float32, len(f.spectra.evidence))
	for i, row := range f.spectra.evidence {
		s.evidence[i] = slices.Clone(row)
		base := f.passingHz * math.Exp(f.track[i]) / s.binHz
		erase(s.evidence[i], base, maskHarmonic)
		erase(s.evidence[i], base/float64(f.prior.Blades), maskOrder)
	}
	return &s
}

func erase(row []float32, base, share float64) {
	for order := 1; order <= mostOrder; order++ {
		line := base * float64(order)
		half := math.Max(1, share*line)
		for i := max(0, int(math.Round(line-half))); i <= int(math.Round(line+half)) && i < len(row); i++ {
			row[i] = 0
		}
	}
}

// A second group of rotors lies at least and at most so far from the first, in ln f.
const (
	nearestLn  = 0.05
	farthestLn = 0.26
)

// secondGroup looks for a comb at a steady distance from the track. Pairs of rotors that run apart, by yaw trim or a
// centre of gravity off the middle, wander together with the throttle, so that one distance for the whole stretch
// tells them far better than a second track would.
func (f *found) secondGroup(s *spectra, shifts [][harmonics]float64) {
	half := int(farthestLn / gridStep)
	t := teeth{passingHz: f.passingHz, from: f.from, to: f.to, centre: f.track}
	top := func(c *comb, w int) (int, float64) {
		at, best := 0, math.Inf(-1)
		for j := -half; j <= half; j++ {
			if math.Abs(float64(j)*gridStep) < nearestLn {
				continue
			}
			sum := 0.0
			for _, row := range c.score[w] {
				sum += row[j+half]
			}
			if sum > best {
				at, best = j, sum
			}
		}
		return at, best / float64(len(c.score[w]))
	}
	real := s.newComb(&t, half)
	var null [len(boxes)][]float64
	for _, t.moved = range shifts {
		c := s.newComb(&t, half)
		for w := range boxes {
			_, x := top(c, w)
			null[w] = append(null[w], x)
		}
	}
	f.secondZ = math.Inf(-1)
	for w := range boxes {
		at, x := top(real, w)
		if z := against(x, null[w]); z > f.secondZ {
			f.secondZ, f.secondLn = z, float64(at)*gridStep
		}
	}
}

const (
	strongLine = 0.3  // mean evidence of a harmonic that stands out
	pieceS     = 1.4  // how long the pieces are that must agree
	persistS   = 0.3  // over what time the comb must stand out
	persistMin = 1    // by what score
	secondLn   = 0.04 // how far a second group's lobe reaches at most
)

func (f *found) profiles(masked *spectra) {
	t := teeth{passingHz: f.passingHz, centre: f.track, from: f.from, to: f.to}
	p := f.spectra.profile(&t, profileLn)
	f.first = p.lobe(0, nearPeakLn, -profileLn, profileLn)
	for h, x := range p.each {
		if x > strongLine {
			f.strong = append(f.strong, h+1)
		}
	}
	wide := masked.profile(&t, farthestLn+0.06)
	f.second = wide.lobe(f.secondLn, 0.01, f.secondLn-secondLn, f.secondLn+secondLn)
	near := math.Min(0.05, math.Abs(f.secondLn)/2)
	f.alone = p.lobe(0, near, -near, near)
	pieces := max(1, int(float64(f.to-f.from)*f.spectra.hopS/pieceS))
	for i := range pieces {
		t.from, t.to = f.from+i*(f.to-f.from)/pieces, f.from+(i+1)*(f.to-f.from)/pieces
		p := f.spectra.profile(&t, profileLn)
		f.pieces = append(f.pieces, mean(f.track[t.from:t.to])+p.lobe(0, nearPeakLn, -profileLn, profileLn).centre)
	}
}

// persistence is in what share of the stretch the comb stands out.
func (f *found) persistence() {
	t := teeth{passingHz: f.passingHz, centre: f.track, from: f.from, to: f.to}
	c := f.spectra.newComb(&t, 0)
	n := max(1, int(persistS/f.spectra.hopS))
	count, there := 0, 0
	for at := 0; at+n <= len(c.score[f.box]); at += n {
		sum := 0.0
		for _, row := range c.score[f.box][at : at+n] {
			sum += row[0] / float64(n)
		}
		count++
		if sum > persistMin {
			there++
		}
	}
	f.persist = float64(there) / math.Max(1, float64(count))
}

// paired reports whether a second group stands apart from the first.
func (f *found) paired() bool {
	return f.secondZ >= secondZ && f.second.height >= secondHeight*f.alone.height && f.apart()
}

// apart reports whether the second group's middle lies outside the first's lobe.
func (f *found) apart() bool { return f.second.centre < f.first.from || f.second.centre > f.first.to }

// levels are the mean deviations of one group, or of two.
func (f *found) levels() []float64 {
	m := mean(f.track[f.from:f.to])
	if f.paired() {
		return []float64{m + f.alone.centre, m + f.second.centre}
	}
	return []float64{m + f.first.centre}
}
