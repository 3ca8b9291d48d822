package predict

import (
	"context"
	"math"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
)

// Independent: draws in which a craft cannot hover are counted, flown one by one; they are flights of no length in the
// interval and score nothing, and only the nominal value refuses. The heavier, the more of them.
func TestGroundedDrawsAreCounted(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	p.Style.Limits = nil
	assessed, err := Assess(context.Background(), p, list, quick)
	if err != nil {
		t.Fatal(err)
	}
	light := assessed[0]
	if light.GroundedShare != 0 || !(light.Figures[figure.StyleTime].Low > 0) {
		t.Fatalf("a craft of usual weight cannot hover in %g", light.GroundedShare)
	}
	last := 0.0
	for _, hover := range []float64{0.82, 0.88, 0.94} {
		r := light
		low, high := light.Craft.FrameKg, light.Craft.FrameKg+5
		for range 50 {
			r.Craft.FrameKg = (low + high) / 2
			flown := r.Craft.Evaluate(&p.Style.Flying)
			if x, _ := flown.Get(figure.HoverThrottle); x < hover {
				low = r.Craft.FrameKg
			} else {
				high = r.Craft.FrameKg
			}
		}
		r.Fly(&p.Style)
		d := NewDraws(Sampling{Draws: 300, Seed: 3})
		scores := r.Take(r.Propagate(context.Background(), &p.Style, d, 2), &p.Style)
		down, scoreless := 0, 0
		for i, at := range d.deviations(&r.Combination, &r.Craft.Uncertainty) {
			craft := r.Craft.Deviate(&at)
			flown := craft.Evaluate(&p.Style.Flying)
			if _, why := flown.Get(figure.HoverTime); why == physics.CannotHover {
				down++
				if scores[i] == 0 {
					scoreless++
				}
			}
		}
		if want := float64(down) / 300; math.Abs(r.GroundedShare-want) > 1e-12 ||
			r.GroundedShare <= last || scoreless != down {
			t.Errorf("hovering at %g: in %g of the draws it cannot, want %g, over %g; %d of them score nothing", hover,
				r.GroundedShare, want, last, scoreless)
		}
		last = r.GroundedShare
		if r.AheadShare = 0.95; (r.Lead() == Endangered) != (r.GroundedShare >= FlaggedShare) {
			t.Errorf("hovering at %g: %s with %g of the draws on the ground", hover, r.Lead(), r.GroundedShare)
		}
		time := r.Figures[figure.StyleTime]
		if grounded := r.GroundedShare > 0.1; time.Why != physics.Defined || grounded != (time.Low == 0) {
			t.Errorf("hovering at %g: %+v with %g of the draws on the ground", hover, time, r.GroundedShare)
		}
	}
	if last < 0.2 || last > 0.5 {
		t.Errorf("hovering at 94 %% it cannot in %g of the draws", last)
	}
}
