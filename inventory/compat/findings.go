package compat

import "partsaloft/inventory"

// FirstFault is the first rule, in the order of the rules, under which parts of the combination do
// not go together; NoRule if there is none. Parts that are nil are left out, so that it serves for
// pairs as well: Combination{Motor: m, Frame: f}. It builds no text and allocates nothing.
//
// Count needs frame, motor and prop to have pieces enough for the rotors. Fit rules are common
// practice among pilots; none has a standard behind it.
func FirstFault(c *inventory.Combination) Rule {
	switch {
	case countFails(c):
		return RuleCount
	case c.Pack != nil && c.Pack.Retired():
		return RuleWear
	case cellsFail(c):
		return RuleCells
	case c.Motor != nil && c.Frame != nil && holes(c.Motor, c.Frame) == Misfit:
		return RuleHoles
	case c.Motor != nil && c.Prop != nil && (mount(c.Motor, c.Prop) == Misfit || bore(c.Motor, c.Prop) == Misfit):
		return RulePropMount
	case c.Prop != nil && c.Frame != nil && (propInFrame(c.Prop, c.Frame) == Misfit ||
		propBetween(c.Prop, c.Frame) == Misfit):
		return RulePropSize
	case c.Board != nil && c.Frame != nil && stack(c.Board, c.Frame) == Misfit &&
		stackAdapter(c.Board, c.Frame, c.Extras) == nil:
		return RuleStack
	case c.Frame != nil && cameraFails(c):
		return RuleCamera
	}
	return NoRule
}

func countFails(c *inventory.Combination) bool {
	if c.Frame != nil {
		rotors := c.Rotors()
		if c.Motor != nil && motorCount(c.Motor, rotors) == Misfit || c.Prop != nil && propCount(c.Prop, rotors) == Misfit {
			return true
		}
		if inventory.Pieces(c.Frame.Count, 1) < 1 {
			return true
		}
	}
	if c.Pack != nil && inventory.Pieces(c.Pack.Count, 1) < 1 || c.Board != nil && inventory.Pieces(c.Board.Count, 1) < 1 {
		return true
	}
	for _, e := range c.Extras {
		if inventory.Pieces(e.Count, 1) < 1 {
			return true
		}
	}
	return false
}

func cellsFail(c *inventory.Combination) bool {
	if c.Pack == nil {
		return false
	}
	n := c.Pack.Cells
	if c.Motor != nil && motorCells(c.Motor, n) == Misfit || c.Board != nil && cells(c.Board.Cells, n) == Misfit {
		return true
	}
	for _, e := range c.Extras {
		if cells(e.Cells, n) == Misfit {
			return true
		}
	}
	return false
}

func cameraFails(c *inventory.Combination) bool {
	for _, e := range c.Extras {
		if camera(e, c.Frame) == Misfit {
			return true
		}
	}
	return false
}

// Findings is all that the rules of fit have to say of the combination, in the order of the
// rules; parts that are nil are left out.
func Findings(c *inventory.Combination) []Finding {
	var list []Finding
	add := func(f ...Finding) { list = append(list, f...) }
	add(countFindings(c)...)
	add(wearFindings(c)...)
	if c.Pack != nil {
		if c.Motor != nil {
			add(MotorPack(c.Motor, c.Pack)...)
		}
		if c.Board != nil {
			add(BoardPack(c.Board, c.Pack)...)
		}
		for _, e := range c.Extras {
			add(extraPack(e, c.Pack)...)
		}
	}
	if c.Motor != nil && c.Frame != nil {
		add(MotorFrame(c.Motor, c.Frame)...)
	}
	if c.Motor != nil && c.Prop != nil {
		add(PropMotor(c.Prop, c.Motor)...)
	}
	if c.Prop != nil && c.Frame != nil {
		add(PropFrame(c.Prop, c.Frame)...)
	}
	if c.Board != nil && c.Frame != nil {
		add(BoardFrame(c.Board, c.Frame, c.Extras)...)
	}
	if c.Frame != nil {
		for _, e := range c.Extras {
			add(CameraFrame(e, c.Frame)...)
		}
	}
	if c.Pack != nil && c.Board != nil {
		add(PackBoard(c.Pack, c.Board, c.Extras)...)
	}
	if c.Pack != nil && c.Frame != nil {
		add(PackFrame(c.Pack, c.Frame)...)
	}
	return list
}

// Bridges finds owned adapters that the combination lacks: for a stack pattern or a plug that
// does not match, the lightest adapter that joins the two, by id among equals. It returns false
// if board and frame do not go together even so; plugs can be re-soldered. The adapters come on
// top of the combination's own extras.
func Bridges(d *inventory.Drawer, c *inventory.Combination) (adapters []*inventory.Extra, ok bool) {
	ok = true
	if c.Board != nil && c.Frame != nil && stack(c.Board, c.Frame) == Misfit &&
		stackAdapter(c.Board, c.Frame, c.Extras) == nil {
		e := lightest(d, func(e *inventory.Extra) bool { return joinsStack(e, c.Board, c.Frame) })
		if e != nil {
			adapters = append(adapters, e)
		}
		ok = e != nil
	}
	if c.Board != nil && c.Pack != nil && plugsMatch(c.Pack, c.Board) == Misfit &&
		inventory.PlugAdapter(c.Pack, c.Board, c.Extras) == nil {
		if e := lightest(d, func(e *inventory.Extra) bool { return e.JoinsPlugs(c.Pack, c.Board) }); e != nil {
			adapters = append(adapters, e)
		}
	}
	return adapters, ok
}

func lightest(d *inventory.Drawer, joins func(*inventory.Extra) bool) *inventory.Extra {
	var best *inventory.Extra
	for i := range d.Extras {
		e := &d.Extras[i]
		if !joins(e) || inventory.Pieces(e.Count, 1) < 1 {
			continue
		}
		if best == nil || e.MassG < best.MassG || e.MassG == best.MassG && e.ID < best.ID {
			best = e
		}
	}
	return best
}

// Build is the craft that parts name: with the extras that they list, or where they leave extras out (nil, not empty),
// with those that go along and the adapters that it needs. The error is an inventory.Faults of ids that are not there.
func Build(d *inventory.Drawer, named *inventory.Parts) (inventory.Combination, error) {
	c, err := d.Combination(named)
	if err != nil || named.Extras != nil {
		return c, err
	}
	c.Extras = d.Following(c.Frame, c.Board)
	c.Extras = append(c.Extras, d.GoingAlong(&c)...)
	adapters, _ := Bridges(d, &c)
	c.Extras = append(c.Extras, adapters...)
	c.SortExtras()
	return c, nil
}
