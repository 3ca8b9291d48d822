package learn

import (
	"context"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

const readOnStand = `
motors:
  - {id: m, stator: "2207", kv: 1950, cells: [4, 6], bench: [{prop: p, volts: 16, throttle_pct: 100, rpm: 21800, thrust_g: 1250, current_a: 41}]}
  - {id: other, stator: "2207", kv: 1950, cells: [4, 6]}
props:
  - {id: p, size: 5.1x4.6x3}
`

// Property: rows under a motor correct that motor towards them without a log, and no other.
func TestBenchesTeachWithoutALog(t *testing.T) {
	d, err := inventory.Read("d.yaml", strings.NewReader(readOnStand))
	if err != nil {
		t.Fatal(err)
	}
	before := d.Motors[0].SI()
	l, err := Benches(context.Background(), d)
	if err != nil || l == nil {
		t.Fatal(l, err)
	}
	if err := l.Apply(d, "", Ways{}); err != nil {
		t.Fatal(err)
	}
	after := d.Motors[0].SI()
	if after.TorqueConstant.LnSD >= 0.9*before.TorqueConstant.LnSD && after.Resistance.LnSD >= 0.9*before.Resistance.LnSD {
		t.Errorf("the motor's doubt stays: kV %.3f → %.3f, resistance %.3f → %.3f", before.TorqueConstant.LnSD,
			after.TorqueConstant.LnSD, before.Resistance.LnSD, after.Resistance.LnSD)
	}
	if len(d.Motors[1].Learned) != 0 {
		t.Error("a motor without readings was corrected")
	}
	air, _ := rotor.StandardAir(0)
	p, err := d.Props[0].Propeller(air)
	if err != nil {
		t.Fatal(err)
	}
	off := func(m physics.Motor) float64 {
		s := physics.Stand{Propeller: *p, Motor: m, ThrottleExponent: 1}
		point, err := s.Point(16, 1)
		if err != nil {
			t.Fatal(err)
		}
		speed, current := point.SpeedRadS*60/6.283185307/21800-1, point.CurrentA/41-1
		return speed*speed + current*current
	}
	if off(after.Motor) >= 0.5*off(before.Motor) {
		t.Errorf("squared errors of rpm and current: %.5f before, %.5f after", off(before.Motor), off(after.Motor))
	}
}

func TestNoBenchesTeachNothing(t *testing.T) {
	d, err := inventory.Read("d.yaml",
		strings.NewReader("props: [{id: p, size: 5.1x4.6x3, bench: [{rpm: 20000, thrust_g: 1000}]}]"))
	if err != nil {
		t.Fatal(err)
	}
	if l, err := Benches(context.Background(), d); l != nil || err != nil {
		t.Errorf("one prop's own points taught %v, %v", l, err)
	}
}
