// Package check holds what is possible but unlikely in a drawer: figures that no such part has, parts that look entered
// twice, what is left out and estimated meanwhile, and which of contradicting ratings counts.
package check

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Note is a remark on a drawer that is no fault.
type Note struct {
	inventory.Remark
	// Burns says that a part may burn if the figure is a slip: it is then told with every build that has the part.
	Burns bool
}

// notes collects remarks.
type notes []Note

func (n *notes) add(o strict.Origin, key string, code strict.Code, values strict.Values) {
	n.problem(o, key, strict.Problem{Code: code, Values: values})
}

func (n *notes) problem(o strict.Origin, key string, p strict.Problem) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	*n = append(*n, Note{Remark: inventory.Remark{Position: o.Position, Path: path, Problem: p}})
}

// burns marks the last remark as one of a figure that a part may burn by.
func (n notes) burns() { n[len(n)-1].Burns = true }

// usual is the range of a figure that parts of a kind mostly have. Where the ends are a factor of ten apart or
// less, every slip of one digit's place is outside.
type usual struct {
	low, high float64
	unit      string
	of        Group
}

// Group is what parts with a usual range have in common: a code, with the values that its words speak of.
type Group struct {
	Code   strict.Code
	Values strict.Values
}

// group is a group with one value, or none.
func group(code strict.Code, nameAndValue ...any) Group {
	g := Group{code, strict.Values{}}
	for i := 0; i+1 < len(nameAndValue); i += 2 {
		g.Values[nameAndValue[i].(string)] = nameAndValue[i+1]
	}
	return g
}

// about is a range around what a law says, of a factor either way.
func about(expected, factor float64, unit string, of Group) usual {
	return usual{expected / factor, expected * factor, unit, of}
}

// outside remarks on a figure that is not usual, and reports whether it did.
func (n *notes) outside(o strict.Origin, key, whose string, x float64, u usual) bool {
	if x >= u.low && x <= u.high {
		return false
	}
	n.add(o, key, "check.unusual", strict.Values{"whose": whose, "key": key, "got": strict.Number(x),
		"unit": Unit(u.unit), "of": u.of, "low": strict.Digits(u.low, 2), "high": strict.Digits(u.high, 2)})
	return true
}

// Plausibility lists what is possible but unlikely, contradictory ratings with the reading that is
// used, parts that look entered twice, and ids that lead nowhere; by position in the file.
func Plausibility(d *inventory.Drawer) []Note {
	var n notes
	for _, r := range d.Remarks() {
		n = append(n, Note{Remark: r})
	}
	for item := range d.All() {
		part(&n, d, item)
	}
	air(&n, &d.Air)
	for i := range d.Log {
		logEntry(&n, d, &d.Log[i])
	}
	for i := range d.Fleet {
		fleetCraft(&n, d, &d.Fleet[i])
	}
	whole(&n, d)
	duplicates(&n, d)
	slices.SortStableFunc(n, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Path, b.Path))
	})
	return n
}

// part remarks on a part.
func part(n *notes, d *inventory.Drawer, item inventory.Item) {
	switch p := item.(type) {
	case *inventory.Motor:
		motor(n, p, d)
	case *inventory.Prop:
		prop(n, p)
	case *inventory.Pack:
		pack(n, p)
	case *inventory.Frame:
		frame(n, p)
	case *inventory.Board:
		board(n, p)
	case *inventory.Extra:
		extra(n, p, d)
	}
}

// Dangers lists the figures of a combination's parts that may be slips and that something may burn by.
func Dangers(c *inventory.Combination) []Note {
	var n notes
	if m := c.Motor; m != nil {
		if m.Mixed != nil {
			motor(&n, m.Mixed.A, nil)
			motor(&n, m.Mixed.B, nil)
		} else {
			motor(&n, m, nil)
		}
	}
	if c.Pack != nil {
		pack(&n, c.Pack)
	}
	if c.Board != nil {
		board(&n, c.Board)
	}
	return slices.DeleteFunc(n, func(n Note) bool { return !n.Burns })
}

// off reports whether a value is further from an expected one than a factor either way.
func off(value, expected, factor float64) bool {
	return value > expected*factor || value < expected/factor
}

// Unit is a unit behind a number, "" for a bare one.
type Unit string

// Few are words of which not more are shown than fit a few lines.
type Few []string

// Most is how many of the words are shown.
const Most = 25

// whole remarks on the drawer as a whole.
func whole(n *notes, d *inventory.Drawer) {
	var labelled Few
	for i := range d.Packs {
		if d.Packs[i].DischargeC > 75 {
			labelled = append(labelled, d.Packs[i].ID)
		}
	}
	if labelled != nil {
		n.add(strict.Origin{Path: "packs", Position: d.Packs[0].Position}, "", "check.labels",
			strict.Values{"packs": labelled})
	}
	var unrated Few
	for i := range d.Packs {
		if d.Packs[i].AssumedC {
			unrated = append(unrated, d.Packs[i].ID)
		}
	}
	if unrated != nil {
		n.add(strict.Origin{Path: "packs", Position: d.Packs[0].Position}, "", "check.no_rating",
			strict.Values{"packs": unrated})
	}
	var without Few
	for item := range d.All() {
		if e, ok := item.(*inventory.Extra); ok && e.EnoughForAll() {
			continue
		}
		if p := item.Base(); p.Count == nil && p.ID != "" {
			without = append(without, p.ID)
		}
	}
	if without != nil {
		n.add(strict.Origin{Position: strict.Position{Line: 1, Column: 1}}, "", "check.no_count",
			strict.Values{"parts": without})
	}
	for i := range d.Extras {
		e := &d.Extras[i]
		if b := e.Bridges; b != nil && b.What == "connector" {
			for _, end := range [...][2]string{{"from", b.From}, {"to", b.To}} {
				if !inventory.Plug(end[1]).Known() {
					n.add(b.Origin, end[0], "check.plug", strict.Values{"whose": "adapter " + e.ID, "plug": strict.Quoted(end[1])})
				}
			}
		}
	}
	for i := range d.Log {
		for _, m := range d.Missing(&d.Log[i].Parts) {
			p := m.Problem()
			p.Code = "check.log_part"
			if p.Way = "check.log_none"; m.Near != "" {
				p.Way = "check.log_near"
			}
			n.problem(d.Log[i].Parts.Origin, m.Key, p)
		}
	}
}
