package inventory

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"partsaloft/inventory/strict"
	"partsaloft/physics/figure"
)

func (c *FleetCraft) settle(doc *strict.Document) {
	for _, key := range slices.Sorted(maps.Keys(c.Measured)) {
		at := c.Path + ".measured." + strict.Show(key)
		f, known := figure.ByKey(key)
		switch x := c.Measured[key]; {
		case !known:
			way := "; use the key of a figure, such as all_up_g"
			if near := strict.Nearest(key, figure.Keys()); near != "" {
				way = "; did you mean " + near + "?"
			}
			doc.Fault(at, "is no figure%s", way)
		case x <= 0 && f.Positive() && doc.Sound(at):
			doc.Fault(at, "must be over 0, got %s; leave out what was not measured", number(x))
		}
	}
}

// dayLayouts are forms in which pilots write a day and that can be read one way only.
var dayLayouts = [...]string{"2006-1-2", "2006/1/2", "2006.1.2", "20060102", "2.1.2006", "2. 1. 2006", "2 January 2006", "2. January 2006", "2 Jan 2006",
	"January 2, 2006", "January 2 2006", "Jan 2, 2006", "Jan 2 2006", "2006-1-2 15:04", "2006-1-2 15:04:05", "2006-1-2T15:04", "2006-1-2T15:04:05", time.RFC3339}

// dayHelp says how to write a day that was written some other way.
func dayHelp(written string) string {
	for _, layout := range dayLayouts {
		if day, err := time.Parse(layout, written); err == nil {
			return "write " + day.Format(time.DateOnly)
		}
	}
	dayFirst, errDay := time.Parse("2/1/2006", written)
	monthFirst, errMonth := time.Parse("1/2/2006", written)
	switch {
	case errDay == nil && errMonth == nil && !dayFirst.Equal(monthFirst):
		return fmt.Sprintf("write %s or %s, whichever it was", dayFirst.Format(time.DateOnly), monthFirst.Format(time.DateOnly))
	case errDay == nil:
		return "write " + dayFirst.Format(time.DateOnly)
	case errMonth == nil:
		return "write " + monthFirst.Format(time.DateOnly)
	}
	return "write year-month-day such as 2031-05-09"
}

func (e *LogEntry) settle(doc *strict.Document) {
	if e.Path == "" {
		return
	}
	if at := e.Path + ".date"; doc.Has(at) && doc.Sound(at) {
		if _, err := time.Parse(time.DateOnly, e.Date); err != nil {
			doc.Fault(at, "must be a day, got %s; %s", strict.Show(e.Date), dayHelp(e.Date))
		}
	}
	flight := e.Path + ".flight_minutes"
	if e.FlightMinutes != nil {
		if !doc.Has(e.Path + ".flown") {
			doc.Fault(flight, "needs flown, how it was flown: hover, cruise, hard or a style's name")
		}
		if !doc.Has(e.Path+".landing_cell_v") && !doc.Has(e.Path+".used_mah") {
			doc.Fault(flight, "needs landing_cell_v or used_mah: a time without the charge it took says nothing")
		}
	}
	if e.FlightMinutes == nil && !doc.Has(flight) {
		for _, key := range []string{"flown", "landing_cell_v", "used_mah"} {
			if at := e.Path + "." + key; doc.Has(at) {
				doc.Fault(at, "needs flight_minutes, the time that belongs to it")
			}
		}
	}
	if e.Within != nil {
		for _, key := range [...]string{"all_up_g", "hover_throttle_pct", "hover_current_a", "flight_minutes", "landing_cell_v", "used_mah", "full_throttle_current_a", "loaded_cell_v", "top_speed_mps"} {
			if doc.Has(e.Path+".within."+key) && !doc.Has(e.Path+"."+key) {
				doc.Fault(e.Path+".within."+key, "belongs to no reading; give %s, or leave this out", key)
			}
		}
	}
	if !e.hasReading() && doc.Sound(e.Path) {
		doc.Fault(e.Path, "holds no reading; give one, such as all_up_g or hover_throttle_pct")
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
