package inventory

import (
	"errors"
	"fmt"

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
	if c.Frame == nil || c.Motor == nil || c.Prop == nil || c.Pack == nil || c.Board == nil || propeller == nil || propeller.Map == nil {
		return physics.Craft{}, errors.New("the combination lacks a part")
	}
	motor, pack := c.Motor.SI(), c.Pack.SI(propeller.Map.Air.TemperatureK)
	body := c.Body()
	craft := Assemble(c.Rotors(), propeller, &motor, &pack, &body, c.Connector())
	if err := craft.Check(); err != nil {
		return craft, fmt.Errorf("%s: %w", c.Key(), err)
	}
	return craft, nil
}

// Assemble puts a craft together from its parts in SI numbers, with the uncertainty of each; it
// checks nothing and allocates nothing.
func Assemble(rotors int, propeller *rotor.Propeller, motor *MotorSI, pack *PackSI, body *BodySI, plug physics.Connector) physics.Craft {
	c := physics.Craft{
		Rotors: rotors, Propeller: *propeller, Motor: motor.Motor, Pack: pack.Pack, Board: body.Board, Connector: plug,
		FrameKg: body.FrameMass.Value, ExtrasKg: body.ExtrasMass.Value, DragAreaM2: body.DragArea.Value, ElectronicsW: body.Power.Value,
		FlyingFactor: body.FlyingFactor(),
	}
	c.Propeller.PowerFactor *= motor.PowerFactor()
	// A plug's own resistance comes on top of the pack's leads.
	c.Pack.LeadOhm += body.PlugOhm
	u := &c.Uncertainty
	set := func(i uncertain.Input, e uncertain.Estimate) { u.LnSD[i], u.Basis[i] = e.LnSD, e.Basis }
	prop := &propeller.Uncertainty
	set(uncertain.PropThrust, prop.Thrust)
	set(uncertain.PropPower, prop.Power)
	set(uncertain.PropZeroThrust, prop.ZeroThrust)
	set(uncertain.PropMass, prop.Mass)
	set(uncertain.PropInertia, prop.Inertia)
	u.ThrustPower, u.SeriesShare = prop.ThrustPower, prop.SeriesShare
	set(uncertain.MotorSpeed, motor.TorqueConstant)
	set(uncertain.MotorResistance, motor.Resistance)
	set(uncertain.MotorLoss, motor.Loss)
	set(uncertain.MotorMass, motor.Mass)
	set(uncertain.MotorInertia, motor.Inertia)
	set(uncertain.MotorCurrentLimit, motor.Limit)
	u.SpeedResistance = physics.SpeedResistance()
	set(uncertain.PackResistance, pack.Resistance)
	set(uncertain.PackCapacity, pack.Capacity)
	set(uncertain.PackMass, pack.Mass)
	set(uncertain.FrameMass, body.FrameMass)
	set(uncertain.DragArea, body.DragArea)
	set(uncertain.BoardMass, body.BoardMass)
	set(uncertain.ElectronicsPower, body.Power)
	set(uncertain.ExtrasMass, body.ExtrasMass)
	physics.ShareSpread(u)
	motor.Learned.spread(u, uncertain.RotorModel)
	body.Learned.spread(u, uncertain.FlyingPower)
	if _, ok := motor.Learned.For(uncertain.MotorSpeed); ok {
		u.SpeedResistance = motor.Learned.Together(uncertain.MotorSpeed, uncertain.MotorResistance)
	}
	return c
}
