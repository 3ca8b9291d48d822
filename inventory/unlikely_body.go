package inventory

import (
	"fmt"
	"math"

	"partsaloft/physics"
)

// Bounds on packs, as factors on what the laws expect.
const (
	packMassFactor = 1.7
	cellOhmFactor  = 4.0
	// contactMohm is what tabs, plug and the meter's own contacts add to a cell, which counts in large packs.
	contactMohm = 2.0
)

// Usual label C by chemistry (common practice, no source): a soft pack for multirotors 18 to 160, large ones from
// 8, cylindrical cells 1.5 to 18.
const (
	largePackAh         = 5.0
	lowSoftC, highSoftC = 18.0, 160.0
	lowLargeC           = 8.0
	lowIonC, highIonC   = 1.5, 18.0
)

// usualC is the range of label C.
func (p *Pack) usualC() usual {
	switch {
	case p.Chemistry == LiIon:
		return usual{lowIonC, highIonC, "", "cylindrical Li-ion cells"}
	case p.CapacityMAh/1000 >= largePackAh:
		return usual{lowLargeC, highSoftC, "", "large packs"}
	}
	return usual{lowSoftC, highSoftC, "", "packs of this size"}
}

func (p *Pack) unlikely(n *notes) {
	whose := "pack " + p.ID
	law := physics.EstimatePackMass(p.Chemistry.si(), p.Cells, p.CapacityMAh/1000).Value * 1000
	massIsUsual := true
	if p.MassG != nil && off(*p.MassG, law, packMassFactor) {
		massIsUsual = false
		n.add(p.Origin, "mass_g", "pack %s weighs %s g, %dS of %s mAh mostly about %s g: weigh it again", p.ID, number(*p.MassG), p.Cells, number(p.CapacityMAh), twoDigits(law))
		if *p.MassG < law {
			n.burns() // it holds less than the label says, and bears less current
		}
	}
	if p.SizeMm != nil && massIsUsual {
		// Packs of cells, wires and foil have 1.6 to 2.6 g in a cubic centimetre (common practice, no source).
		cm3 := p.SizeMm[0] * p.SizeMm[1] * p.SizeMm[2] / 1000
		if density := law / cm3; density < 0.8 || density > 4.5 {
			n.add(p.Origin, "size_mm", "pack %s has %s cubic centimetres, %dS of %s mAh mostly about %s: check the digits of size_mm and of the capacity", p.ID, twoDigits(cm3), p.Cells, number(p.CapacityMAh), twoDigits(law/2))
		}
	}
	wear := p.Wear()
	if wear.Sign != NoWear {
		key := [...]string{GivenRetired: "condition", NotedDamage: "note", HighResistance: "cell_resistance_mohm", ManyCycles: "cycles"}[wear.Sign]
		n.add(p.Origin, key, "%s", wear.text(p))
	}
	if p.CellResistanceMohm != nil && wear.Sign != HighResistance {
		mohm := physics.EstimatePackResistance(p.Chemistry.si(), p.Cells, p.CapacityMAh/1000, p.cycleCount()).Value / float64(p.Cells) * 1000
		switch x := *p.CellResistanceMohm; {
		case x > cellOhmFactor*mohm+contactMohm:
			n.add(p.Origin, "cell_resistance_mohm", "pack %s has %s milliohm a cell, one of %s mAh mostly about %s: is it the whole pack's, or is the pack worn?", p.ID, number(x), number(p.CapacityMAh), twoDigits(mohm))
		case x < mohm/cellOhmFactor:
			n.add(p.Origin, "cell_resistance_mohm", "pack %s has %s milliohm a cell, one of %s mAh mostly about %s: check the digits", p.ID, number(x), number(p.CapacityMAh), twoDigits(mohm))
			n.burns()
		}
	}
	p.unlikelyC(n)
	if p.Connector != "" && !p.Connector.Known() {
		n.add(p.Origin, "connector", "pack %s has the plug %q, which is not known: no rating is checked", p.ID, string(p.Connector))
	}
	n.count(p.Origin, whose, p.Count, mostPacks)
}

func (p *Pack) unlikelyC(n *notes) {
	switch u := p.usualC(); {
	case p.Chemistry == LiIon && p.DischargeC > u.high:
		n.add(p.Origin, "chemistry", "pack %s is Li-ion and claims %sC, cylindrical cells mostly bear 3 to 15C: check the chemistry", p.ID, number(p.DischargeC))
		n.burns()
	case n.outside(p.Origin, "discharge_c", "pack "+p.ID, p.DischargeC, u) && p.DischargeC > u.high:
		n.burns()
	}
	switch {
	case p.BurstC == nil:
	case *p.BurstC < p.DischargeC:
		n.add(p.Origin, "burst_c", "pack %s claims %sC for a burst and %sC for good, which contradict each other: reckoned with the lower", p.ID, number(*p.BurstC), number(p.DischargeC))
	case *p.BurstC > 2.5*p.DischargeC:
		n.add(p.Origin, "burst_c", "pack %s claims %sC for a burst and %sC for good, most claim up to twice: check both", p.ID, number(*p.BurstC), number(p.DischargeC))
		n.burns()
	}
}

func (p *Pack) cycleCount() int {
	if p.Cycles == nil {
		return 0
	}
	return *p.Cycles
}

// usualFrameG is the middle of what frames weigh for their largest props (common practice, no source); ducts weigh
// nearly as much again.
func (f *Frame) usualFrameG() float64 {
	grams := 2.3 * math.Pow(*f.MaxPropIn, 2.2)
	if f.Ducted {
		grams *= 1.8
	}
	return grams
}

func (f *Frame) unlikely(n *notes) {
	whose := "frame " + f.ID
	if f.MaxPropIn != nil {
		expected := f.usualFrameG()
		if f.MassG < expected/4.5 || f.MassG > expected*2.2 {
			n.add(f.Origin, "mass_g", "frame %s weighs %s g, one for %s in props mostly about %s g: weigh it again without electronics", f.ID, number(f.MassG), number(*f.MaxPropIn), twoDigits(expected))
		}
		if f.MotorSpacingMm != nil && *f.MaxPropIn*mmPerInch >= *f.MotorSpacingMm {
			n.add(f.Origin, "max_prop_in", "frame %s takes props of %s and has motors %s mm apart, which contradict each other: both are kept to", f.ID, inches(*f.MaxPropIn), number(*f.MotorSpacingMm))
		}
		if f.MotorSpacingMm != nil && *f.MotorSpacingMm > 2.5**f.MaxPropIn*mmPerInch {
			n.add(f.Origin, "motor_spacing_mm", "frame %s has motors %s mm apart and takes props of %s only: is it the distance of neighbours, in mm?", f.ID, number(*f.MotorSpacingMm), inches(*f.MaxPropIn))
		}
	}
	f.unlikelyRoom(n, whose)
	n.count(f.Origin, whose, f.Count, mostFrames)
}

// stackPatterns are those of boards and frames in mm (common practice, no source).
var stackPatterns = []float64{16, 20, 25.5, 26.5, 30.5}

// unlikelyStack remarks on hole patterns that no board has.
func unlikelyStack(n *notes, at Note, whose string, patterns Lengths) {
	for _, x := range patterns {
		near := false
		for _, usual := range stackPatterns {
			near = near || math.Abs(x-usual) < 1
		}
		if !near {
			at.Text = fmt.Sprintf("%s has a stack pattern of %s mm, most have %s: check the digits", whose, number(x), Lengths(stackPatterns))
			*n = append(*n, at)
		}
	}
}

// unlikelyRoom remarks on what the frame has room for, against the props that it is made for.
func (f *Frame) unlikelyRoom(n *notes, whose string) {
	propMm := f.LargestPropM() * 1000
	of := fmt.Sprintf("one for %s in props", number(math.Round(propMm/mmPerInch*10)/10))
	if f.DragAreaCm2 != nil {
		n.outside(f.Origin, "drag_area_cm2", whose, *f.DragAreaCm2, about(physics.EstimateDragArea(propMm/1000).Value*1e4, 3.1, "cm²", of))
	}
	if b := f.PackMaxMm; b != nil {
		for i, x := range b {
			u := usual{0.12 * propMm, 1.1 * propMm, "mm", of}
			if i == 0 {
				u.low, u.high = 0.35*propMm, 2.6*propMm
			}
			n.outside(f.Origin, "pack_max_mm", whose, x, u)
		}
	}
	if f.ArmThicknessMm != nil {
		inch := propMm / mmPerInch
		n.outside(f.Origin, "arm_thickness_mm", whose, *f.ArmThicknessMm, usual{0.4 * inch, 2.4 * inch, "mm", of})
	}
	if f.CameraWidthMm != nil {
		n.outside(f.Origin, "camera_width_mm", whose, *f.CameraWidthMm, usual{8, 40, "mm", "frames"})
	}
	unlikelyStack(n, Note{Position: f.Position, Path: f.Path + ".stack_mm"}, whose, f.StackMm)
}

// Usual boards (common practice, no source): one ESC's continuous amperes to each gram of board with its ESCs from
// 1.1 on a whoop's to 4.4 on one-board stacks.
const lowAmpsPerGram, highAmpsPerGram = 0.6, 6.0

func (b *Board) unlikely(n *notes) {
	whose := "board " + b.ID
	switch {
	case b.MassG != nil:
		u := usual{lowAmpsPerGram * *b.MassG, highAmpsPerGram * *b.MassG, "A", "one of " + number(*b.MassG) + " g"}
		if *b.MassG < 1.5 || *b.MassG > 70 {
			n.add(b.Origin, "mass_g", "board %s weighs %s g, most 2 to 45 g: weigh it again, without frame and motors", b.ID, number(*b.MassG))
		} else if n.outside(b.Origin, "esc_current_a", whose, b.EscCurrentA, u) && b.EscCurrentA > u.high {
			n.burns()
		}
	case b.Cells != nil:
		// Without a mass: ESCs for many cells are large, those for one or two are small.
		u := usual{3, 100, "A", "one for " + b.Cells.String()}
		switch {
		case b.Cells.Max <= 2:
			u.high = 25
		case b.Cells.Max >= 6:
			u.low = 12
		}
		if n.outside(b.Origin, "esc_current_a", whose, b.EscCurrentA, u) && b.EscCurrentA > u.high {
			n.burns()
		}
	}
	switch {
	case b.EscBurstA == nil:
	case *b.EscBurstA < b.EscCurrentA:
		n.add(b.Origin, "esc_burst_a", "board %s claims %s A for a burst and %s A for good, which contradict each other: reckoned with the lower", b.ID, number(*b.EscBurstA), number(b.EscCurrentA))
	case *b.EscBurstA > 2.5*b.EscCurrentA:
		n.add(b.Origin, "esc_burst_a", "board %s claims %s A for a burst and %s A for good, most claim 1.1 to 1.5 times: check both", b.ID, number(*b.EscBurstA), number(b.EscCurrentA))
		n.burns()
	}
	if b.PowerW != nil && *b.PowerW > 0 {
		n.outside(b.Origin, "power_w", whose, *b.PowerW, usual{0.3, 6, "W", "boards"})
	}
	unlikelyStack(n, Note{Position: b.Position, Path: b.Path + ".stack_mm"}, whose, b.StackMm)
	if b.Connector != "" && !b.Connector.Known() {
		n.add(b.Origin, "connector", "board %s has the plug %q, which is not known: no rating is checked", b.ID, string(b.Connector))
	}
	n.count(b.Origin, whose, b.Count, mostFrames)
}
