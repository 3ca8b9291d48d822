package space

import (
	"context"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
)

// PartsSI hold every part in SI numbers, so that a candidate's craft is put together by copying.
type PartsSI struct {
	Propellers []*rotor.Propeller // by prop; nil for one that fits nowhere
	Motors     []physics.Motor
	Powers     []float64 // factors on the prop's torque, by motor
	Packs      []physics.Pack
	Bodies     [][]BodySI // by body and supply; bodies of the same numbers share them
	standards  *standards
}

// BodySI is what a body brings to a craft.
type BodySI struct {
	Rotors            int
	Board             physics.Board
	Connector         physics.Connector
	FrameKg, ExtrasKg float64
	Ducted            bool
	DragAreaM2        float64
	ElectronicsW      float64
	PlugOhm           float64
	FlyingFactor      float64
}

// MassKg is the mass of frame, board and extras.
func (b *BodySI) MassKg() float64 { return b.FrameKg + b.ExtrasKg + b.Board.MassKg }

// convert computes the rotor maps of the props and all parts in SI numbers.
func (s *Space) convert(ctx context.Context) error {
	used := NewBitset(len(s.Props))
	for f := range s.Frames {
		if s.frameLike[f] < f {
			continue
		}
		s.Compatible.Motors[f].Each(nil, func(m int) bool {
			used.joinMeet(s.Compatible.Props[m], s.Compatible.PropsOf[f])
			return true
		})
	}
	t := &s.SI
	t.standards = new(standards)
	t.Propellers = make([]*rotor.Propeller, len(s.Props))
	faults := make([]error, len(s.Props))
	parallel.For(ctx, s.workers, len(s.Props), 1, func(p int) {
		if used.Has(p) {
			t.Propellers[p], faults[p] = s.Props[p].Propeller(s.Problem.Air)
			progress.Of(ctx).Add(progress.RotorMap)
		}
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	for p, fault := range faults {
		if fault != nil {
			s.SetAside = append(s.SetAside, SetAside{Kind: inventory.KindProp, ID: s.Props[p].ID, Err: fault})
		}
	}
	if len(s.SetAside) > 0 && slices.ContainsFunc(faults, func(fault error) bool { return fault != nil }) {
		return nil // it is laid out anew
	}
	for _, m := range s.Motors {
		si := m.SI()
		t.Motors = append(t.Motors, si.Motor)
		t.Powers = append(t.Powers, si.PowerFactor())
	}
	for _, k := range s.Packs {
		t.Packs = append(t.Packs, k.SI(s.Problem.Air.TemperatureK).Pack)
	}
	t.Bodies = make([][]BodySI, len(s.Bodies))
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.like < i {
			t.Bodies[i] = t.Bodies[b.like]
			continue
		}
		row := make([]BodySI, len(s.Supplies))
		for v, with := range b.With {
			if with == nil {
				continue
			}
			c := inventory.Combination{
				Frame: s.Frames[b.Frame], Board: s.Boards[b.Board], Extras: with, Pack: s.Packs[slices.Index(s.SupplyOf, v)],
			}
			si := c.Body()
			row[v] = BodySI{c.Rotors(), si.Board, c.Connector(), si.FrameMass.Value, si.ExtrasMass.Value, si.Ducted,
				si.DragArea.Value,
				si.Power.Value, si.PlugOhm, si.FlyingFactor()}
		}
		t.Bodies[i] = row
	}
	progress.Of(ctx).Add(progress.Body * 2 / 3 * float64(len(s.Frames)*len(s.Boards)))
	return nil
}

// Propeller is the prop of a candidate.
func (s *Space) Propeller(c Candidate) *rotor.Propeller { return s.SI.Propellers[c.Prop] }

// Craft puts a candidate together as Combination.Craft does, but for its uncertainty.
func (s *Space) Craft(c Candidate) physics.Craft {
	t := &s.SI
	b := &t.Bodies[c.Body][s.SupplyOf[c.Pack]]
	craft := physics.Craft{
		Rotors: b.Rotors, Propeller: *t.Propellers[c.Prop], Motor: t.Motors[c.Motor], Pack: t.Packs[c.Pack], Board: b.Board,
		Connector: b.Connector, FrameKg: b.FrameKg, ExtrasKg: b.ExtrasKg, Ducted: b.Ducted, DragAreaM2: b.DragAreaM2,
		ElectronicsW:    b.ElectronicsW,
		RotorDragFactor: 1, FlyingFactor: b.FlyingFactor,
	}
	craft.Propeller.PowerFactor *= t.Powers[c.Motor]
	craft.Pack.LeadOhm += b.PlugOhm
	t.standards.know(&craft, c.Motor, c.Prop)
	return craft
}

// KnowStandard sets Known of a craft with a motor and a prop of the space, by index.
func (t *PartsSI) KnowStandard(c *physics.Craft, motor, prop int32) { t.standards.know(c, motor, prop) }
