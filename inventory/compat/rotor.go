package compat

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Tolerances of the fit of props (common practice, no source).
const (
	boreToleranceMm = 0.05 // how much a bore or shaft may be off its nominal size
)

// usualHoles is the hole pattern in mm that motors of a stator mostly have (common practice, no
// source): 28 mm 16 or 19, 22 mm and more 16, low ones and 17 to 21 mm 12 or 16, 15 mm 12, 14 mm 12 or 9, 11 mm 9, 1104
// also 8.5, 8 mm 6.6 with three holes.
func usualHoles(m *inventory.Motor) inventory.Lengths {
	switch d := m.StatorDiameterMm; {
	case d >= 27:
		return inventory.Lengths{16, 19}
	case d >= 22 && m.StatorHeightMm >= 4.5:
		return inventory.Lengths{16}
	case d >= 17:
		return inventory.Lengths{12, 16}
	case d >= 15:
		return inventory.Lengths{12}
	case d >= 13:
		return inventory.Lengths{9, 12}
	case d == 11 && m.StatorHeightMm == 4:
		return inventory.Lengths{8.5, 9}
	case d >= 10:
		return inventory.Lengths{9}
	}
	return inventory.Lengths{6.6}
}

// unlikeHolesMm is how far the usual holes of a motor may be off those of a frame that it may still fit when its own are
// not given (common practice, no source): patterns are 9, 12, 16 and 19 mm.
const unlikeHolesMm = 3.5

// unlikeHoles reports whether a motor whose holes are not given is of a size that has none of a frame's patterns.
func unlikeHoles(m *inventory.Motor, f *inventory.Frame) bool {
	for _, usual := range usualHoles(m) {
		for _, takes := range f.HolePatternMm {
			if math.Abs(usual-takes) < unlikeHolesMm {
				return false
			}
		}
	}
	return m.HolePatternMm == nil && f.HolePatternMm != nil
}

func holes(m *inventory.Motor, f *inventory.Frame) Severity {
	if unlikeHoles(m, f) {
		return Misfit
	}
	if m.HolePatternMm == nil || f.HolePatternMm == nil {
		return Unknown
	}
	if _, ok := m.HolePatternMm.Common(f.HolePatternMm); ok {
		return Fits
	}
	return Misfit
}

// MotorFrame is what the rule on hole patterns says of a motor and a frame.
func MotorFrame(m *inventory.Motor, f *inventory.Frame) []Finding {
	severity := holes(m, f)
	values := strict.Values{"motor": m.ID, "frame": f.ID, "holes": m.HolePatternMm, "takes": f.HolePatternMm,
		"usual": usualHoles(m)}
	var code strict.Code
	switch {
	case unlikeHoles(m, f):
		code = "fit.holes_unlike"
	case severity == Misfit:
		code = "fit.holes"
	case severity == Fits:
		return nil
	case m.HolePatternMm == nil && f.HolePatternMm == nil:
		code = "fit.holes_unknown"
	case m.HolePatternMm == nil:
		code = "fit.motor_holes_unknown"
	default:
		code = "fit.frame_holes_unknown"
	}
	return []Finding{found(RuleHoles, severity, code, values)}
}

// usualMount is how motors of a stator mostly hold a prop (common practice, no source): 20 mm and
// up a nut on a 5 mm shaft, 10 mm and up two screws, smaller ones a press fit.
func usualMount(m *inventory.Motor) inventory.Mount {
	switch d := m.StatorDiameterMm; {
	case d >= 20:
		return inventory.Nut
	case d >= 10:
		return inventory.Screws
	}
	return inventory.Press
}

// usualPropMount is how props of a diameter are mostly held (common practice, no source).
func usualPropMount(p *inventory.Prop) inventory.Mount {
	switch d := p.DiameterIn; {
	case d >= 4.8:
		return inventory.Nut
	case d >= 2:
		return inventory.Screws
	}
	return inventory.Press
}

// Sizes between which no common mount is made (common practice, no source): a 5 mm shaft with a nut and blades of under
// 3.5 inch, two screws and blades of 5 inch, a press fit of 1 mm and blades of 2 inch.
const (
	nutStatorMm, nutLeastIn    = 21.5, 3.5
	screwStatorMm, screwMostIn = 13.5, 4.75
	pressStatorMm, pressMostIn = 9.5, 2.0
)

// unlikeMounts reports whether a motor and a prop that do not say how they are held are of sizes that share no mount.
// A bore that fits the shaft overrules it.
func unlikeMounts(m *inventory.Motor, p *inventory.Prop) bool {
	if m.PropMount != "" || p.Mount != "" || m.ShaftMm != nil && p.BoreMm != nil {
		return false
	}
	d := m.StatorDiameterMm
	return d >= nutStatorMm && p.DiameterIn < nutLeastIn || d <= screwStatorMm && p.DiameterIn > screwMostIn ||
		d <= pressStatorMm && p.DiameterIn > pressMostIn
}

func mount(m *inventory.Motor, p *inventory.Prop) Severity {
	switch {
	case unlikeMounts(m, p):
		return Misfit
	case m.PropMount == "" || p.Mount == "":
		return Unknown
	case m.PropMount != p.Mount:
		return Misfit
	}
	return Fits
}

// bore compares the prop's bore with the motor's shaft: a wider one is held by screws alone.
func bore(m *inventory.Motor, p *inventory.Prop) Severity {
	if p.BoreMm == nil || m.ShaftMm == nil {
		return Unknown
	}
	switch gap := *p.BoreMm - *m.ShaftMm; {
	case gap < -boreToleranceMm:
		return Misfit
	case gap <= boreToleranceMm:
		return Fits
	case m.PropMount == inventory.Press || p.Mount == inventory.Press:
		return Misfit
	}
	return Remark
}

// Hold is how a prop is held: by what, on a bore or shaft of so many mm if that is known.
type Hold struct {
	Mount inventory.Mount
	Mm    *float64
}

// PropMotor is what the rule on mounts says of a prop and a motor.
func PropMotor(p *inventory.Prop, m *inventory.Motor) []Finding {
	values := strict.Values{"prop": p.ID, "motor": m.ID, "prop_hold": Hold{p.Mount, p.BoreMm},
		"motor_hold": Hold{m.PropMount, m.ShaftMm},
		"mount":      string(m.PropMount), "usual_prop": string(usualPropMount(p)), "usual_motor": string(usualMount(m))}
	if p.BoreMm != nil {
		values["bore"] = strict.Number(*p.BoreMm)
	}
	if m.ShaftMm != nil {
		values["shaft"] = strict.Number(*m.ShaftMm)
	}
	var list []Finding
	add := func(s Severity, code strict.Code) { list = append(list, found(RulePropMount, s, code, values)) }
	switch mount(m, p) {
	case Misfit:
		if unlikeMounts(m, p) {
			add(Misfit, "fit.mount_unlike")
		} else {
			add(Misfit, "fit.mount")
		}
		return list
	case Unknown:
		switch {
		case m.PropMount == "" && p.Mount == "":
			add(Unknown, "fit.mount_unknown")
		case m.PropMount == "":
			add(Unknown, "fit.motor_mount_unknown")
		default:
			add(Unknown, "fit.prop_mount_unknown")
		}
	}
	switch bore(m, p) {
	case Misfit:
		if *p.BoreMm < *m.ShaftMm {
			add(Misfit, "fit.bore_small")
		} else {
			add(Misfit, "fit.bore_wide_press")
		}
	case Remark:
		if m.PropMount == inventory.Nut || p.Mount == inventory.Nut {
			add(Remark, "fit.bore_wide_nut")
		} else {
			add(Remark, "fit.bore_wide_screws")
		}
	case Unknown:
		switch {
		case p.BoreMm == nil && m.ShaftMm != nil:
			add(Unknown, "fit.bore_unknown")
		case p.BoreMm != nil:
			add(Unknown, "fit.shaft_unknown")
		}
	}
	return list
}
