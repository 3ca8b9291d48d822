package inventory

import (
	"errors"
	"fmt"
	"math"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// SI is the state of the air: pressure as given, else of the standard atmosphere at the altitude,
// else at sea level; temperature as given, else of the standard atmosphere at the altitude.
func (a Air) SI() (rotor.Air, error) {
	altitudeM := 0.0
	if a.AltitudeM != nil {
		altitudeM = *a.AltitudeM
	}
	standard, err := rotor.StandardAir(altitudeM)
	if err != nil {
		return rotor.Air{}, err
	}
	pressurePa, temperatureK := standard.PressurePa, standard.TemperatureK
	if a.PressureHPa != nil {
		pressurePa = *a.PressureHPa * 100
	}
	if a.TemperatureC != nil {
		temperatureK = rotor.CelsiusToKelvin(*a.TemperatureC)
	}
	return rotor.AirOf(pressurePa, temperatureK)
}

// SI is the chemistry in physics' terms.
func (c Chemistry) SI() physics.Chemistry {
	switch c {
	case LiHV:
		return physics.LiHV
	case LiIon:
		return physics.LiIon
	}
	return physics.LiPo
}

// gramsKg turns a mass that the pilot wrote into an estimate, or takes the law's.
func gramsKg(massG *float64, law uncertain.Estimate) uncertain.Estimate {
	if massG == nil {
		return law
	}
	return physics.GivenMass(*massG / 1000)
}

// Craft is the combination in SI numbers with a prop that was made by Prop.Propeller in the air it
// flies in, which also sets the pack's temperature. It fails if a part is missing or a number is
// one that no craft can have.
func (c *Combination) Craft(propeller *rotor.Propeller) (physics.Craft, error) {
	if c.Frame == nil || c.Motor == nil || c.Prop == nil || c.Pack == nil || c.Board == nil || propeller == nil ||
		propeller.Map == nil {
		return physics.Craft{}, errors.New("the combination lacks a part")
	}
	motor, pack := c.Motor.SI(), c.Pack.SI(propeller.Map.Air.TemperatureK)
	body := c.Body()
	craft := Assemble(c.Rotors(), propeller, &motor, &pack, &body, c.Connector())
	craft.Uncertainty.Set(uncertain.ThrottleScale, c.Board.Throttle.SI().Scale())
	c.Board.Learned.spread(&craft.Uncertainty, uncertain.ThrottleScale)
	if err := craft.Check(); err != nil {
		return craft, fmt.Errorf("%s: %w", c.Key(), err)
	}
	return craft, nil
}

// Assemble puts a craft together from its parts in SI numbers, with the uncertainty of each; it
// checks nothing and allocates nothing.
func Assemble(rotors int, propeller *rotor.Propeller, motor *MotorSI, pack *PackSI, body *BodySI,
	plug physics.Connector) physics.Craft {
	c := physics.Craft{
		Rotors: rotors, Propeller: *propeller, Motor: motor.Motor, Pack: pack.Pack, Board: body.Board, Connector: plug,
		FrameKg: body.FrameMass.Value, ExtrasKg: body.ExtrasMass.Value, Ducted: body.Ducted,
		DragAreaM2: body.DragArea.Value, ElectronicsW: body.Power.Value,
		RotorDragFactor: 1, FlyingFactor: body.FlyingFactor(),
	}
	c.Propeller.PowerFactor *= motor.PowerFactor()
	// A plug's own resistance comes on top of the pack's leads.
	c.Pack.LeadOhm += body.PlugOhm
	u := &c.Uncertainty
	propeller.Uncertainty.Put(u)
	motor.Put(u)
	u.Set(uncertain.PackResistance, pack.Resistance)
	u.Set(uncertain.PackCapacity, pack.Capacity)
	u.Set(uncertain.PackMass, pack.Mass)
	u.Set(uncertain.FrameMass, body.FrameMass)
	u.Set(uncertain.DragArea, body.DragArea)
	u.Set(uncertain.BoardMass, body.BoardMass)
	u.Set(uncertain.ElectronicsPower, body.Power)
	u.Set(uncertain.ExtrasMass, body.ExtrasMass)
	body.ESC.Put(u)
	physics.ShareSpread(u)
	motor.Learned.spread(u, uncertain.RotorModel)
	body.Learned.spread(u, uncertain.FlyingPower)
	if _, ok := motor.Learned.For(uncertain.MotorSpeed); ok {
		u.MotorCorrelation = motor.Learned.MotorCorrelation()
		// A learned motor's own corrections hold what it has in common with all motors.
		u.LnSD[uncertain.MotorsSpeed], u.LnSD[uncertain.MotorsLoss] = 0, 0
		u.LnSD[uncertain.MotorsPower], u.LnSD[uncertain.EscResistance] = 0, 0
	}
	return c
}

// BurstShare is an ESC's burst rating over its continuous one where none is given (common
// practice, no source).
const BurstShare = 1.2

// StandBody is the body of a thrust stand: the ESC of a board that says nothing of it, and nothing else.
func StandBody() *BodySI {
	esc := new(Board).ESC()
	return &BodySI{Board: physics.Board{ESC: esc.ESC}, ESC: esc}
}

// BodySI is frame, board and extras in SI numbers.
type BodySI struct {
	Board      physics.Board
	Ducted     bool
	FrameMass  uncertain.Estimate // kg
	BoardMass  uncertain.Estimate // kg
	ExtrasMass uncertain.Estimate // kg, all extras
	DragArea   uncertain.Estimate // m²
	Power      uncertain.Estimate // W, board and extras
	ESC        physics.EstimatedESC
	PlugOhm    float64     // what the plugs between pack and board add
	Learned    Corrections // of the frame, in the figures above already but for FlyingPower
}

// Body converts frame, board and extras; with the pack's plug if there is a pack.
func (c *Combination) Body() BodySI {
	var s BodySI
	s.FrameMass = c.Frame.Mass()
	s.DragArea, s.Ducted = c.Frame.DragArea(), c.Frame.Ducted
	s.Board, s.BoardMass = c.Board.si()
	esc := c.Board.ESC()
	s.Board.ESC, s.ESC = esc.ESC, esc
	power := []uncertain.Estimate{c.Board.Power()}
	var masses []uncertain.Estimate
	for _, e := range c.Extras {
		masses = append(masses, physics.GivenMass(e.MassG/1000))
		power = append(power, e.Power())
	}
	s.ExtrasMass, s.Power = total(masses), total(power)
	s.Learned = c.Frame.Learned
	c.Frame.Learned.apply(uncertain.FrameMass, &s.FrameMass)
	c.Frame.Learned.apply(uncertain.DragArea, &s.DragArea)
	c.Board.Learned.apply(uncertain.BoardMass, &s.BoardMass)
	c.Board.Learned.apply(uncertain.ElectronicsPower, &s.Power)
	s.Board.MassKg = s.BoardMass.Value
	s.PlugOhm = c.plugOhm()
	return s
}

// FlyingFactor is the factor on the power taken in flight that readings showed.
func (s *BodySI) FlyingFactor() float64 {
	k, _ := s.Learned.For(uncertain.FlyingPower)
	return math.Exp(k.LnFactor)
}

// Mass is given, or follows from the props that the frame is made for and from its ducts, in kg.
func (f *Frame) Mass() uncertain.Estimate {
	return gramsKg(f.MassG, physics.EstimateFrameMass(f.LargestPropM(), f.Ducted))
}

// DragArea is given, or follows from the props that the frame is made for.
func (f *Frame) DragArea() uncertain.Estimate {
	if f.DragAreaCm2 != nil {
		return physics.GivenDragArea(*f.DragAreaCm2 / 1e4)
	}
	return physics.EstimateDragArea(f.LargestPropM(), f.Body == StreamlinedBody)
}

// LargestPropM is the diameter in m of the largest prop that the frame takes, from what it says
// of props and of the distance between motors.
func (f *Frame) LargestPropM() float64 {
	largestMm := math.Inf(1)
	if f.MaxPropIn != nil {
		largestMm = *f.MaxPropIn * MmPerInch
	}
	if f.MotorSpacingMm != nil {
		gapMm := ArmFlexMm
		if f.Ducted && f.MaxPropIn == nil {
			gapMm = DuctWallsMm
		}
		largestMm = min(largestMm, *f.MotorSpacingMm-gapMm)
	}
	return largestMm / 1000
}

// si converts the board. Of two ratings that contradict each other the lower counts.
func (b *Board) si() (physics.Board, uncertain.Estimate) {
	mass := gramsKg(b.MassG, physics.EstimateBoardMass(b.EscCurrentA))
	s := physics.Board{ContinuousA: b.EscCurrentA, BurstA: BurstShare * b.EscCurrentA, MassKg: mass.Value}
	if b.EscBurstA != nil {
		s.BurstA = *b.EscBurstA
		s.ContinuousA = min(s.ContinuousA, s.BurstA)
	}
	return s, mass
}

// ESC is one of the board's speed controllers, with what readings taught of it.
func (b *Board) ESC() physics.EstimatedESC {
	law := physics.DefaultMotorLaw()
	pwmHz := 0.0
	if b.PwmKHz != nil {
		pwmHz = *b.PwmKHz * 1000
	}
	e := law.ESC(pwmHz)
	if b.Learned != nil {
		d := b.Learned.deviation()
		e.Deviate(&d)
		b.Learned.apply(uncertain.PartThrottle, &e.Draw)
		b.Learned.apply(uncertain.Ripple, &e.Ripple)
	}
	return e
}

func (b *Board) Power() uncertain.Estimate {
	if b.PowerW != nil {
		return physics.GivenPower(*b.PowerW)
	}
	return physics.EstimateBoardPower()
}

// Power of an extra is given, or what its role mostly takes (common practice, no source): a
// camera 0.7 W, a receiver 0.3 W, a video transmitter 0.5 W and 0.5 W more for each gram of it.
func (e *Extra) Power() uncertain.Estimate {
	const lnSD = 0.5
	switch {
	case e.PowerW != nil:
		return physics.GivenPower(*e.PowerW)
	case e.Role == Camera:
		return uncertain.Estimate{Value: 0.7, LnSD: lnSD, Basis: uncertain.Estimated}
	case e.Role == Receiver:
		return uncertain.Estimate{Value: 0.3, LnSD: lnSD, Basis: uncertain.Estimated}
	case e.Role == Video:
		return uncertain.Estimate{Value: 0.5 + 0.5*e.MassG, LnSD: lnSD, Basis: uncertain.Estimated}
	}
	return uncertain.Estimate{Basis: uncertain.Label}
}

// total is the sum of estimates that err apart from each other; its basis is the weakest that
// carries a tenth of the variance.
func total(parts []uncertain.Estimate) uncertain.Estimate {
	var sum uncertain.Estimate
	variance := 0.0
	for _, p := range parts {
		sum.Value += p.Value
		variance += p.Value * p.LnSD * p.Value * p.LnSD
	}
	for _, p := range parts {
		if share := p.Value * p.LnSD * p.Value * p.LnSD; share > 0 && share >= variance/10 {
			sum.Basis = max(sum.Basis, p.Basis)
		}
	}
	if sum.Value > 0 {
		sum.LnSD = math.Sqrt(variance) / sum.Value
	}
	return sum
}
