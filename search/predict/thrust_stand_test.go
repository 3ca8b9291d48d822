package predict

import (
	"math"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/search/internal/synthetic"
)

// Independent: a stand's values are those of physics, a prop's thrust follows from its CT, and
// more throttle gives more.
func TestStandAndPropAlone(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	motor, prop := list[0].Motor, list[0].Prop
	values, err := ThrustStand(&StandTest{Motor: motor, Prop: prop, Air: p.Air, VoltsV: []float64{7.4, 11.1},
		Throttles: []float64{0.5, 1}}, quick)
	if err != nil {
		t.Fatal(err)
	}
	if len(values) != 4 {
		t.Fatalf("%d points", len(values))
	}
	propeller, err := rotor.New(prop.Spec(), p.Air)
	if err != nil {
		t.Fatal(err)
	}
	stand := physics.Stand{Propeller: *propeller, Motor: motor.SI().Motor, ESC: inventory.StandBody().Board.ESC,
		ThrottleExponent: 1}
	for i, v := range values {
		want, err := stand.Point(v.VoltageV, v.Throttle)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(v.ThrustN.Value-want.ThrustN) > 1e-12 || math.Abs(v.CurrentA.Value-want.CurrentA) > 1e-12 {
			t.Errorf("point %d: %g N, %g A; physics says %g, %g", i, v.ThrustN.Value, v.CurrentA.Value, want.ThrustN,
				want.CurrentA)
		}
		if !(v.ThrustN.Low < v.ThrustN.Value && v.ThrustN.Value < v.ThrustN.High) {
			t.Errorf("point %d: interval %+v", i, v.ThrustN)
		}
	}
	if !(values[0].ThrustN.Value < values[1].ThrustN.Value && values[1].ThrustN.Value < values[3].ThrustN.Value) {
		t.Error("more throttle or volts give less thrust")
	}
	const speedRadS = 1500.0
	alone, err := PropAlone(prop, p.Air, []float64{speedRadS}, []float64{0, 5}, quick)
	if err != nil {
		t.Fatal(err)
	}
	n, d := speedRadS/(2*math.Pi), prop.Spec().DiameterM
	for _, v := range alone {
		if want := v.Thrust.Value * p.Air.DensityKgM3 * n * n * math.Pow(d,
			4); math.Abs(v.ThrustN.Value-want) > 1e-9*math.Abs(want) {
			t.Errorf("at %g m/s: %g N, CT gives %g", v.AirspeedMS, v.ThrustN.Value, want)
		}
		if want := v.Power.Value * p.Air.DensityKgM3 * n * n * math.Pow(d,
			5) / (2 * math.Pi); math.Abs(v.TorqueNm.Value-want) > 1e-9*math.Abs(want) {
			t.Errorf("at %g m/s: %g N m, CP gives %g", v.AirspeedMS, v.TorqueNm.Value, want)
		}
	}
	if _, err := PropAlone(prop, p.Air, []float64{speedRadS}, []float64{500}, quick); err == nil {
		t.Error("an airspeed beyond zero thrust is no error")
	}
}

// Independent: a thrust asked for and the throttle that gives it are one point; what full throttle does not reach has
// no numbers; and which prop takes less power is told by draws that both share.
func TestStandAtAThrust(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	motor, prop := list[0].Motor, list[0].Prop
	o := Sampling{Draws: 400, Seed: 1, Drawer: p.Drawer}
	at := func(prop *inventory.Prop, thrustsN ...float64) []StandValue {
		t.Helper()
		found, err := ThrustStand(&StandTest{Motor: motor, Prop: prop, Air: p.Air, VoltsV: []float64{11.1},
			ThrustsN: thrustsN}, o)
		if err != nil {
			t.Fatal(err)
		}
		return found
	}
	throttled, err := ThrustStand(&StandTest{Motor: motor, Prop: prop, Air: p.Air, VoltsV: []float64{11.1},
		Throttles: []float64{0.4, 1}}, o)
	if err != nil {
		t.Fatal(err)
	}
	back := at(prop, throttled[0].ThrustN.Value, throttled[1].ThrustN.Value*0.999, throttled[1].ThrustN.Value*1.02)
	for i, want := range throttled {
		got := back[i]
		if math.Abs(got.ThrottleNeeded.Value/want.Throttle-1) > 2e-3 ||
			math.Abs(got.PowerW.Value/want.PowerW.Value-1) > 5e-3 {
			t.Errorf("throttle %g and %g W for the thrust of throttle %g and %g W", got.ThrottleNeeded.Value,
				got.PowerW.Value, want.Throttle, want.PowerW.Value)
		}
		if v := got.ThrottleNeeded; !(v.Low < v.Value && v.Value <= v.High && v.High <= 1) {
			t.Errorf("throttle %+v", v)
		}
	}
	if none := back[2]; none.PowerW.Why != physics.NotEnoughThrust || none.Better(&back[1]) <= 0 {
		t.Errorf("beyond full throttle: %+v", none.PowerW)
	}
	same, worse := *prop, *prop
	worse.DiameterIn *= 0.8
	worse.ID = "smaller"
	thrust := throttled[0].ThrustN.Value
	a, b, c := at(prop, thrust)[0], at(&same, thrust)[0], at(&worse, thrust)[0]
	if share := a.AheadOf(&b); share != 0.5 {
		t.Errorf("a prop is ahead of itself in %g", share)
	}
	if share := a.AheadOf(&c); share < 0.9 || math.Abs(share+c.AheadOf(&a)-1) > 1e-12 || a.Better(&c) >= 0 {
		t.Errorf("a prop is ahead of one a fifth smaller in %g", share)
	}
}
