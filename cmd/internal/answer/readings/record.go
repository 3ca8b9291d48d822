package readings

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
)

// Reading is a reading as a pilot gives it: the key of the log and the value as typed, with or without its unit.
type Reading struct {
	Key   string `json:"key"`
	Typed string `json:"typed"`
}

// Record asks to put readings of one craft into the log of a drawer.
type Record struct {
	Name string // of the drawer's file, for messages
	Text []byte
	// Craft is the name of a craft of the fleet, or the number of an entry of the log whose craft is meant; Pick names a
	// build by its parts instead. Both may be empty where there is only one craft.
	Craft, Pick string
	Readings    []Reading
	Way         string // how it was flown, where neither Readings nor its last entry say
	Ways        learn.Ways
}

// Recorded is the document of what was recorded, or what is worth recording where nothing was read yet.
type Recorded struct {
	answer.Head
	Craft string       `json:"craft,omitempty"`
	Parts answer.Parts `json:"parts"`
	// Entry is the number of the new entry in the log, 0 if nothing was recorded.
	Entry    int        `json:"entry"`
	Readings []Recorder `json:"readings"`
	// Questions are the readings worth taking of the craft, the most telling first.
	Questions []Question `json:"questions"`
	// Checks say which readings of the entry do not go with the craft's parts and with all else that was read.
	Checks []string `json:"checks"`
	Lines  []string `json:"lines"`
}

// Recorder is a reading as it stands in the log.
type Recorder struct {
	Key   string `json:"key"`
	Typed string `json:"typed"`
	Value string `json:"value"`
}

// Question is a reading to ask for.
type Question struct {
	Key  string `json:"key"`
	Unit string `json:"unit,omitempty"`
	Text string `json:"text"`
	// With are keys that belong to it, asked for once it was answered.
	With []Question `json:"with,omitempty"`
	// LeftPct is what it and all before it leave of the doubt of hover throttle, minutes and thrust-to-weight.
	LeftPct float64 `json:"left_pct,omitempty"`
}

// recordable are the keys of the log in the order of an entry.
var recordable = [...]string{"all_up_g", "hover_throttle_pct", "throttle_kind", "hover_current_a", "hover_rpm",
	"hover_rpm_from", "hover_pack_v", "punch_current_a", "punch_rpm", "punch_pack_v", "loaded_cell_v",
	"pack_resistance_mohm", "flight_minutes", "flown", "used_mah", "end_pack_v", "landing_cell_v", "power_over_hover",
	"top_speed_mps", "note"}

// Recordable are the keys that a record may hold beside its date and air, in the order of an entry.
func Recordable() []string { return slices.Clone(recordable[:]) }

// Answer puts the readings into the log: the document, and the new text of the drawer, nil where there was no reading.
// The error is an inventory.Faults or a *strict.Problem.
func (r *Record) Answer(ctx context.Context, head answer.Head) (*Recorded, []byte, error) {
	d, err := inventory.Read(r.Name, bytes.NewReader(r.Text))
	if err != nil {
		return nil, nil, err
	}
	d.NoteThrottleKinds()
	parts, name, err := r.craft(d)
	if err != nil {
		return nil, nil, err
	}
	c, err := compat.Build(d, &parts)
	if err != nil {
		return nil, nil, err
	}
	head.Drawer = d.Name
	x := &Recorded{Head: head, Craft: name, Readings: []Recorder{}, Questions: []Question{}, Checks: []string{},
		Lines: []string{}}
	all := c.Parts()
	x.Parts = answer.Parts{Motor: all.Motor, Prop: all.Prop, Pack: all.Pack, Frame: all.Frame, Board: all.Board,
		Extras: append([]string{}, all.Extras...)}
	way := r.flown(d, &all)
	if len(r.Readings) == 0 {
		x.Care = answer.CareOf(&answer.Scene{Drawer: d})
		x.Questions, err = questions(ctx, d, r.Ways, &all, way)
		return x, nil, err
	}
	x.Lines = r.lines(&parts, way)
	text, mended, err := edit.AppendEntry(r.Name, r.Text, x.Lines)
	if err != nil {
		return nil, nil, ofEntry(err)
	}
	after, err := inventory.Read(r.Name, bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	x.Entry, x.Care = len(after.Log), answer.CareOf(&answer.Scene{Drawer: after})
	x.asWritten(r, mended)
	if err := x.check(ctx, after, r); err != nil {
		return nil, nil, err
	}
	return x, text, nil
}

// craft finds the craft that is meant, with its name in the fleet if it has one.
func (r *Record) craft(d *inventory.Drawer) (inventory.Parts, string, error) {
	var none inventory.Parts
	names := make([]string, len(d.Fleet))
	for i := range d.Fleet {
		names[i] = d.Fleet[i].Name
	}
	switch {
	case r.Pick != "":
		c, err := answer.Picked(d, r.Pick)
		if err != nil {
			return none, "", err
		}
		return c.Parts(), "", nil
	case r.Craft == "" && len(d.Fleet) == 1:
		return d.Fleet[0].Parts, names[0], nil
	case r.Craft == "" && len(d.Fleet) == 0 && len(d.Log) > 0 && oneCraft(d.Log):
		return d.Log[0].Parts, "", nil
	case r.Craft == "":
		return none, "", craftProblem("record.which", r.Craft, names, len(d.Log))
	}
	if n, ok := entryNumber(r.Craft); ok {
		if n < 1 || n > len(d.Log) {
			return none, "", craftProblem("record.no_entry", r.Craft, names, len(d.Log))
		}
		return d.Log[n-1].Parts, "", nil
	}
	found := -1
	for _, same := range [...]func(name string) bool{
		func(name string) bool { return strings.EqualFold(name, r.Craft) },
		func(name string) bool { return strings.Contains(strings.ToLower(name), strings.ToLower(r.Craft)) },
	} {
		for i, name := range names {
			if same(name) && found >= 0 {
				return none, "", craftProblem("record.two", r.Craft, names, len(d.Log))
			}
			if same(name) {
				found = i
			}
		}
		if found >= 0 {
			return d.Fleet[found].Parts, names[found], nil
		}
	}
	return none, "", craftProblem("record.no_craft", r.Craft, names, len(d.Log))
}

func craftProblem(code strict.Code, craft string, names []string, entries int) error {
	p := &strict.Problem{Code: code, Values: strict.Values{"got": strict.Raw(craft), "names": strict.List(names),
		"entries": strict.Number(entries), "form": answer.PickForm}}
	if len(names) > 0 {
		p.Way = "record.crafts"
	}
	return p
}

// entryNumber reads the number of an entry: 3, #3.
func entryNumber(text string) (int, bool) {
	text = strings.TrimPrefix(text, "#")
	n := 0
	for _, c := range text {
		if c < '0' || c > '9' || n > 1e6 {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	return n, text != ""
}

// oneCraft reports whether all entries are of one craft.
func oneCraft(log []inventory.LogEntry) bool {
	for i := range log {
		if !sameCraft(&log[0].Parts, &log[i].Parts) {
			return false
		}
	}
	return true
}

func sameCraft(a, b *inventory.Parts) bool {
	return a.Motor == b.Motor && a.Prop == b.Prop && a.Pack == b.Pack && a.Frame == b.Frame && a.Board == b.Board
}

// flown is how the craft was flown: as said, else as in its last entry, else the way that the question names.
func (r *Record) flown(d *inventory.Drawer, parts *inventory.Parts) string {
	for _, said := range r.Readings {
		if said.Key == "flown" {
			return said.Typed
		}
	}
	for i := len(d.Log) - 1; i >= 0; i-- {
		if e := &d.Log[i]; e.Flown != "" && sameCraft(&e.Parts, parts) {
			return e.Flown
		}
	}
	return r.Way
}

// lines are the entry as the log has it.
func (r *Record) lines(p *inventory.Parts, way string) []string {
	typed := map[string]string{}
	for _, said := range r.Readings {
		typed[said.Key] = said.Typed
	}
	if typed["flight_minutes"] != "" || typed["power_over_hover"] != "" {
		typed["flown"] = way
	}
	parts := edit.PartsLine(p)
	lines := []string{"- " + parts}
	if date := typed["date"]; date != "" {
		if !isDay(date) {
			date = strict.Scalar(date)
		}
		lines = []string{"- date: " + date, "  " + parts}
	}
	if t := typed["temperature_c"]; t != "" {
		lines = append(lines, "  air: {temperature_c: "+strict.Scalar(t)+"}")
	}
	for _, key := range recordable {
		if x := strings.TrimSpace(typed[key]); x != "" {
			lines = append(lines, "  "+key+": "+strict.Scalar(x))
		}
	}
	return lines
}

// isDay reports whether a text is digits and dashes, which stand for a day as they are.
func isDay(text string) bool { return text != "" && strings.Trim(text, "0123456789-") == "" }

// ofEntry takes the places off the faults of an entry that is not in the file.
func ofEntry(err error) error {
	var list inventory.Faults
	if !errors.As(err, &list) {
		return err
	}
	out := slices.Clone(list)
	for i := range out {
		out[i].Position, out[i].File = strict.Position{}, ""
		if at := strings.Index(out[i].Path, "]."); at >= 0 {
			out[i].Path = out[i].Path[at+len("]."):]
		}
	}
	return out
}

// asWritten notes what stands in the log for what was typed.
func (x *Recorded) asWritten(r *Record, mended []strict.Fixed) {
	for i, line := range x.Lines {
		head := strings.TrimLeft(line, "- ")
		key, value, _ := strings.Cut(head, ": ")
		for _, fix := range mended {
			if strings.HasSuffix(fix.Path, "."+key) {
				value = strings.Replace(value, fix.From, fix.To, 1)
			}
		}
		x.Lines[i] = line[:len(line)-len(head)] + key + ": " + value
		at := slices.IndexFunc(r.Readings, func(s Reading) bool { return s.Key == key })
		switch {
		case at >= 0:
			x.Readings = append(x.Readings, Recorder{key, r.Readings[at].Typed, value})
		case key == "flown":
			x.Readings = append(x.Readings, Recorder{Key: key, Value: value})
		}
	}
}

// check says which readings of the new entry do not go with all the rest; faults of the entry are an error.
func (x *Recorded) check(ctx context.Context, d *inventory.Drawer, r *Record) error {
	at := d.Log[x.Entry-1].Path
	for _, n := range check.Plausibility(d) {
		if strings.HasPrefix(n.Path, at+".") {
			x.Checks = append(x.Checks, faults.Note(&n))
		}
	}
	report, err := learn.Learn(ctx, d, r.Ways)
	var list inventory.Faults
	if errors.As(err, &list) {
		var own inventory.Faults
		for i := range list {
			if strings.HasPrefix(list[i].Path, at+".") || list[i].Path == at {
				own = append(own, list[i])
			}
		}
		if own != nil {
			return ofEntry(own)
		}
		for i := range list {
			if list[i].Path == "log" {
				x.Checks = append(x.Checks, catalogue.LearnsNothing(faults.Problem(&list[i].Problem)))
			}
		}
		return nil
	}
	if err != nil {
		return ctx.Err()
	}
	for i := range report.Entries {
		e := &report.Entries[i]
		for k := range e.Readings {
			if e.Number == x.Entry && !e.Readings[k].Fits {
				x.Checks = append(x.Checks, catalogue.Misfit(e, &e.Readings[k]))
			}
		}
	}
	return nil
}

// Rows is what was recorded as a table of plain values.
func (x *Recorded) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"key", "value", "typed"}}
	for _, one := range x.Readings {
		rows.Add(one.Key, one.Value, one.Typed)
	}
	return rows
}
