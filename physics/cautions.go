package physics

import (
	"cmp"
	"math"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Caution is something that a craft's own numbers warn of without making it unfit.
type Caution uint8

// The cautions.
const (
	HotWinding     Caution = iota // K at the end of a flight over HotWindingK
	HotPunch                      // K after a punch over HotPunchK
	FastElectrical                // electrical speed over what ESCs are sure to follow, FastElectricalRadS
	FastTip                       // tip Mach number over FastTipMach
	TwitchyHover                  // hover under TwitchyDuty
	WeakHover                     // hover over WeakDuty
	OverdrawnPlug                 // A for seconds at the throttle cap, over the plug's datasheet
	WarmPlug                      // mean A of a flight, punches left out, over the plug's datasheet
	// DrivenHard is A at the throttle cap, of the estimated limit, in a motor with over NotedHeatWKg of copper heat there.
	DrivenHard
	CautionEnd // one past the last
)

// Bounds of the cautions.
const (
	// Magnets and enamel of small motors age fast above (common practice, no source; magnets of the usual grades
	// hold 100 to 150 °C, enamel 130 and more for years and 240 for minutes: IEC 60404-8-1 and 60317, from memory).
	HotWindingK     = rotor.ZeroCelsiusK + 100
	RefusedWindingK = rotor.ZeroCelsiusK + 150
	HotPunchK       = rotor.ZeroCelsiusK + 150
	RefusedPunchK   = rotor.ZeroCelsiusK + 220
	// No enamel of windings is made for over 240 °C (classes of IEC 60317, from memory), and the law of heat
	// is good to a factor of 1.6: beyond this a temperature says nothing but that they burn.
	BurntWindingK = rotor.ZeroCelsiusK + 300
	// Electrical rad/s that ESCs are sure to follow, and that none is known to (common practice, no source).
	FastElectricalRadS    = 320e3 * 2 * math.Pi / 60
	RefusedElectricalRadS = 440e3 * 2 * math.Pi / 60
	FastTipMach           = 0.65 // beyond it the section data do not hold: compressibility is left out
	TwitchyDuty           = 0.12 // common practice, no source
	WeakDuty              = 0.50 // common practice, no source
)

// Warning is a caution with its value and the bound it passes, or is taken of, in SI units; a temperature that is not known but
// for being over BurntWindingK is infinite.
type Warning struct {
	Caution      Caution
	Value, Bound float64
}

// Danger reports whether a caution is of what may burn or fall: it is to be read before anything that speaks for
// the craft.
func (c Caution) Danger() bool {
	switch c {
	case HotWinding, HotPunch, FastElectrical, DrivenHard:
		return true
	}
	return false
}

// electricalRadS is the electrical speed from the mechanical one and the poles; 0 means 12.
func electricalRadS(speedRadS float64, poles int) float64 {
	return speedRadS * float64(cmp.Or(poles, 12)) / 2
}

// Warnings lists what a craft's predicted performance warns of.
func (c *Craft) Warnings(p *Performance) []Warning {
	var list []Warning
	over := func(caution Caution, value, bound float64) {
		if value > bound {
			list = append(list, Warning{caution, value, bound})
		}
	}
	hot := func(caution Caution, q figure.Quantity, boundK float64) {
		switch t, why := p.Get(q); why {
		case Defined:
			over(caution, t, boundK)
		case WindingsBurn:
			over(caution, math.Inf(1), boundK)
		}
	}
	hot(HotWinding, figure.MotorTemperature, HotWindingK)
	hot(HotPunch, figure.PunchTemperature, HotPunchK)
	electrical, _ := p.Get(figure.ElectricalSpeed)
	over(FastElectrical, electrical, FastElectricalRadS)
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
	if k := &c.Connector; k.SheetPeakA > 0 {
		over(OverdrawnPlug, p.PeakPackA, k.SheetPeakA)
	}
	if k := &c.Connector; k.SheetContinuousA > 0 {
		over(WarmPlug, p.SteadyPackA, k.SheetContinuousA)
	}
	return list
}
