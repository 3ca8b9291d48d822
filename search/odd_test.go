package search

import (
	"context"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// oddProps pass the reader and make no blade: a reading that no prop of this size gives, and two that
// contradict each other.
func oddProps() []inventory.Prop {
	return []inventory.Prop{
		{Part: inventory.Part{ID: "p-reading"}, DiameterIn: 3, PitchIn: 2, Blades: 3,
			Bench: []inventory.PropBench{{RPM: 24000, ThrustG: 3900}}},
		{Part: inventory.Part{ID: "p-twofold"}, DiameterIn: 3, PitchIn: 2, Blades: 3,
			Bench: []inventory.PropBench{{RPM: 24000, ThrustG: 150}, {RPM: 24000, ThrustG: 400}}},
	}
}

// Property: odd props are set aside and said, and what is found is what the drawer without them gives.
func TestOddPropsAreSetAside(t *testing.T) {
	for _, odd := range oddProps() {
		if _, err := odd.Propeller(problem(t, synthetic.Club(t), "race").Air); err == nil {
			t.Fatalf("%s makes a blade", odd.ID)
		}
	}
	d := synthetic.Club(t)
	want := search(t, laidOut(t, d, "race"), Options{Top: 3, Draws: 2})
	d.Props = append(oddProps(), d.Props...)
	got := search(t, laidOut(t, d, "race"), Options{Top: 3, Draws: 2})
	if len(got.SetAside) != 2 || got.SetAside[0].ID != "p-reading" || got.SetAside[1].Err == nil {
		t.Errorf("set aside: %+v", got.SetAside)
	}
	for i := range want.Best {
		if got.Best[i].Combination.Key() != want.Best[i].Combination.Key() || got.Best[i].Figures != want.Best[i].Figures {
			t.Errorf("place %d is %s", i+1, got.Best[i].Combination.Key())
		}
	}
	if got.Candidates != want.Candidates {
		t.Errorf("%d candidates, %d without the odd props", got.Candidates, want.Candidates)
	}
	// With odd props alone no build is possible, and it says why.
	d.Props = oddProps()
	if _, err := space.New(context.Background(), problem(t, d, "race"), 0); err == nil || !strings.Contains(err.Error(),
		"prop p-twofold") || !strings.Contains(err.Error(), "prop p-reading") {
		t.Errorf("got %v", err)
	}
}

// Property: odd offers do not end the search for a purchase, and the others are judged as without them.
func TestBuySetsOddOffersAside(t *testing.T) {
	offer := shop(t)
	d := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	p := problem(t, d, "cruise")
	want, err := Buy(context.Background(), p, offer, Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	offer.Parts.Props = append(oddProps()[:1], offer.Parts.Props...)
	got, err := Buy(context.Background(), p, offer, Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.SetAside) != 1 || got.SetAside[0].ID != "p-reading" || len(got.Singles) != len(want.Singles) ||
		len(got.Pairs) != len(want.Pairs) {
		t.Fatalf("%d singles and %d pairs, %d and %d without; set aside %+v", len(got.Singles), len(got.Pairs),
			len(want.Singles), len(want.Pairs), got.SetAside)
	}
	for i := range want.Singles {
		if got.Singles[i].Parts[0] != want.Singles[i].Parts[0] || got.Singles[i].Gain != want.Singles[i].Gain {
			t.Errorf("place %d: %+v, without the odd offer %+v", i+1, got.Singles[i].Parts, want.Singles[i].Parts)
		}
	}
}

// Property: a step beyond what makes a blade is set aside with what it is like; the other steps stay.
func TestBuySetsOddStepsAside(t *testing.T) {
	d := synthetic.ExampleDrawer(t, "spare-parts.yaml")
	for i := range d.Props {
		d.Props[i].PitchIn = 2 * d.Props[i].DiameterIn
	}
	p := problem(t, d, "cruise")
	p.Style.Limits = nil
	got, err := Buy(context.Background(), p, nil, Options{Draws: 2})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.SetAside) == 0 || got.SetAside[0].Step != "pitch-up" || len(got.Singles) == 0 {
		t.Errorf("%d singles, set aside %+v", len(got.Singles), got.SetAside)
	}
}

// Property: a change that makes something which cannot be reckoned says so, and the others are made.
func TestVarySkipsOddChanges(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	changes := []Change{
		{Kind: AskedChange, Asked: "too steep",
			Parts: func(c *inventory.Combination) { c.Prop.PitchIn = 2.5 * c.Prop.DiameterIn }},
		{Kind: AskedChange, Asked: "too many blades", Prop: func(s *rotor.Spec) { s.Blades = 9 }},
		{Kind: AskedChange, Asked: "no pitch", Prop: func(s *rotor.Spec) { s.PitchM = 0 }},
		{Kind: AskedChange, Asked: "no capacity", Craft: func(c *physics.Craft) { c.Pack.CapacityAs = 0 }},
		{Kind: AskedChange, Asked: "no flight", Flying: func(f *physics.Flying) { f.Segments = nil }},
		AddMass(0.005),
	}
	_, varied, err := WhatIf(context.Background(), p, list[0], changes, quick)
	if err != nil || len(varied) != len(changes) {
		t.Fatalf("%d changes made of %d: %v", len(varied), len(changes), err)
	}
	for i := range varied[:len(varied)-1] {
		if v := &varied[i]; len(v.Misfits) == 0 || v.Misfits[0].Err == nil && v.Misfits[0].Finding.Code == "" ||
			v.Feasible() {
			t.Errorf("%s: %+v", v.Change.Asked, v.Misfits)
		}
	}
	if last := &varied[len(varied)-1]; len(last.Misfits) != 0 || last.Deltas[figure.AllUpMass].Value <= 0 {
		t.Errorf("5 g more: %v", last.Misfits)
	}
}

// Property: an odd prop beside it does not keep a combination from being predicted, swapped and packed.
func TestAdviceBesideAnOddProp(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	want, err := Neighbours(context.Background(), p, list[0], quick)
	if err != nil {
		t.Fatal(err)
	}
	odd := oddProps()[0]
	odd.BoreMm, odd.Mount = list[0].Prop.BoreMm, list[0].Prop.Mount
	p.Drawer.Props = append(p.Drawer.Props, odd)
	got, err := Neighbours(context.Background(), p, list[0], quick)
	if err != nil || len(got) != len(want) {
		t.Errorf("%d swaps, %d without the odd prop: %v", len(got), len(want), err)
	}
	with := list[0]
	with.Prop = &p.Drawer.Props[len(p.Drawer.Props)-1]
	r, err := predict.Assess(context.Background(), p, []inventory.Combination{with, list[0]}, quick)
	if err != nil || r[0].Feasible() || len(r[0].Misfits) == 0 || !r[1].Feasible() {
		t.Errorf("%v, %+v", err, r[0].Misfits)
	}
}
