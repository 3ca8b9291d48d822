package physics

import (
	"errors"
	"math"

	"partsaloft/physics/fault"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// GravityMS2 is the standard acceleration of free fall in m/s² (3rd CGPM, 1901).
const GravityMS2 = 9.80665

// Board is the flight controller with its speed controllers, one a rotor.
type Board struct {
	ESC
	ContinuousA float64 // one ESC, continuous
	BurstA      float64 // one ESC, for a punch
	MassKg      float64
}

// Connector is the plug between pack and board, in A; 0 is unknown. What pilots draw holds the craft back: for the
// mean of a flight's segments, and for seconds. What a datasheet says is mostly less, and over it is a caution.
type Connector struct {
	ContinuousA, PeakA           float64
	SheetContinuousA, SheetPeakA float64
}

// Craft is a combination in SI numbers. Propeller.Map holds the air.
type Craft struct {
	Rotors            int
	Propeller         rotor.Propeller
	Motor             Motor
	Pack              Pack
	Board             Board
	Connector         Connector
	FrameKg, ExtrasKg float64
	Ducted            bool    // ducts stand around the props
	DragAreaM2        float64 // of the body
	RotorDragFactor   float64 // factor on the rotors' drag along the disc, 1 nominal
	ElectronicsW      float64
	FlyingFactor      float64 // factor on mean current away from hover, 1 nominal
	StickTop          float64 // duty at the top of a stick that is scaled as a whole; 0 is full duty
	// Known is Standard where it has been worked out for the same motor, prop, cells and number of rotors; nil is worked
	// out as needed.
	Known       *Standard
	Uncertainty uncertain.Budget
}

// MassKg is the all-up mass.
func (c *Craft) MassKg() float64 {
	return float64(c.Rotors)*(c.Motor.MassKg+c.Propeller.MassKg) + c.Pack.MassKg + c.Board.MassKg + c.FrameKg + c.ExtrasKg
}

// stickTop is the duty at the top of the stick: a scaled stick moves the duty by so much less.
func (c *Craft) stickTop() float64 {
	if c.StickTop == 0 {
		return 1
	}
	return c.StickTop
}

// InertiaKgM2 is the moment of inertia of one rotor, bell and prop.
func (c *Craft) InertiaKgM2() float64 { return c.Motor.BellInertiaKgM2 + c.Propeller.InertiaKgM2 }

// Check reports every number that no craft can have.
func (c *Craft) Check() error {
	var errs []error
	positive := func(name string, x float64) {
		if !(x > 0) || math.IsInf(x, 0) {
			errs = append(errs, fault.New("craft.positive", fault.Values{"what": name, "got": x}))
		}
	}
	if c.Rotors < 3 || c.Rotors > 12 {
		errs = append(errs, fault.New("craft.rotors", fault.Values{"low": 3, "high": 12, "got": c.Rotors}))
	}
	if c.Propeller.Map == nil {
		return errors.Join(append(errs, fault.New("craft.no_map", nil))...)
	}
	positive("prop factors", c.Propeller.ThrustFactor*c.Propeller.PowerFactor*c.Propeller.AdvanceFactor)
	positive("prop mass", c.Propeller.MassKg)
	positive("prop inertia", c.Propeller.InertiaKgM2)
	if !(c.StickTop >= 0 && c.StickTop <= 1) {
		errs = append(errs, fault.New("craft.stick", fault.Values{"got": c.StickTop}))
	}
	positive("torque constant", c.Motor.TorqueConstantNmA)
	positive("winding resistance", c.Motor.WindingOhm)
	positive("resistance factor", c.Motor.ResistanceFactor)
	positive("speed of doubled resistance", c.Motor.DoublingRadS)
	positive("motor mass", c.Motor.MassKg)
	positive("bell inertia", c.Motor.BellInertiaKgM2)
	positive("cells", float64(c.Pack.Cells))
	positive("capacity", c.Pack.CapacityAs*c.Pack.CapacityFactor)
	positive("pack resistance", c.Pack.InternalOhm)
	positive("pack mass", c.Pack.MassKg)
	positive("pack safe current", c.Pack.SafeCurrentA)
	positive("ESC current", c.Board.ContinuousA*c.Board.BurstA)
	positive("frame mass", c.FrameKg)
	positive("drag area", c.DragAreaM2)
	positive("flying factor", c.FlyingFactor)
	positive("rotor drag factor", c.RotorDragFactor)
	if !(c.Motor.LossNm >= 0 && c.Motor.EscOhm >= 0 && c.Motor.RippleW >= 0 && c.Board.RippleFactor >= 0 &&
		c.Board.PartThrottleLoss >= LowestPartThrottleLoss && c.ElectronicsW >= 0 &&
		c.ExtrasKg >= 0 && c.Board.MassKg >= 0 && c.Pack.LeadOhm >= 0) {
		errs = append(errs, fault.New("craft.negative", nil))
	}
	return errors.Join(errs...)
}

// ofStandard are the inputs that Standard follows from.
var ofStandard = [...]uncertain.Input{uncertain.PropThrust, uncertain.PropPower, uncertain.PropZeroThrust,
	uncertain.PropThrustSpeed, uncertain.PropPowerSpeed, uncertain.RotorModel, uncertain.RotorDrag,
	uncertain.MotorSpeed, uncertain.MotorsSpeed, uncertain.MotorResistance, uncertain.EscResistance,
	uncertain.MotorsPower, uncertain.MotorLoss, uncertain.MotorsLoss}

// Moves returns the quantities that can change with an input; the others come out the same to the last bit.
func Moves(i uncertain.Input) figure.Set {
	const times = 1<<figure.HoverTime | 1<<figure.CruiseTime | 1<<figure.HardTime | 1<<figure.StyleTime
	const atLanding = times | 1<<figure.UsedCharge | 1<<figure.Range | 1<<figure.MotorTemperature |
		1<<figure.PunchTemperature
	switch i {
	case uncertain.ThrottleScale: // what a display shows
		return 0
	case uncertain.PropInertia, uncertain.MotorInertia:
		return 1<<figure.Response | 1<<figure.Rise | 1<<figure.PullOut
	case uncertain.PackCapacity:
		return atLanding | 1<<figure.MeanCurrent
	case uncertain.FlyingPower:
		return atLanding | 1<<figure.MeanCurrent | 1<<figure.MotorHeat | ofEnd
	case uncertain.DragArea:
		return figure.Every &^ (1<<figure.HoverTime | 1<<figure.ThrustStep | 1<<figure.Rise | 1<<figure.Response)
	}
	return figure.Every
}

// Deviate returns the craft with every uncertain input multiplied by e to the deviation.
func (c *Craft) Deviate(d *uncertain.Deviation) Craft {
	v := *c
	for _, i := range ofStandard {
		if d[i] != 0 {
			v.Known = nil
		}
	}
	v.Propeller.Deviate(d)
	v.Motor.Deviate(d)
	v.Pack.InternalOhm *= math.Exp(d[uncertain.PackResistance])
	v.Pack.CapacityFactor *= math.Exp(d[uncertain.PackCapacity])
	v.Pack.MassKg *= math.Exp(d[uncertain.PackMass])
	v.FrameKg *= math.Exp(d[uncertain.FrameMass])
	v.DragAreaM2 *= math.Exp(d[uncertain.DragArea])
	v.Board.ESC.Deviate(d)
	v.RotorDragFactor *= math.Exp(d[uncertain.RotorDrag])
	v.Board.MassKg *= math.Exp(d[uncertain.BoardMass])
	v.ElectronicsW *= math.Exp(d[uncertain.ElectronicsPower])
	v.ExtrasKg *= math.Exp(d[uncertain.ExtrasMass])
	v.FlyingFactor *= math.Exp(d[uncertain.FlyingPower])
	return v
}
