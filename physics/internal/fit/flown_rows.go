package main

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// flownRow is one statement about a craft: a flight's time, or another figure. Zero is not said.
type flownRow struct {
	id, motor, style, quantity, bound string
	confidence                        string
	allUpKg, kv                       float64
	diameterIn, pitchIn               float64
	blades, cells                     int
	capacityAh                        float64
	value, high                       float64
}

func loadFlown(folder string) ([]flownRow, error) {
	t, err := reference.Read(folder, "flown_crafts.csv", "id", "all_up_g", "motor", "kv_rpm_per_v", "diameter_in",
		"pitch_in",
		"blades", "cells",
		"capacity_mah", "quantity", "value", "value_high", "bound", "style", "confidence")
	if err != nil {
		return nil, err
	}
	rows := make([]flownRow, len(t.Rows))
	for i := range t.Rows {
		read := func(column string) float64 { x, _ := t.Maybe(i, column); return x }
		rows[i] = flownRow{id: t.Text(i, "id"), motor: t.Text(i, "motor"), style: t.Text(i, "style"), quantity: t.Text(i,
			"quantity"),
			bound: t.Text(i, "bound"), confidence: t.Text(i,
				"confidence"), allUpKg: read("all_up_g") / 1000, kv: read("kv_rpm_per_v"),
			diameterIn: read("diameter_in"), pitchIn: read("pitch_in"), blades: int(read("blades")), cells: int(read("cells")),
			capacityAh: read("capacity_mah") / 1000, value: read("value"), high: read("value_high")}
	}
	return rows, t.Err()
}

// craftName tells crafts apart: rows with one name are one craft on various packs.
func (r *flownRow) craftName() string { return fmt.Sprintf("%s-%g %gin", r.motor, r.kv, r.diameterIn) }

// timed says whether a row is a flight time of a craft known well enough.
func (r *flownRow) timed() bool {
	return r.quantity == "flight_time" && r.motor != "" && r.diameterIn > 0 && r.cells > 0 && r.capacityAh > 0
}

// middle of a range is its geometric mean.
func (r *flownRow) middle() float64 {
	if r.high > 0 {
		return math.Sqrt(r.value * r.high)
	}
	return r.value
}

// way is how a flight counts as flown (rules, not fitted): words of gentle flying are the easy
// segments, so is the "standard flight" of a craft whose mean current was logged as that of slow flying; hard and
// sport are the hard ones, all else the mixed ones. A pack "run very low" ends at
// 3.2 V or 8 %, others land as is usual for their craft.
func (r *flownRow) way() physics.Flying {
	f := physics.Flying{Segments: physics.MixedSegments()}
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(r.style, w) {
				return true
			}
		}
		return false
	}
	switch {
	case has("hover"):
		f.Segments = []physics.Segment{{Kind: physics.Hover, Share: 1, LoadFactor: 1}}
	case has("indoor"):
		f.Segments = physics.IndoorSegments()
	case has("gentle", "cruise", "standard"):
		f.Segments = physics.EasySegments()
	case has("hard", "sport"):
		f.Segments = physics.HardSegments()
	}
	if has("very low") {
		f.Reserve, f.LandingV = 0.08, 3.2
	}
	f.Indoors = !physics.Outdoors(f.Segments) && !has("hover")
	return f
}

// weighedPacks are the packs that were weighed, in kg by cells and capacity.
func weighedPacks(rows []flownRow) map[string]float64 {
	out := map[string]float64{}
	for _, r := range rows {
		if r.quantity == "pack_weight" {
			out[fmt.Sprint(r.cells, r.capacityAh)] = r.value / 1000
		}
	}
	return out
}

// flownBuilder turns rows into crafts by stated rules.
type flownBuilder struct {
	air    rotor.Air
	packs  map[string]float64
	dry    map[string]float64 // kg without pack, of crafts weighed with one of their packs
	dryLaw powerLaw
	drySD  float64
	props  map[string]*rotor.Propeller
	weighs []string // what the law of dry mass rests on
}

func newFlownBuilder(rows []flownRow) (*flownBuilder, error) {
	b := &flownBuilder{packs: weighedPacks(rows), dry: map[string]float64{}, props: map[string]*rotor.Propeller{}}
	var err error
	if b.air, err = rotor.StandardAir(100); err != nil {
		return nil, err
	}
	var x [][]float64
	var y, weight []float64
	var group []string
	seen := map[string]bool{}
	for i := range rows {
		r := &rows[i]
		dry := 0.0
		switch {
		case r.quantity == "dry_weight":
			dry = r.value / 1000
		case r.quantity == "auw" && r.capacityAh > 0 && r.cells > 0:
			dry = r.value/1000 - b.packKg(r)
		case r.allUpKg > 0 && r.capacityAh > 0 && r.cells > 0:
			dry = r.allUpKg - b.packKg(r)
		}
		if dry <= 0 || r.diameterIn == 0 {
			continue
		}
		if r.allUpKg > 0 && r.quantity == "flight_time" {
			b.dry[r.craftName()] = dry
		}
		if key := r.craftName(); !seen[key] {
			seen[key] = true
			x, y = append(x, []float64{1, math.Log(r.diameterIn / 3)}), append(y, math.Log(dry))
			weight, group = append(weight, 1), append(group, key)
			b.weighs = append(b.weighs, fmt.Sprintf("%s %.0f g", strings.TrimPrefix(key, "-0 "), dry*1000))
		}
	}
	if b.dryLaw, err = fitPower(x, y, weight); err != nil {
		return nil, err
	}
	left, err := leaveGroups(x, y, weight, group)
	if err != nil {
		return nil, err
	}
	b.drySD = robust.RmsOf(left)
	return b, nil
}

func (b *flownBuilder) packKg(r *flownRow) float64 {
	if kg, ok := b.packs[fmt.Sprint(r.cells, r.capacityAh)]; ok {
		return kg
	}
	return physics.EstimatePackMass(physics.LiPo, r.cells, r.capacityAh).Value
}

func (b *flownBuilder) prop(spec rotor.Spec) (*rotor.Propeller, error) {
	key := fmt.Sprint(spec.DiameterM, spec.PitchM, spec.Blades)
	if p, ok := b.props[key]; ok {
		return p, nil
	}
	p, err := rotor.New(spec, b.air)
	if err == nil {
		b.props[key] = p
	}
	return p, err
}

// Spreads of what the rules guess (estimates of ours), of the logarithm.
const (
	guessedPitchLnSD = 0.20 // of prop power where the pitch is not said
	guessedKVLnSD    = 0.08
	weighedLnSD      = 0.02
	guessedKV5       = 2300.0 // of a 5-inch motor on 4S where kV is not said (common practice, no source)
)

// electronicsW of camera, transmitter, receiver and controller, none of them stated: 1.5 W on
// whoops of 1.2 inch and half a watt more an inch (common practice, no source).
func electronicsW(diameterIn float64) float64 { return 1.5 + 0.5*(diameterIn-1.2) }

// craft builds a row's craft and says what was guessed.
func (b *flownBuilder) craft(r *flownRow) (c physics.Craft, guessed []string, err error) {
	guess := func(what string) { guessed = append(guessed, what) }
	pitch, blades, kv := r.pitchIn, r.blades, r.kv
	u := uncertain.Budget{}
	physics.ShareSpread(&u)
	if pitch == 0 {
		pitch = rig.GuessedPitch(r.diameterIn)
		guess("pitch")
	}
	if blades == 0 {
		blades = 3
		guess("blades")
	}
	if kv == 0 {
		kv = guessedKV5
		guess("kV")
	}
	prop, err := b.prop(props.Label(r.diameterIn, pitch, blades))
	if err != nil {
		return c, nil, err
	}
	d, h, err := rig.StatorOf(r.motor)
	if err != nil {
		return c, nil, err
	}
	motor := rig.MotorLaw().Motor(physics.MotorLabel{StatorM: d, StatorHeightM: h, KV: kv})
	chemistry := physics.LiPo
	if r.cells == 1 {
		chemistry = physics.LiHV // whoop packs are
	}
	ohm := physics.EstimatePackResistance(chemistry, r.cells, r.capacityAh, 0)
	capacity := physics.LabelCapacity(r.capacityAh * 3600)
	packKg := b.packKg(r)
	drag := physics.EstimateDragArea(r.diameterIn*props.MetresPerInch, false)
	dry, dryLnSD := r.allUpKg-packKg, weighedLnSD
	if r.allUpKg == 0 {
		var ok bool
		if dry, ok = b.dry[r.craftName()]; !ok {
			dry, dryLnSD = math.Exp(b.dryLaw.at([]float64{1, math.Log(r.diameterIn / 3)})), b.drySD
			guess("mass")
		}
	}
	c = physics.Craft{
		Rotors: 4, Propeller: *prop,
		Motor: motor.Motor,
		Pack: physics.Pack{Chemistry: chemistry, Cells: r.cells, CapacityAs: capacity.Value, SafeCurrentA: 1e3,
			InternalOhm: ohm.Value,
			LeadOhm:     physics.PlugResistance(plugOf(r.cells, r.diameterIn)), MassKg: packKg, CapacityFactor: 1},
		Board: physics.Board{ESC: rig.MotorLaw().ESC(0).ESC, ContinuousA: 1e3, BurstA: 1e3,
			MassKg: 1e-4}, DragAreaM2: drag.Value, ElectronicsW: electronicsW(r.diameterIn), RotorDragFactor: 1, FlyingFactor: 1,
	}
	c.FrameKg = dry - c.Board.MassKg - 4*(motor.MassKg+prop.MassKg)
	if c.FrameKg < 0.05*dry { // motors weigh less than the law says
		c.FrameKg = 0.05 * dry
		guess("motor mass")
	}
	set := func(i uncertain.Input, e uncertain.Estimate) { u.LnSD[i] = e.LnSD }
	prop.Uncertainty.Put(&u)
	motor.Put(&u)
	esc := rig.MotorLaw().ESC(0)
	esc.Put(&u)
	u.LnSD[uncertain.PropMass], u.LnSD[uncertain.MotorMass] = 0, 0 // the mass is known as a whole
	set(uncertain.PackResistance, ohm)
	set(uncertain.PackCapacity, capacity)
	set(uncertain.DragArea, drag)
	u.LnSD[uncertain.ElectronicsPower], u.LnSD[uncertain.PackMass] = 0.4, 0.1
	u.LnSD[uncertain.FrameMass] = dryLnSD * dry / c.FrameKg
	if r.pitchIn == 0 {
		u.LnSD[uncertain.PropPower] = math.Hypot(u.LnSD[uncertain.PropPower], guessedPitchLnSD)
	}
	if r.kv == 0 {
		u.LnSD[uncertain.MotorSpeed] = math.Hypot(u.LnSD[uncertain.MotorSpeed], guessedKVLnSD)
	}
	c.Uncertainty = u
	return c, guessed, c.Check()
}

// plugOf is the usual plug of a craft (common practice, no source).
func plugOf(cells int, diameterIn float64) string {
	switch {
	case cells == 1:
		return "BT 2.0"
	case diameterIn < 4:
		return "XT30"
	}
	return "XT60"
}
