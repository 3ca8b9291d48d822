package search

import (
	"context"
	"math"
	"partsaloft/search/internal/synthetic"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Property: each usual change does to weight, cap, voltage and time what it says.
func TestVaryDoesWhatItSays(t *testing.T) {
	p, list := adviceCase(t, "cruise", synthetic.Mid)
	places, err := AirChanges(p.Drawer.Air)
	if err != nil {
		t.Fatal(err)
	}
	changes := append(UsualChanges(&list[0]), places...)
	changes = append(changes, Change{})
	base, varied, err := WhatIf(context.Background(), p, list[0], changes, quick)
	if err != nil {
		t.Fatal(err)
	}
	type change struct {
		kind   ChangeKind
		amount float64
	}
	made := map[change]*Varied{}
	for i := range varied {
		made[change{varied[i].Change.Kind, varied[i].Change.Amount}] = &varied[i]
	}
	delta := func(name change, q figure.Quantity) float64 {
		v := made[name]
		if v == nil || len(v.Misfits) > 0 || v.Deltas[q].Why != physics.Defined {
			t.Fatalf("%v: %+v", name, v)
		}
		return v.Deltas[q].Value
	}
	for q := range figure.Count {
		if v := made[change{}].Deltas[q]; v.Value != 0 || v.Low != 0 || v.High != 0 {
			t.Errorf("changing nothing changes quantity %d by %+v", q, v)
		}
	}
	near := func(what string, got, want, tolerance float64) {
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("5 g heavier, mass", delta(change{MassChange, 0.005}, figure.AllUpMass), 0.005, 1e-12)
	near("5 g lighter, mass", delta(change{MassChange, -0.005}, figure.AllUpMass), -0.005, 1e-12)
	camera := p.Drawer.Extra("x-eye14")
	near("camera off, mass", delta(change{kind: CameraOffChange}, figure.AllUpMass), -camera.MassG/1000, 1e-12)
	capped := made[change{CapChange, 0.8}]
	duty, _ := capped.Performance.Get(figure.ThrottleCap)
	before, _ := base.Performance.Get(figure.ThrottleCap)
	near("cap", duty, math.Min(0.8, before), 1e-6)
	scaled := made[change{StickChange, 0.8}]
	duty, _ = scaled.Performance.Get(figure.ThrottleCap)
	near("cap of a scaled stick", duty, math.Min(0.8, before), 1e-6)
	step, _ := base.Performance.Get(figure.ThrustStep)
	near("a ceiling leaves the stick's steps", delta(change{CapChange, 0.8}, figure.ThrustStep), 0, 1e-12)
	near("a scaled stick's steps", delta(change{StickChange, 0.8}, figure.ThrustStep), -0.2*step, 1e-9)
	for _, c := range []struct {
		name change
		q    figure.Quantity
		sign float64
	}{
		{change{MassChange, 0.005}, figure.HoverThrottle, 1}, {change{MassChange, 0.005}, figure.StyleTime,
			-1}, {change{WornPackChange, 2}, figure.LoadedCell, -1},
		{change{CellsChange, 1}, figure.FullThrottleThrust, 1}, {change{CellsChange, -1}, figure.FullThrottleThrust,
			-1}, {change{CapacityChange, 0.3}, figure.UsedCharge, 1},
		{change{kind: TipMassChange}, figure.Response, 1}, {change{AltitudeChange, 1500}, figure.HoverThrottle,
			1}, {change{TemperatureChange, 0}, figure.StyleTime, -1},
		{change{WindChange, 8}, figure.StyleTime, -1}, {change{BladesChange, 1}, figure.HoverThrottle, -1},
	} {
		if d := delta(c.name, c.q); d*c.sign <= 0 {
			t.Errorf("%v: quantity %d goes by %g", c.name, c.q, d)
		}
	}
}

// Property: a reading on a stand corrects the changed prop by the same factor as the prop as it is.
func TestVariedPitchKeepsTheCorrectionOfAReading(t *testing.T) {
	p, list := adviceCase(t, "race", synthetic.FiveInch)
	spec := list[0].Prop.Spec()
	if len(spec.Bench) == 0 {
		t.Fatal("the prop has no reading")
	}
	as, err := rotor.New(spec, p.Air)
	if err != nil {
		t.Fatal(err)
	}
	same, err := changedPropeller(spec, func(s *rotor.Spec) { s.PitchM *= 1 }, p.Air)
	if err != nil {
		t.Fatal(err)
	}
	steeper, err := changedPropeller(spec, pitchBy(0.1).Prop, p.Air)
	if err != nil {
		t.Fatal(err)
	}
	const speedRadS = 1800
	a, _ := as.Loads(speedRadS, rotor.Flow{})
	b, _ := same.Loads(speedRadS, rotor.Flow{})
	c, _ := steeper.Loads(speedRadS, rotor.Flow{})
	if a != b {
		t.Errorf("unchanged: %g N, want %g", b, a)
	}
	if !(c > 1.02*a && c < 1.2*a) {
		t.Errorf("a tenth more pitch: %g N, from %g", c, a)
	}
}

// Property: the wind keeps the shares of a flight, and no ground speed is lost on average.
func TestWindKeepsShares(t *testing.T) {
	for _, name := range objective.PresetNames() {
		s, _ := objective.Preset(name)
		f := s.Flying
		f.Segments = slices.Clone(f.Segments)
		windy(&f, 8)
		if err := f.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
