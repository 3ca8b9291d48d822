package calibration

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

func codeLaws() *Laws { return &Laws{Prop: rotor.DefaultLaw(), Motor: physics.DefaultMotorLaw()} }

// madeStand is a stand of a few motors and props that errs as the program says that such stands do, one draw of all
// inputs; its rows are what the drawn stands show.
func madeStand(t *testing.T, world *Draws, draw int, name string) []Curve {
	t.Helper()
	air, err := props.Laboratory()
	if err != nil {
		t.Fatal(err)
	}
	var out []Curve
	for _, m := range []struct {
		name        string
		d, h        float64
		kv, supplyV float64
	}{{"2204-2300", 0.022, 0.004, 2300, 12},
		{"2306-2400", 0.023, 0.006, 2400, 12}, {"2207-1800", 0.022, 0.007, 1800, 12}} {
		for _, p := range []rotor.Spec{props.Label(5, 4, 3), props.Label(5.1, 4.6, 3), props.Label(4.8, 3.5, 3),
			props.Label(5, 5, 4)} {
			c := Curve{Stand: name, Motor: m.name, Prop: strings.Join([]string{name, "prop"}, " ") + "xyzw"[:len(out)%4+1],
				StatorM: m.d, TallM: m.h, LabelKV: m.kv, Spec: p, SupplyV: m.supplyV}
			s, err := c.Predict(codeLaws(), air, world)
			if err != nil {
				t.Fatal(err)
			}
			for throttle := 0.1; throttle < 1.01; throttle += 0.1 {
				throttle = math.Min(throttle, 1)
				at, err := s.drawn[draw].Point(m.supplyV, throttle)
				if err != nil {
					continue
				}
				c.Rows = append(c.Rows, rig.Row{Throttle: throttle, VoltageV: m.supplyV, CurrentA: at.CurrentA,
					SpeedRadS: at.SpeedRadS, ThrustN: at.ThrustN, Full: throttle > 0.99, Duty: 1})
			}
			c.sorted()
			out = append(out, c)
		}
	}
	return out
}

// Property: where the world errs as the program says, said shares come true, and 80 % intervals hold about 80 %.
func TestSharesAndIntervalsOfOwnWorld(t *testing.T) {
	air, err := props.Laboratory()
	if err != nil {
		t.Fatal(err)
	}
	const worlds = 40
	world := NewDraws(worlds)
	world.seed = 99
	all := map[Quantity][]pair{}
	var in, n float64
	var curves []Curve
	for k := range worlds {
		made := madeStand(t, world, k, "one")
		s, err := TryStands(made, func(string) (*Laws, error) { return codeLaws(), nil }, air, 60)
		if err != nil {
			t.Fatal(err)
		}
		for q, p := range s.Pairs() {
			all[q] = append(all[q], p...)
			for _, g := range s.Groups[q] {
				for i := range g {
					n++
					if g[i].Inside(0) {
						in++
					}
				}
			}
		}
		curves = made
	}
	if len(curves) != 12 || n < 500 {
		t.Fatalf("%d curves, %g cases", len(curves), n)
	}
	if share := in / n; share < 0.72 || share > 0.88 {
		t.Errorf("80 %% intervals hold %.0f %%", 100*share)
	}
	var every []pair
	for q := range CT {
		every = append(every, all[q]...)
	}
	for k, b := range bandsOf(every) {
		if b.Pairs < 200 || math.Abs(b.Right-b.Said) > 0.07 {
			t.Errorf("said %d0s: %d pairs, said %.3f, right %.3f", 5+k, b.Pairs, b.Said, b.Right)
		}
	}
}

// Property: a stand's point at a thrust has that thrust, at part throttle and beyond full throttle.
func TestPointAtThrust(t *testing.T) {
	air, err := props.Laboratory()
	if err != nil {
		t.Fatal(err)
	}
	prop, err := rotor.New(props.Label(5, 4.3, 3), air)
	if err != nil {
		t.Fatal(err)
	}
	law := physics.DefaultMotorLaw()
	motor := law.Motor(physics.MotorLabel{StatorM: 0.022, StatorHeightM: 0.007, KV: 2000}).Motor
	s := physics.Stand{Propeller: *prop, Motor: motor, ThrottleExponent: 1.3}
	full, err := s.Point(12, 1)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, share := range []float64{0.05, 0.25, 0.6, 0.99, 1.3} {
		p, ok := atThrust(&s, 12, share*full.ThrustN)
		if !ok || math.Abs(p.ThrustN/(share*full.ThrustN)-1) > 1e-3 || p.PowerW <= last {
			t.Errorf("%g of full thrust: %+v, %v", share, p, ok)
		}
		last = p.PowerW
	}
	if _, ok := atThrust(&s, 12, 50*full.ThrustN); ok {
		t.Error("fifty times full thrust is reached")
	}
}

// Property: what two stands share is drawn once.
func TestDrawsAreShared(t *testing.T) {
	var b uncertain.Budget
	b.LnSD[uncertain.MotorSpeed] = 0.1
	var forms uncertain.PropForms
	forms[0][uncertain.OwnThrust], forms[0][uncertain.ClassThrust] = 0.06, 0.08
	b.SetProp(&forms, uncertain.Estimated, uncertain.Estimated, uncertain.Estimated)
	d := NewDraws(50)
	named := func(prop, motor string) map[uncertain.Owner]string {
		return map[uncertain.Owner]string{uncertain.OfProp: prop, uncertain.OfMotor: motor}
	}
	one, two := d.Of(&b, named("p", "m")), d.Of(&b, named("p", "n"))
	same, other := 0, 0
	for s := range one {
		if one[s][uncertain.PropThrust] == two[s][uncertain.PropThrust] {
			same++
		}
		if one[s][uncertain.MotorSpeed] == two[s][uncertain.MotorSpeed] {
			other++
		}
	}
	if same != 50 || other != 0 {
		t.Errorf("of 50 draws the prop's are the same in %d, the motors' in %d", same, other)
	}
	// Two props of one class have 0.08² of the variance in common.
	d = NewDraws(4000)
	var sum float64
	three, four := d.Of(&b, named("p", "m")), d.Of(&b, named("q", "m"))
	for s := range three {
		sum += three[s][uncertain.PropThrust] * four[s][uncertain.PropThrust] / 4000
	}
	if math.Abs(sum/0.0064-1) > 0.1 {
		t.Errorf("two props have a variance of %.5f in common, want 0.0064", sum)
	}
}

// independent: by hand, of three cases that a rule of one feature puts in order and the prediction half.
func TestOrderByHand(t *testing.T) {
	made := func(prop string, measured, predicted, inch float64) Case {
		return Case{Stand: "s", Motor: "m", Prop: prop, PropClass: "c", Measured: measured, Predicted: predicted,
			Features: [features]float64{inch}, Drawn: []float64{predicted, predicted, predicted - 5, predicted}}
	}
	pairs := pairsOf([]Case{made("a", 0, 0, 1), made("b", 1, 3, 2), made("c", 2, 2, 3), made("d", 2.01, 2.5, 3)})
	o := orderOf(pairs) // c and d lie too close together
	if o.Pairs != 5 || math.Abs(o.Right-0.6) > 1e-12 || o.Rule != "more diameter" || o.RuleHits != 1 {
		t.Errorf("%+v", o)
	}
	for _, p := range pairs {
		if p.kind != SameMotor {
			t.Errorf("kind %v", p.kind)
		}
	}
}

// independent: the normal posterior of one reading of a sum of two independent numbers.
func TestReadingMovesAsNormal(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	c, x := Case{Measured: 0}, Case{Measured: 1}
	for range 20000 {
		a, b := 0.3*random.NormFloat64(), 0.4*random.NormFloat64()
		c.Drawn, x.Drawn = append(c.Drawn, a), append(x.Drawn, a+b)
	}
	got := c.learn(&x, 0.5)
	want := 0.09 / (0.25 + 0.25)
	if math.Abs(got.Predicted-want) > 0.02 {
		t.Errorf("moved to %.3f, want %.3f", got.Predicted, want)
	}
	var square float64
	for _, y := range got.Drawn {
		square += (y - got.Predicted) * (y - got.Predicted) / float64(len(got.Drawn))
	}
	if left := 0.09 - 0.09*0.09/0.5; math.Abs(square/left-1) > 0.05 {
		t.Errorf("variance left %.4f, want %.4f", square, left)
	}
}

// Property: interpolation meets the rows, and there is nothing outside them.
func TestCurveBetweenRows(t *testing.T) {
	c := Curve{Rows: []rig.Row{{ThrustN: 1, VoltageV: 10, CurrentA: 1, SpeedRadS: 100, Throttle: 0.2},
		{ThrustN: 4, VoltageV: 10, CurrentA: 8, SpeedRadS: 200, Throttle: 0.8}}}
	for thrust, want := range map[float64]float64{1: 10, 2: 10 * math.Sqrt(8), 4: 80} {
		if r, ok := c.AtThrust(thrust); !ok || math.Abs(r.PowerW-want) > 1e-9 {
			t.Errorf("%g N: %+v, %v, want %g W", thrust, r, ok, want)
		}
	}
	if r, ok := c.AtThrottle(0.4); !ok || math.Abs(r.ThrustN-2) > 1e-9 {
		t.Errorf("half way in ln throttle: %+v", r)
	}
	for _, thrust := range []float64{0.5, 5} {
		if _, ok := c.AtThrust(thrust); ok {
			t.Errorf("%g N is read off nothing", thrust)
		}
	}
}
