package calibration

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// The figures of a curve that readings are tried on, and those that are read.
const (
	targetPowerQuarter = iota
	targetPowerMost
	targetThrustFull
	targetCurrentFull
	readSpeed   // rotor speed at a quarter of full thrust
	readCurrent // supply's current there, which is its power
	targets
)

// Targets are the names of what a reading is tried on.
var Targets = [...]string{"power at a quarter", "power at 60 %", "full thrust", "full current"}

// try predicts what readings are tried on.
func (s *Standing) try(usualN float64) Tried {
	t := Tried{Class: PropClass(s.Spec.DiameterM)}
	for k, q := range [...]Quantity{PowerQuarter, PowerMost, ThrustFull, CurrentFull} {
		t.Values[k], t.Has[k] = s.quantity(q, usualN)
	}
	t.Values[readCurrent], t.Has[readCurrent] = t.Values[targetPowerQuarter], t.Has[targetPowerQuarter]
	if at, ok := s.AtThrust(quarter * usualN); ok && at.SpeedRadS > 0 {
		predicted, drawn := s.each(speedAt(at.VoltageV, at.ThrustN))
		t.Values[readSpeed] = caseOf(s, math.Log(at.SpeedRadS), predicted, drawn)
		t.Has[readSpeed] = !math.IsNaN(predicted)
	}
	return t
}

// Read is a set of readings of a craft in hover, with how well each is known.
type Read struct {
	Name           string
	Speed, Current bool
	SpeedLnSD      float64 // of rotor speed
	CurrentLnSD    float64
}

// Reads are what a pilot can read without a stand: the speed in hover at a known weight and the current there.
var Reads = [...]Read{
	{Name: "labels alone"},
	{Name: "hover rpm at a known weight", Speed: true, SpeedLnSD: 0.02},
	{Name: "hover current", Current: true, CurrentLnSD: 0.05},
	{Name: "hover rpm and hover current", Speed: true, SpeedLnSD: 0.02, Current: true, CurrentLnSD: 0.05},
}

// Left is a target's case after readings.
type Left struct {
	Target int
	Case   Case
}

// After brings a curve's predictions to readings by the linear rule of least variance on the draws,
//
//	E[y | x] = y + Cov(y, x) (Var x + R)⁻¹ (read − x),
//
// all in logarithms. It returns nothing where one of the readings was not taken.
func (t *Tried) After(r *Read) []Left {
	var known []int
	var sd []float64
	if r.Speed {
		known, sd = append(known, readSpeed), append(sd, r.SpeedLnSD)
	}
	if r.Current {
		known, sd = append(known, readCurrent), append(sd, r.CurrentLnSD)
	}
	// All sets of readings are tried on the same curves.
	if !t.Has[readSpeed] || !t.Has[readCurrent] {
		return nil
	}
	var out []Left
	for k := range Targets {
		if t.Has[k] {
			out = append(out, Left{k, t.Values[k].given(t, known, sd)})
		}
	}
	return out
}

// given is a case after readings, one after the other.
func (c Case) given(t *Tried, known []int, sd []float64) Case {
	draws := make([]Case, len(known))
	for i, k := range known {
		draws[i] = t.Values[k]
	}
	for i := range draws {
		x := draws[i]
		c = c.learn(&x, sd[i])
		for j := i + 1; j < len(draws); j++ {
			draws[j] = draws[j].learn(&x, sd[i])
		}
	}
	return c
}

// learn moves a case by one reading.
func (c Case) learn(x *Case, sd float64) Case {
	var a, b []float64
	for s := range c.Drawn {
		if !math.IsNaN(c.Drawn[s]) && !math.IsNaN(x.Drawn[s]) {
			a, b = append(a, c.Drawn[s]), append(b, x.Drawn[s])
		}
	}
	gain := stat.Covariance(a, b, nil) / (stat.Variance(b, nil) + sd*sd)
	moved := make([]float64, len(c.Drawn))
	for s := range moved {
		// The reading's own error is drawn from the other end of the list of the reading's draws.
		noise := sd * (x.Drawn[len(moved)-1-s] - stat.Mean(b, nil)) / math.Max(stat.StdDev(b, nil), 1e-12)
		if math.IsNaN(noise) {
			noise = 0
		}
		moved[s] = c.Drawn[s] + gain*(x.Measured-x.Drawn[s]+noise)
	}
	c.Predicted += gain * (x.Measured - x.Predicted)
	c.Drawn = moved
	return c
}
