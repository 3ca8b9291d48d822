package sound

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// tally of a row.
type tally struct {
	count, heard            int
	in1, in2, over4, octave int
	inOneSD, inTwoSD        int
	sumSD                   float64
	why                     [reasons]int
	busy                    float64 // processor time, s
	seconds                 float64
}

// draw is a scene of the row with what is expected of the craft in it.
func (c *condition) draw(r *rand.Rand) (scene, Prior) {
	s := phone(r)
	if c.change != nil {
		c.change(&s, r)
	}
	rpm := s.rpm
	if c.prior > 0 {
		rpm *= c.prior
	} else {
		rpm *= math.Exp(UsualLnSD * r.NormFloat64())
	}
	blades := s.blades + c.blades
	if blades < 2 {
		blades = 3
	}
	return s, Prior{SpeedRadS: rpm * math.Pi / 30, Blades: blades}
}

func (c *condition) run(t *testing.T, r *rand.Rand, count int) *tally {
	var y tally
	for range count {
		s, prior := c.draw(r)
		recording, truth := s.make()
		start := processorS()
		got, err := Hear(recording, prior)
		y.busy += processorS() - start
		if err != nil {
			t.Fatal(err)
		}
		y.add(got, truth, s.seconds)
	}
	return &y
}

// add counts a reading of so many seconds.
func (y *tally) add(got *Reading, truth, seconds float64) {
	y.seconds += seconds
	y.count++
	y.why[got.Why]++
	if got.Why != Heard {
		return
	}
	y.heard++
	off := math.Abs(math.Log(got.SpeedRadS * 30 / math.Pi / truth))
	y.sumSD += got.LnSD
	for _, in := range [...]struct {
		yes  bool
		into *int
	}{{off < 0.01, &y.in1}, {off < 0.02, &y.in2}, {off > 0.04, &y.over4}, {off > 0.25, &y.octave},
		{off < got.LnSD, &y.inOneSD}, {off < 2*got.LnSD, &y.inTwoSD}} {
		if in.yes {
			*in.into++
		}
	}
}

func percent(part, whole int) float64 { return 100 * float64(part) / math.Max(1, float64(whole)) }

// tableHead heads the rows of tallies.
const tableHead = "| row | n | heard % | of these in 1 % | in 2 % | over 4 % | octave | 1 sd | 2 sd | sd % |" +
	" s per 10 s | reasons |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n"

func (y *tally) String() string {
	why := ""
	for reason, n := range y.why {
		if reason > 0 && n > 0 {
			why += fmt.Sprintf(" %d:%d", reason, n)
		}
	}
	return fmt.Sprintf("%d | %.1f | %.1f | %.1f | %.1f | %d | %.0f | %.0f | %.2f | %.2f |%s", y.count,
		percent(y.heard, y.count), percent(y.in1, y.heard), percent(y.in2, y.heard), percent(y.over4, y.heard),
		y.octave, percent(y.inOneSD, y.heard), percent(y.inTwoSD, y.heard),
		100*y.sumSD/math.Max(1, float64(y.heard)), y.busy*10/math.Max(1, y.seconds), why)
}

// heldOut is the seed of the recordings that are reported: looked at once, when nothing was set any more. All that was
// set was set on other seeds: from 2 to 99 and 1000, the doubt after a look at 7700, the bounds of a second group that is
// not clear after 8800 and 9101.
const heldOut = 9900

// Independent: synthetic recordings with known truth, over a grid of conditions. PARTSALOFT_LONG is 1 for those that
// are reported, another number for other seeds; PARTSALOFT_COUNT is how many of a row, PARTSALOFT_ROWS a regular
// expression of their names.
func TestGrid(t *testing.T) {
	seed, _ := strconv.ParseUint(os.Getenv("PARTSALOFT_LONG"), 10, 64)
	if seed == 0 {
		t.Skip("takes minutes: set PARTSALOFT_LONG=1")
	}
	if seed == 1 {
		seed = heldOut
	}
	usual, odd, other := 24, 1, 5 // recordings a row: of the first two, of what else a craft may sound like, of no craft
	if n, err := strconv.Atoi(os.Getenv("PARTSALOFT_COUNT")); err == nil {
		usual, odd, other = 3*n, n, n
	}
	rows := regexp.MustCompile(os.Getenv("PARTSALOFT_ROWS"))
	var sounds, taken, heard, over4 int
	fmt.Print(tableHead)
	for i, c := range conditions {
		if !rows.MatchString(c.name) {
			continue
		}
		n := odd
		switch {
		case i < 2:
			n = usual
		case c.noCraft:
			n = other
		}
		y := c.run(t, rand.New(rand.NewPCG(seed, uint64(i))), n)
		fmt.Printf("| %s | %s |\n", c.name, y)
		if c.noCraft {
			sounds, taken = sounds+y.count, taken+y.heard
		} else {
			heard, over4 = heard+y.heard, over4+y.over4
		}
		atLeast := func(what string, got, want float64) {
			if got < want {
				t.Errorf("%s: %s %.1f, want %g at least", c.name, what, got, want)
			}
		}
		atMost := func(what string, part, whole int, rate float64) {
			if tooMany(part, whole, rate) {
				t.Errorf("%s: %d of %d %s, at most %g should be", c.name, part, whole, what, rate)
			}
		}
		switch i {
		case 0:
			atLeast("heard, %", percent(y.heard, y.count), 60)
			atLeast("within 1 %, %", percent(y.in1, y.heard), 90)
			atMost("over 4 %", y.over4, y.heard, 0.01)
			atLeast("no wrong octave", -float64(y.octave), 0)
		case 1:
			atLeast("heard, %", percent(y.heard, y.count), 35)
			atMost("over 4 %", y.over4, y.heard, 0.03)
		}
	}
	fmt.Printf("crafts of all rows: %d of %d over 4 %%\n", over4, heard)
	if tooMany(over4, heard, 0.03) {
		t.Errorf("%d of %d crafts of all rows are off by more than 4 %%", over4, heard)
	}
	fmt.Printf("no craft: %d of %d taken for one\n", taken, sounds)
	if tooMany(taken, sounds, 0.02) {
		t.Errorf("%d of %d sounds that are no craft were taken for one", taken, sounds)
	}
}

// tooMany reports whether a share is over a rate, by more than that rate brings in one of twenty runs of as many.
func tooMany(part, whole int, rate float64) bool {
	return float64(part) > rate*float64(whole) &&
		distuv.Binomial{N: float64(whole), P: rate}.Survival(float64(part)-1) < 0.05
}

// Independent: a few of the grid's recordings, at half the rate, 4 s each, so that each run of the tests says whether
// the method still hears.
func TestGridInShort(t *testing.T) {
	for _, c := range []struct {
		rows         string
		count, heard int // heard at least; at most where it should not be
		never        bool
	}{
		{"^phone, one group$", 5, 4, false},
		{"^two groups", 2, 1, false},
		{"^mains hum as loud$", 2, 1, false},
		{"^one more, shaft", 2, 0, true},
		{"^(noise alone|speech|music|held chord|mains hum|beeps)$", 1, 0, true},
	} {
		rows := regexp.MustCompile(c.rows)
		for i := range conditions {
			row := conditions[i]
			if !rows.MatchString(row.name) {
				continue
			}
			change := row.change
			row.change = func(s *scene, r *rand.Rand) {
				s.rateHz, s.seconds, s.lowPassHz = 22050, 4, 0
				s.rpm = math.Min(s.rpm, 20000)
				if change != nil {
					change(s, r)
				}
			}
			y := row.run(t, rand.New(rand.NewPCG(2, uint64(i))), c.count)
			switch {
			case c.never && y.heard > c.heard:
				t.Errorf("%s: heard %d of %d, want %d at most", row.name, y.heard, y.count, c.heard)
			case !c.never && (y.heard < c.heard || y.in2 < y.heard):
				t.Errorf("%s: %s", row.name, y)
			}
		}
	}
}
