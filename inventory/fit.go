package inventory

// FirstFault is the first rule, in the order of the rules, under which parts of the combination do
// not go together; NoRule if there is none. Parts that are nil are left out, so that it serves for
// pairs as well: Combination{Motor: m, Frame: f}. It builds no text and allocates nothing.
//
// Count needs frame, motor and prop to have pieces enough for the rotors. Fit rules are common
// practice among pilots; none has a standard behind it.
func (c *Combination) FirstFault() Rule {
	switch {
	case c.countFails():
		return RuleCount
	case c.Pack != nil && c.Pack.Retired():
		return RuleWear
	case c.cellsFail():
		return RuleCells
	case c.Motor != nil && c.Frame != nil && holes(c.Motor, c.Frame) == Misfit:
		return RuleHoles
	case c.Motor != nil && c.Prop != nil && (mount(c.Motor, c.Prop) == Misfit || bore(c.Motor, c.Prop) == Misfit):
		return RulePropMount
	case c.Prop != nil && c.Frame != nil && (propInFrame(c.Prop, c.Frame) == Misfit || propBetween(c.Prop, c.Frame) == Misfit):
		return RulePropSize
	case c.Board != nil && c.Frame != nil && stack(c.Board, c.Frame) == Misfit && stackAdapter(c.Board, c.Frame, c.Extras) == nil:
		return RuleStack
	case c.Frame != nil && c.cameraFails():
		return RuleCamera
	}
	return NoRule
}

func (c *Combination) countFails() bool {
	if c.Frame != nil {
		rotors := c.Rotors()
		if c.Motor != nil && motorCount(c.Motor, rotors) == Misfit || c.Prop != nil && propCount(c.Prop, rotors) == Misfit {
			return true
		}
		if pieces(c.Frame.Count, 1) < 1 {
			return true
		}
	}
	if c.Pack != nil && pieces(c.Pack.Count, 1) < 1 || c.Board != nil && pieces(c.Board.Count, 1) < 1 {
		return true
	}
	for _, e := range c.Extras {
		if pieces(e.Count, 1) < 1 {
			return true
		}
	}
	return false
}

func (c *Combination) cellsFail() bool {
	if c.Pack == nil {
		return false
	}
	n := c.Pack.Cells
	if c.Motor != nil && cells(c.Motor.Cells, n) == Misfit || c.Board != nil && cells(c.Board.Cells, n) == Misfit {
		return true
	}
	for _, e := range c.Extras {
		if cells(e.Cells, n) == Misfit {
			return true
		}
	}
	return false
}

func (c *Combination) cameraFails() bool {
	for _, e := range c.Extras {
		if camera(e, c.Frame) == Misfit {
			return true
		}
	}
	return false
}

// Findings is all that the rules of fit have to say of the combination, in the order of the
// rules; parts that are nil are left out.
func (c *Combination) Findings() []Finding {
	var found []Finding
	add := func(f ...Finding) { found = append(found, f...) }
	add(c.countFindings()...)
	add(c.wearFindings()...)
	if c.Pack != nil {
		if c.Motor != nil {
			add(motorCells(c.Motor, c.Pack)...)
		}
		if c.Board != nil {
			add(boardCells(c.Board, c.Pack)...)
		}
		for _, e := range c.Extras {
			add(extraCells(e, c.Pack)...)
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
	return found
}

// Bridges finds owned adapters that the combination lacks: for a stack pattern or a plug that
// does not match, the lightest adapter that joins the two, by id among equals. It returns false
// if board and frame do not go together even so; plugs can be re-soldered. The adapters come on
// top of the combination's own extras.
func (d *Drawer) Bridges(c *Combination) (adapters []*Extra, ok bool) {
	ok = true
	if c.Board != nil && c.Frame != nil && stack(c.Board, c.Frame) == Misfit && stackAdapter(c.Board, c.Frame, c.Extras) == nil {
		e := d.lightest(func(e *Extra) bool { return joinsStack(e, c.Board, c.Frame) })
		if e != nil {
			adapters = append(adapters, e)
		}
		ok = e != nil
	}
	if c.Board != nil && c.Pack != nil && plugsMatch(c.Pack, c.Board) == Misfit && plugAdapter(c.Pack, c.Board, c.Extras) == nil {
		if e := d.lightest(func(e *Extra) bool { return joinsPlugs(e, c.Pack, c.Board) }); e != nil {
			adapters = append(adapters, e)
		}
	}
	return adapters, ok
}

func (d *Drawer) lightest(joins func(*Extra) bool) *Extra {
	var best *Extra
	for i := range d.Extras {
		e := &d.Extras[i]
		if !joins(e) || pieces(e.Count, 1) < 1 {
			continue
		}
		if best == nil || e.MassG < best.MassG || e.MassG == best.MassG && e.ID < best.ID {
			best = e
		}
	}
	return best
}
