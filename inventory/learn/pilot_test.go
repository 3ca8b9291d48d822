package learn

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// sixCrafts are a pilot's: three with a flight file, two that share parts with them, one that shares nothing but what
// all multirotor props and motors have in common; all were weighed.
var sixCrafts = []syntheticCraft{
	{"flight file", "motor: m22, prop: p51, pack: k6, frame: f5, board: b45, extras: [big]", "freestyle", fileEntry},
	{"flight file", "motor: m14, prop: p35, pack: k4, frame: f35, board: b25, extras: [cam]", "cruise", fileEntry},
	{"flight file", "motor: m12, prop: p25, pack: k3, frame: f25, board: b15, extras: [cam]", "freestyle", fileEntry},
	{"weighed, same motor, prop and board", "motor: m22, prop: p51, pack: k6b, frame: f5b, board: b45, extras: [big]",
		"freestyle", scaleOnly},
	{"weighed, same motor and board", "motor: m14, prop: p3, pack: k4b, frame: f3, board: b25, extras: [cam]", "freestyle",
		scaleOnly},
	{"weighed, nothing shared", "motor: m08, prop: p1, pack: k1, frame: f1, board: b6, extras: [tiny]", "indoor",
		scaleOnly},
}

// longRuns is how many truths are drawn: PARTSALOFT_COUNT of them, if that is set, or else more in the long form.
func longRuns(short, long int) int {
	if n, err := strconv.Atoi(os.Getenv("PARTSALOFT_COUNT")); err == nil {
		return n
	}
	if os.Getenv("PARTSALOFT_LONG") != "" {
		return long
	}
	return short
}

// Property: a pilot with six crafts, three flight files and a scale knows of the crafts with a file the throttle that the
// display shows and the minutes a third as wide as from labels, thrust-to-weight half as wide, and the likely ranges
// hold, of the other crafts too. The duty in hover stays at two fifths: what kV a motor has no reading in flight tells
// from its resistance.
func TestPilotWithThreeFlightFiles(t *testing.T) {
	s := newSyntheticPilot(t, sixCrafts)
	y := s.newTally()
	rng := rand.New(rand.NewPCG(3, 4))
	for y.runs < longRuns(8, 80) {
		s.learnTruth(t, y, rng)
	}
	y.log(t, s.list)
	filed := func(c *syntheticCraft) bool { return c.readings == fileEntry }
	for k, widest := range [len(toldFigures)]float64{0.42, 0.25, 0.37, 0.55} {
		if width, _, _, _ := y.of(s.list, filed, k); width > widest {
			t.Errorf("%s: %.2f as wide as from labels, want %.2f at most", toldFigures[k], width, widest)
		}
		y.checkHolds(t, s.list, filed, k)
		y.checkHolds(t, s.list, func(c *syntheticCraft) bool { return !filed(c) }, k)
	}
}

// learnTruth draws a truth, learns from its log and counts what comes of it; a truth that cannot do what the log says
// counts as none.
func (s *syntheticPilot) learnTruth(t *testing.T, y *tally, rng *rand.Rand) {
	t.Helper()
	truth, ok := s.draw(rng)
	if !ok {
		return
	}
	p, err := s.g.fit(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	s.add(y, truth, s.predict(t, s.g.learned(p)))
}

// checkHolds holds the share of likely ranges that held of some crafts against 80 %: within what so many runs let one
// expect in 99.9 % of cases, crafts of one run counting as one, for they share their truth.
func (y *tally) checkHolds(t *testing.T, list []syntheticCraft, take func(*syntheticCraft) bool, k int) {
	t.Helper()
	_, inside, _, n := y.of(list, take, k)
	if n == 0 {
		return
	}
	low, high := band(y.runs, 0.8, 0.001)
	if share := inside * float64(y.runs); share < float64(low) || share > float64(high) {
		t.Errorf("%s: %.0f %% of the likely ranges hold, in %d runs", toldFigures[k], 100*inside, y.runs)
	}
}

// sharingCrafts are two that were read and others of which nothing was, by what they have in common with the first.
var sharingCrafts = []syntheticCraft{
	{"read", "motor: m14, prop: p35, pack: k4, frame: f35, board: b25, extras: [cam]", "cruise", typedEntry},
	{"read", "motor: m14, prop: p35, pack: k4b, frame: f35, board: b25, extras: [cam]", "cruise", fileEntry},
	{"same prop", "motor: m20, prop: p35, pack: k4c, frame: f35b, board: b30, extras: [big]", "freestyle", ""},
	{"same motor", "motor: m14, prop: p3, pack: k4c, frame: f3, board: b30, extras: [big]", "freestyle", ""},
	{"same board", "motor: m20, prop: p3, pack: k4c, frame: f3, board: b25, extras: [big]", "freestyle", ""},
	{"same way of flying", "motor: m20, prop: p3, pack: k4c, frame: f3, board: b30, extras: [big]", "cruise", ""},
	{"same class of props", "motor: m22, prop: p51, pack: k6, frame: f5, board: b45, extras: [big]", "freestyle", ""},
	{"nothing in common", "motor: m28, prop: p8, pack: k6b, frame: f8, board: b50, extras: [big]", "freestyle", ""},
}

// Property: readings of one craft teach others by what they share, so that their likely ranges narrow and hold; of a
// craft that shares nothing they stay as they were.
func TestReadingsTeachWhatIsShared(t *testing.T) {
	s := newSyntheticPilot(t, sharingCrafts)
	y := s.newTally()
	rng := rand.New(rand.NewPCG(21, 22))
	for y.runs < longRuns(8, 80) {
		s.learnTruth(t, y, rng)
	}
	y.log(t, s.list)
	width := func(what string, k int) float64 {
		w, _, _, _ := y.of(s.list, func(c *syntheticCraft) bool { return c.what == what }, k)
		return w
	}
	const duty, shown, minutes, thrust = 0, 1, 2, 3
	for k := range toldFigures {
		y.checkHolds(t, s.list, func(c *syntheticCraft) bool { return c.readings != "" }, k)
		y.checkHolds(t, s.list, func(c *syntheticCraft) bool { return c.readings == "" }, k)
		if w := width("nothing in common", k); w < 0.999 || w > 1.001 {
			t.Errorf("%s of a craft that shares nothing: %.3f as wide as before", toldFigures[k], w)
		}
	}
	for _, c := range []struct {
		what   string
		figure int
		most   float64
	}{{"same prop", duty, 0.75}, {"same prop", thrust, 0.9}, {"same motor", thrust, 1.0}, {"same board", shown, 0.9},
		{"same way of flying", minutes, 0.99}} {
		if w := width(c.what, c.figure); w > c.most {
			t.Errorf("%s: %s %.2f as wide as before, want %.2f at most", c.what, toldFigures[c.figure], w, c.most)
		}
	}
}
