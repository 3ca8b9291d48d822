package physics

import (
	"math"

	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// uses are currents and voltages over their limits: over 1 breaks the limit, 0 is unknown.
type uses [MotorLimit + 1]float64

// uses at the duty that an operating point takes, for seconds, with the pack at a state of charge.
func (c *Craft) uses(s *supply, charge, duty float64, o operating) uses {
	var u uses
	pack := s.drawnA(duty, o)
	u[PackLimit] = pack / c.Pack.SafeCurrentA
	full := c.Pack.Chemistry.FullCellV()
	u[CellLimit] = (full - c.Pack.cellUnderLoadV(charge, pack)) / (full - c.Pack.Chemistry.LowestCellV())
	u[BoardLimit] = o.currentA / c.Board.BurstA
	if c.Connector.PeakA > 0 {
		u[ConnectorLimit] = pack / c.Connector.PeakA
	}
	if c.Motor.MaxCurrentA > 0 {
		u[MotorLimit] = o.currentA / c.Motor.MaxCurrentA
	}
	return u
}

// binding is the limit used most.
func (c *Craft) binding(u *uses) (Limit, float64) {
	most, which := 0.0, NoLimit
	for l := PackLimit; l <= MotorLimit; l++ {
		if u[l] > most {
			most, which = u[l], l
		}
	}
	return which, most
}

// throttleCap is the largest duty whose static operating point breaks no limit, with what binds
// it; full is the operating point at full throttle.
func (c *Craft) throttleCap(s *supply, full operating) (duty float64, capped operating, which Limit) {
	u := c.uses(s, 1, 1, full)
	which, most := c.binding(&u)
	if most <= 1 {
		return 1, full, NoLimit
	}
	margin := func(speed float64) float64 {
		o := c.turning(speed)
		d, _ := s.duty(o)
		u := c.uses(s, 1, d, o)
		_, most := c.binding(&u)
		return 1 - most
	}
	// Currents go about with the square of speed.
	low := lowestCapPart * full.speedRadS
	speed := upTo{low: low, high: full.speedRadS, known: full.speedRadS, atKnown: 1 - most,
		guess: full.speedRadS * math.Sqrt(1/most), steeper: 2, tolerance: capTolerance * full.speedRadS}.most(margin)
	if speed < 2*low && margin(low) < 0 {
		return 0, c.turning(low), which
	}
	capped = c.turning(speed)
	duty, _ = s.duty(capped)
	u = c.uses(s, 1, duty, capped)
	which, _ = c.binding(&u)
	return math.Min(duty, 1), capped, which
}

const (
	lowestCapPart = 0.05 // of the full rotor speed: a cap under it is none
	capTolerance  = 1e-5 // of the full rotor speed
)

// CurrentLimit estimates the largest current in A of a motor whose sheet prints none, for the
// seconds of a punch, from the copper heat that a gram of motor bears, which is alike across sizes:
//
//	I = √(q m) Km/ke
//
// q is that of small multirotor motors' printed limits; the limits of general sheets, held for longer, are
// half as large. The mass is in kg, the torque constant in Nm/A.
func (l *MotorLaw) CurrentLimit(torqueConstantNmA, massKg float64) uncertain.Estimate {
	return uncertain.Estimate{Value: math.Sqrt(PunchHeatWKg * massKg / l.Winding(torqueConstantNmA, massKg).Value),
		LnSD: motorLimitLnSD, Basis: uncertain.Estimated}
}

// Copper heat that motors bear, in W/kg of motor, fitted by fit limits to 54 printed limits of motors up to 110 g: in
// the seconds of a punch (the median of 11 small multirotor motors, power of mass −0.07 ± 0.09; their scatter of ln
// 0.38 in heat is half of that in current, and sheets differ in how many seconds they mean), what is worth a note in
// one (their lowest quarter), and what motors bear all along (43 general sheets: 0.85 at the median, half of them 0.58
// to 1.07). Sizes left out, the current errs by 15 % at the median and 47 % nine times in ten.
const (
	PunchHeatWKg = 3.9e3
	NotedHeatWKg = 3.0e3
	MeanHeatWKg  = 1.0e3

	motorLimitLnSD = 0.25
)

// MeanLimitA is what an estimated limit for a punch leaves for a steady segment, in A; 0 if the limit is
// printed or not known, for what a printed one means all along no sheet says.
//
//	I_mean = I √(q_mean/q_punch)
func (m *Motor) MeanLimitA() float64 {
	if !m.LimitEstimated {
		return 0
	}
	return m.MaxCurrentA * math.Sqrt(MeanHeatWKg/PunchHeatWKg)
}

// static sets what a craft gives standing still: full throttle, the throttle cap and what binds it.
func (e *evaluation) static() {
	c, p := e.craft, &e.p
	full := c.supply(1)
	top := c.fullThrottle(&full, 1)
	packA := full.currentA(1, top.currentA)
	p.FullSpeedRadS = top.speedRadS
	p.set(figure.FullThrottleThrust, float64(c.Rotors)*top.thrustN)
	p.set(figure.FullThrottleCurrent, packA)
	if cellV := c.Pack.cellUnderLoadV(1, packA); cellV > 0 {
		p.set(figure.LoadedCell, cellV)
	} else {
		p.undefined(CellsCollapse, figure.LoadedCell)
	}
	p.set(figure.TipMach, top.speedRadS*c.Propeller.Map.Blade.RadiusM/c.Propeller.Map.Air.SoundMS)
	u := c.uses(&full, 1, 1, top)
	for l, q := range usesOf {
		if q == 0 {
			continue
		}
		if u[l] > 0 {
			p.set(q, u[l])
		} else {
			p.undefined(NoLimitKnown, q)
		}
	}
	duty, capped, which := c.throttleCap(&full, top)
	p.Cap = which
	e.duty = duty
	p.set(figure.ThrottleCap, duty)
	p.PeakMotorA, p.PeakPackA = capped.currentA, full.currentA(duty, capped.currentA)
	e.capped, e.heated = capped, c.Motor.heat(c.Board.ESC, capped, duty, full.busV(duty, capped.currentA))
	p.punchRiseK = c.Motor.punchRiseK(e.heated)
	p.set(figure.ElectricalSpeed, electricalRadS(top.speedRadS, c.Motor.Poles))
	e.highest = float64(c.Rotors) * capped.thrustN / (c.MassKg() * GravityMS2)
	p.set(figure.ThrustToWeight, e.highest)
}

// usesOf are the quantities that report the uses of limits.
var usesOf = [MotorLimit + 1]figure.Quantity{
	PackLimit: figure.PackCurrentUse, BoardLimit: figure.BoardCurrentUse, ConnectorLimit: figure.ConnectorCurrentUse,
	MotorLimit: figure.MotorCurrentUse,
}
