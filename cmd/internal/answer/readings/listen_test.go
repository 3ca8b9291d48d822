package readings

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/sound"
	"partsaloft/objective"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
	"partsaloft/search"
	"partsaloft/search/space"
)

// unflown is the shelf without its log.
var unflown, _, _ = strings.Cut(shelf, "log:")

// hovering is a recording of four rotors of three blades, each wandering by itself, in noise.
func hovering(rpm float64, seed uint64) *sound.Recording {
	const rate, seconds = 16000, 6
	r := rand.New(rand.NewPCG(seed, 21))
	out := make([]float64, rate*seconds)
	var off [4]float64
	square := 0.0
	for i := range off {
		off[i] = 1 + 0.008*r.NormFloat64()
		square += off[i] * off[i] / 4
	}
	for _, x := range off {
		speed, phase, slow, beat := rpm/60*x/math.Sqrt(square), r.Float64(), 0.4+0.6*r.Float64(), r.Float64()
		for i := range out {
			phase += speed * (1 + 0.005*math.Sin(2*math.Pi*(slow*float64(i)/rate+beat))) / rate
			for h := 1.0; h <= 6; h++ {
				out[i] += math.Sin(2*math.Pi*3*h*phase) / h
			}
		}
	}
	for i := range out {
		out[i] = 0.02 * (out[i] + r.NormFloat64())
	}
	return &sound.Recording{RateHz: rate, Channels: [][]float64{out}}
}

// asking is a question about a drawer, with few draws.
func asking(t *testing.T, text []byte) *answer.Ask {
	t.Helper()
	d, err := inventory.Read("shelf.yaml", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	air, err := rotor.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	style, _ := objective.Preset("freestyle")
	return &answer.Ask{Problem: &space.Problem{Drawer: d, Air: air, Style: style},
		Search: search.Options{Draws: 200, Seed: 1, Workers: 1}}
}

func listening(t *testing.T, text []byte, rpm float64, weight string, seed uint64) (*Listened, []byte) {
	t.Helper()
	l := &Listen{Recording: hovering(rpm, seed), Name: "shelf.yaml", Text: text, Craft: "gull", Weight: weight,
		Ways: record("").Ways}
	x, after, err := l.Answer(t.Context(), asking(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return x, after
}

// Property: without readings of the prop a hover is expected with what figures of parts are off by; once a hover was
// heard, near what was heard and more surely, though never more than what the method needs. What was heard of the first
// hover narrows the prop's thrust.
func TestListenExpectsWhatTheLogTaught(t *testing.T) {
	first, _ := listening(t, []byte(unflown), 11700, "178", 1)
	rpm := 1.06 * first.PredictedRPM
	heard, text := listening(t, []byte(unflown), rpm, "178", 2)
	if !heard.Heard || heard.PredictedSDPct != 100*sound.UsualLnSD || math.Abs(*heard.RPM/rpm-1) > 0.01 {
		t.Fatalf("made at %.0f rpm: %+v", rpm, heard)
	}
	again, _ := listening(t, text, rpm, "", 3)
	if !again.Heard || again.PredictedSDPct >= heard.PredictedSDPct || again.PredictedSDPct < 100*leastPriorLnSD ||
		math.Abs(again.PredictedRPM/rpm-1) > 0.02 {
		t.Errorf("predicted %.0f rpm ± %g %% then %.0f ± %g %%", heard.PredictedRPM, heard.PredictedSDPct,
			again.PredictedRPM, again.PredictedSDPct)
	}
	if d := heard.PropDoubt; d == nil || d.After > 0.5*d.Before || again.PropDoubt.Before > 1.01*d.After {
		t.Errorf("doubt of the prop: %+v then %+v", heard.PropDoubt, again.PropDoubt)
	}
	if len(heard.Changes) == 0 || heard.Changes[0].Figures[0].Before.Value == nil {
		t.Errorf("changes: %+v", heard.Changes)
	}
}

// thrustLearned is what a log teaches of the prop's thrust at an rpm.
func thrustLearned(t *testing.T, text []byte) learn.Change {
	t.Helper()
	d, err := inventory.Read("shelf.yaml", bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	report, err := learn.Learn(t.Context(), d, record("").Ways)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range report.Learned.Parts {
		for _, c := range p.Changes {
			if p.ID == "p" && c.Input == uncertain.PropThrust {
				return c
			}
		}
	}
	t.Fatal("nothing was learned of the prop")
	return learn.Change{}
}

// Independent: crafts whose prop lifts more or less than its label says are heard in hover and weighed; what is learned
// of the prop moves to the truth, and the 80 % interval holds it; it holds it more often than that, 50 times of 50, for
// it is of the speed at which the coefficient is known best, and how thrust grows from hover to there is open in what is
// learned, while these crafts do not err in it. Hover speed goes with the root of weight over
// thrust coefficient, which is momentum's and blade elements' law of similar rotors; the scale errs by 0.3 %, the hover
// by 0.5 %. Seeds are not those that any bound of the detector was set on.
func TestListenTeaches(t *testing.T) {
	first, text := listening(t, []byte(unflown), 11700, "178", 1)
	if !first.Heard {
		t.Fatalf("predicted %.0f rpm: %s", first.PredictedRPM, first.Reason)
	}
	before := thrustLearned(t, text).LnSDBefore
	seeds := 5
	if os.Getenv("PARTSALOFT_LONG") != "" {
		seeds = 50
	}
	heard, held, closer := 0, 0, 0
	for seed := range seeds {
		r := rand.New(rand.NewPCG(uint64(seed), 2026))
		truth, scale := before*r.NormFloat64(), 0.003*r.NormFloat64()
		if seed == 0 {
			truth = math.Log(0.9)
		}
		rpm := first.PredictedRPM * math.Exp(-truth/2-scale/2+0.005*r.NormFloat64())
		x, text := listening(t, []byte(unflown), rpm, "178", uint64(1000+seed))
		if !x.Heard {
			continue
		}
		heard++
		c := thrustLearned(t, text)
		low, high := c.LnInterval()
		if low <= truth && truth <= high {
			held++
		}
		if math.Abs(c.LnFactor-truth) < math.Abs(truth) {
			closer++
		}
		if c.LnSDAfter > 0.5*c.LnSDBefore {
			t.Errorf("seed %d: the doubt goes from %.3f to %.3f", seed, c.LnSDBefore, c.LnSDAfter)
		}
		if seed == 0 && math.Abs(c.LnFactor-truth) > 0.05 {
			t.Errorf("a prop that pulls 10 %% less is learned as %.1f %%", 100*(c.Factor()-1))
		}
	}
	t.Logf("prior sd %.3f; of %d hovers %d heard; the 80 %% interval holds %d, closer to the truth %d", before, seeds, heard,
		held, closer)
	if heard < seeds*3/4 || closer < heard*2/3 || held < heard*2/3 {
		t.Error("too few")
	}
}
