package check

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Most pieces of one kind in a drawer (common practice, no source: four crafts of a kind with spares).
const (
	mostMotors = 24
	mostProps  = 48
	mostPacks  = 15
	mostFrames = 7
	mostExtras = 9  // cameras, transmitters, receivers
	mostSmall  = 15 // straps, capacitors and the like
)

// count remarks on more pieces than a drawer has of one kind.
func (n *notes) count(o strict.Origin, whose string, count *int, most int) {
	if count != nil && *count > most {
		n.add(o, "count", "check.count", strict.Values{"whose": whose, "got": *count, "most": most})
	}
}

// usualMass is what extras of a role weigh: ends in g that grow with a power of the largest props, in inches, of
// the frames that they go with (common practice, no source).
var usualMass = map[inventory.Role]struct{ low, high, power float64 }{
	inventory.Camera:    {0.55, 4, 2},
	inventory.Video:     {0.4, 2.5, 1.5},
	inventory.Receiver:  {0.25, 5, 0},
	inventory.Antenna:   {0.05, 1.2, 1.5},
	inventory.Capacitor: {0.25, 9.9, 0},
	inventory.Adapter:   {0.3, 5.9, 0},
	inventory.Strap:     {0.45, 2, 1},
	inventory.Hardware:  {0.2, 5, 1.2},
}

// usualPower is what extras of a role take in W (common practice, no source).
var usualPower = map[inventory.Role]usual{
	inventory.Camera:   {0.15, 3, "W", group("of.cameras")},
	inventory.Video:    {0.35, 9.5, "W", group("of.transmitters")},
	inventory.Receiver: {0.05, 1.5, "W", group("of.receivers")},
	inventory.Antenna:  {0.02, 1, "W", group("of.antennas")},
	inventory.Hardware: {0.03, 2.5, "W", group("of.such_parts")},
}

// extra remarks on an extra.
func extra(n *notes, e *inventory.Extra, d *inventory.Drawer) {
	whose := string(e.Role) + " " + e.ID
	n.outside(e.Origin, "mass_g", whose, e.MassG, massOf(e, d))
	if e.WidthMm != nil {
		n.outside(e.Origin, "width_mm", whose, *e.WidthMm, usual{8, 40, "mm", group("of.cameras")})
	}
	if e.PowerW != nil && *e.PowerW > 0 {
		u, ok := usualPower[e.Role]
		if !ok {
			u = usual{0.02, 12, "W", group("of.extras")}
		}
		if !n.outside(e.Origin, "power_w", whose, *e.PowerW, u) && e.Role == inventory.Video && e.MassG > 0 {
			// What sends more is larger: 0.35 to 5 g a watt.
			n.outside(e.Origin, "power_w", whose, *e.PowerW, usual{e.MassG / 5, e.MassG / 0.35, "W",
				group("of.transmitter", "grams", strict.Number(e.MassG))})
		}
	}
	if b := e.Bridges; b != nil && b.What == "stack_mm" {
		stack(n, b.Origin, "", whose, inventory.Lengths{b.FromMm, b.ToMm})
	}
	most := mostSmall
	if e.Role == inventory.Camera || e.Role == inventory.Video || e.Role == inventory.Receiver {
		most = mostExtras
	}
	n.count(e.Origin, whose, e.Count, most)
}

// massOf is the range of what such an extra weighs in g.
func massOf(e *inventory.Extra, d *inventory.Drawer) usual {
	m, ok := usualMass[e.Role]
	if !ok {
		return usual{0, math.Inf(1), "g", Group{}}
	}
	u := usual{m.low, m.high, "g", group("of.role")}
	small, large := hostInches(d, e)
	if m.power > 0 && large > 0 {
		u.high *= math.Pow(large, m.power)
		if e.Role == inventory.Antenna || e.Role == inventory.Strap {
			u.low *= math.Pow(small, m.power) / 2
		}
		u.of = group("of.role_on_frames")
	}
	switch {
	case e.Role == inventory.Camera && e.WidthMm != nil:
		// Cameras of one make-up weigh as the cube of their width: 14 mm 1 to 5 g, 19 mm 3 to 12.
		k := math.Pow(*e.WidthMm/14, 3)
		return usual{0.65 * k, 6.4 * k, "g", group("of.camera", "wide", strict.Number(*e.WidthMm))}
	case e.Role == inventory.Adapter && e.Bridges != nil && e.Bridges.What == "connector":
		for _, end := range []string{e.Bridges.From, e.Bridges.To} {
			if r, _, ok := inventory.Plug(end).Rating(); ok && r.ContinuousA >= 50 {
				u.low, u.high = 2.5, 24.9
			}
		}
		u.of = group("of.lead")
	}
	return u
}

// hostInches is the largest prop of the smallest and of the largest frame that an extra may go with, 0 if there is
// none.
func hostInches(d *inventory.Drawer, e *inventory.Extra) (small, large float64) {
	named := slices.ContainsFunc(d.Frames, func(f inventory.Frame) bool { return slices.Contains(e.With, f.ID) })
	for i := range d.Frames {
		f := &d.Frames[i]
		inches := f.LargestPropM() * 1000 / inventory.MmPerInch
		if named && !slices.Contains(e.With, f.ID) || math.IsInf(inches, 0) {
			continue
		}
		if small == 0 || inches < small {
			small = inches
		}
		large = max(large, inches)
	}
	if e.Use == inventory.Always {
		large = small // it goes on the smallest as well
	}
	return small, large
}
