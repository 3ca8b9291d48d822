package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// bisected is the largest x between two whose margin is not under 0, by halving: the plain method that quicker ones are
// held against.
func bisected(margin func(float64) float64, low, high float64) float64 {
	for range 60 {
		if middle := (low + high) / 2; margin(middle) >= 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// Independent: top speed, the hardest turn and the thrust step of random crafts against bisection over all speeds and
// load factors, a fine scan of load factors where level flight is not held, and differences of full throttle over
// duty.
func TestFlightAgainstPlainMethods(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 15))
	flown, scanned := 0, 0
	for range 400 {
		c := anyCraft(t, rng)
		f := Flying{SpeedMS: 3 + 22*rng.Float64(), Segments: EasySegments()}
		if p := c.EvaluateOnly(&f, figure.SetOf(figure.TopSpeed)); rng.IntN(2) == 0 && p.si[figure.TopSpeed] > 0 {
			f.SpeedMS = p.si[figure.TopSpeed] * (0.9 + 0.1*rng.Float64()) // where tilting less helps
		}
		e := evaluation{craft: &c, flying: &f}
		if !e.begin() {
			continue
		}
		e.goOn(figure.SetOf(figure.TopSpeed, figure.TurnLoadFactor, figure.ThrustStep))
		flown++
		if got, why := e.p.Get(figure.TopSpeed); why == Defined {
			fresh := c.supply(topSpeedCharge)
			want := bisected(func(v float64) float64 {
				o, ok := c.level(e.weightN, v)
				d, _ := fresh.duty(o)
				u := c.uses(&fresh, topSpeedCharge, d, o)
				_, most := c.binding(&u)
				return math.Min(c.atCap(&fresh, 1, o, ok), 1-most)
			}, 0, fastestMS)
			if !(math.Abs(got-want) < 3*speedToleranceMS+0.003*want) {
				t.Errorf("top speed %.4g m/s, by bisection %.4g", got, want)
			}
		}
		if got, why := e.p.Get(figure.TurnLoadFactor); why == Defined {
			margin := func(n float64) float64 {
				o, ok := c.level(n*e.weightN, f.SpeedMS)
				return c.atCap(&e.mid, e.duty, o, ok)
			}
			held := 0.0
			for n := 1.0; n <= easiestLoad; n += 0.01 {
				if margin(n) >= 0 {
					held = n
				}
			}
			switch {
			case held > 0:
				want := bisected(margin, held, math.Max(1.5*e.highest, held))
				if margin(1) < 0 && margin(2) < 0 {
					scanned++
				}
				// Where margins are next to flat many loads are as good.
				if !(math.Abs(got-want) < 0.003*want || math.Abs(margin(got)) < 5e-4*e.mid.openV) {
					t.Errorf("load factor %.5g, by bisection %.5g", got, want)
				}
			case !(got < 1):
				t.Errorf("load factor %.5g where none is held", got)
			}
		}
		step, why := e.p.Get(figure.ThrustStep)
		hover, _ := e.p.Get(figure.HoverThrottle)
		if why == Defined && hover < 0.9 {
			const by = 2e-3
			less, more := c.fullThrottle(&e.mid, hover-by), c.fullThrottle(&e.mid, hover+by)
			want := math.Log(more.thrustN/less.thrustN) / (2 * by)
			if !(math.Abs(step/want-1) < 0.02) {
				t.Errorf("thrust step %.5g, by differences %.5g at duty %.3g", step, want, hover)
			}
		}
	}
	if flown < 250 || scanned < 1 {
		t.Errorf("%d crafts flown, %d of them in turns that level flight does not hold", flown, scanned)
	}
}

// Independent: the mean current along a parabola in the pack's voltage against solving for it at each charge.
func TestDrainAgainstSolving(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 23))
	var worst float64
	for range 300 {
		c := anyCraft(t, rng)
		from := still{mid: c.supply(midCharge), weightN: c.MassKg() * GravityMS2}
		var ok bool
		if from.hover, ok = c.at(from.weightN/float64(c.Rotors), rotor.Flow{}); !ok || from.mid.marginV(1, from.hover) < 0 {
			continue
		}
		var l load
		c.load(&l, HardSegments(), UnsteadyOutdoors, &from)
		d := c.drain(&l, 0.2)
		for charge := 0.2; charge <= 1; charge += 0.05 {
			worst = math.Max(worst, math.Abs(d.currentA(&c, charge)/c.meanA(&l, charge)-1))
		}
	}
	if !(worst > 0 && worst < 2e-3) {
		t.Errorf("mean currents differ by up to %.2g", worst)
	}
}
