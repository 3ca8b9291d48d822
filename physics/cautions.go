package physics

import (
	"math"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Caution is something that a craft's own numbers warn of without making it unfit.
type Caution uint8

// The cautions.
const (
	HotWinding     Caution = iota // K over HotWindingK
	BurntWinding                  // K over BurntWindingK, where no figure is given any more
	FastElectrical                // electrical speed over what sensorless ESCs follow
	FastTip                       // tip Mach number over fastTipMach
	TwitchyHover                  // hover under twitchyDuty
	WeakHover                     // hover over weakDuty
	OverdrawnPlug                 // advisory connector over its rating
	DrivenHard                    // A at the throttle cap, of the estimated limit, in a motor with over NotedHeatWKg of copper heat there
	CautionEnd                    // one past the last
)

// Bounds of the cautions.
const (
	HotWindingK = rotor.ZeroCelsiusK + 120 // magnets and enamel of small motors age fast above (common practice, no source)
	// No enamel of windings is made for over 240 °C (classes of IEC 60317, from memory), and the law of heat
	// is good to a factor of 1.5: beyond this a temperature says nothing but that they burn.
	BurntWindingK   = rotor.ZeroCelsiusK + 300
	FastElectricalS = 400e3 / 60 // electrical turns a second that sensorless ESCs still follow (common practice, no source)
	FastTipMach     = 0.65       // beyond it the section data do not hold: compressibility is left out
	TwitchyDuty     = 0.12       // common practice, no source
	WeakDuty        = 0.50       // common practice, no source
)

// Warning is a caution with its value and the bound it exceeds, or is taken of, in SI units.
type Warning struct {
	Caution      Caution
	Value, Bound float64
}

// ElectricalSpeed is the electrical speed at full throttle in turns a second, from mechanical
// speed in rad/s and poles; 0 poles means 12 for small motors.
func ElectricalSpeed(speedRadS float64, poles int) float64 {
	if poles == 0 {
		poles = 12
	}
	return speedRadS / (2 * math.Pi) * float64(poles) / 2
}

// Warnings lists what a craft's predicted performance warns of.
func (c *Craft) Warnings(p *Performance) []Warning {
	var list []Warning
	over := func(caution Caution, value, bound float64) {
		if value > bound {
			list = append(list, Warning{caution, value, bound})
		}
	}
	switch t, why := p.Get(figure.MotorTemperature); why {
	case Defined:
		over(HotWinding, t, HotWindingK)
	case WindingsBurn:
		list = append(list, Warning{BurntWinding, BurntWindingK, BurntWindingK})
	}
	over(FastElectrical, ElectricalSpeed(p.FullSpeedRadS, c.Motor.Poles), FastElectricalS)
	mach, _ := p.Get(figure.TipMach)
	over(FastTip, mach, FastTipMach)
	if hover, why := p.Get(figure.HoverThrottle); why == Defined {
		over(WeakHover, hover, WeakDuty)
		if hover < TwitchyDuty {
			list = append(list, Warning{TwitchyHover, hover, TwitchyDuty})
		}
	}
	if c.Motor.LimitEstimated {
		if use := p.PeakMotorA / c.Motor.MaxCurrentA; PunchHeatWKg*use*use > NotedHeatWKg {
			list = append(list, Warning{DrivenHard, p.PeakMotorA, c.Motor.MaxCurrentA})
		}
	}
	if c.Connector.Advisory {
		use, _ := p.Get(figure.ConnectorCurrentUse)
		over(OverdrawnPlug, use, 1)
	}
	return list
}
