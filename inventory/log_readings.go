package inventory

import (
	"math"
	"reflect"
	"strings"
	"time"

	"partsaloft/inventory/strict"
)

// PunchCurrent is the current at full throttle by whichever key gives it, with its standard deviation if stated.
func (e *LogEntry) PunchCurrent() (currentA, withinA *float64) {
	w := e.within()
	if e.PunchCurrentA != nil {
		return e.PunchCurrentA, w.PunchCurrentA
	}
	return e.FullThrottleCurrentA, w.FullThrottleCurrentA
}

// PunchCell is the voltage of a cell at full throttle as the display shows it, of a pack of so many cells in series.
func (e *LogEntry) PunchCell(cells int) (cellV, withinV *float64) {
	w := e.within()
	if e.PunchPackV != nil {
		return perCell(e.PunchPackV, cells), perCell(w.PunchPackV, cells)
	}
	return e.LoadedCellV, w.LoadedCellV
}

// LandingCell is the voltage of a cell at landing as the display shows it, likewise.
func (e *LogEntry) LandingCell(cells int) (cellV, withinV *float64) {
	w := e.within()
	if e.EndPackV != nil {
		return perCell(e.EndPackV, cells), perCell(w.EndPackV, cells)
	}
	return e.LandingCellV, w.LandingCellV
}

func (e *LogEntry) within() *Within {
	if e.Within == nil {
		return &Within{}
	}
	return e.Within
}

func perCell(packV *float64, cells int) *float64 {
	if packV == nil || cells < 1 {
		return nil
	}
	cellV := *packV / float64(cells)
	return &cellV
}

// Differences up to which two keys that mean the same agree: what displays round away of a cell, in V, and of a
// current.
const (
	sameCellV   = 0.051
	sameCurrent = 0.02
)

// validate faults what contradicts itself in an entry; pack is the one that it names, nil if there is none.
func (e *LogEntry) validate(doc *strict.Document, pack *Pack) {
	if e.Path == "" {
		return
	}
	if at := e.Path + ".date"; doc.Has(at) && doc.Sound(at) {
		if _, err := time.Parse(time.DateOnly, e.Date); err != nil {
			doc.Add(at, notADay(e.Date))
		}
	}
	e.validateFlight(doc)
	e.validateTwice(doc, pack)
	if e.Within != nil {
		for _, key := range withinKeys() {
			if doc.Has(e.Path+".within."+key) && !doc.Has(e.Path+"."+key) {
				doc.Fault(e.Path+".within."+key, "within.no_reading", strict.Values{"key": key})
			}
		}
	}
	for _, of := range [...]struct{ key, reading string }{{"throttle_kind", "hover_throttle_pct"},
		{"hover_rpm_from", "hover_rpm"}} {
		if at := e.Path + "." + of.key; doc.Has(at) && !doc.Has(e.Path+"."+of.reading) {
			doc.Fault(at, "within.no_reading", strict.Values{"key": of.reading})
		}
	}
	if !e.hasReading() && doc.Sound(e.Path) {
		doc.Fault(e.Path, "log.empty", nil)
	}
}

// withinKeys are the readings whose doubt may be stated.
func withinKeys() []string {
	var keys []string
	for t, i := reflect.TypeFor[Within](), 0; i < t.NumField(); i++ {
		if key := t.Field(i).Tag.Get("yaml"); key != "" && !strings.HasPrefix(key, "-") {
			keys = append(keys, key)
		}
	}
	return keys
}

// validateFlight faults readings of a flight that lack what they belong to.
func (e *LogEntry) validateFlight(doc *strict.Document) {
	has := func(key string) bool { return doc.Has(e.Path + "." + key) }
	for _, key := range [...]string{"flight_minutes", "power_over_hover"} {
		if has(key) && !has("flown") {
			doc.Fault(e.Path+"."+key, "flight.no_flown", nil)
		}
	}
	if has("flight_minutes") {
		return
	}
	for _, key := range [...]string{"landing_cell_v", "end_pack_v", "used_mah"} {
		if has(key) {
			doc.Fault(e.Path+"."+key, "flight.no_minutes", nil)
		}
	}
	if has("flown") && !has("power_over_hover") {
		doc.Fault(e.Path+".flown", "flight.no_minutes", nil)
	}
}

// validateTwice faults two keys that mean the same and say something else.
func (e *LogEntry) validateTwice(doc *strict.Document, pack *Pack) {
	differ := func(key string, got float64, other string, said float64) {
		if doc.Sound(e.Path+"."+key) && doc.Sound(e.Path+"."+other) {
			doc.Fault(e.Path+"."+key, "log.twice", strict.Values{"got": strict.Number(got), "other": other,
				"said": strict.Digits(said, 4)})
		}
	}
	if a, b := e.PunchCurrentA, e.FullThrottleCurrentA; a != nil && b != nil &&
		math.Abs(*a-*b) > sameCurrent*math.Max(*a, *b) {
		differ("punch_current_a", *a, "full_throttle_current_a", *b)
	}
	if pack == nil || pack.Cells < 1 {
		return
	}
	cells := float64(pack.Cells)
	for _, two := range [...]struct {
		packKey, cellKey string
		packV, cellV     *float64
	}{{"end_pack_v", "landing_cell_v", e.EndPackV, e.LandingCellV},
		{"punch_pack_v", "loaded_cell_v", e.PunchPackV, e.LoadedCellV}} {
		if two.packV != nil && two.cellV != nil && math.Abs(*two.packV/cells-*two.cellV) > sameCellV {
			differ(two.packKey, *two.packV, two.cellKey, *two.cellV*cells)
		}
	}
}

func (e *LogEntry) hasReading() bool {
	for _, x := range []*float64{e.AllUpG, e.HoverThrottlePct, e.HoverCurrentA, e.HoverRPM, e.FlightMinutes,
		e.PowerOverHover, e.FullThrottleCurrentA, e.PunchCurrentA, e.PunchRPM, e.LoadedCellV, e.PunchPackV, e.PackResistanceMohm,
		e.TopSpeedMps} {
		if x != nil {
			return true
		}
	}
	return false
}
