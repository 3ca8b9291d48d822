package compat

import (
	"fmt"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Spread of kV over a mixed set, (max − min)/mean: up to passSpread it passes, from refuseSpread on it
// is a fault, in between a note (common practice, no source: 2.6 % apart flew, 16 % was refused).
const (
	passSpread   = 0.03
	refuseSpread = 0.10
)

// motorCount judges whether there are motors enough for the rotors. A mixed set is refused when its
// kV differ too much, or when one of its kinds would do alone.
func motorCount(m *inventory.Motor, rotors int) Severity {
	switch {
	case inventory.Pieces(m.Count, rotors) < rotors:
		return Misfit
	case m.Mixed == nil:
		return Fits
	case m.Mixed.KVSpread >= refuseSpread || inventory.Pieces(m.Mixed.A.Count, rotors) >= rotors ||
		inventory.Pieces(m.Mixed.B.Count, rotors) >= rotors:
		return Misfit
	case m.Mixed.KVSpread > passSpread:
		return Remark
	}
	return Fits
}

// propCount judges whether there are props enough for the rotors, and half of them for each
// direction if the directions are known. An odd number of rotors asks for no direction.
func propCount(p *inventory.Prop, rotors int) Severity {
	if inventory.Pieces(p.Count, rotors) < rotors {
		return Misfit
	}
	if r := p.Directions; r != nil && rotors%2 == 0 && min(r.Clockwise, r.Counterclockwise) < rotors/2 {
		return Misfit
	}
	return Fits
}

// Enough counts in pieces whether a drawer's motors and props suffice for a frame's rotors: the
// finding of each that does not, with how many are short.
func Enough(m *inventory.Motor, p *inventory.Prop, f *inventory.Frame) []Finding {
	return countFindings(&inventory.Combination{Motor: m, Prop: p, Frame: f})
}

func countFindings(c *inventory.Combination) []Finding {
	var list []Finding
	add := func(s Severity, code strict.Code, values strict.Values) {
		list = append(list, found(RuleCount, s, code, values))
	}
	none := func(kind, id string) { add(Misfit, "fit.none_left", strict.Values{"kind": kind, "id": id}) }
	if c.Frame != nil {
		rotors := c.Rotors()
		if c.Motor != nil {
			motorCountFindings(c, rotors, add)
		}
		if c.Prop != nil {
			propCountFindings(c, rotors, add)
		}
		if inventory.Pieces(c.Frame.Count, 1) < 1 {
			none("frame", c.Frame.ID)
		}
	}
	if c.Pack != nil && inventory.Pieces(c.Pack.Count, 1) < 1 {
		none("pack", c.Pack.ID)
	}
	if c.Board != nil && inventory.Pieces(c.Board.Count, 1) < 1 {
		none("board", c.Board.ID)
	}
	for _, e := range c.Extras {
		if inventory.Pieces(e.Count, 1) < 1 {
			none(string(e.Role), e.ID)
		}
	}
	return list
}

// adder notes a finding on counts.
type adder func(Severity, strict.Code, strict.Values)

// short is the finding of too few pieces.
func (add adder) short(code strict.Code, frame, id string, takes, has int, more strict.Values) {
	values := strict.Values{"frame": frame, "id": id, "takes": takes, "has": has, "short": takes - has}
	for name, value := range more {
		values[name] = value
	}
	add(Misfit, code, values)
}

func motorCountFindings(c *inventory.Combination, rotors int, add adder) {
	m, f := c.Motor, c.Frame
	if n := inventory.Pieces(m.Count, rotors); n < rotors {
		add.short("fit.few_motors", f.ID, m.ID, rotors, n, nil)
	}
	if m.Mixed == nil {
		return
	}
	a, b := m.Mixed.A, m.Mixed.B
	for _, one := range []*inventory.Motor{a, b} {
		if n := inventory.Pieces(one.Count, rotors); n >= rotors {
			add(Misfit, "fit.set_not_needed", strict.Values{"frame": f.ID, "takes": rotors, "id": one.ID, "has": n, "set": m.ID})
			return
		}
	}
	spread := 100 * m.Mixed.KVSpread
	values := strict.Values{"a": a.ID, "kv_a": strict.Number(a.KV), "b": b.ID, "kv_b": strict.Number(b.KV),
		"spread": fmt.Sprintf("%.1f", spread)}
	switch motorCount(m, rotors) {
	case Misfit:
		if spread >= 100*refuseSpread {
			add(Misfit, "fit.set_apart", with(values, "limit", strict.Number(100*refuseSpread)))
		}
	case Remark:
		add(Remark, "fit.set_uneven", with(values, "limit", strict.Number(100*passSpread)))
	}
}

func propCountFindings(c *inventory.Combination, rotors int, add adder) {
	p, f := c.Prop, c.Frame
	if n := inventory.Pieces(p.Count, rotors); n < rotors {
		add.short("fit.few_props", f.ID, p.ID, rotors, n, nil)
	}
	r := p.Directions
	if r == nil || rotors%2 != 0 {
		return
	}
	half := rotors / 2
	for _, way := range []struct {
		name string
		n    int
	}{{"cw", r.Clockwise}, {"ccw", r.Counterclockwise}} {
		if way.n < half {
			add.short("fit.few_of_direction", f.ID, p.ID, half, way.n, strict.Values{"direction": way.name})
		}
	}
}
