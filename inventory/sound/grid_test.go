package sound

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"
)

// phone is a craft at phone quality: 44.1 kHz, 4 to 6 s, tones 3 dB under to 18 dB over the noise, one group of
// rotors within 6 %.
func phone(r *rand.Rand) scene {
	return scene{
		rateHz: 44100, seconds: 4 + 2*r.Float64(), blades: 2 + r.IntN(5),
		rpm: 3000 * math.Exp(r.Float64()*math.Log(50000.0/3000)), within: 0.06 * r.Float64(),
		wander: 0.002 + 0.008*r.Float64(), gust: 0.002 + 0.010*r.Float64(), snrDB: -3 + 21*r.Float64(),
		colour: r.Float64(), fallDB: 1 + 5*r.Float64(), imbalance: 0.5 * r.Float64() * r.Float64(),
		whine:     0.5 * r.Float64() * r.Float64(),
		lowPassHz: []float64{0, 8000, 12000, 16000}[r.IntN(4)],
		reverb:    0.5 * r.Float64() * float64(r.IntN(2)), gain: r.IntN(2) == 0,
		clip: 0.3 * r.Float64() * float64(r.IntN(2)), seed: r.Uint64(),
	}
}

// condition is a row of the grid.
type condition struct {
	name    string
	change  func(s *scene, r *rand.Rand)
	prior   float64 // factor on the prior; 0 draws it with its standard deviation
	blades  int     // by which the count that is said is off
	noCraft bool
}

func otherSounds(kind otherSound) func(s *scene, r *rand.Rand) {
	return func(s *scene, r *rand.Rand) {
		s.snrDB, s.other, s.otherLevel = math.NaN(), kind, math.Exp(r.NormFloat64()+0.7)
	}
}

var conditions = []condition{
	{name: "phone, one group"},
	{name: "two groups 4-22 % apart", change: func(s *scene, r *rand.Rand) {
		s.apart, s.within = math.Log(1.04+0.18*r.Float64()), 0.03*r.Float64()
	}},
	{name: "noise 3 to 18 dB over", change: func(s *scene, r *rand.Rand) { s.snrDB = -3 - 15*r.Float64() }},
	{name: "leaves the hover", change: func(s *scene, r *rand.Rand) { s.leaves = true }},
	{name: "drifts 2-4 %", change: func(s *scene, r *rand.Rand) { s.gust = 0.02 + 0.02*r.Float64() }},
	{name: "codec cuts at 3.4 kHz", change: func(s *scene, r *rand.Rand) { s.lowPassHz = 3400 }},
	{name: "half clipped", change: func(s *scene, r *rand.Rand) { s.clip = 0.5 + 0.3*r.Float64() }},
	{name: "mains hum as loud", change: func(s *scene, r *rand.Rand) { s.hum = 1 }},
	{name: "motor whine as loud", change: func(s *scene, r *rand.Rand) { s.whine = 1 }},
	{name: "someone talks as loud", change: func(s *scene, r *rand.Rand) { s.other, s.otherLevel = speech, 1 }},
	{name: "music as loud", change: func(s *scene, r *rand.Rand) { s.other, s.otherLevel = music, 1 }},
	{name: "prior 20 % high", prior: 1.2},
	{name: "prior 20 % low", prior: 0.8},
	{name: "said one blade more", blades: 1},
	{name: "said one blade less", blades: -1},
	{name: "noise alone", change: otherSounds(noOther), noCraft: true},
	{name: "speech", change: otherSounds(speech), noCraft: true},
	{name: "music", change: otherSounds(music), noCraft: true},
	{name: "held chord", change: otherSounds(heldChord), noCraft: true},
	{name: "mains hum", change: otherSounds(mains), noCraft: true},
	{name: "wind", change: otherSounds(wind), noCraft: true},
	{name: "birds", change: otherSounds(chirps), noCraft: true},
}

// tally of a row.
type tally struct {
	count, heard            int
	in1, in2, over4, octave int
	inOneSD, inTwoSD        int
	sumSD                   float64
	why                     [reasons]int
	busy                    time.Duration
	seconds                 float64
}

func (c *condition) run(t *testing.T, r *rand.Rand, count int) *tally {
	var y tally
	for range count {
		s := phone(r)
		if c.change != nil {
			c.change(&s, r)
		}
		prior := s.rpm
		if c.prior > 0 {
			prior *= c.prior
		} else {
			prior *= math.Exp(UsualLnSD * r.NormFloat64())
		}
		blades := s.blades + c.blades
		if blades < 2 {
			blades = 3
		}
		recording, truth := s.make()
		start := time.Now()
		got, err := Hear(recording, Prior{SpeedRadS: prior * math.Pi / 30, Blades: blades})
		y.busy += time.Since(start)
		y.seconds += s.seconds
		if err != nil {
			t.Fatal(err)
		}
		y.count++
		y.why[got.Why]++
		if got.Why != Heard {
			continue
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
	return &y
}

func percent(part, whole int) float64 { return 100 * float64(part) / math.Max(1, float64(whole)) }

func (y *tally) String() string {
	why := ""
	for reason, n := range y.why {
		if reason > 0 && n > 0 {
			why += fmt.Sprintf(" %d:%d", reason, n)
		}
	}
	return fmt.Sprintf("%4d  heard %5.1f %%  of these in 1 %% %5.1f  2 %% %5.1f  over 4 %% %4.1f  octave %d"+
		"  in 1 sd %3.0f  2 sd %3.0f  sd %.2f %%  %.0f ms a 10 s  not heard:%s", y.count, percent(y.heard, y.count), percent(y.in1, y.heard),
		percent(y.in2, y.heard), percent(y.over4, y.heard), y.octave, percent(y.inOneSD, y.heard),
		percent(y.inTwoSD, y.heard), 100*y.sumSD/math.Max(1, float64(y.heard)),
		y.busy.Seconds()*1e4/math.Max(1, y.seconds), why)
}

// heldOut is the seed of the recordings that are reported. Nothing was set by looking at them.
const heldOut = 1000

// Independent: synthetic recordings with known truth, over a grid of conditions. PARTSALOFT_LONG is 1 for those that
// are reported, another number for other seeds.
func TestGrid(t *testing.T) {
	long, _ := strconv.ParseUint(os.Getenv("PARTSALOFT_LONG"), 10, 64)
	if long == 0 {
		t.Skip("takes minutes: set PARTSALOFT_LONG=1")
	}
	seed := long
	if long == 1 {
		seed = heldOut
	}
	count := 20 // PARTSALOFT_COUNT=60 gives the reported table, in some twenty minutes
	if n, err := strconv.Atoi(os.Getenv("PARTSALOFT_COUNT")); err == nil {
		count = n
	}
	var sounds, taken int
	for i, c := range conditions {
		n := count
		if i < 2 {
			n *= 3
		} else if c.noCraft {
			n /= 2
		}
		y := c.run(t, rand.New(rand.NewPCG(seed, uint64(i))), n)
		t.Logf("%-26s%s", c.name, y)
		if c.noCraft {
			sounds, taken = sounds+y.count, taken+y.heard
		}
		atLeast := func(what string, got, want float64) {
			if got < want {
				t.Errorf("%s: %s %.1f %%, want %g at least", c.name, what, got, want)
			}
		}
		switch i {
		case 0:
			atLeast("heard", percent(y.heard, y.count), 60)
			atLeast("within 1 %", percent(y.in1, y.heard), 90)
			atLeast("within 4 %", 100-percent(y.over4, y.heard), 99)
			atLeast("no wrong octave", -float64(y.octave), 0)
		case 1:
			atLeast("heard", percent(y.heard, y.count), 35)
			atLeast("within 4 %", 100-percent(y.over4, y.heard), 97)
		}
	}
	t.Logf("no craft: %d of %d taken for one", taken, sounds)
	// Of few sounds as many may be taken as a rate of 2 % brings in one of twenty such runs.
	chance := distuv.Binomial{N: float64(sounds), P: 0.02}.Survival(float64(taken) - 1)
	if percent(taken, sounds) > 2 && (sounds >= 200 || chance < 0.05) {
		t.Errorf("%d of %d sounds that are no craft were taken for one", taken, sounds)
	}
}
