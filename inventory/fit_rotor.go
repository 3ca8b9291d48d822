package inventory

import "fmt"

// Tolerances of the fit of props (common practice, no source).
const (
	boreToleranceMm = 0.05 // how much a bore or shaft may be off its nominal size
	armFlexMm       = 3.0  // kept free between neighbouring props
)

// usualHoles is the hole pattern in mm that motors of a stator mostly have (common practice, no
// source): 28 mm 16 or 19, 22 to 23 mm 16, 14 mm 12 or 9, 11 mm 9, 1104 also 8.5, 8 mm 6.6 with three holes.
func usualHoles(m *Motor) Lengths {
	switch d := m.StatorDiameterMm; {
	case d >= 27:
		return Lengths{16, 19}
	case d >= 21:
		return Lengths{16}
	case d >= 19:
		return Lengths{12, 16}
	case d >= 15:
		return Lengths{12}
	case d >= 13:
		return Lengths{9, 12}
	case d == 11 && m.StatorHeightMm == 4:
		return Lengths{8.5, 9}
	case d >= 10:
		return Lengths{9}
	}
	return Lengths{6.6}
}

func holes(m *Motor, f *Frame) Severity {
	if m.HolePatternMm == nil || f.HolePatternMm == nil {
		return Unknown
	}
	if _, ok := m.HolePatternMm.Common(f.HolePatternMm); ok {
		return Fits
	}
	return Misfit
}

// MotorFrame is what the rule on hole patterns says of a motor and a frame.
func MotorFrame(m *Motor, f *Frame) []Finding {
	var s Severity
	var text string
	switch s = holes(m, f); {
	case s == Misfit:
		text = fmt.Sprintf("motor %s has a %s hole pattern, frame %s takes %s: they do not bolt together; a frame with %s mends it", m.ID, m.HolePatternMm, f.ID, f.HolePatternMm, m.HolePatternMm)
	case s == Fits:
		return nil
	case m.HolePatternMm == nil && f.HolePatternMm == nil:
		text = fmt.Sprintf("motor %s gives no hole pattern (its size mostly has %s), frame %s gives none either: measure both before building", m.ID, usualHoles(m), f.ID)
	case m.HolePatternMm == nil:
		text = fmt.Sprintf("motor %s gives no hole pattern (its size mostly has %s), frame %s takes %s: measure before building", m.ID, usualHoles(m), f.ID, f.HolePatternMm)
	default:
		text = fmt.Sprintf("motor %s has a %s hole pattern, frame %s gives none: measure before building", m.ID, m.HolePatternMm, f.ID)
	}
	return []Finding{{RuleHoles, s, text}}
}

// usualMount is how motors of a stator mostly hold a prop (common practice, no source): 20 mm and
// up a nut on a 5 mm shaft, 10 mm and up two screws, smaller ones a press fit.
func usualMount(m *Motor) Mount {
	switch d := m.StatorDiameterMm; {
	case d >= 20:
		return Nut
	case d >= 10:
		return Screws
	}
	return Press
}

// usualPropMount is how props of a diameter are mostly held (common practice, no source).
func usualPropMount(p *Prop) Mount {
	switch d := p.DiameterIn; {
	case d >= 4.8:
		return Nut
	case d >= 2:
		return Screws
	}
	return Press
}

func mount(m *Motor, p *Prop) Severity {
	switch {
	case m.PropMount == "" || p.Mount == "":
		return Unknown
	case m.PropMount != p.Mount:
		return Misfit
	}
	return Fits
}

// bore compares the prop's bore with the motor's shaft: a wider one is held by screws alone.
func bore(m *Motor, p *Prop) Severity {
	if p.BoreMm == nil || m.ShaftMm == nil {
		return Unknown
	}
	switch gap := *p.BoreMm - *m.ShaftMm; {
	case gap < -boreToleranceMm:
		return Misfit
	case gap <= boreToleranceMm:
		return Fits
	case m.PropMount == Press || p.Mount == Press:
		return Misfit
	}
	return Remark
}

// PropMotor is what the rule on mounts says of a prop and a motor.
func PropMotor(p *Prop, m *Motor) []Finding {
	var found []Finding
	add := func(s Severity, format string, args ...any) {
		found = append(found, Finding{RulePropMount, s, fmt.Sprintf(format, args...)})
	}
	switch mount(m, p) {
	case Misfit:
		add(Misfit, "prop %s is held by %s, motor %s by %s: it cannot be fastened; a prop for %s mends it", p.ID, withBore(p), m.ID, withShaft(m), m.PropMount)
		return found
	case Unknown:
		switch {
		case m.PropMount == "" && p.Mount == "":
			add(Unknown, "prop %s (its size mostly has %s) and motor %s (mostly %s) do not say how they are held: try one on", p.ID, usualPropMount(p), m.ID, usualMount(m))
		case m.PropMount == "":
			add(Unknown, "prop %s is held by %s, motor %s does not say (its size mostly has %s): try one on", p.ID, withBore(p), m.ID, usualMount(m))
		default:
			add(Unknown, "prop %s does not say how it is held (its size mostly has %s), motor %s holds it by %s: try one on", p.ID, usualPropMount(p), m.ID, withShaft(m))
		}
	}
	switch bore(m, p) {
	case Misfit:
		if *p.BoreMm < *m.ShaftMm {
			add(Misfit, "prop %s has a %s mm bore, motor %s a %s mm shaft: it does not go on; a prop with a %s mm bore mends it", p.ID, number(*p.BoreMm), m.ID, number(*m.ShaftMm), number(*m.ShaftMm))
		} else {
			add(Misfit, "prop %s has a %s mm bore, motor %s a %s mm shaft: a press fit does not hold; a prop with a %s mm bore mends it", p.ID, number(*p.BoreMm), m.ID, number(*m.ShaftMm), number(*m.ShaftMm))
		}
	case Remark:
		if m.PropMount == Nut || p.Mount == Nut {
			add(Remark, "prop %s has a %s mm bore, motor %s a %s mm shaft: it needs a ring to sit in the middle", p.ID, number(*p.BoreMm), m.ID, number(*m.ShaftMm))
		} else {
			add(Remark, "prop %s has a %s mm bore, motor %s a %s mm shaft: the two screws alone keep it in the middle", p.ID, number(*p.BoreMm), m.ID, number(*m.ShaftMm))
		}
	case Unknown:
		switch {
		case p.BoreMm == nil && m.ShaftMm != nil:
			add(Unknown, "prop %s gives no bore, motor %s has a %s mm shaft: try one on", p.ID, m.ID, number(*m.ShaftMm))
		case p.BoreMm != nil:
			add(Unknown, "prop %s has a %s mm bore, motor %s gives no shaft: try one on", p.ID, number(*p.BoreMm), m.ID)
		}
	}
	return found
}

func withBore(p *Prop) string {
	if p.BoreMm == nil {
		return string(p.Mount)
	}
	return fmt.Sprintf("%s on a %s mm bore", p.Mount, number(*p.BoreMm))
}

func withShaft(m *Motor) string {
	if m.ShaftMm == nil {
		return string(m.PropMount)
	}
	return fmt.Sprintf("%s on a %s mm shaft", m.PropMount, number(*m.ShaftMm))
}

// propInFrame compares the prop with the largest that the frame takes; a duct must be wider than
// the prop.
func propInFrame(p *Prop, f *Frame) Severity {
	const rounding = 1e-6
	switch {
	case f.MaxPropIn == nil:
		return Fits // propBetween decides
	case p.DiameterIn > *f.MaxPropIn*(1+rounding), f.Ducted && p.DiameterIn > *f.MaxPropIn*(1-rounding):
		return Misfit
	}
	return Fits
}

// propBetween compares the prop with the distance of neighbouring motors.
func propBetween(p *Prop, f *Frame) Severity {
	if f.MotorSpacingMm == nil {
		return Fits // propInFrame decides
	}
	switch gapMm := *f.MotorSpacingMm - p.DiameterIn*mmPerInch; {
	case gapMm <= 1e-6:
		return Misfit
	case gapMm < armFlexMm:
		return Remark
	}
	return Fits
}

// PropFrame is what the rule on prop size says of a prop and a frame.
func PropFrame(p *Prop, f *Frame) []Finding {
	var found []Finding
	add := func(s Severity, format string, args ...any) {
		found = append(found, Finding{RulePropSize, s, fmt.Sprintf(format, args...)})
	}
	if propInFrame(p, f) == Misfit {
		if f.Ducted {
			add(Misfit, "prop %s is %s wide, the ducts of frame %s %s: it strikes the duct; a smaller prop mends it", p.ID, inches(p.DiameterIn), f.ID, inches(*f.MaxPropIn))
		} else {
			add(Misfit, "prop %s is %s wide, frame %s takes at most %s: it strikes the frame; a smaller prop mends it", p.ID, inches(p.DiameterIn), f.ID, inches(*f.MaxPropIn))
		}
	}
	diameterMm := p.DiameterIn * mmPerInch
	switch propBetween(p, f) {
	case Misfit:
		add(Misfit, "prop %s is %.4g mm wide, the motors of frame %s stand %s mm apart: the blades strike each other; a smaller prop mends it", p.ID, diameterMm, f.ID, number(*f.MotorSpacingMm))
	case Remark:
		add(Remark, "prop %s is %.4g mm wide, the motors of frame %s stand %s mm apart: %.2g mm are left for the arms to flex, %g are better", p.ID, diameterMm, f.ID, number(*f.MotorSpacingMm), *f.MotorSpacingMm-diameterMm, armFlexMm)
	}
	return found
}

func inches(x float64) string { return fmt.Sprintf("%.3g in (%.1f mm)", x, x*mmPerInch) }
