package inventory

import (
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Gap is a key that a part leaves out and that something is estimated for meanwhile.
type Gap struct {
	Kind Kind
	ID   string
	Path string // of the part in its file
	Key  string // with its companion, if it needs one: no_load_a
	Unit string
	At   string // what the estimate holds at, "" if it holds by itself: 7.4 V
	// Value is the estimate in the key's unit, LnSD the standard deviation of its logarithm. Both are 0
	// for a measurement that has no single value: a prop's bench and blade_stations.
	Value, LnSD float64
	fill        func(*Combination)
}

// Interval is the estimate's range that holds in eight cases of ten.
func (g *Gap) Interval() (low, high float64) {
	const tenPercentPoint = 1.2816 // of the standard normal distribution
	return g.Value * math.Exp(-tenPercentPoint*g.LnSD), g.Value * math.Exp(tenPercentPoint*g.LnSD)
}

// Fill gives the key to the combination's part at the estimate, as if it had been measured and found so;
// combinations without the part stay as they are. Parts are copied, not changed.
func (g *Gap) Fill(c *Combination) { g.fill(c) }

// Gaps lists what the drawer leaves out, by kind and part in the drawer's order.
func (d *Drawer) Gaps() []Gap {
	var list []Gap
	for item := range d.All() {
		switch p := item.(type) {
		case *Motor:
			list = append(list, p.gaps()...)
		case *Prop:
			list = append(list, p.gaps()...)
		case *Pack:
			list = append(list, p.gaps()...)
		case *Frame:
			list = append(list, p.gaps()...)
		case *Board:
			list = append(list, p.gaps()...)
		case *Extra:
			list = append(list, p.gaps()...)
		}
	}
	return list
}

// gapOf is a gap with an estimate in SI units, the key's unit being perSI of them.
func gapOf(kind Kind, id, path, key, unit string, e uncertain.Estimate, perSI float64, fill func(*Combination, float64)) Gap {
	value := e.Value * perSI
	return Gap{Kind: kind, ID: id, Path: path, Key: key, Unit: unit, Value: value, LnSD: e.LnSD, fill: func(c *Combination) { fill(c, value) }}
}

func (m *Motor) gaps() []Gap {
	var list []Gap
	si := m.SI()
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*Motor, float64)) {
		list = append(list, gapOf(KindMotor, m.ID, m.Path, key, unit, e, perSI, func(c *Combination, x float64) { fillMotor(c, m.ID, x, set) }))
	}
	if m.MassG == nil {
		add("mass_g", "g", si.Mass, 1000, func(m *Motor, x float64) { m.MassG = &x })
	}
	if m.ResistanceMohm == nil {
		add("resistance_mohm", "milliohm", si.Resistance, 1000, func(m *Motor, x float64) { m.ResistanceMohm = &x })
	}
	if m.NoLoadA == nil {
		volts := noLoadVolts(m)
		law := physics.DefaultMotorLaw()
		perA := law.NoLoadTorque(1, si.TorqueConstant.Value).Value
		add("no_load_a", "A", si.Loss, 1/perA, func(m *Motor, x float64) { m.NoLoadA, m.NoLoadV = &x, &volts })
		list[len(list)-1].At = number(volts) + " V"
	}
	return list
}

// noLoadVolts is a voltage that a motor is commonly tried at without a load: 3.7 V for each of the cells
// that it is made for, or 10 V.
func noLoadVolts(m *Motor) float64 {
	if m.Cells != nil {
		return 3.7 * float64(m.Cells.Max)
	}
	return 10
}

// fillMotor sets a key of a motor, be it half of a mixed set.
func fillMotor(c *Combination, id string, x float64, set func(*Motor, float64)) {
	change := func(m *Motor) *Motor {
		if m.ID != id {
			return m
		}
		copied := *m
		set(&copied, x)
		return &copied
	}
	switch {
	case c.Motor == nil:
	case c.Motor.Mixed == nil:
		c.Motor = change(c.Motor)
	case c.Motor.Mixed.A.ID == id || c.Motor.Mixed.B.ID == id:
		if mixed, err := Mixed(change(c.Motor.Mixed.A), change(c.Motor.Mixed.B)); err == nil {
			c.Motor = mixed
		}
	}
}

func (p *Prop) gaps() []Gap {
	var list []Gap
	fill := func(set func(*Prop)) func(*Combination) {
		return func(c *Combination) {
			if c.Prop != nil && c.Prop.ID == p.ID {
				copied := *c.Prop
				set(&copied)
				c.Prop = &copied
			}
		}
	}
	if p.MassG == nil {
		e := rotor.EstimateMass(p.DiameterIn*mmPerInch/1000, p.PitchIn*mmPerInch/1000, p.Blades)
		grams := e.Value * 1000
		list = append(list, Gap{Kind: KindProp, ID: p.ID, Path: p.Path, Key: "mass_g", Unit: "g", Value: grams, LnSD: e.LnSD, fill: fill(func(p *Prop) { p.MassG = &grams })})
	}
	if len(p.Bench)+len(p.stand) == 0 {
		// The values do not matter: only what the prop's doubt becomes is asked.
		list = append(list, Gap{Kind: KindProp, ID: p.ID, Path: p.Path, Key: "bench", fill: fill(func(p *Prop) {
			p.Bench = append(slices.Clone(p.Bench), PropBench{RPM: 20000, ThrustG: 100})
		})})
	}
	if !p.hasAngle() {
		radiusMm, angle := 0.75*p.DiameterIn*mmPerInch/2, 15.0
		list = append(list, Gap{Kind: KindProp, ID: p.ID, Path: p.Path, Key: "blade_stations", fill: fill(func(p *Prop) {
			p.Stations = append(slices.Clone(p.Stations), BladeStation{RadiusMm: radiusMm, ChordMm: radiusMm / 4, AngleDeg: &angle})
		})})
	}
	return list
}

func (p *Prop) hasAngle() bool {
	return slices.ContainsFunc(p.Stations, func(s BladeStation) bool { return s.AngleDeg != nil })
}

func (p *Pack) gaps() []Gap {
	var list []Gap
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*Pack, float64)) {
		list = append(list, gapOf(KindPack, p.ID, p.Path, key, unit, e, perSI, func(c *Combination, x float64) {
			if c.Pack != nil && c.Pack.ID == p.ID {
				copied := *c.Pack
				set(&copied, x)
				c.Pack = &copied
			}
		}))
	}
	chemistry, capacityAh := p.Chemistry.si(), p.CapacityMAh/1000
	if p.MassG == nil {
		add("mass_g", "g", physics.EstimatePackMass(chemistry, p.Cells, capacityAh), 1000, func(p *Pack, x float64) { p.MassG = &x })
	}
	if p.CellResistanceMohm == nil {
		add("cell_resistance_mohm", "milliohm", physics.EstimatePackResistance(chemistry, p.Cells, capacityAh, p.cycleCount()), 1000/float64(p.Cells),
			func(p *Pack, x float64) { p.CellResistanceMohm = &x })
	}
	return list
}

func (f *Frame) gaps() []Gap {
	if f.DragAreaCm2 != nil {
		return nil
	}
	return []Gap{gapOf(KindFrame, f.ID, f.Path, "drag_area_cm2", "cm²", f.dragArea(), 1e4, func(c *Combination, x float64) {
		if c.Frame != nil && c.Frame.ID == f.ID {
			copied := *c.Frame
			copied.DragAreaCm2 = &x
			c.Frame = &copied
		}
	})}
}

func (b *Board) gaps() []Gap {
	var list []Gap
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*Board, float64)) {
		list = append(list, gapOf(KindBoard, b.ID, b.Path, key, unit, e, perSI, func(c *Combination, x float64) {
			if c.Board != nil && c.Board.ID == b.ID {
				copied := *c.Board
				set(&copied, x)
				c.Board = &copied
			}
		}))
	}
	if b.MassG == nil {
		add("mass_g", "g", physics.EstimateBoardMass(b.EscCurrentA), 1000, func(b *Board, x float64) { b.MassG = &x })
	}
	if b.PowerW == nil {
		add("power_w", "W", b.power(), 1, func(b *Board, x float64) { b.PowerW = &x })
	}
	return list
}

func (e *Extra) gaps() []Gap {
	power := e.power()
	if e.PowerW != nil || power.Value == 0 {
		return nil
	}
	return []Gap{gapOf(KindExtra, e.ID, e.Path, "power_w", "W", power, 1, func(c *Combination, x float64) {
		for i := range c.Extras {
			if c.Extras[i].ID == e.ID {
				c.Extras = slices.Clone(c.Extras)
				copied := *c.Extras[i]
				copied.PowerW = &x
				c.Extras[i] = &copied
			}
		}
	})}
}
