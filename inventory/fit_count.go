package inventory

import "fmt"

// motorCount says whether there are motors enough for the rotors. A mixed set is refused when its
// kV differ too much, or when one of its kinds would do alone.
func motorCount(m *Motor, rotors int) Severity {
	switch {
	case pieces(m.Count, rotors) < rotors:
		return Misfit
	case m.Mixed == nil:
		return Fits
	case m.Mixed.KVSpread >= refuseSpread || pieces(m.Mixed.A.Count, rotors) >= rotors || pieces(m.Mixed.B.Count, rotors) >= rotors:
		return Misfit
	case m.Mixed.KVSpread > passSpread:
		return Remark
	}
	return Fits
}

// propCount says whether there are props enough for the rotors, and half of them for each
// direction if the directions are known. An odd number of rotors asks for no direction.
func propCount(p *Prop, rotors int) Severity {
	if pieces(p.Count, rotors) < rotors {
		return Misfit
	}
	if r := p.Directions; r != nil && rotors%2 == 0 && min(r.Clockwise, r.Counterclockwise) < rotors/2 {
		return Misfit
	}
	return Fits
}

// Enough counts in pieces whether a drawer's motors and props suffice for a frame's rotors: the
// finding of each that does not, with how many are short.
func Enough(m *Motor, p *Prop, f *Frame) []Finding {
	c := Combination{Motor: m, Prop: p, Frame: f}
	return c.countFindings()
}

func (c *Combination) countFindings() []Finding {
	var found []Finding
	add := func(s Severity, format string, args ...any) {
		found = append(found, Finding{RuleCount, s, fmt.Sprintf(format, args...)})
	}
	if c.Frame != nil {
		rotors := c.Rotors()
		if c.Motor != nil {
			c.motorCountFindings(rotors, add)
		}
		if c.Prop != nil {
			c.propCountFindings(rotors, add)
		}
		if pieces(c.Frame.Count, 1) < 1 {
			add(Misfit, "of frame %s there are 0, a craft takes 1: one more mends it", c.Frame.ID)
		}
	}
	if c.Pack != nil && pieces(c.Pack.Count, 1) < 1 {
		add(Misfit, "of pack %s there are 0, a craft takes 1: one more mends it", c.Pack.ID)
	}
	if c.Board != nil && pieces(c.Board.Count, 1) < 1 {
		add(Misfit, "of board %s there are 0, a craft takes 1: one more mends it", c.Board.ID)
	}
	for _, e := range c.Extras {
		if pieces(e.Count, 1) < 1 {
			add(Misfit, "of %s %s there are 0, a craft takes 1: one more mends it", e.Role, e.ID)
		}
	}
	return found
}

func (c *Combination) motorCountFindings(rotors int, add func(Severity, string, ...any)) {
	m, f := c.Motor, c.Frame
	if n := pieces(m.Count, rotors); n < rotors {
		add(Misfit, "frame %s takes %d motors, of %s there are %d: %d more %s it", f.ID, rotors, m.ID, n, rotors-n, mend(rotors-n))
	}
	if m.Mixed == nil {
		return
	}
	a, b := m.Mixed.A, m.Mixed.B
	for _, one := range []*Motor{a, b} {
		if n := pieces(one.Count, rotors); n >= rotors {
			add(Misfit, "frame %s takes %d motors and of %s alone there are %d: no mixed set with %s is needed", f.ID, rotors, one.ID, n, m.ID)
			return
		}
	}
	switch spread := 100 * m.Mixed.KVSpread; motorCount(m, rotors) {
	case Misfit:
		if spread >= 100*refuseSpread {
			add(Misfit, "motors %s (%s rpm/V) and %s (%s rpm/V) are %.1f %% apart in kV, %g %% or more is too much for one craft: make the set of one kind", a.ID, number(a.KV), b.ID, number(b.KV), spread, 100*refuseSpread)
		}
	case Remark:
		add(Remark, "motors %s (%s rpm/V) and %s (%s rpm/V) are %.1f %% apart in kV: over %g %% one pair works harder and gets hotter", a.ID, number(a.KV), b.ID, number(b.KV), spread, 100*passSpread)
	}
}

func (c *Combination) propCountFindings(rotors int, add func(Severity, string, ...any)) {
	p, f := c.Prop, c.Frame
	if n := pieces(p.Count, rotors); n < rotors {
		add(Misfit, "frame %s takes %d props, of %s there are %d: %d more %s it", f.ID, rotors, p.ID, n, rotors-n, mend(rotors-n))
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
			add(Misfit, "frame %s takes %d props of each direction, of %s there are %d %s: %d more %s it", f.ID, half, p.ID, way.n, way.name, half-way.n, mend(half-way.n))
		}
	}
}

func mend(n int) string {
	if n == 1 {
		return "mends"
	}
	return "mend"
}
