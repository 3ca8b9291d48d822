package check

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Gap is a key that a part leaves out and that something is estimated for meanwhile.
type Gap struct {
	Kind inventory.Kind
	ID   string
	Path string // of the part in its file
	Key  string // with its companion, if it needs one: no_load_a
	Unit string
	At   string // what the estimate holds at, "" if it holds by itself: 7.4 V
	// Value is the estimate in the key's unit, LnSD the standard deviation of its logarithm. Both are 0
	// for a measurement that has no single value: a prop's bench, blade_stations and hover_rpm.
	Value, LnSD float64
	fill        func(*inventory.Combination)
}

// Effort is what it takes to close a gap: from 0, a scale or a sheet, over a meter or charger, a hover of a weighed
// craft and ruler or caliper, to 4, a thrust stand (judgement).
func (g *Gap) Effort() int {
	switch g.Key {
	case "mass_g", "resistance_mohm":
		return 0
	case "cell_resistance_mohm", "power_w", "no_load_a":
		return 1
	case HoverSpeedKey:
		return 2
	case "bench":
		return 4
	}
	return 3
}

// HoverSpeedKey is the key of a gap that an entry of the log closes: rotor speed in hover at a known weight.
const HoverSpeedKey = "hover_rpm"

// Interval is the estimate's range that holds in eight cases of ten.
func (g *Gap) Interval() (low, high float64) {
	const tenPercentPoint = 1.2816 // of the standard normal distribution
	return g.Value * math.Exp(-tenPercentPoint*g.LnSD), g.Value * math.Exp(tenPercentPoint*g.LnSD)
}

// Fill gives the key to the combination's part at the estimate, as if it had been measured and found so;
// combinations without the part stay as they are. Parts are copied, not changed.
func (g *Gap) Fill(c *inventory.Combination) { g.fill(c) }

// Gaps lists what the drawer leaves out, by kind and part in the drawer's order.
func Gaps(d *inventory.Drawer) []Gap {
	var list []Gap
	for item := range d.All() {
		switch p := item.(type) {
		case *inventory.Motor:
			list = append(list, motorGaps(p)...)
		case *inventory.Prop:
			list = append(list, propGaps(d, p)...)
		case *inventory.Pack:
			list = append(list, packGaps(p)...)
		case *inventory.Frame:
			list = append(list, frameGaps(p)...)
		case *inventory.Board:
			list = append(list, boardGaps(p)...)
		case *inventory.Extra:
			list = append(list, extraGaps(p)...)
		}
	}
	return list
}

// gapOf is a gap with an estimate in SI units, the key's unit being perSI of them.
func gapOf(kind inventory.Kind, id, path, key, unit string, e uncertain.Estimate, perSI float64,
	fill func(*inventory.Combination, float64)) Gap {
	value := e.Value * perSI
	return Gap{Kind: kind, ID: id, Path: path, Key: key, Unit: unit, Value: value, LnSD: e.LnSD,
		fill: func(c *inventory.Combination) { fill(c, value) }}
}

func motorGaps(m *inventory.Motor) []Gap {
	var list []Gap
	si := m.SI()
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*inventory.Motor, float64)) {
		list = append(list, gapOf(inventory.KindMotor, m.ID, m.Path, key, unit, e, perSI,
			func(c *inventory.Combination, x float64) { fillMotor(c, m.ID, x, set) }))
	}
	if m.MassG == nil {
		add("mass_g", "g", si.Mass, 1000, func(m *inventory.Motor, x float64) { m.MassG = &x })
	}
	if m.ResistanceMohm == nil {
		add("resistance_mohm", "milliohm", si.Resistance, 1000, func(m *inventory.Motor, x float64) { m.ResistanceMohm = &x })
	}
	if m.NoLoadA == nil {
		volts := noLoadVolts(m)
		law := physics.DefaultMotorLaw()
		perA := law.NoLoadTorque(1, si.TorqueConstant.Value).Value
		add("no_load_a", "A", si.Loss, 1/perA, func(m *inventory.Motor, x float64) { m.NoLoadA, m.NoLoadV = &x, &volts })
		list[len(list)-1].At = strict.Number(volts).String() + " V"
	}
	return list
}

// noLoadVolts is a voltage that a motor is commonly tried at without a load: 3.7 V for each of the cells
// that it is made for, or 10 V.
func noLoadVolts(m *inventory.Motor) float64 {
	if m.Cells != nil {
		return 3.7 * float64(m.Cells.Max)
	}
	return 10
}

// fillMotor sets a key of a motor, be it half of a mixed set.
func fillMotor(c *inventory.Combination, id string, x float64, set func(*inventory.Motor, float64)) {
	change := func(m *inventory.Motor) *inventory.Motor {
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
		if mixed, err := inventory.Mixed(change(c.Motor.Mixed.A), change(c.Motor.Mixed.B)); err == nil {
			c.Motor = mixed
		}
	}
}

func propGaps(d *inventory.Drawer, p *inventory.Prop) []Gap {
	var list []Gap
	fill := func(set func(*inventory.Prop)) func(*inventory.Combination) {
		return func(c *inventory.Combination) {
			if c.Prop != nil && c.Prop.ID == p.ID {
				copied := *c.Prop
				set(&copied)
				c.Prop = &copied
			}
		}
	}
	if p.PitchEstimated {
		list = append(list, Gap{Kind: inventory.KindProp, ID: p.ID, Path: p.Path, Key: "pitch_in", Unit: "in",
			Value: p.PitchIn, LnSD: rotor.UnknownPitchLnSD, fill: fill(func(p *inventory.Prop) { p.PitchEstimated = false })})
	}
	if p.MassG == nil {
		e := rotor.EstimateMass(p.DiameterIn*inventory.MmPerInch/1000, p.PitchIn*inventory.MmPerInch/1000, p.Blades)
		grams := e.Value * 1000
		list = append(list, Gap{Kind: inventory.KindProp, ID: p.ID, Path: p.Path, Key: "mass_g", Unit: "g", Value: grams,
			LnSD: e.LnSD, fill: fill(func(p *inventory.Prop) { p.MassG = &grams })})
	}
	if !p.HasBench() && !slices.ContainsFunc(d.Log, func(e inventory.LogEntry) bool {
		return e.HoverRPM != nil && e.Parts.Prop == p.ID
	}) {
		// At a known weight it is a bench point without torque.
		list = append(list, Gap{Kind: inventory.KindProp, ID: p.ID, Path: p.Path, Key: HoverSpeedKey,
			fill: fill(func(p *inventory.Prop) {
				p.Bench = append(slices.Clone(p.Bench), inventory.PropBench{RPM: 15000, ThrustG: 50})
			})})
	}
	if !p.HasBench() {
		// The values do not matter: only what the prop's doubt becomes is asked.
		list = append(list, Gap{Kind: inventory.KindProp, ID: p.ID, Path: p.Path, Key: "bench",
			fill: fill(func(p *inventory.Prop) {
				p.Bench = append(slices.Clone(p.Bench), inventory.PropBench{RPM: 20000, ThrustG: 100})
			})})
	}
	if !hasAngle(p) {
		radiusMm, angle := 0.75*p.DiameterIn*inventory.MmPerInch/2, 15.0
		list = append(list, Gap{Kind: inventory.KindProp, ID: p.ID, Path: p.Path, Key: "blade_stations",
			fill: fill(func(p *inventory.Prop) {
				p.Stations = append(slices.Clone(p.Stations), inventory.BladeStation{RadiusMm: radiusMm, ChordMm: radiusMm / 4,
					AngleDeg: &angle})
			})})
	}
	return list
}

func hasAngle(p *inventory.Prop) bool {
	return slices.ContainsFunc(p.Stations, func(s inventory.BladeStation) bool { return s.AngleDeg != nil })
}

func packGaps(p *inventory.Pack) []Gap {
	var list []Gap
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*inventory.Pack, float64)) {
		list = append(list, gapOf(inventory.KindPack, p.ID, p.Path, key, unit, e, perSI,
			func(c *inventory.Combination, x float64) {
				if c.Pack != nil && c.Pack.ID == p.ID {
					copied := *c.Pack
					set(&copied, x)
					c.Pack = &copied
				}
			}))
	}
	chemistry, capacityAh := p.Chemistry.SI(), p.CapacityMAh/1000
	if p.MassG == nil {
		add("mass_g", "g", physics.EstimatePackMass(chemistry, p.Cells, capacityAh), 1000,
			func(p *inventory.Pack, x float64) { p.MassG = &x })
	}
	if p.CellResistanceMohm == nil {
		add("cell_resistance_mohm", "milliohm", physics.EstimatePackResistance(chemistry, p.Cells, capacityAh,
			p.CycleCount()), 1000/float64(p.Cells),
			func(p *inventory.Pack, x float64) { p.CellResistanceMohm = &x })
	}
	return list
}

func frameGaps(f *inventory.Frame) []Gap {
	var list []Gap
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*inventory.Frame, float64)) {
		list = append(list, gapOf(inventory.KindFrame, f.ID, f.Path, key, unit, e, perSI,
			func(c *inventory.Combination, x float64) {
				if c.Frame != nil && c.Frame.ID == f.ID {
					copied := *c.Frame
					set(&copied, x)
					c.Frame = &copied
				}
			}))
	}
	if f.MassG == nil {
		add("mass_g", "g", f.Mass(), 1000, func(f *inventory.Frame, x float64) { f.MassG = &x })
	}
	if f.DragAreaCm2 == nil {
		add("drag_area_cm2", "cm²", f.DragArea(), 1e4, func(f *inventory.Frame, x float64) { f.DragAreaCm2 = &x })
	}
	return list
}

func boardGaps(b *inventory.Board) []Gap {
	var list []Gap
	add := func(key, unit string, e uncertain.Estimate, perSI float64, set func(*inventory.Board, float64)) {
		list = append(list, gapOf(inventory.KindBoard, b.ID, b.Path, key, unit, e, perSI,
			func(c *inventory.Combination, x float64) {
				if c.Board != nil && c.Board.ID == b.ID {
					copied := *c.Board
					set(&copied, x)
					c.Board = &copied
				}
			}))
	}
	if b.MassG == nil {
		add("mass_g", "g", physics.EstimateBoardMass(b.EscCurrentA), 1000,
			func(b *inventory.Board, x float64) { b.MassG = &x })
	}
	if b.PowerW == nil {
		add("power_w", "W", b.Power(), 1, func(b *inventory.Board, x float64) { b.PowerW = &x })
	}
	return list
}

func extraGaps(e *inventory.Extra) []Gap {
	power := e.Power()
	if e.PowerW != nil || power.Value == 0 {
		return nil
	}
	return []Gap{gapOf(inventory.KindExtra, e.ID, e.Path, "power_w", "W", power, 1,
		func(c *inventory.Combination, x float64) {
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
