package search

import (
	"context"
	"slices"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/space"
)

// alongDrawer is two crafts' worth of invented parts whose extras say nothing of their use.
const alongDrawer = `
motors: [{id: m, count: 8, stator: "1404", kv: 3900, mass_g: 9, cells: [2, 4]}]
props: [{id: p, count: 8, size: 3x2x3}]
packs: [{id: k3, count: 1, size: 3S 650 75C, connector: XT30}, {id: k4, count: 1, size: 4S 650 75C, connector: XT30}]
frames:
  - {id: narrow, count: 1, mass_g: 30, max_prop_in: 3, camera_width_mm: 14}
  - {id: wide, count: 1, mass_g: 30, max_prop_in: 3, camera_width_mm: 19}
boards: [{id: b, count: 2, esc_current_a: 30, cells: 4S, connector: XT30}]
extras:
  - {id: eye-light, count: 1, role: camera, mass_g: 1.5, width_mm: 19}
  - {id: eye-narrow, count: 1, role: camera, mass_g: 2.5, width_mm: 14}
  - {id: eye-heavy, count: 1, role: camera, mass_g: 9, width_mm: 14}
  - {id: vtx-low, role: video, mass_g: 2, cells: [2, 3]}
  - {id: vtx-any, role: video, mass_g: 4, cells: 6S}
  - {id: rx, role: receiver, mass_g: 1, use: always}
  - {id: buzzer, role: hardware, mass_g: 3}
  - {id: spare-rx, role: receiver, mass_g: 0.5}
`

// TestOneOfEachRoleGoesAlong: of the extras that say nothing of their use the lightest of each role that suits frame
// and pack is on board, none where another fills the role, and none of the other roles (property).
func TestOneOfEachRoleGoesAlong(t *testing.T) {
	d, err := inventory.Read("drawer.yaml", strings.NewReader(alongDrawer))
	if err != nil {
		t.Fatal(err)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	style, _ := objective.Preset("cruise")
	s, err := space.New(context.Background(), space.Problem{Drawer: d, Air: air, Style: style}, 1)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"narrow k3": "eye-narrow rx vtx-low", "narrow k4": "eye-narrow rx vtx-any",
		"wide k3": "eye-light rx vtx-low", "wide k4": "eye-light rx vtx-any"}
	seen := 0
	s.Each(func(one space.Candidate) bool {
		seen++
		c := s.Combination(one)
		key := c.Frame.ID + " " + c.Pack.ID
		if got := strings.Join(c.Parts().Extras, " "); got != want[key] {
			t.Errorf("%s carries %s, want %s", key, got, want[key])
		}
		if lacks := c.Lacking(); lacks != nil {
			t.Errorf("%s lacks %v", key, lacks)
		}
		return true
	})
	if seen != len(want) {
		t.Errorf("%d fit, want %d", seen, len(want))
	}
	bare := inventory.Combination{Extras: []*inventory.Extra{d.Extra("eye-light")}}
	if got := bare.Lacking(); !slices.Equal(got, []inventory.Role{inventory.Video, inventory.Receiver}) {
		t.Errorf("a camera alone lacks %v", got)
	}
	if n := d.Extra("eye-light").Choices; n != 3 {
		t.Errorf("%d cameras go along, want 3", n)
	}
}

// TestPlanCarriesTheSameExtras: an always-on extra without a count, and one that goes along, are enough for every craft
// of a plan; one that is counted keeps no craft from being met, and is said to be shared (regression).
func TestPlanCarriesTheSameExtras(t *testing.T) {
	d, err := inventory.Read("drawer.yaml", strings.NewReader(strings.Replace(alongDrawer, "camera_width_mm: 14",
		"rotors: 4", 1)))
	if err != nil {
		t.Fatal(err)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	style, _ := objective.Preset("cruise")
	plan, err := MakePlan(context.Background(), PlanProblem{Drawer: d, Air: air,
		Wishes: []Wish{{Name: "one", Style: style},
			{Name: "two", Style: style}}}, Options{Draws: 4})
	if err != nil {
		t.Fatal(err)
	}
	for i := range plan.Crafts {
		if plan.Crafts[i].Result == nil {
			t.Fatalf("%s is not met: %+v", plan.Crafts[i].Wish.Name, plan.Crafts[i].Unmet)
		}
	}
	if len(plan.Shared) != 1 || plan.Shared[0].ID != "eye-light" || plan.Shared[0].Pieces != 1 ||
		plan.Shared[0].Needed != 2 ||
		!slices.Equal(plan.Shared[0].TakenBy, []string{"one", "two"}) {
		t.Errorf("shared: %+v", plan.Shared)
	}
	for _, l := range plan.LeftOver {
		if l.ID == "rx" || l.ID == "eye-light" || l.ID == "vtx-low" {
			t.Errorf("%s is left over: %+v", l.ID, l)
		}
	}
}
