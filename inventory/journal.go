package inventory

import (
	"maps"
	"slices"
	"time"

	"partsaloft/inventory/strict"
	"partsaloft/physics/figure"
)

func (c *FleetCraft) validate(doc *strict.Document) {
	for _, key := range slices.Sorted(maps.Keys(c.Measured)) {
		at := c.Path + ".measured." + strict.Show(key)
		f, known := figure.ByKey(key)
		switch x := c.Measured[key]; {
		case !known:
			p := strict.Problem{Code: "figure.unknown", Way: "figure.such"}
			if near := strict.Nearest(key, figure.Keys()); near != "" {
				p.Way, p.Values = "id.near", strict.Values{"near": near}
			}
			doc.Add(at, p)
		case x <= 0 && f.Positive() && doc.Sound(at):
			doc.Fault(at, "figure.over_zero", strict.Values{"got": strict.Number(x)})
		}
	}
}

// dayLayouts are forms in which pilots write a day and that can be read one way only.
var dayLayouts = [...]string{"2006-1-2", "2006/1/2", "2006.1.2", "20060102", "2.1.2006", "2. 1. 2006", "2 January 2006", "2. January 2006", "2 Jan 2006",
	"January 2, 2006", "January 2 2006", "Jan 2, 2006", "Jan 2 2006", "2006-1-2 15:04", "2006-1-2 15:04:05", "2006-1-2T15:04", "2006-1-2T15:04:05", time.RFC3339}

// notADay is the problem of a day that was written some other way.
func notADay(written string) strict.Problem {
	p := strict.Problem{Code: "day", Values: strict.Values{"got": strict.Raw(written)}, Way: "write.it"}
	for _, layout := range dayLayouts {
		if day, err := time.Parse(layout, written); err == nil {
			p.Write = day.Format(time.DateOnly)
			return p
		}
	}
	dayFirst, errDay := time.Parse("2/1/2006", written)
	monthFirst, errMonth := time.Parse("1/2/2006", written)
	switch {
	case errDay == nil && errMonth == nil && !dayFirst.Equal(monthFirst):
		p.Way = "day.either"
		return p.With("day_first", dayFirst.Format(time.DateOnly)).With("month_first", monthFirst.Format(time.DateOnly))
	case errDay == nil:
		p.Write = dayFirst.Format(time.DateOnly)
	case errMonth == nil:
		p.Write = monthFirst.Format(time.DateOnly)
	default:
		p.Way = "day.form"
	}
	return p
}

func (e *LogEntry) validate(doc *strict.Document) {
	if e.Path == "" {
		return
	}
	if at := e.Path + ".date"; doc.Has(at) && doc.Sound(at) {
		if _, err := time.Parse(time.DateOnly, e.Date); err != nil {
			doc.Add(at, notADay(e.Date))
		}
	}
	flight := e.Path + ".flight_minutes"
	if e.FlightMinutes != nil {
		if !doc.Has(e.Path + ".flown") {
			doc.Fault(flight, "flight.no_flown", nil)
		}
		if !doc.Has(e.Path+".landing_cell_v") && !doc.Has(e.Path+".used_mah") {
			doc.Fault(flight, "flight.no_charge", nil)
		}
	}
	if e.FlightMinutes == nil && !doc.Has(flight) {
		for _, key := range []string{"flown", "landing_cell_v", "used_mah"} {
			if at := e.Path + "." + key; doc.Has(at) {
				doc.Fault(at, "flight.no_minutes", nil)
			}
		}
	}
	if e.Within != nil {
		for _, key := range [...]string{"all_up_g", "hover_throttle_pct", "hover_current_a", "flight_minutes", "landing_cell_v", "used_mah", "full_throttle_current_a", "loaded_cell_v", "top_speed_mps"} {
			if doc.Has(e.Path+".within."+key) && !doc.Has(e.Path+"."+key) {
				doc.Fault(e.Path+".within."+key, "within.no_reading", strict.Values{"key": key})
			}
		}
	}
	if !e.hasReading() && doc.Sound(e.Path) {
		doc.Fault(e.Path, "log.empty", nil)
	}
}

func (e *LogEntry) hasReading() bool {
	for _, x := range []*float64{e.AllUpG, e.HoverThrottlePct, e.HoverCurrentA, e.FlightMinutes, e.FullThrottleCurrentA, e.LoadedCellV, e.TopSpeedMps} {
		if x != nil {
			return true
		}
	}
	return false
}
