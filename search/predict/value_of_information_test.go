package predict

import (
	"context"
	"testing"

	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/synthetic"
)

// Property: the advice is the measurement of least effort that brings half of what the best brings.
func TestCheapestMeasurementThatIsWorthIt(t *testing.T) {
	stand := Measurement{Kind: BenchProp, Right: 0.75, RightNow: 0.55}
	for _, c := range []struct {
		name string
		list []Measurement
		want MeasurementKind
	}{
		{"a scale that brings half", []Measurement{stand, {Kind: Weigh, Right: 0.65, RightNow: 0.55}}, Weigh},
		{"a scale that brings less", []Measurement{stand, {Kind: Weigh, Right: 0.60, RightNow: 0.55}}, BenchProp},
		{"of one effort the best", []Measurement{stand, {Kind: TimeFlight, Right: 0.66, RightNow: 0.55},
			{Kind: ReadHoverDuty, Right: 0.70, RightNow: 0.55}}, ReadHoverDuty},
		{"a stand last", []Measurement{stand, {Kind: CaliperProp, Right: 0.72, RightNow: 0.55}}, CaliperProp},
	} {
		if got := Cheapest(c.list); got == nil || got.Kind != c.want {
			t.Errorf("%s: %+v, want kind %d", c.name, got, c.want)
		}
	}
	if Cheapest(nil) != nil || Cheapest([]Measurement{{Kind: Weigh, Right: 0.58, RightNow: 0.51}}) != nil {
		t.Error("nothing to measure, yet there is advice")
	}
}

// Property: readings of whole crafts are among what could be measured, and none brings more than knowing all that
// it tells of: a chance of 1.
func TestReadingsOfCraftsAreWorthSomething(t *testing.T) {
	p, list := adviceCase(t, "freestyle", synthetic.Mid, "m2004-29 p3.5-26x3 k3s-620 f3.5-yawl b22-24")
	o := Sampling{Draws: 200, Seed: 1}
	r, err := Assess(context.Background(), p, list, o)
	if err != nil {
		t.Fatal(err)
	}
	d := NewDraws(o)
	a, b := r[0].Propagate(context.Background(), &p.Style, d, 1), r[1].Propagate(context.Background(), &p.Style, d, 1)
	kinds := map[MeasurementKind]bool{}
	for _, m := range craftMeasurables(d, &r[0], [2]*uncertain.Propagation{a, b}) {
		kinds[m.Kind] = true
		if !(m.resolves > 0 && m.resolves <= 1) || len(m.normals) != o.Draws {
			t.Errorf("kind %d resolves %g over %d draws", m.Kind, m.resolves, len(m.normals))
		}
		// What a reading says of itself it explains whole, of what has nothing to do with it nothing.
		if share := m.explains(m.normals, 0); share < 0.999 {
			t.Errorf("kind %d explains %g of itself", m.Kind, share)
		}
	}
	for _, kind := range []MeasurementKind{WeighAll, ReadHoverSpeed, ReadHoverDuty, TimeFlight} {
		if !kinds[kind] {
			t.Errorf("kind %d is missing", kind)
		}
	}
}
