package learn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// typedCrafts are crafts with what a pilot types of a flight each, two of them flown on two packs.
var typedCrafts = []syntheticCraft{
	{"read", "motor: m22, prop: p51, pack: k6, frame: f5, board: b45, extras: [big]", "freestyle", typedEntry},
	{"read", "motor: m22, prop: p51, pack: k6b, frame: f5, board: b45, extras: [big]", "freestyle", typedEntry},
	{"read", "motor: m14, prop: p35, pack: k4, frame: f35, board: b25, extras: [cam]", "cruise", typedEntry},
	{"read", "motor: m14, prop: p35, pack: k4b, frame: f35, board: b25, extras: [cam]", "cruise", typedEntry},
	{"read", "motor: m12, prop: p25, pack: k3, frame: f25, board: b15, extras: [cam]", "freestyle", typedEntry},
}

// slips are what goes wrong when readings are typed: what the wrong number is, from the right one and that of another
// craft.
var slips = []struct {
	name  string
	key   Key
	wrong func(right, other float64) float64
}{
	{"ounces taken for grams", AllUp, func(right, _ float64) float64 { return right / 28.35 }},
	{"throttle of another craft", HoverThrottle, func(_, other float64) float64 { return other }},
	{"minutes of a pack twice as large", FlightMinutes, func(right, _ float64) float64 { return right * 2.2 }},
	{"a digit too many", HoverThrottle, func(right, _ float64) float64 { return math.Min(3*right, 99) }},
}

// readingOf is the place of a reading in an observation.
func readingOf(f *flightObservation, key Key) int {
	for i := range f.readings {
		if f.readings[i].Key == key {
			return i
		}
	}
	return -1
}

// Property: a wrong reading of a kind that pilots make, more than four standard deviations from what all others let one
// expect, is named in nine of ten cases, and the likely ranges of all crafts hold as often as without the slip.
func TestWrongReadingsAreNamed(t *testing.T) {
	s := newSyntheticPilot(t, typedCrafts)
	rng := rand.New(rand.NewPCG(11, 12))
	beyond, named := 0, 0
	var held, cleanHeld [len(toldFigures)]float64
	for _, slip := range slips {
		y, clean := s.newTally(), s.newTally()
		far, found := 0, 0
		for y.runs < longRuns(5, 16) {
			truth, ok := s.draw(rng)
			if !ok {
				continue
			}
			k := rng.IntN(len(s.list))
			p, right, err := s.without(t, k, slip.key)
			if err != nil {
				continue
			}
			s.add(clean, truth, s.predict(t, s.g.learned(p)))
			o := s.g.observations[(k+2)%len(s.list)].(*flightObservation)
			fits, off, err := s.slip(t, k, &right, slip.wrong(right.Measured, o.readings[readingOf(o, slip.key)].Measured), p)
			if err != nil {
				t.Fatalf("%s: %v", slip.name, err)
			}
			if off > 4 {
				far++
				if !fits.Fits {
					found++
				}
			}
			s.add(y, truth, s.predict(t, fits.learned))
		}
		beyond, named = beyond+far, named+found
		line := ""
		for k, name := range toldFigures {
			_, inside, _, _ := y.of(s.list, func(*syntheticCraft) bool { return true }, k)
			_, without, _, _ := clean.of(s.list, func(*syntheticCraft) bool { return true }, k)
			held[k] += inside / float64(len(slips))
			cleanHeld[k] += without / float64(len(slips))
			line += fmt.Sprintf("; %s holds %.0f %%, without the reading %.0f", name, 100*inside, 100*without)
		}
		t.Logf("%s: off by more than 4 sd in %d of %d, named in %d%s", slip.name, far, y.runs, found, line)
	}
	if beyond < 8 || float64(named) < 0.9*float64(beyond) {
		t.Errorf("%d of %d wrong readings are named", named, beyond)
	}
	for k, name := range toldFigures {
		if held[k] < cleanHeld[k]-0.06 {
			t.Errorf("%s: %.2f of the likely ranges hold with a wrong reading, %.2f without it", name, held[k], cleanHeld[k])
		}
	}
}

// without fits all but one reading, which it returns.
func (s *syntheticPilot) without(t *testing.T, k int, key Key) (*posterior, Reading, error) {
	f := s.g.observations[k].(*flightObservation)
	i := readingOf(f, key)
	right := f.readings[i]
	f.readings[i].SD = 1e4 * right.Measured
	p, err := s.g.fit(t.Context())
	f.readings[i] = right
	return p, right, err
}

// judged is a reading with whether it fits, and what was learned with it.
type judged struct {
	Compared
	learned *Learned
}

// slip fits all with one reading changed, and takes the change back; off is by how many standard deviations it lies
// from what the posterior without it expects.
func (s *syntheticPilot) slip(t *testing.T, k int, right *Reading, wrong float64, without *posterior) (judged, float64,
	error) {
	f := s.g.observations[k].(*flightObservation)
	i := readingOf(f, right.Key)
	r := &f.readings[i]
	defer func(old Reading) { f.readings[i] = old }(*r)
	r.Measured = wrong
	if readings[right.Key].relative {
		r.SD = right.SD / right.Measured * wrong
	}
	out := without.prediction(k)
	off := math.Abs(r.scaled(wrong)-out.values[i]) / math.Hypot(out.sds[i], r.sd())
	p, err := s.g.fit(t.Context())
	if err != nil {
		return judged{}, off, err
	}
	j := judged{Compared{Reading: *r, Fits: true}, s.g.learned(p)}
	s.g.crossCheck(&j.Compared, p, k, i)
	return j, off, nil
}
