package check

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// air remarks on air that few fly in.
func air(n *notes, a *inventory.Air) {
	if a.AltitudeM != nil {
		n.outside(a.Origin, "altitude_m", "the air", *a.AltitudeM, usual{-430, 3500, "m", group("of.places")})
	}
	if a.TemperatureC != nil && (*a.TemperatureC < -25 || *a.TemperatureC > 50) {
		n.add(a.Origin, "temperature_c", "check.temperature", strict.Values{"got": strict.Number(*a.TemperatureC)})
	}
}

// flown is a craft that readings belong to, as far as the drawer knows it.
type flown struct {
	whose    string
	massG    float64 // of its parts
	idealW   float64 // power of an ideal rotor in hover
	slowRPM  float64 // in hover, of a prop of highThrust
	fastRPM  float64 // of lowThrust
	boardW   float64 // power of board and extras
	packV    float64
	packMAh  float64
	safeA    float64 // largest current of its motors together, by the law
	hasCraft bool
}

// flownCraft puts together what a log entry or a fleet craft names.
func flownCraft(d *inventory.Drawer, parts *inventory.Parts, whose string) flown {
	f := flown{whose: whose}
	c, err := compat.Build(d, parts)
	if err != nil || c.Prop.DiameterIn == 0 || c.Pack.Cells == 0 {
		return f
	}
	motor, body := c.Motor.SI(), c.Body()
	pack := c.Pack.SI(rotor.CelsiusToKelvin(20))
	rotors := float64(c.Rotors())
	propKg := rotor.EstimateMass(c.Prop.DiameterIn*inventory.MmPerInch/1000, c.Prop.PitchIn*inventory.MmPerInch/1000,
		c.Prop.Blades).Value
	if c.Prop.MassG != nil {
		propKg = *c.Prop.MassG / 1000
	}
	massKg := body.FrameMass.Value + body.BoardMass.Value + body.ExtrasMass.Value + pack.MassKg +
		rotors*(motor.Mass.Value+propKg)
	diameterM := c.Prop.DiameterIn * inventory.MmPerInch / 1000
	weightN := massKg * physics.GravityMS2
	f.massG, f.hasCraft = massKg*1000, true
	f.idealW = weightN * math.Sqrt(weightN/(2*seaLevelKgM3*rotors*math.Pi/4*diameterM*diameterM))
	rpm := func(ct float64) float64 {
		return 60 * math.Sqrt(weightN/(rotors*ct*seaLevelKgM3*math.Pow(diameterM, 4)))
	}
	f.slowRPM, f.fastRPM = rpm(highThrust), rpm(lowThrust)
	f.boardW = body.Power.Value
	f.packV, f.packMAh = 3.7*float64(c.Pack.Cells), c.Pack.CapacityMAh
	f.safeA = rotors * highTorquePerKg / 2 * motor.Mass.Value / motor.TorqueConstantNmA
	return f
}

// logEntry remarks on the readings of an entry.
func logEntry(n *notes, d *inventory.Drawer, e *inventory.LogEntry) {
	if e.Air != nil {
		air(n, e.Air)
	}
	f := flownCraft(d, &e.Parts, "this entry")
	look := func(key string, x *float64) bool {
		return x != nil && f.outside(n, e.Origin, key, *x)
	}
	look("all_up_g", e.AllUpG)
	look("hover_throttle_pct", e.HoverThrottlePct)
	look("hover_current_a", e.HoverCurrentA)
	look("hover_rpm", e.HoverRPM)
	look("full_throttle_current_a", e.FullThrottleCurrentA)
	look("punch_current_a", e.PunchCurrentA)
	look("top_speed_mps", e.TopSpeedMps)
	used := look("used_mah", e.UsedMAh)
	if e.FlightMinutes == nil || used || !f.hasCraft {
		return
	}
	mAh := 0.8 * f.packMAh
	if e.UsedMAh != nil {
		mAh = *e.UsedMAh
	}
	minutes := mAh / 1000 * f.packV * 60 / f.idealW // of ideal hovering
	n.outside(e.Origin, "flight_minutes", f.whose, *e.FlightMinutes, usual{minutes / highFlying, minutes / lowFlying,
		"min", group("of.flight", "mah", strict.Digits(mAh, 2))})
}

// Electric power over that of ideal hovering: in hover, and the mean of a flight of any style (common practice,
// no source: a figure of merit of 0.2 to 0.7, racing at three to five times the power of hovering; small motors on
// many cells and steep props take eight times the ideal power). Video transmitters take up to twice what is listed.
const (
	lowHover, highHover   = 1.1, 8.0
	highBoard             = 2.0
	lowFlying, highFlying = 1.1, 14.0
)

// Static thrust coefficients T/(rho n² D⁴) that props have: 0.08 to 0.24 are measured from 1.6 to 9 inch (UIUC vols
// 1-3; Cox & Dantsker 2026; public thrust stands), and a weight a quarter off moves the rpm by an eighth.
const lowThrust, highThrust = 0.06, 0.30

// outside remarks on a reading that such a craft does not give.
func (f *flown) outside(n *notes, o strict.Origin, key string, x float64) bool {
	of := group("of.craft")
	switch key {
	case "hover_throttle_pct", "turn_throttle_pct":
		return n.outside(o, key, f.whose, x, usual{7, 90, "%", of})
	case "top_speed_mps":
		return n.outside(o, key, f.whose, x, usual{5, 90, "m/s", of})
	}
	if !f.hasCraft {
		return false
	}
	switch key {
	case "all_up_g":
		return n.outside(o, key, f.whose, x, about(f.massG, 1.6, "g", group("of.its_parts")))
	case "hover_current_a":
		return n.outside(o, key, f.whose, x, usual{lowHover * f.idealW / f.packV,
			(highHover*f.idealW + highBoard*f.boardW) / f.packV, "A", of})
	case "hover_rpm":
		return n.outside(o, key, f.whose, x, usual{f.slowRPM, f.fastRPM, "rpm", of})
	case "full_throttle_current_a", "punch_current_a":
		return n.outside(o, key, f.whose, x, usual{2 * f.idealW / f.packV, 3.5 * f.safeA, "A", of})
	case "used_mah":
		return n.outside(o, key, f.whose, x, usual{0.15 * f.packMAh, 1.1 * f.packMAh, "mAh", group("of.flight_on_pack")})
	case "style_minutes", "hover_minutes", "cruise_minutes", "hard_minutes":
		minutes := 0.8 * f.packMAh / 1000 * f.packV * 60 / f.idealW
		return n.outside(o, key, f.whose, x, usual{minutes / highFlying, minutes / lowFlying, "min", group("of.craft_flies")})
	}
	return false
}

// fleetCraft remarks on what was measured of a craft.
func fleetCraft(n *notes, d *inventory.Drawer, c *inventory.FleetCraft) {
	f := flownCraft(d, &c.Parts, c.Name)
	origin := strict.Origin{Path: c.Path + ".measured", Position: c.Position}
	for _, key := range figure.Keys() {
		if x, ok := c.Measured[key]; ok {
			f.outside(n, origin, key, x)
		}
	}
}
