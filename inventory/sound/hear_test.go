package sound

import (
	"math"
	"testing"
)

// still is a small craft in a calm hover, near the phone.
func still() scene {
	return scene{rateHz: 22050, seconds: 4, blades: 3, rpm: 12000, within: 0.03, wander: 0.003, gust: 0.004, snrDB: 6,
		colour: 0.5, fallDB: 3, imbalance: 0.1, whine: 0.1, seed: 5}
}

func hear(t *testing.T, s scene, rpm float64, blades int) (*Reading, float64) {
	t.Helper()
	recording, truth := s.make()
	got, err := Hear(recording, Prior{SpeedRadS: rpm * math.Pi / 30, Blades: blades})
	if err != nil {
		t.Fatal(err)
	}
	return got, truth
}

// Independent: crafts made rotor by rotor in the time domain are heard with their true speed, and what cannot be told
// is not.
func TestHear(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(s *scene)
		prior  float64 // rpm
		blades int
		groups int // 0 if not heard
		why    []Reason
	}{
		{"one group", func(s *scene) {}, 13000, 3, 1, nil},
		{"two groups", func(s *scene) { s.apart = 0.12 }, 11500, 3, 2, nil},
		{"two groups near", func(s *scene) { s.apart, s.within = 0.085, 0.01 }, 12500, 3, 2, nil},
		{"leaves the hover", func(s *scene) { s.course, s.seconds = climbsAway, 6 }, 12000, 3, 1, nil},
		{"noise alone", func(s *scene) { s.snrDB = math.NaN() }, 12000, 3, 0,
			[]Reason{Faint, Interrupted, AtTheEdge, Unsteady}},
		{"a held chord", func(s *scene) { s.snrDB, s.other, s.otherLevel = math.NaN(), heldChord, 8 }, 8000, 3, 0,
			[]Reason{SteadyTone, Faint, AtTheEdge}},
		{"twice the lines", func(s *scene) { s.blades, s.rpm = 2, 9000 }, 9000, 4, 0,
			[]Reason{LinesMissing, Faint, OtherBlades}},
		{"half the lines", func(s *scene) { s.blades, s.rpm = 4, 9000 }, 9000, 2, 0,
			[]Reason{LinesMissing, Faint, OtherBlades}},
	} {
		s := still()
		c.change(&s)
		got, truth := hear(t, s, c.prior, c.blades)
		if c.groups == 0 {
			for _, why := range c.why {
				if got.Why == why {
					c.why = nil
				}
			}
			if got.Why == Heard || c.why != nil {
				t.Errorf("%s: reason %d with %.0f rpm, want one of %v", c.name, got.Why, got.SpeedRadS*30/math.Pi, c.why)
			}
			continue
		}
		if off := math.Log(got.SpeedRadS * 30 / math.Pi / truth); got.Why != Heard || math.Abs(off) > 0.01 ||
			len(got.Groups) != c.groups {
			t.Errorf("%s: reason %d, %+.2f %% off, %d groups", c.name, got.Why, 100*off, len(got.Groups))
		}
		if got.LnSD < doubtFloor || got.LnSD > 0.02 || got.ToS-got.FromS < 1.5 || got.ToS > s.seconds {
			t.Errorf("%s: doubt %g, from %g to %g s", c.name, got.LnSD, got.FromS, got.ToS)
		}
	}
}

// Property: a recording and its louder copy on two channels at another rate's label give the same, and the same twice.
func TestHearHangsOnSoundAlone(t *testing.T) {
	s := still()
	recording, _ := s.make()
	prior := Prior{SpeedRadS: 1300, Blades: 3}
	first, err := Hear(recording, prior)
	if err != nil {
		t.Fatal(err)
	}
	louder := make([]float64, len(recording.Channels[0]))
	for i, x := range recording.Channels[0] {
		louder[i] = 0.25 * x
	}
	second, err := Hear(&Recording{RateHz: recording.RateHz, Channels: [][]float64{louder, louder}}, prior)
	if err != nil || math.Abs(second.SpeedRadS/first.SpeedRadS-1) > 1e-4 || second.Why != first.Why {
		t.Errorf("%g and %g rad/s, %v", first.SpeedRadS, second.SpeedRadS, err)
	}
	// Played a tenth faster, it is a tenth faster.
	faster, err := Hear(&Recording{RateHz: 1.1 * recording.RateHz, Channels: recording.Channels},
		Prior{SpeedRadS: 1.1 * prior.SpeedRadS, Blades: 3})
	if err != nil || faster.Why != Heard || math.Abs(faster.SpeedRadS/first.SpeedRadS/1.1-1) > 0.004 {
		t.Errorf("%g and %g rad/s, %v", first.SpeedRadS, faster.SpeedRadS, err)
	}
}

func TestWhatIsNoRecording(t *testing.T) {
	second := make([]float64, 44100)
	ten := make([]float64, 441000)
	prior := Prior{SpeedRadS: 1000, Blades: 3}
	for _, c := range []struct {
		name  string
		r     Recording
		prior Prior
		why   Reason // where there is no error
		fails bool
	}{
		{"no channel", Recording{RateHz: 44100}, prior, 0, true},
		{"no rate", Recording{Channels: [][]float64{ten}}, prior, 0, true},
		{"uneven", Recording{RateHz: 44100, Channels: [][]float64{ten, second}}, prior, 0, true},
		{"no prior", Recording{RateHz: 44100, Channels: [][]float64{ten}}, Prior{Blades: 3}, 0, true},
		{"short", Recording{RateHz: 44100, Channels: [][]float64{second}}, prior, TooShort, false},
		{"silent", Recording{RateHz: 44100, Channels: [][]float64{ten}}, prior, Silent, false},
	} {
		got, err := Hear(&c.r, c.prior)
		if (err != nil) != c.fails || err == nil && got.Why != c.why {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
}

// Published: ∫ ln(1 + r/3) e^-r dr over r from 0 is e³ E1(3) = 0.26208, E1(3) = 0.013048 (Abramowitz and Stegun,
// table 5.1).
func TestEvidenceOfNoiseIsZeroOnAverage(t *testing.T) {
	if want := math.Exp(evidenceScale) * 0.0130484; math.Abs(evidenceMean-want) > 5e-4 {
		t.Errorf("%g, want %g", evidenceMean, want)
	}
}
