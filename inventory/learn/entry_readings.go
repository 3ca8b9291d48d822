package learn

import (
	"fmt"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// readEntry takes the readings of an entry of the log, with how well each is known.
func (f *flightObservation) readEntry(e *inventory.LogEntry, c *inventory.Combination) {
	within := e.Within
	if within == nil {
		within = &inventory.Within{}
	}
	put := func(key Key, x, sd *float64) {
		if x == nil {
			return
		}
		r := read(key, *x)
		if sd != nil {
			r.SD = *sd
		}
		f.readings = append(f.readings, r)
	}
	punchA, punchSD := e.PunchCurrent()
	cellV, cellSD := e.PunchCell(c.Pack.Cells)
	put(AllUp, e.AllUpG, within.AllUpG)
	put(HoverThrottle, e.HoverThrottlePct, within.HoverThrottlePct)
	f.throttle = e.ThrottleKind.SI()
	put(HoverCurrent, e.HoverCurrentA, within.HoverCurrentA)
	if e.HoverPackV != nil {
		f.hoverV = *e.HoverPackV
		f.fed(f.hoverV, within.HoverPackV, HoverThrottle, HoverCurrent)
	}
	put(HoverSpeed, e.HoverRPM, within.HoverRPM)
	if n := len(f.readings); e.HoverRPM != nil && within.HoverRPM == nil && e.HoverRPMFrom == inventory.Heard {
		f.readings[n-1].SD = heardSD * *e.HoverRPM
	}
	put(FullThrottleCurrent, punchA, punchSD)
	put(PunchSpeed, e.PunchRPM, within.PunchRPM)
	sag := sagOf(e, c)
	if sag == nil {
		put(LoadedCell, cellV, cellSD)
	} else {
		f.punchV = sag.punchV
		f.fed(f.punchV, sag.withinV, FullThrottleCurrent, PunchSpeed)
	}
	switch {
	case e.PackResistanceMohm != nil:
		put(PackResistance, e.PackResistanceMohm, within.PackResistanceMohm)
	case sag != nil:
		f.readings = append(f.readings, sag.resistance())
	}
	put(FlightMinutes, e.FlightMinutes, within.FlightMinutes)
	if f.flight != nil && f.flight.landingV > 0 {
		put(UsedCharge, e.UsedMAh, within.UsedMAh)
	}
	put(PowerOverHover, e.PowerOverHover, within.PowerOverHover)
	if f.flight != nil && f.flight.assumed {
		f.flight.assume(&f.craft)
	}
	put(TopSpeed, e.TopSpeedMps, within.TopSpeedMps)
}

// fedPowers are the powers of the voltage at the board with which readings go, roughly.
var fedPowers = map[Key]float64{HoverThrottle: -1, HoverCurrent: -1, FullThrottleCurrent: 2, PunchSpeed: 1}

// fed adds to the doubt of readings that were taken at a voltage what its doubt makes of them.
func (f *flightObservation) fed(packV float64, withinV *float64, keys ...Key) {
	doubt := math.Hypot(scaleSD, stepSD/math.Sqrt2/packV)
	if withinV != nil {
		doubt = *withinV / packV
	}
	for i := range f.readings {
		if r := &f.readings[i]; slices.Contains(keys, r.Key) {
			r.SD = math.Hypot(r.SD, fedPowers[r.Key]*doubt*r.Measured)
		}
	}
}

// oneFlight lets time and mean power of one flight share what that flight took beyond others flown alike.
func (f *flightObservation) oneFlight(latent int) {
	f.all[uncertain.FlyingPower] = f.all[uncertain.FlyingPower].plus(row{{latent, flightSD}})
	for i := range f.readings {
		r := &f.readings[i]
		switch usual := readings[r.Key]; {
		case r.SD != usual.sd*r.Measured: // stated by the pilot
		case r.Key == FlightMinutes && f.flight.fromUsed:
			r.SD = math.Hypot(timedSD, readings[UsedCharge].sd) * r.Measured
		case r.Key == FlightMinutes:
			r.SD = timedSD * r.Measured
		case r.Key == PowerOverHover:
			r.SD = powerSD * r.Measured
		}
	}
}

// sag is a pack's voltage under two currents.
type sag struct {
	hoverV, punchV, hoverA, punchA float64
	sdV                            float64  // of the difference in voltage, what goes with its size left out
	withinV                        *float64 // of the voltage in the punch, as stated
	cells                          int
}

// sagOf is the sag that an entry reads, nil if it lacks a current or a voltage.
func sagOf(e *inventory.LogEntry, c *inventory.Combination) *sag {
	punchA, _ := e.PunchCurrent()
	cellV, cellSD := e.PunchCell(c.Pack.Cells)
	if punchA == nil || cellV == nil || e.HoverCurrentA == nil || e.HoverPackV == nil {
		return nil
	}
	cells := float64(c.Pack.Cells)
	s := &sag{*e.HoverPackV, *cellV * cells, *e.HoverCurrentA, *punchA, stepSD, nil, c.Pack.Cells}
	if cellSD != nil {
		s.sdV = *cellSD * cells
		s.withinV = &s.sdV
	}
	return s
}

// resistance is the reading of a sag: the drop in voltage over the rise in current.
//
//	R = (V_h − V_p)/(I_p − I_h)
func (s *sag) resistance() Reading {
	fallV, riseA := s.hoverV-s.punchV, s.punchA-s.hoverA
	sdV := math.Hypot(math.Hypot(s.sdV, sameChargeV*float64(s.cells)), scaleSD*fallV)
	r := read(PackResistance, fallV/riseA*1e3)
	r.SD = r.Measured * math.Hypot(sdV/fallV, readings[HoverCurrent].sd)
	return r
}

// checkReadings faults readings that no craft of these parts gives, whatever their figures.
func (g *evidence) checkReadings(e *inventory.LogEntry, c *inventory.Combination) {
	si := c.Pack.SI(rotor.CelsiusToKelvin(20))
	full, cells := si.Chemistry.FullCellV(), float64(c.Pack.Cells)
	for _, v := range [...]struct {
		key   string
		x     *float64
		cells float64
	}{{"landing_cell_v", e.LandingCellV, 1}, {"loaded_cell_v", e.LoadedCellV, 1}, {"hover_pack_v", e.HoverPackV, cells},
		{"end_pack_v", e.EndPackV, cells}, {"punch_pack_v", e.PunchPackV, cells}} {
		switch {
		case v.x == nil || *v.x < full*v.cells && *v.x >= lowestCellV*v.cells:
		case v.cells == 1:
			g.fault(e.Origin, v.key, "learn.cell_over_full", strict.Values{
				"full": fmt.Sprintf("%.2f", full), "chemistry": si.Chemistry.String(), "got": strict.Number(*v.x)})
		default:
			g.fault(e.Origin, v.key, "learn.pack_volts", strict.Values{
				"low": strict.Number(lowestCellV * v.cells), "full": strict.Digits(full*v.cells, 4),
				"cells": strict.Number(v.cells), "got": strict.Number(*v.x)})
		}
	}
	if e.UsedMAh != nil && *e.UsedMAh > 1.2*c.Pack.CapacityMAh {
		g.fault(e.Origin, "used_mah", "learn.used_over_capacity", strict.Values{
			"got": strict.Number(*e.UsedMAh), "pack": c.Pack.ID, "capacity": strict.Number(c.Pack.CapacityMAh)})
	}
	punchA, _ := e.PunchCurrent()
	if e.HoverCurrentA != nil && punchA != nil && *e.HoverCurrentA >= *punchA {
		g.fault(e.Origin, "hover_current_a", "learn.hover_over_full", strict.Values{
			"hover": strict.Number(*e.HoverCurrentA), "full": strict.Number(*punchA)})
	}
	cellV, _ := e.PunchCell(c.Pack.Cells)
	if e.HoverPackV != nil && cellV != nil && *cellV*cells >= *e.HoverPackV {
		g.fault(e.Origin, "hover_pack_v", "learn.no_sag", strict.Values{
			"hover": strict.Number(*e.HoverPackV), "punch": strict.Digits(*cellV*cells, 4)})
	}
}

// lowestCellV is the voltage of a cell under which no craft is flown, whatever its chemistry.
const lowestCellV = 1.5

func (g *evidence) flown(e *inventory.LogEntry, c *inventory.Combination) (*flight, string) {
	flying, way, ok := g.ways.named(e.Flown)
	if !ok {
		g.fault(e.Origin, "flown", "learn.flown", strict.Values{
			"got": strict.Raw(e.Flown), "known": strict.List(g.ways.names())})
		return nil, ""
	}
	t := &flight{flying: flying}
	if cellV, _ := e.LandingCell(c.Pack.Cells); cellV != nil {
		t.landingV = *cellV
	}
	if e.UsedMAh != nil {
		t.usedAs, t.fromUsed = *e.UsedMAh*3.6, true
	}
	t.assumed = t.landingV == 0 && !t.fromUsed
	return t, way
}
