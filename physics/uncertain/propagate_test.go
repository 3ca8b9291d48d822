package uncertain

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// normalDraws are deviations of a budget.
func normalDraws(b *Budget, n int) []Deviation {
	random := rand.New(rand.NewPCG(7, 8))
	draws := make([]Deviation, n)
	for s := range draws {
		var normal [InputCount]float64
		for i := range normal {
			normal[i] = random.NormFloat64()
		}
		draws[s] = b.Deviation(&normal)
	}
	return draws
}

// Independent: a product of powers of log-normal factors is log-normal, its variance and that of each
// input known in closed form; correlated ones by Var(a x + b y) = a² + b² + 2 a b r.
func TestPropagateAgreesWithClosedForm(t *testing.T) {
	b := &Budget{ThrustPower: 0.6}
	b.Set(PropThrust, Estimate{LnSD: 0.20, Basis: Estimated})
	b.Set(PropPower, Estimate{LnSD: 0.10, Basis: Measured})
	b.Set(PackMass, Estimate{LnSD: 0.01, Basis: Estimated})
	b.Set(MotorSpeed, Estimate{LnSD: 0.15, Basis: Label})
	model := func(d *Deviation, values []float64) {
		values[0] = 3 * math.Exp(d[PropThrust]+2*d[PropPower])
		values[1] = 5 * math.Exp(-2*d[MotorSpeed]+d[PackMass])
		values[2] = 7
	}
	p := Propagate(model, 3, b, normalDraws(b, 20000), nil)
	for k, want := range []struct{ nominal, lnSD float64 }{{3, math.Sqrt(0.04 + 0.04 + 2*0.2*0.2*0.6)}, {5,
		math.Hypot(0.30, 0.01)}} {
		low, high := p.Interval(k)
		wantLow, wantHigh := want.nominal*math.Exp(-HalfWidth()*want.lnSD), want.nominal*math.Exp(HalfWidth()*want.lnSD)
		if p.Nominal(k) != want.nominal || math.Abs(low/wantLow-1) > 0.02 || math.Abs(high/wantHigh-1) > 0.02 {
			t.Errorf("figure %d is %g in %.4g to %.4g, want %g in %.4g to %.4g", k, p.Nominal(k), low, high, want.nominal,
				wantLow, wantHigh)
		}
	}
	if low, high := p.Interval(2); low != 7 || high != 7 || p.Causes(2) != nil || p.Basis(2) != Label {
		t.Errorf("a constant lies in %g to %g by %v", low, high, p.Causes(2))
	}
	// Moved alone, correlations left out: equal shares of thrust and power.
	causes := p.Causes(0)
	if len(causes) != 2 || math.Abs(causes[0].Share-0.5) > 0.03 || p.Basis(0) != Estimated {
		t.Errorf("causes %+v, basis %v", causes, p.Basis(0))
	}
	if causes := p.Causes(1); len(causes) != 1 || causes[0].Input != MotorSpeed || causes[0].Change >= 0 ||
		p.Basis(1) != Label {
		t.Errorf("causes %+v, basis %v", causes, p.Basis(1))
	}
}

// Property: what is undefined is left out of intervals and counted; runs in parallel say the same.
func TestPropagateCountsTheUndefined(t *testing.T) {
	b := &Budget{}
	b.Set(DragArea, Estimate{LnSD: 0.5})
	model := func(d *Deviation, values []float64) {
		values[0] = math.NaN()
		if d[DragArea] <= 0 {
			values[0] = math.Exp(d[DragArea])
		}
	}
	draws := normalDraws(b, 4000)
	p := Propagate(model, 1, b, draws, nil)
	if u := p.Undefined(0); math.Abs(u-0.5) > 0.03 {
		t.Errorf("undefined in %.3f of the draws, want half", u)
	}
	if low, high := p.Interval(0); high != 1 || math.Abs(math.Log(low)+1.645*0.5) > 0.05 {
		t.Errorf("the rest lies in %g to %g", low, high)
	}
	if p.Causes(0) != nil || p.Basis(0) != Label {
		t.Error("an input that is undefined to one side is no cause")
	}
	parallel := Propagate(model, 1, b, draws, func(n int, do func(int)) {
		var wait sync.WaitGroup
		for i := range n {
			wait.Go(func() { do(i) })
		}
		wait.Wait()
	})
	for s := range draws {
		if x, y := p.Drawn(0)[s], parallel.Drawn(0)[s]; x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			t.Fatalf("draw %d is %g, in parallel %g", s, x, y)
		}
	}
}

// Independent: order statistics by hand, and the normal distribution's 90 % point from tables (1.2816).
func TestQuantile(t *testing.T) {
	x := []float64{5, 1, 4, 2, 3}
	for share, want := range map[float64]float64{0: 1, 0.5: 3, 1: 5, 0.9: 4.6, 0.25: 2} {
		if got := Quantile(x, share); math.Abs(got-want) > 1e-12 {
			t.Errorf("quantile %g is %g, want %g", share, got, want)
		}
	}
	if x[0] != 5 {
		t.Error("Quantile changed its argument")
	}
	if got := Quantile([]float64{7}, 0.9); got != 7 {
		t.Errorf("quantile of one number is %g", got)
	}
	if !math.IsNaN(Quantile(nil, 0.5)) {
		t.Error("the quantile of nothing must be NaN")
	}
	if math.Abs(HalfWidth()-1.2816) > 1e-4 {
		t.Errorf("half the width of an 80 %% interval is %g", HalfWidth())
	}
}

// Independent: draws of a budget have its standard deviations and correlations.
func TestDeviationCorrelates(t *testing.T) {
	b := &Budget{ThrustPower: 0.5, MotorCorrelation: MotorCorrelation{-0.3, -0.4, 0.2}}
	for i := range b.LnSD {
		b.LnSD[i] = 0.1 + 0.01*float64(i)
	}
	var square [InputCount]float64
	var thrustPower, speedResistance, speedLoss, resistanceLoss float64
	const n = 40000
	for _, d := range normalDraws(b, n) {
		for i, x := range d {
			square[i] += x * x / n
		}
		thrustPower += d[PropThrust] * d[PropPower] / n
		speedResistance += d[MotorSpeed] * d[MotorResistance] / n
		speedLoss += d[MotorSpeed] * d[MotorLoss] / n
		resistanceLoss += d[MotorResistance] * d[MotorLoss] / n
	}
	for i, s := range square {
		if math.Abs(math.Sqrt(s)/b.LnSD[i]-1) > 0.02 {
			t.Errorf("%v scatters by %.4f, want %.4f", Input(i), math.Sqrt(s), b.LnSD[i])
		}
	}
	if r := thrustPower / (b.LnSD[PropThrust] * b.LnSD[PropPower]); math.Abs(r-0.5) > 0.02 {
		t.Errorf("correlation of thrust and power %.3f", r)
	}
	if r := speedLoss / (b.LnSD[MotorSpeed] * b.LnSD[MotorLoss]); math.Abs(r+0.4) > 0.02 {
		t.Errorf("correlation of kV and loss %.3f", r)
	}
	if r := resistanceLoss / (b.LnSD[MotorResistance] * b.LnSD[MotorLoss]); math.Abs(r-0.2) > 0.02 {
		t.Errorf("correlation of resistance and loss %.3f", r)
	}
	if r := speedResistance / (b.LnSD[MotorSpeed] * b.LnSD[MotorResistance]); math.Abs(r+0.3) > 0.02 {
		t.Errorf("correlation of kV and resistance %.3f", r)
	}
}

// Property: the numbers behind correlated ones give them again, where one of them follows from the others too.
func TestIndependentUndoesFactor(t *testing.T) {
	for _, c := range []MotorCorrelation{{}, {-0.3, -0.4, 0.2}, {0.9, -0.5, -0.6}, {1, 0.5, 0.5}} {
		factor, z := c.Factor(), [3]float64{0.7, -1.2, 0.4}
		var x, again [3]float64
		for i, row := range factor {
			for j, by := range row {
				x[i] += by * z[j]
			}
		}
		back := c.Independent(x)
		for i, row := range factor {
			for j, by := range row {
				again[i] += by * back[j]
			}
			if math.Abs(again[i]-x[i]) > 1e-9 || math.IsNaN(back[i]) {
				t.Errorf("%v: %v give %v, these %v", c, z, x, again)
			}
		}
	}
}
