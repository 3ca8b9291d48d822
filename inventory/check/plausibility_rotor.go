package check

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// How far a figure may be from what a law expects before it is called unlikely, as a factor either way.
// Of 134 motors in makers' sheets, 58 packs and 36 weighed props (an open academic corpus and others'
// tables) 4 % or fewer fall out under any of these.
const (
	motorMassFactor = 1.7
	propMassFactor  = 2.0
)

// Bounds on motors. Torque at the largest current over mass, printed winding and no-load loss over what
// the laws of mass expect lie within these in makers' sheets (1102 to 8017 stators, pancakes included).
const (
	lowWindingOhm, highWindingOhm         = 0.013, 1.32 // by the law; outside, the kV is unusual for the stator
	lowPrintedWinding, highPrintedWinding = 0.15, 2.8   // printed over the law's
	lowNoLoad, highNoLoad                 = 0.16, 3.2   // no-load current over that of the law's loss
	lowTorquePerKg, highTorquePerKg       = 1.3, 12.9   // N m of one kg of motor at the largest current
)

// motor remarks on a motor; without a drawer its benches are left out.
func motor(n *notes, m *inventory.Motor, d *inventory.Drawer) {
	whose := "motor " + m.ID
	motorLaw := physics.DefaultMotorLaw()
	law := motorLaw.Mass(m.StatorDiameterMm/1000, m.StatorHeightMm/1000)
	massKg := law.Value
	if m.MassG != nil {
		if off(*m.MassG/1000, law.Value, motorMassFactor) {
			n.add(m.Origin, "mass_g", "check.motor_mass", strict.Values{"id": m.ID, "got": strict.Number(*m.MassG),
				"stator": m.Stator, "usual": strict.Digits(law.Value*1000, 2)})
		} else {
			massKg = *m.MassG / 1000
		}
	}
	torqueConstant := motorLaw.TorqueConstant(m.KV).Value
	winding := motorLaw.Winding(torqueConstant, massKg).Value
	if winding < lowWindingOhm || winding > highWindingOhm {
		low, high := m.KV*math.Sqrt(winding/highWindingOhm), m.KV*math.Sqrt(winding/lowWindingOhm)
		n.add(m.Origin, "kv", "check.kv", strict.Values{"id": m.ID, "got": strict.Number(m.KV), "stator": m.Stator,
			"low": strict.Digits(low, 2), "high": strict.Digits(high, 2)})
	} else {
		currents(n, m, torqueConstant, winding, massKg)
	}
	if m.ShaftMm != nil && m.StatorDiameterMm < 30 {
		n.outside(m.Origin, "shaft_mm", whose, *m.ShaftMm, usual{0.8, 6.5, "mm", group("of.stator", "stator", m.Stator)})
	}
	for _, x := range m.HolePatternMm {
		if n.outside(m.Origin, "hole_pattern_mm", whose, x, usual{0.4 * m.StatorDiameterMm, 1.5 * m.StatorDiameterMm, "mm",
			group("of.stator", "stator", m.Stator)}) {
			break
		}
	}
	if m.Poles != nil {
		n.outside(m.Origin, "poles", whose, float64(*m.Poles), usual{6, 42, "", group("of.motors")})
	}
	n.count(m.Origin, whose, m.Count, mostMotors)
	if d == nil {
		return
	}
	for i := range m.Bench {
		b := &m.Bench[i]
		p := d.Prop(b.Prop)
		if p == nil {
			problem := inventory.UnknownID("check.bench_prop", b.Prop, d.IDs(inventory.KindProp))
			n.problem(b.Origin, "prop", problem)
			continue
		}
		motorBench(n, b, m, p)
	}
}

// currents remarks on resistance and currents of a motor whose kV is usual.
func currents(n *notes, m *inventory.Motor, torqueConstant, winding, massKg float64) {
	if r := m.ResistanceMohm; r != nil && (*r/1000 < lowPrintedWinding*winding || *r/1000 > highPrintedWinding*winding) {
		n.add(m.Origin, "resistance_mohm", "check.winding", strict.Values{"id": m.ID, "got": strict.Number(*r),
			"stator": m.Stator, "kv": strict.Number(m.KV), "usual": strict.Digits(winding*1000, 2)})
	}
	limits := usual{lowTorquePerKg * massKg / torqueConstant, highTorquePerKg * massKg / torqueConstant, "A",
		group("of.motor", "stator", m.Stator, "kv", strict.Number(m.KV))}
	if m.MaxCurrentA != nil && n.outside(m.Origin, "max_current_a", "motor "+m.ID, *m.MaxCurrentA, limits) &&
		*m.MaxCurrentA > limits.high {
		n.burns()
	}
	switch {
	case m.NoLoadA == nil:
	case m.MaxCurrentA != nil && *m.NoLoadA > *m.MaxCurrentA/4:
		n.add(m.Origin, "no_load_a", "check.no_load", strict.Values{"id": m.ID, "got": strict.Number(*m.NoLoadA),
			"most": strict.Number(*m.MaxCurrentA)})
	default:
		motorLaw := physics.DefaultMotorLaw()
		expected := motorLaw.LossTorque(massKg).Value / motorLaw.NoLoadTorque(1, torqueConstant).Value
		n.outside(m.Origin, "no_load_a", "motor "+m.ID, *m.NoLoadA, usual{lowNoLoad * expected, highNoLoad * expected, "A",
			limits.of})
	}
	if m.NoLoadV != nil {
		n.outside(m.Origin, "no_load_v", "motor "+m.ID, *m.NoLoadV, usual{3, 26, "V", group("of.tried")})
	}
}

// Bounds on readings of rotors. Thrust and torque coefficients of 2 to 9 inch props at rest lie within
// (UIUC Propeller Database, vols. 1-3: CT 0.05 to 0.2, CP 0.02 to 0.15); ideal power over electric power of
// motors with props lies from 0.15 to 0.65 on thrust stands.
const (
	lowCT, highCT         = 0.033, 0.33
	lowCP, highCP         = 0.015, 0.30
	lowFigure, highFigure = 0.08, 0.80
)

const seaLevelKgM3 = 1.225

// motorBench remarks on a reading with a prop: rpm against what the voltage can turn, thrust against rpm, current
// against thrust.
func motorBench(n *notes, b *inventory.MotorBench, m *inventory.Motor, p *inventory.Prop) {
	whose := "the reading with prop " + p.ID
	throttle := b.ThrottlePct / 100
	if b.RPM != nil {
		free := m.KV * b.Volts
		of := group("of.speed", "kv", strict.Number(m.KV), "volts", strict.Number(b.Volts), "throttle",
			strict.Number(b.ThrottlePct))
		if n.outside(b.Origin, "rpm", whose, *b.RPM, usual{0.3 * throttle * free, min(1.05, 1.3*math.Sqrt(throttle)) * free,
			"rpm", of}) {
			return
		}
	}
	if b.ThrustG == nil {
		return
	}
	thrustN := *b.ThrustG / 1000 * physics.GravityMS2
	if b.RPM != nil && n.outside(b.Origin, "thrust_g", whose, *b.ThrustG, usualThrust(p, *b.RPM)) {
		return
	}
	if b.CurrentA != nil {
		diameterM := p.DiameterIn * inventory.MmPerInch / 1000
		idealW := thrustN * math.Sqrt(thrustN/(2*seaLevelKgM3*math.Pi/4*diameterM*diameterM))
		n.outside(b.Origin, "current_a", whose, *b.CurrentA, usual{idealW / highFigure / b.Volts,
			idealW / lowFigure / b.Volts, "A", group("of.current", "thrust", strict.Number(*b.ThrustG), "volts",
				strict.Number(b.Volts))})
	}
}

// usualThrust is the range of thrusts in g that such a prop gives at rest.
func usualThrust(p *inventory.Prop, rpm float64) usual {
	revs, diameterM := rpm/60, p.DiameterIn*inventory.MmPerInch/1000
	grams := seaLevelKgM3 * revs * revs * math.Pow(diameterM, 4) / physics.GravityMS2 * 1000
	return usual{lowCT * grams, highCT * grams, "g", group("of.thrust", "inches", strict.Digits(p.DiameterIn, 4), "rpm",
		strict.Number(rpm))}
}

// prop remarks on a prop.
func prop(n *notes, p *inventory.Prop) {
	whose := "prop " + p.ID
	if p.MassG != nil {
		law := rotor.EstimateMass(p.DiameterIn*inventory.MmPerInch/1000, p.PitchIn*inventory.MmPerInch/1000,
			p.Blades).Value * 1000
		if off(*p.MassG, law, propMassFactor) {
			n.add(p.Origin, "mass_g", "check.prop_mass", strict.Values{"id": p.ID, "got": strict.Number(*p.MassG),
				"usual": strict.Digits(law, 2)})
		}
	}
	switch ratio := p.PitchIn / p.DiameterIn; {
	case ratio > 1.4:
		n.add(p.Origin, "", "check.steep", strict.Values{"id": p.ID, "pitch": strict.Digits(p.PitchIn, 2),
			"diameter": strict.Digits(p.DiameterIn, 2)})
	case ratio < 0.3:
		n.add(p.Origin, "", "check.flat", strict.Values{"id": p.ID, "pitch": strict.Digits(p.PitchIn, 2),
			"diameter": strict.Digits(p.DiameterIn, 2)})
	}
	if p.Mount != "" && p.BoreMm != nil && (p.Mount == inventory.Nut) != (*p.BoreMm >= 3) {
		n.add(p.Origin, "mount", "check.mount", strict.Values{"id": p.ID, "bore": strict.Number(*p.BoreMm),
			"mount": string(p.Mount)})
	} else if p.BoreMm != nil {
		n.outside(p.Origin, "bore_mm", whose, *p.BoreMm, usual{0.75, 7.3, "mm", group("of.props")})
	}
	if r := p.Directions; r != nil && max(r.Clockwise, r.Counterclockwise) > 4*min(r.Clockwise, r.Counterclockwise)+4 {
		n.add(p.Origin, "directions", "check.directions", strict.Values{"id": p.ID, "cw": r.Clockwise,
			"ccw": r.Counterclockwise})
	}
	n.count(p.Origin, whose, p.Count, mostProps)
	radiusMm := p.DiameterIn * inventory.MmPerInch / 2
	for i := range p.Stations {
		s := &p.Stations[i]
		of := group("of.blades", "inches", strict.Digits(p.DiameterIn, 4))
		n.outside(s.Origin, "chord_mm", whose, s.ChordMm, usual{0.06 * radiusMm, 0.6 * radiusMm, "mm", of})
		if s.AngleDeg != nil {
			n.outside(s.Origin, "angle_deg", whose, *s.AngleDeg, usual{4, 60, "degrees", of})
		}
	}
	for i := range p.Bench {
		b := &p.Bench[i]
		if b.AirspeedMps != nil && *b.AirspeedMps > 0 {
			continue // thrust may be anything down to nothing
		}
		thrust := usualThrust(p, b.RPM)
		if n.outside(b.Origin, "thrust_g", whose, b.ThrustG, thrust) || b.TorqueMNm == nil {
			continue
		}
		// Q = CP rho n^2 D^5 / 2 pi, T = CT rho n^2 D^4
		perCP := thrust.low / lowCT * physics.GravityMS2 * p.DiameterIn * inventory.MmPerInch / 1000 / (2 * math.Pi)
		n.outside(b.Origin, "torque_mnm", whose, *b.TorqueMNm, usual{lowCP * perCP, highCP * perCP, "mN m",
			group("of.torque", "inches", strict.Digits(p.DiameterIn, 4), "rpm", strict.Number(b.RPM))})
	}
}
