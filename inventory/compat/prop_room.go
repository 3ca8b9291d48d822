package compat

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Room for props (common practice, no source).
const (
	// A frame of a class in inches takes what flies in that class: 5.1 and 5.2 inch on a 5 inch frame, 3.1 on a 3.
	classShare = 1.05
	// sizeRounding is what two written sizes may differ by and still be one: 40 mm is 1.57 inch or 1.575.
	sizeRounding = 0.005
	// ductRoundingIn is half a last digit of a size in tenths of an inch: 31 mm go into ducts of 1.2.
	// Whole and half inches are taken at their word.
	ductRoundingIn = 0.05
	touchingMm     = 1e-6
	// Ducts of 3.5 inch (88.9 mm) are made for props that are sold as 90 mm.
	ductClassIn, ductClassMm = 3.5, 90.0
)

// isClass reports whether the largest prop of a frame is a class of frames, in whole or half inches.
func isClass(inches float64) bool { return 2*inches == math.Trunc(2*inches) }

// largestIn is the diameter of the largest prop that a frame takes by what it says of props, infinite where it leaves
// that to the distance of its motors. Ducts take what they say and no more.
func largestIn(f *inventory.Frame) float64 {
	switch {
	case f.MaxPropIn == nil:
		return math.Inf(1)
	case !f.Ducted && isClass(*f.MaxPropIn):
		return *f.MaxPropIn * classShare
	case f.Ducted && *f.MaxPropIn == ductClassIn:
		return ductClassMm / inventory.MmPerInch * (1 + sizeRounding)
	case f.Ducted && !isClass(*f.MaxPropIn) && math.Abs(10**f.MaxPropIn-math.Round(10**f.MaxPropIn)) < 1e-9:
		return *f.MaxPropIn + ductRoundingIn
	}
	return *f.MaxPropIn * (1 + sizeRounding)
}

// propInFrame compares the prop with the largest that the frame takes.
func propInFrame(p *inventory.Prop, f *inventory.Frame) Severity {
	if p.DiameterIn > largestIn(f) {
		return Misfit
	}
	return Fits // propBetween decides where it says nothing of props
}

// propBetween compares the prop with the distance of neighbouring motors. Where that is all that is known of ducts,
// their walls need room beside it.
func propBetween(p *inventory.Prop, f *inventory.Frame) Severity {
	if f.MotorSpacingMm == nil {
		return Fits // propInFrame decides
	}
	gapMm := *f.MotorSpacingMm - p.DiameterIn*inventory.MmPerInch
	switch {
	case gapMm <= touchingMm, f.Ducted && f.MaxPropIn == nil && gapMm < inventory.DuctWallsMm:
		return Misfit
	case gapMm < inventory.ArmFlexMm:
		return Remark
	}
	return Fits
}

// Inches is a length in inches.
type Inches float64

// PropFrame is what the rule on prop size says of a prop and a frame.
func PropFrame(p *inventory.Prop, f *inventory.Frame) []Finding {
	diameterMm := p.DiameterIn * inventory.MmPerInch
	values := strict.Values{"prop": p.ID, "frame": f.ID, "wide": Inches(p.DiameterIn),
		"wide_mm": strict.Digits(diameterMm, 4)}
	if f.MaxPropIn != nil {
		values["takes"] = Inches(*f.MaxPropIn)
	}
	if f.MotorSpacingMm != nil {
		values["spacing"] = strict.Number(*f.MotorSpacingMm)
		values["left"], values["better"] = strict.Digits(*f.MotorSpacingMm-diameterMm, 2), strict.Number(inventory.ArmFlexMm)
		values["walls"] = strict.Number(inventory.DuctWallsMm)
	}
	var list []Finding
	add := func(s Severity, code strict.Code) { list = append(list, found(RulePropSize, s, code, values)) }
	if propInFrame(p, f) == Misfit {
		if f.Ducted {
			add(Misfit, "fit.prop_in_duct")
		} else {
			add(Misfit, "fit.prop_in_frame")
		}
	}
	switch propBetween(p, f) {
	case Misfit:
		if *f.MotorSpacingMm > diameterMm+touchingMm {
			add(Misfit, "fit.props_in_ducts")
		} else {
			add(Misfit, "fit.props_strike")
		}
	case Remark:
		add(Remark, "fit.props_near")
	}
	return list
}
