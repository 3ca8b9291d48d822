package search

import (
	"cmp"
	"context"
	"reflect"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// ChangeKind is a kind of change to a combination.
type ChangeKind uint8

// The kinds of changes; Amount says how much.
const (
	NoChange          ChangeKind = iota
	AskedChange                  // what somebody asked for: Asked
	MassChange                   // kg on board, under 0 off
	PitchChange                  // share of the pitch
	BladesChange                 // blades
	CellsChange                  // cells
	CapacityChange               // share of the capacity
	WornPackChange               // factor on the resistance
	CapChange                    // throttle at which the stick stops: a ceiling
	StickChange                  // throttle at the top of a stick that is scaled as a whole
	RootMassChange               // the blades' mass at the root
	TipMassChange                // the blades' mass at the tip
	CameraOffChange              // without the camera
	WindChange                   // m/s
	AltitudeChange               // m
	TemperatureChange            // °C
	ChangeKinds                  // one past the last
)

// Chosen reports whether a pilot can choose a change, which wind, weather, wear and the make of a blade are not.
func (k ChangeKind) Chosen() bool {
	switch k {
	case NoChange, WornPackChange, RootMassChange, TipMassChange, WindChange, AltitudeChange, TemperatureChange:
		return false
	}
	return true
}

// Change is one thing that differs from a combination as it is: what it is called, and what it does. The
// functions may be nil; each works on a copy.
type Change struct {
	Kind   ChangeKind
	Amount float64
	Asked  string

	Parts  func(*inventory.Combination)
	Prop   func(*rotor.Spec)
	Air    *rotor.Air
	Flying func(*physics.Flying)
	Craft  func(*physics.Craft)
}

// Varied is what a change does.
type Varied struct {
	Change Change
	// Result is the changed combination. One that cannot be has misfits and no performance.
	predict.Result
	// Deltas hold by quantity how much more of it there is, in SI, over common draws; those of score
	// and axes are nominal.
	Deltas     [figure.Count]predict.Value
	ScoreDelta float64
	AxesDelta  objective.Axes
}

// WhatIf predicts a combination as it is, and with each change alone. A change that makes something
// which cannot be reckoned has that as its misfit.
func WhatIf(ctx context.Context, p space.Problem, c inventory.Combination, changes []Change,
	o predict.Sampling) (predict.Result, []Varied, error) {
	base, err := changed(&p, &c, &Change{})
	if err != nil {
		return predict.Result{}, nil, err
	}
	if base.Misfits != nil {
		return base.Result, nil, nil
	}
	o.Drawer = cmp.Or(o.Drawer, p.Drawer)
	d := predict.NewDraws(o)
	progress.Of(ctx).Expect(d.Work(1+len(changes)) + progress.RotorMap*float64(len(changes)))
	before := base.propagate(ctx, d, o.Workers)
	var list []Varied
	for i := range changes {
		v, err := changed(&p, &c, &changes[i])
		progress.Of(ctx).Add(progress.RotorMap)
		if err != nil {
			v.Misfits = []predict.Misfit{{Kind: predict.CannotBe, Err: err}}
		}
		one := Varied{Change: changes[i]}
		if v.Misfits == nil {
			one.compare(&base, &v, before, v.propagate(ctx, d, o.Workers))
		}
		one.Result = v.Result
		list = append(list, one)
		if err := ctx.Err(); err != nil {
			return base.Result, nil, err
		}
	}
	return base.Result, list, nil
}

// variant is a combination with a change, and the style with its way of flying.
type variant struct {
	predict.Result
	style objective.Style
}

// propagate fills in intervals and bases.
func (v *variant) propagate(ctx context.Context, d *predict.Draws, workers int) *uncertain.Propagation {
	p := v.Propagate(ctx, &v.style, d, workers)
	v.Take(p, &v.style)
	return p
}

func (d *Varied) compare(base, v *variant, before, after *uncertain.Propagation) {
	d.ScoreDelta = v.Evaluation.Score - base.Evaluation.Score
	for a := range d.AxesDelta {
		d.AxesDelta[a] = v.Evaluation.Axes[a] - base.Evaluation.Axes[a]
	}
	for q := range d.Deltas {
		d.Deltas[q] = predict.Delta(figure.Quantity(q), &base.Result, &v.Result, before, after)
	}
}

// changed builds and judges a combination with a change.
func changed(p *space.Problem, c *inventory.Combination, change *Change) (variant, error) {
	v := variant{Result: predict.Result{Combination: copied(c)}, style: p.Style}
	if change.Parts != nil {
		change.Parts(&v.Combination)
	}
	v.Misfits, v.Remarks = predict.Findings(&v.Combination)
	if v.Misfits != nil {
		return v, nil
	}
	air := p.Air
	if change.Air != nil {
		air = *change.Air
	}
	propeller, err := changedPropeller(c.Prop.Spec(), propChange(c.Prop, v.Combination.Prop, change.Prop), air)
	if err != nil {
		return v, err
	}
	if v.Craft, err = v.Combination.Craft(c.Prop.Corrected(propeller)); err != nil {
		return v, err
	}
	if change.Craft != nil {
		structureKg := v.Craft.FrameKg + v.Craft.ExtrasKg
		change.Craft(&v.Craft)
		if v.Craft.FrameKg <= 0 {
			v.Misfits = []predict.Misfit{{Kind: predict.TooLight, StructureKg: structureKg}}
			return v, nil
		}
		if err := v.Craft.Check(); err != nil {
			return v, err
		}
	}
	v.style.Flying.Segments = slices.Clone(v.style.Flying.Segments)
	if change.Flying != nil {
		change.Flying(&v.style.Flying)
		if err := v.style.Flying.Check(); err != nil {
			return v, err
		}
	}
	v.Fly(&v.style)
	return v, nil
}

// propChange is what a change does to a prop's spec: the label's geometry if the part was changed,
// then what the change itself does; nil if nothing.
func propChange(was, is *inventory.Prop, change func(*rotor.Spec)) func(*rotor.Spec) {
	if reflect.DeepEqual(was, is) {
		return change
	}
	label := is.Spec()
	return func(s *rotor.Spec) {
		if ratio := label.PitchM / s.PitchM; ratio != 1 {
			scalePitch(s, ratio)
		}
		s.DiameterM, s.Blades, s.MassKg = label.DiameterM, label.Blades, label.MassKg
		s.PitchLnSD = label.PitchLnSD
		s.MassPlace, s.Flex, s.MadeFor = label.MassPlace, label.Flex, label.MadeFor
		if change != nil {
			change(s)
		}
	}
}

// changedPropeller makes a prop of a changed spec. Readings were taken with the blade as it is: each
// is scaled by what the change does to a prop without readings at the same speed and airspeed, and
// left out where it would turn about.
func changedPropeller(spec rotor.Spec, change func(*rotor.Spec), air rotor.Air) (*rotor.Propeller, error) {
	if change == nil {
		return rotor.New(spec, air)
	}
	readings := spec.Bench
	spec.Bench, spec.Stations = nil, slices.Clone(spec.Stations)
	before, after := spec, spec
	after.Stations = slices.Clone(spec.Stations)
	change(&after)
	if len(readings) == 0 {
		return rotor.New(after, air)
	}
	was, err := rotor.New(before, air)
	if err != nil {
		return nil, err
	}
	is, err := rotor.New(after, air)
	if err != nil {
		return nil, err
	}
	for _, r := range readings {
		flow := rotor.Flow{AxialMS: r.AxialMS}
		thrustWas, torqueWas := was.Loads(r.SpeedRadS, flow)
		thrustIs, torqueIs := is.Loads(r.SpeedRadS, flow)
		thrust, torque := thrustIs/thrustWas, torqueIs/torqueWas
		if inReach(thrust) && (r.TorqueNm == 0 || inReach(torque)) {
			r.ThrustN *= thrust
			r.TorqueNm *= torque
			after.Bench = append(after.Bench, r)
		}
	}
	return rotor.New(after, air)
}

// inReach reports whether a ratio is that of a change, not of a sign about to turn.
func inReach(ratio float64) bool { return ratio > 0.2 && ratio < 5 }

// copied is a combination whose parts may be changed.
func copied(c *inventory.Combination) inventory.Combination {
	motor, prop, pack, frame, board := *c.Motor, *c.Prop, *c.Pack, *c.Frame, *c.Board
	return inventory.Combination{Motor: &motor, Prop: &prop, Pack: &pack, Frame: &frame, Board: &board,
		Extras: slices.Clone(c.Extras)}
}
