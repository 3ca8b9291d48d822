package physics

import (
	"cmp"
	"math"

	"partsaloft/physics/uncertain"
)

// MotorLaw is the law of motors and ESCs: what a label leaves out, and how the two behave under load. With
// m the mass in g, D and H the stator's diameter and height, w the speed and d the duty:
//
//	mass   m = Mass (D/22 mm)^MassDiameter (H/7 mm)^MassHeight
//	ke     = 60/(2 pi SpeedShare kV),  Rw = ke²/(Constant m^ConstantPower)²
//	Re     = EscOhm + WindingShare Rw (1 + w/DoublingRadS),  T_loss = LossNmPerG m
//	I      = (Q + T_loss)/ke,  d V = ke w + Re I,  I_bus = d I (1 + PartThrottleLoss (1 − d)) + P_rip/V
//	ripple P_rip = RippleW (m/35 g)^RippleMass [(V/ke)/4000 rad/s · d (1 − d)]²
//	bell   J = BellShare m (D/2 + BellWallM)²
type MotorLaw struct {
	SpeedShare                       float64 // true kV over label kV
	MassKg, MassDiameter, MassHeight float64
	Constant                         float64 // N m/√W at 1 g, as sheets print it
	ConstantPower                    float64
	WindingShare                     float64 // of that resistance at rest; what is left of the loaded one grows with speed
	DoublingRadS                     float64 // speed at which the share has doubled
	EscOhm                           float64 // ESC and leads
	LossNmPerG                       float64
	PartThrottleLoss                 float64 // of an ESC of which nothing is known
	RippleW, RippleMass              float64
	NoLoadLoss                       float64 // loss torque under load over that of a printed no-load current
	BellShare, BellWallM             float64
}

// DefaultMotorLaw is the law fitted to thrust-stand tables of 19 motors of 11 to 23 mm, each counting once, its losses
// of ESCs to these and to five set-ups of a 7-inch stand; see DEVELOPERS.md, "How the constants were fitted". Motors
// left out: at full throttle rpm within 2.9 % at the median and 6.3 % nine times in ten, current 5.7 and 17 %, thrust
// of a prop whose CT is known 5.7 and 12 %; supplied power at a duty under 0.35 11 and 41 %, from there to 0.6 12 and
// 29 %, beyond 6 and 16 %, predicted over read 1.03, 1.00 and 0.98 for motors of 22 to 25 mm, 1.09, 1.08 and 1.02 for
// two of 18 mm, and 0.54, 0.64 and 0.75 for two of 11 mm on one stand, whose ESC or meters take 2 to 8 W more than any
// other shows. DoublingRadS from 1000 to 3000 does no worse. The loss torque is the same at every speed (hysteresis and
// friction): a part that grows with speed (eddy current) came out under zero on the stands, and printed
// no-load currents show none either. Masses of stator sizes left out of the fit lie within 8.7 % at the
// median and 19 % nine times in ten (38 printed motors up to 70 g).
//
// Bells drawn from usual wall thicknesses (magnets D/14, ring D/20, a light cap) have 0.9 to 1.2 times the
// law's inertia from 8 to 28 mm; the inertias printed in sheets have a seventh. A 5-inch racer comes to a
// time constant of 36 ms with this law and to 29 ms with those; published are 30 to 39 ms.
func DefaultMotorLaw() MotorLaw {
	return MotorLaw{
		SpeedShare: 0.9445,
		MassKg:     0.0350, MassDiameter: 1.690, MassHeight: 1.031,
		Constant: 0.6345e-3, ConstantPower: 0.9266,
		WindingShare: 0.6352, DoublingRadS: 1941, EscOhm: 0.00934,
		LossNmPerG: 0.1367e-3, PartThrottleLoss: 0.30, RippleW: 6.8, RippleMass: 0.15, NoLoadLoss: 1.19,
		BellShare: 0.40, BellWallM: 0.0015,
	}
}

// Standard deviations of the logarithm that the left-out residuals of the motor laws show.
const (
	motorMassLnSD        = 0.124
	motorSpeedLnSD       = 0.033
	motorResistanceLnSD  = 0.20
	motorLossLnSD        = 0.45
	motorSpeedResistance = 0.07 // correlations of what motors have beyond the law
	motorSpeedLoss       = -0.43
	motorResistanceLoss  = -0.28
	// Printed and estimated resistances scatter by 0.30 about each other; no stand shows that the
	// printed one is nearer to the motor under load.
	printedResistanceLnSD = 0.30
	noLoadLnSD            = 0.40 // printed no-load currents scatter by as much about a law of mass
	motorInertiaLnSD      = 0.25 // a guess
	throttleScaleLnSD     = 0.16 // of ESCs that give all at the end of their throttle
	rotorModelLnSD        = 0.08
)

// Standard deviations of what the law errs by for all motors alike: how well the fit knows its own constants. The motor
// constant's power of mass turns about lawMassKg.
const (
	allSpeedLnSD = 0.012
	allLossLnSD  = 0.12
	massPowerSD  = 0.046
	escLnSD      = 0.39
	lawMassKg    = 0.035
)

// MotorLabel is what is known of a motor from its label and sheet. Zero fields but the stator's two and KV
// are unknown.
type MotorLabel struct {
	StatorM, StatorHeightM float64 // diameter and height
	KV                     float64 // rpm/V
	MassKg                 float64 // short leads included
	PrintedOhm             float64 // of the winding
	NoLoadA                float64
	MaxCurrentA            float64
	Poles                  int
}

// EstimatedMotor is a motor with the estimates of its uncertain numbers.
type EstimatedMotor struct {
	Motor
	TorqueConstant uncertain.Estimate // N m/A
	Resistance     uncertain.Estimate // of the winding, ohm
	Loss           uncertain.Estimate // loss torque, N m
	Mass           uncertain.Estimate // kg
	Inertia        uncertain.Estimate // of the bell, kg m²
	Limit          uncertain.Estimate // largest current for seconds, A; one that is printed is taken as it stands
}

// Put sets a budget's inputs that a motor carries.
func (m *EstimatedMotor) Put(b *uncertain.Budget) {
	b.Set(uncertain.MotorSpeed, m.TorqueConstant)
	b.Set(uncertain.MotorResistance, m.Resistance)
	b.Set(uncertain.MotorLoss, m.Loss)
	b.Set(uncertain.MotorMass, m.Mass)
	b.Set(uncertain.MotorInertia, m.Inertia)
	b.Set(uncertain.MotorCurrentLimit, m.Limit)
	b.MotorCorrelation = uncertain.MotorCorrelation{SpeedResistance: motorSpeedResistance, SpeedLoss: motorSpeedLoss,
		ResistanceLoss: motorResistanceLoss}
	for _, i := range [...]struct {
		input uncertain.Input
		lnSD  float64
	}{{uncertain.MotorsSpeed, allSpeedLnSD}, {uncertain.MotorsLoss, allLossLnSD}, {uncertain.MotorsPower, massPowerSD},
		{uncertain.EscResistance, escLnSD}} {
		b.Set(i.input, uncertain.Estimate{LnSD: i.lnSD, Basis: uncertain.Estimated})
	}
}

// Motor is the law's motor for a label.
func (l *MotorLaw) Motor(label MotorLabel) EstimatedMotor {
	var m EstimatedMotor
	m.Mass = GivenMass(label.MassKg)
	if label.MassKg == 0 {
		m.Mass = l.Mass(label.StatorM, label.StatorHeightM)
	}
	m.TorqueConstant = l.TorqueConstant(label.KV)
	m.Resistance = l.Winding(m.TorqueConstant.Value, m.Mass.Value)
	if label.PrintedOhm > 0 {
		m.Resistance = printedWinding(label.PrintedOhm, m.Resistance)
	}
	m.Loss = l.LossTorque(m.Mass.Value)
	if label.NoLoadA > 0 {
		m.Loss = l.NoLoadTorque(label.NoLoadA, m.TorqueConstant.Value)
	}
	m.Inertia = l.BellInertia(m.Mass.Value, label.StatorM)
	m.Limit = uncertain.Estimate{Value: label.MaxCurrentA, Basis: uncertain.Label}
	if label.MaxCurrentA == 0 {
		m.Limit = l.CurrentLimit(m.TorqueConstant.Value, m.Mass.Value)
	}
	m.Motor = Motor{
		TorqueConstantNmA: m.TorqueConstant.Value, WindingOhm: l.WindingShare * m.Resistance.Value,
		CopperOhm: m.Resistance.Value, EscOhm: l.EscOhm,
		DoublingRadS: l.DoublingRadS, LossNm: m.Loss.Value,
		RippleW:         l.RippleW * math.Pow(m.Mass.Value/lawMassKg, l.RippleMass),
		BellInertiaKgM2: m.Inertia.Value, MassKg: m.Mass.Value, MaxCurrentA: m.Limit.Value,
		LimitEstimated: label.MaxCurrentA == 0, Poles: cmp.Or(label.Poles, usualPoles(label.StatorM)), ResistanceFactor: 1,
	}
	return m
}

// usualPoles are the magnets of a motor by its stator's diameter: 12 under 15 mm, 14 from there on (common practice,
// no source).
func usualPoles(statorM float64) int {
	if statorM < 0.0149 {
		return 12
	}
	return 14
}

// TorqueConstant is ke = kt in V s/rad for a label kV in rpm/V.
func (l *MotorLaw) TorqueConstant(labelKV float64) uncertain.Estimate {
	return uncertain.Estimate{Value: 60 / (2 * math.Pi) / (l.SpeedShare * labelKV), LnSD: motorSpeedLnSD,
		Basis: uncertain.Label}
}

// Mass estimates a motor's mass in kg, short leads included, from stator diameter and height in metres.
func (l *MotorLaw) Mass(statorM, statorHeightM float64) uncertain.Estimate {
	m := l.MassKg * math.Pow(statorM/0.022, l.MassDiameter) * math.Pow(statorHeightM/0.007, l.MassHeight)
	return uncertain.Estimate{Value: m, LnSD: motorMassLnSD, Basis: uncertain.Estimated}
}

// Winding estimates the winding resistance in ohm, as sheets print it, from torque constant and mass.
func (l *MotorLaw) Winding(torqueConstantNmA, massKg float64) uncertain.Estimate {
	km := l.Constant * math.Pow(massKg*1000, l.ConstantPower)
	return uncertain.Estimate{Value: torqueConstantNmA * torqueConstantNmA / (km * km), LnSD: motorResistanceLnSD,
		Basis: uncertain.Estimated}
}

// printedWinding is the winding resistance that a sheet prints: it says little about what the motor shows
// under load (see DEVELOPERS.md), so law and print share the weight.
func printedWinding(printedOhm float64, law uncertain.Estimate) uncertain.Estimate {
	wPrint := 1 / (printedResistanceLnSD * printedResistanceLnSD)
	wLaw := 1 / (law.LnSD * law.LnSD)
	mean := (wPrint*math.Log(printedOhm) + wLaw*math.Log(law.Value)) / (wPrint + wLaw)
	return uncertain.Estimate{Value: math.Exp(mean), LnSD: math.Sqrt(1 / (wPrint + wLaw)), Basis: uncertain.Label}
}

// LossTorque estimates the loss torque in N m from the mass.
func (l *MotorLaw) LossTorque(massKg float64) uncertain.Estimate {
	return uncertain.Estimate{Value: l.LossNmPerG * massKg * 1000, LnSD: motorLossLnSD, Basis: uncertain.Estimated}
}

// NoLoadTorque is the loss torque in N m under load from a no-load current, at whatever voltage.
func (l *MotorLaw) NoLoadTorque(noLoadA, torqueConstantNmA float64) uncertain.Estimate {
	return uncertain.Estimate{Value: l.NoLoadLoss * noLoadA * torqueConstantNmA, LnSD: noLoadLnSD, Basis: uncertain.Label}
}

// BellInertia estimates the moment of inertia of the turning part in kg m² from mass and stator diameter: the
// bell carries a share of the mass at about its own radius.
func (l *MotorLaw) BellInertia(massKg, statorM float64) uncertain.Estimate {
	radius := statorM/2 + l.BellWallM
	return uncertain.Estimate{Value: l.BellShare * massKg * radius * radius, LnSD: motorInertiaLnSD,
		Basis: uncertain.Estimated}
}
