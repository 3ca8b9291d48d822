package inventory

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// radSPerRPM turns revolutions a minute into rad/s.
const radSPerRPM = 2 * math.Pi / 60

// MotorSI is a motor in SI numbers, each uncertain one with its estimate.
type MotorSI struct {
	physics.EstimatedMotor
	Learned Corrections // what readings taught of it, in the figures above already but for RotorModel
}

// SI converts the motor; what the drawer does not say is estimated from stator and kV.
func (m *Motor) SI() MotorSI {
	label := physics.MotorLabel{StatorM: m.StatorDiameterMm / 1000, StatorHeightM: m.StatorHeightMm / 1000, KV: m.KV}
	put := func(to *float64, from *float64, perSI float64) {
		if from != nil {
			*to = *from / perSI
		}
	}
	put(&label.MassKg, m.MassG, 1000)
	put(&label.PrintedOhm, m.ResistanceMohm, 1000)
	put(&label.MaxCurrentA, m.MaxCurrentA, 1)
	if m.NoLoadV != nil {
		put(&label.NoLoadA, m.NoLoadA, 1)
	}
	if m.Poles != nil {
		label.Poles = *m.Poles
	}
	law := physics.DefaultMotorLaw()
	s := MotorSI{EstimatedMotor: law.Motor(label)}
	if m.Learned != nil {
		s.correct(m.Learned)
	}
	return s
}

// correct brings in what was learned.
func (s *MotorSI) correct(learned Corrections) {
	d := learned.deviation()
	s.Motor.Deviate(&d)
	s.Learned = learned
	learned.narrow(uncertain.MotorSpeed, &s.TorqueConstant)
	s.TorqueConstant.Value = s.TorqueConstantNmA // a factor on kV divides it
	learned.apply(uncertain.MotorResistance, &s.Resistance)
	learned.apply(uncertain.MotorLoss, &s.Loss)
	learned.apply(uncertain.MotorMass, &s.Mass)
}

// PowerFactor is the factor on the prop's torque that readings showed with this motor.
func (s *MotorSI) PowerFactor() float64 {
	k, _ := s.Learned.For(uncertain.RotorModel)
	return math.Exp(k.LnFactor)
}

// Spec is what is known of the prop in SI numbers, for rotor.New: its label, what was
// measured on it, and the thrust that it gave on the drawer's motors. Readings count in the air of
// the drawer they came with.
func (p *Prop) Spec() rotor.Spec {
	spec := p.ownSpec()
	spec.Bench = append(spec.Bench, p.stand...)
	return spec
}

// ownSpec leaves out readings that stand under motors.
func (p *Prop) ownSpec() rotor.Spec {
	s := rotor.Spec{
		DiameterM: p.DiameterIn * MmPerInch / 1000, PitchM: p.PitchIn * MmPerInch / 1000, Blades: p.Blades,
		Series: p.Series != "",
	}
	if p.PitchEstimated {
		s.PitchLnSD = rotor.UnknownPitchLnSD
	}
	if p.MassG != nil {
		s.MassKg = *p.MassG / 1000
	}
	switch p.Blade {
	case BladeRoot:
		s.MassPlace = rotor.MassRoot
	case BladeTip:
		s.MassPlace = rotor.MassTip
	}
	switch p.Flex {
	case FlexSoft:
		s.Flex = rotor.FlexSoft
	case FlexMedium:
		s.Flex = rotor.FlexMedium
	case FlexStiff:
		s.Flex = rotor.FlexStiff
	}
	switch p.MadeFor {
	case MadeForMultirotor:
		s.MadeFor = rotor.MadeForMultirotor
	case MadeForConventional:
		s.MadeFor = rotor.MadeForConventional
	}
	for i := range p.Stations {
		b := &p.Stations[i]
		m := rotor.Measurement{RadiusM: b.RadiusMm / 1000, ChordM: b.ChordMm / 1000}
		if b.AngleDeg != nil {
			m.AngleRad = *b.AngleDeg * math.Pi / 180
		}
		s.Stations = append(s.Stations, m)
	}
	for i := range p.Bench {
		b := &p.Bench[i]
		point := benchPoint(b.RPM, b.ThrustG, p.benchDensityKgM3)
		if b.TorqueMNm != nil {
			point.TorqueNm = *b.TorqueMNm / 1000
		}
		if b.AirspeedMps != nil {
			point.AxialMS = *b.AirspeedMps
		}
		s.Bench = append(s.Bench, point)
	}
	return s
}

func benchPoint(rpm, thrustG, densityKgM3 float64) rotor.BenchPoint {
	return rotor.BenchPoint{SpeedRadS: rpm * radSPerRPM, ThrustN: thrustG / 1000 * physics.GravityMS2,
		DensityKgM3: densityKgM3}
}

// PackSI is a pack in SI numbers, each uncertain one with its estimate.
type PackSI struct {
	physics.Pack
	Resistance uncertain.Estimate // all cells, at the pack's temperature, ohm
	Capacity   uncertain.Estimate // A s
	Mass       uncertain.Estimate // kg
}

// SI converts the pack at a temperature in kelvin; what the drawer does not say is estimated from
// chemistry, cells, capacity and cycles. Of two C ratings that contradict each other the lower
// counts.
func (p *Pack) SI(temperatureK float64) PackSI {
	chemistry, capacityAh := p.Chemistry.SI(), p.CapacityMAh/1000
	colder, smaller := physics.ColdPack(temperatureK)
	var s PackSI
	s.Mass = gramsKg(p.MassG, physics.EstimatePackMass(chemistry, p.Cells, capacityAh))
	s.Resistance = physics.EstimatePackResistance(chemistry, p.Cells, capacityAh, p.CycleCount())
	if p.CellResistanceMohm != nil {
		s.Resistance = physics.GivenPackResistance(*p.CellResistanceMohm/1000, p.Cells)
	}
	s.Resistance.Value *= colder
	s.Capacity = physics.LabelCapacity(capacityAh * 3600)
	p.Learned.apply(uncertain.PackMass, &s.Mass)
	p.Learned.apply(uncertain.PackResistance, &s.Resistance)
	p.Learned.apply(uncertain.PackCapacity, &s.Capacity)
	rating := p.DischargeC
	if p.BurstC != nil {
		rating = min(rating, *p.BurstC)
	}
	s.Pack = physics.Pack{
		Chemistry: chemistry, Cells: p.Cells, CapacityAs: s.Capacity.Value, SafeCurrentA: capacityAh * rating,
		InternalOhm: s.Resistance.Value, LeadOhm: p.leadOhm(), MassKg: s.Mass.Value, CapacityFactor: smaller,
	}
	return s
}

// leadOhm is the resistance of the pack's plug with the leads on both its sides, in ohm.
func (p *Pack) leadOhm() float64 {
	if p.Connector == "" {
		return physics.LeadResistance()
	}
	return physics.PlugResistance(string(p.Connector))
}

// plugOhm is what plugs beyond the pack's own add, in ohm: those of an adapter, or of a board whose
// plug differs.
func (c *Combination) plugOhm() float64 {
	var sum float64
	for i, p := range c.Plugs() {
		if i > 0 {
			sum += physics.PlugResistance(string(p))
		}
	}
	return sum
}

// Connector is the rating of the weakest plug between pack and board, adapters included; ratings
// that are not known are 0.
func (c *Combination) Connector() physics.Connector {
	var weakest physics.Connector
	least := func(to *float64, ratingA float64) {
		if ratingA > 0 && (*to == 0 || ratingA < *to) {
			*to = ratingA
		}
	}
	for _, p := range c.Plugs() {
		r, _, _ := p.Rating()
		least(&weakest.ContinuousA, r.ContinuousA)
		least(&weakest.PeakA, r.PeakA)
		least(&weakest.SheetContinuousA, r.SheetContinuousA)
		least(&weakest.SheetPeakA, r.SheetPeakA)
	}
	return weakest
}

// Plugs are the kinds of plug between pack and board, each once.
func (c *Combination) Plugs() []Plug {
	var list []Plug
	put := func(p Plug) {
		for _, q := range list {
			if q == p {
				return
			}
		}
		if p != "" {
			list = append(list, p)
		}
	}
	if c.Pack != nil {
		put(c.Pack.Connector)
	}
	if c.Board != nil {
		put(c.Board.Connector)
	}
	if c.Pack != nil && c.Board != nil {
		if e := PlugAdapter(c.Pack, c.Board, c.Extras); e != nil {
			put(Plug(e.Bridges.From))
			put(Plug(e.Bridges.To))
		}
	}
	return list
}
