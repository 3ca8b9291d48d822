package learn

import (
	"math/rand/v2"
	"os"
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

func longRuns(short, long int) int {
	if os.Getenv("PARTSALOFT_LONG") != "" {
		return long
	}
	return short
}

func TestPilot(t *testing.T) {
	s := newSyntheticPilot(t, sixCrafts)
	y := s.newTally()
	rng := rand.New(rand.NewPCG(3, 4))
	for y.runs < longRuns(8, 80) {
		truth, ok := s.draw(rng)
		if !ok {
			continue
		}
		p, err := s.g.fit(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		s.add(y, truth, s.predict(t, s.g.learned(p)))
	}
	y.log(t, s.list)
}
