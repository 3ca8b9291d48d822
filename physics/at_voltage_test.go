package physics

import (
	"math"
	"testing"

	"partsaloft/physics/figure"
)

// Independent: hover at the voltage that a pack has under its hover current is the hover of that pack, and so is a
// punch; at another voltage duty and current go about as one over it. Electronics take their power at the
// board here, there at the open-circuit voltage.
func TestAtVoltageIsThePacksOwnPoint(t *testing.T) {
	for name, c := range map[string]Craft{"nimble": nimble(t), "steep": steep(t)} {
		p := c.Evaluate(&Flying{SpeedMS: 10, Segments: EasySegments()})
		value := func(q figure.Quantity) float64 { x, _ := p.Get(q); return x }
		hoverA, fullA := value(figure.HoverCurrent), value(figure.FullThrottleCurrent)
		boardV := c.Pack.openV(midCharge) - c.Pack.resistanceOhm()*hoverA
		duty, currentA, ok := c.HoverAt(boardV)
		if !ok || math.Abs(duty/value(figure.HoverThrottle)-1) > 1e-3 || math.Abs(currentA/hoverA-1) > 2e-3 {
			t.Errorf("%s: duty %g and %g A at %g V, the pack's own %g and %g", name, duty, currentA, boardV,
				value(figure.HoverThrottle), hoverA)
		}
		if speedRadS, got := c.FullThrottleAt(c.Pack.openV(1) - c.Pack.resistanceOhm()*fullA); math.Abs(got/fullA-1) > 2e-3 ||
			math.Abs(speedRadS/p.FullSpeedRadS-1) > 2e-3 {
			t.Errorf("%s: full throttle takes %g A at %g rad/s, from the pack %g at %g", name, got, speedRadS, fullA,
				p.FullSpeedRadS)
		}
		lower, lowerA, ok := c.HoverAt(0.9 * boardV)
		if !ok || math.Abs(lower/duty-1/0.9) > 0.02 || !(lowerA > currentA && lowerA < currentA/0.9) {
			t.Errorf("%s: at a tenth less duty %g over %g, current %g over %g A", name, lower, duty, lowerA, currentA)
		}
		if _, _, ok := c.HoverAt(0.1 * boardV); ok {
			t.Errorf("%s hovers on a tenth of the voltage", name)
		}
	}
}

// Property: hovering takes the power of hover, flying hard more than flying gently, and a factor on what flying takes
// acts on what moves alone.
func TestPowerOverHover(t *testing.T) {
	c := nimble(t)
	ratio := func(c Craft, segments []Segment) float64 {
		x, why := c.PowerOverHover(&Flying{SpeedMS: 10, Segments: segments})
		if why != Defined {
			t.Fatal(why)
		}
		return x
	}
	if got := ratio(c, hoverSegments[:]); math.Abs(got-1) > 1e-9 {
		t.Errorf("hover takes %g of hover", got)
	}
	easy, hard := ratio(c, EasySegments()), ratio(c, HardSegments())
	if !(easy > 1 && hard > 1.3*easy) {
		t.Errorf("gently %g, hard %g", easy, hard)
	}
	more := c
	more.FlyingFactor *= 1.2
	moving := 0.0
	for _, g := range EasySegments() {
		if g.Kind != Hover {
			moving += g.Share
		}
	}
	still := 1 - moving
	if got, want := ratio(more, EasySegments()), still+(easy-still)*1.2; math.Abs(got/want-1) > 0.02 {
		t.Errorf("a fifth more in flight: %g, want about %g", got, want)
	}
	heavy := c
	heavy.FrameKg += 10
	if _, why := heavy.PowerOverHover(&Flying{SpeedMS: 10, Segments: EasySegments()}); why != CannotHover {
		t.Errorf("a craft that cannot hover: %v", why)
	}
}
