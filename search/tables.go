package search

import (
	"context"
	"fmt"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics"
)

// tables hold every part in SI numbers, so that a candidate's craft is put together by copying.
type tables struct {
	propellers []*physics.Propeller // by prop; nil for one that fits nowhere
	motors     []physics.Motor
	powers     []float64 // factors on the prop's torque, by motor
	packs      []physics.Pack
	bodies     [][]frameSet // by body and supply
}

// frameSet is what a body brings to a craft.
type frameSet struct {
	rotors            int
	board             physics.Board
	connector         physics.Connector
	frameKg, extrasKg float64
	dragAreaM2        float64
	electronicsW      float64
	plugOhm           float64
	flyingFactor      float64
}

// convert computes the props' surfaces and all parts in SI numbers.
func (s *Space) convert(ctx context.Context) error {
	used := newSet(len(s.props))
	for f := range s.frames {
		s.fit.motors[f].each(nil, func(m int) bool {
			s.fit.props[m].each(s.fit.propsOf[f], func(p int) bool { used.add(p); return true })
			return true
		})
	}
	t := &s.si
	t.propellers = make([]*physics.Propeller, len(s.props))
	faults := make([]error, len(s.props))
	parallel(ctx, s.workers, len(s.props), 1, func(p int) {
		if used.has(p) {
			t.propellers[p], faults[p] = s.props[p].Propeller(s.problem.Air)
		}
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	for p, fault := range faults {
		if fault != nil {
			s.aside = append(s.aside, SetAside{Kind: inventory.KindProp, ID: s.props[p].ID, Err: fault})
		}
	}
	if len(s.aside) > 0 && slices.ContainsFunc(faults, func(fault error) bool { return fault != nil }) {
		return nil // it is laid out anew
	}
	for _, m := range s.motors {
		si := m.SI()
		t.motors = append(t.motors, si.Motor)
		t.powers = append(t.powers, si.PowerFactor())
	}
	for _, k := range s.packs {
		t.packs = append(t.packs, k.SI(s.problem.Air.TemperatureK).Pack)
	}
	for i := range s.bodies {
		b := &s.bodies[i]
		row := make([]frameSet, len(s.supplies))
		for v, with := range b.with {
			if with == nil {
				continue
			}
			c := inventory.Combination{
				Frame: s.frames[b.frame], Board: s.boards[b.board], Extras: with, Pack: s.packs[slices.Index(s.supplyOf, v)],
			}
			si := c.Body()
			row[v] = frameSet{c.Rotors(), si.Board, c.Connector(), si.FrameMass.Value, si.ExtrasMass.Value, si.DragArea.Value, si.Power.Value, si.PlugOhm, si.FlyingFactor()}
		}
		t.bodies = append(t.bodies, row)
	}
	return nil
}

func (s *Space) propeller(p *inventory.Prop) (*physics.Propeller, error) {
	made, err := p.Propeller(s.problem.Air)
	if err != nil {
		return nil, fmt.Errorf("prop %s: %w", p.ID, err)
	}
	return made, nil
}

// craft puts a candidate together as Combination.Craft does, but for its uncertainty.
func (s *Space) craft(c candidate) physics.Craft {
	t := &s.si
	b := &t.bodies[c.body][s.supplyOf[c.pack]]
	craft := physics.Craft{
		Rotors: b.rotors, Propeller: *t.propellers[c.prop], Motor: t.motors[c.motor], Pack: t.packs[c.pack], Board: b.board,
		Connector: b.connector, FrameKg: b.frameKg, ExtrasKg: b.extrasKg, DragAreaM2: b.dragAreaM2, ElectronicsW: b.electronicsW,
		FlyingFactor: b.flyingFactor,
	}
	craft.Propeller.PowerFactor *= t.powers[c.motor]
	craft.Pack.LeadOhm += b.plugOhm
	return craft
}

// evaluate predicts and judges a candidate.
func (s *Space) evaluate(c candidate) scored {
	craft := s.craft(c)
	p := craft.EvaluateOnly(&s.problem.Style.Flying, s.judged)
	return scored{c, s.problem.Style.Judge(&craft, &p)}
}
