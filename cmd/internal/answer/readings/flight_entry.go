package readings

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/series"
	"partsaloft/inventory/strict"
)

// entry is the text of an entry of the log as it is made.
type entry struct {
	lines, within []string
}

func (e *entry) put(key, value string) { e.lines = append(e.lines, "  "+key+": "+value) }

// read puts a reading with its standard deviation.
func (e *entry) read(key string, f *series.Figure, by float64, digits int, stated bool) {
	if f == nil || !(f.Value > 0) {
		return
	}
	e.put(key, strict.Digits(by*f.Value, digits).String())
	if sd := by * f.SD; stated && sd > 0 {
		e.within = append(e.within, key+": "+strict.Digits(sd, 2).String())
	}
}

// enter makes the entry of the log. How well hover, resistance and charge are known is written beside them; time and
// mean power differ more from flight to flight than a file shows, and are left to what learn takes them for.
func (x *Flown) enter(r *Recording, c *inventory.Combination, f *series.Flight) {
	e := &entry{}
	if r.Date != "" {
		e.lines = append(e.lines, "- date: "+strict.Scalar(r.Date))
	}
	if c != nil {
		p := c.Parts()
		e.lines = append(e.lines, "  "+edit.PartsLine(&p))
	} else {
		x.Missing = append(x.Missing, catalogue.FlownLacks("craft"))
	}
	if r.WeightG > 0 {
		e.put("all_up_g", strict.Number(r.WeightG).String())
	} else {
		x.Missing = append(x.Missing, catalogue.FlownLacks("weight"))
	}
	bare := len(e.lines)
	h := &f.Hover
	e.read("hover_throttle_pct", h.ThrottlePct, 1, 3, true)
	if h.ThrottlePct != nil && outputs(f) {
		e.put("throttle_kind", string(inventory.OutputThrottle))
	}
	e.read("hover_current_a", h.CurrentA, 1, 3, true)
	e.read("hover_rpm", h.RPM, 1, 4, true)
	if h.ThrottlePct != nil || h.CurrentA != nil {
		e.read("hover_pack_v", h.PackV, 1, 4, true)
	}
	e.read("punch_current_a", f.Load.FullA, 1, 3, true)
	e.read("punch_rpm", f.Load.FullRPM, 1, 4, false)
	if f.Load.FullA != nil || f.Load.FullRPM != nil {
		e.read("punch_pack_v", f.Load.FullV, 1, 4, true)
	}
	e.read("pack_resistance_mohm", f.Pack.ResistanceOhm, 1e3, 3, true)
	x.timed(r, e, f)
	x.reads = len(e.lines) > bare
	if len(e.within) > 0 {
		e.lines = append(e.lines, "  within: {"+strings.Join(e.within, ", ")+"}")
	}
	if len(e.lines) > 0 {
		e.lines[0] = "- " + strings.TrimLeft(e.lines[0], "- ")
	}
	x.Entry = append([]string{}, e.lines...)
}

// timed puts what is of the flight as a whole, if the file holds it whole and it is said how it was flown.
func (x *Flown) timed(r *Recording, e *entry, f *series.Flight) {
	whole := !f.Begun && !f.Cut
	switch {
	case r.Flown == "":
		x.Missing = append(x.Missing, catalogue.FlownLacks("flown"))
		return
	case !whole:
		x.Missing = append(x.Missing, catalogue.FlownLacks("whole"))
	case f.Charge.UsedMAh == nil && f.Charge.EndPackV == nil:
		x.Missing = append(x.Missing, catalogue.FlownLacks("charge"))
		whole = false
	}
	over := f.Load.OverHover
	if over != nil && (over.Value < leastOverHover || over.Value > mostOverHover) {
		over = nil
	}
	if !whole && over == nil {
		return
	}
	if whole {
		e.put("flight_minutes", strict.Digits(f.AirborneS/60, 3).String())
	}
	e.put("flown", strict.Scalar(r.Flown))
	if whole {
		e.read("used_mah", f.Charge.UsedMAh, 1, 3, true)
		e.read("end_pack_v", f.Charge.EndPackV, 1, 4, true)
	}
	e.read("power_over_hover", over, 1, 3, false)
}

// Append puts the entry into the log of a drawer, named for messages, and returns the drawer's new text. The error is an
// inventory.Faults or a *strict.Problem.
func (x *Flown) Append(name string, text []byte) ([]byte, error) {
	if !x.reads {
		return nil, &strict.Problem{Code: "flight.no_readings"}
	}
	text, _, err := edit.AppendEntry(name, text, x.Entry)
	if err != nil {
		return nil, ofEntry(err)
	}
	after, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	x.Recorded = len(after.Log)
	return text, nil
}

// Bounds of power over hover in a log.
const (
	leastOverHover = 0.5
	mostOverHover  = 12
)

// outputs reports whether the throttle is that of the motors' outputs.
func outputs(f *series.Flight) bool {
	return slices.ContainsFunc(f.Record.Columns, func(c series.Column) bool { return c.Quantity == series.Outputs }) &&
		!slices.ContainsFunc(f.Record.Columns, func(c series.Column) bool { return c.Quantity == series.Throttle })
}

// learn adds the entry to the log, without writing it, and says what it teaches.
func (x *Flown) learn(ctx context.Context, r *Recording) error {
	text := "log:\n  " + strings.Join(x.Entry, "\n  ") + "\n"
	one, err := inventory.Read("entry", strings.NewReader(text))
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		x.Notes = append(x.Notes, catalogue.FlownFault(&faults[0]))
		return nil
	case err != nil || len(one.Log) != 1:
		return err
	}
	one.Log[0].Line = 0 // of no file
	d := *r.Drawer
	d.Log = append(slices.Clone(d.Log), one.Log[0])
	report, err := learn.Learn(ctx, &d, r.Ways)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(err, &faults):
		x.Notes = append(x.Notes, catalogue.FlownFault(&faults[0]))
		return nil
	case err != nil:
		return err
	}
	all := answer.Learn(x.Head, &d, r.Style, report, "")
	learned := &FlownLearned{Readings: []answer.LearnedReading{}, Misfits: []string{}, Parts: []string{}}
	own := [...]string{x.Parts.Motor, x.Parts.Prop, x.Parts.Pack, x.Parts.Frame, x.Parts.Board, r.Flown}
	for i := range all.Parts {
		if p := &all.Parts[i]; p.Text != "" && slices.Contains(own[:], p.ID) {
			learned.Parts = append(learned.Parts, p.Text)
		}
	}
	for i := range all.Entries {
		if all.Entries[i].Entry == len(d.Log) {
			learned.Readings = all.Entries[i].Readings
		}
	}
	for _, m := range all.Misfits {
		if m.Entry == len(d.Log) {
			learned.Misfits = append(learned.Misfits, m.Text)
		}
	}
	x.Learned = learned
	return nil
}
