package inventory

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

// Note is a remark on a drawer that is no fault.
type Note struct {
	strict.Position
	Path string
	Text string
	// Burns says that a part may burn if the figure is a slip: it is then told with every build that has the part.
	Burns bool
}

// notes collects remarks.
type notes []Note

func (n *notes) add(o strict.Origin, key, format string, args ...any) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	*n = append(*n, Note{Position: o.Position, Path: path, Text: fmt.Sprintf(format, args...)})
}

// burns marks the last remark as one of a figure that a part may burn by.
func (n notes) burns() { n[len(n)-1].Burns = true }

// usual is the range of a figure that parts of a kind mostly have. Where the ends are a factor of ten apart or
// less, every slip of one digit's place is outside.
type usual struct {
	low, high float64
	unit, of  string // of: what such parts have in common, as in "a board of 6 g"
}

// about is a range around what a law says, of a factor either way.
func about(expected, factor float64, unit, of string) usual {
	return usual{expected / factor, expected * factor, unit, of}
}

// outside remarks on a figure that is not usual, and reports whether it did.
func (n *notes) outside(o strict.Origin, key, whose string, x float64, u usual) bool {
	if x >= u.low && x <= u.high {
		return false
	}
	n.add(o, key, "%s has %s of %s, %s mostly %s to %s: check the digits", whose, key, withUnit(number(x), u.unit), u.of, twoDigits(u.low), withUnit(twoDigits(u.high), u.unit))
	return true
}

func withUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// Unlikely lists what is possible but unlikely, contradictory ratings with the reading that is
// used, parts that look entered twice, and ids that lead nowhere; by position in the file.
func Unlikely(d *Drawer) []Note {
	n := slices.Clone(d.remarks)
	for item := range d.All() {
		d.unlikely(&n, item)
	}
	d.Air.unlikely(&n)
	for i := range d.Log {
		d.Log[i].unlikely(&n, d)
	}
	for i := range d.Fleet {
		d.Fleet[i].unlikely(&n, d)
	}
	d.unlikelyWhole(&n)
	d.twice(&n)
	slices.SortStableFunc(n, func(a, b Note) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Path, b.Path))
	})
	return n
}

// unlikely remarks on a part.
func (d *Drawer) unlikely(n *notes, item Item) {
	switch p := item.(type) {
	case *Motor:
		p.unlikely(n, d)
	case *Prop:
		p.unlikely(n)
	case *Pack:
		p.unlikely(n)
	case *Frame:
		p.unlikely(n)
	case *Board:
		p.unlikely(n)
	case *Extra:
		p.unlikely(n, d)
	}
}

// Dangers lists the figures of the combination's parts that may be slips and that something may burn by.
func (c *Combination) Dangers() []string {
	var n notes
	if m := c.Motor; m != nil {
		if m.Mixed != nil {
			m.Mixed.A.unlikely(&n, nil)
			m.Mixed.B.unlikely(&n, nil)
		} else {
			m.unlikely(&n, nil)
		}
	}
	if c.Pack != nil {
		c.Pack.unlikely(&n)
	}
	if c.Board != nil {
		c.Board.unlikely(&n)
	}
	var texts []string
	for i := range n {
		if n[i].Burns {
			texts = append(texts, n[i].Text)
		}
	}
	return texts
}

// off says whether a value is further from an expected one than a factor either way.
func off(value, expected, factor float64) bool {
	return value > expected*factor || value < expected/factor
}

// twoDigits prints a positive number with two significant digits and no exponent.
func twoDigits(x float64) string {
	if !(x > 0) || math.IsInf(x, 0) {
		return number(x)
	}
	unit := math.Pow(10, math.Floor(math.Log10(x))-1)
	rounded := math.Round(x/unit) * unit
	text := strconv.FormatFloat(rounded, 'f', max(0, -int(math.Floor(math.Log10(unit)+1e-9))), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// few lists words, not more than fit a few lines.
func few(words []string) string {
	const most = 25
	if len(words) <= most {
		return strings.Join(words, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:most-1], ", "), len(words)-most+1)
}

// unlikelyWhole remarks on the drawer as a whole.
func (d *Drawer) unlikelyWhole(n *notes) {
	var labelled []string
	for i := range d.Packs {
		if d.Packs[i].DischargeC > 75 {
			labelled = append(labelled, d.Packs[i].ID)
		}
	}
	if labelled != nil {
		n.add(strict.Origin{Path: "packs", Position: d.Packs[0].Position}, "", "labels over 75C are mostly a wish (%s): sag is reckoned as well, and measured cell resistances say more", few(labelled))
	}
	if without := d.withoutCount(); without != nil {
		n.add(strict.Origin{Position: strict.Position{Line: 1, Column: 1}}, "", "no count is given for %s: reckoned as enough for one craft", few(without))
	}
	for i := range d.Extras {
		e := &d.Extras[i]
		if b := e.Bridges; b != nil && b.What == "connector" {
			for key, end := range map[string]string{"from": b.From, "to": b.To} {
				if !Plug(end).Known() {
					n.add(b.Origin, key, "adapter %s has the plug %q, which is not known: no rating is checked", e.ID, end)
				}
			}
		}
	}
	for i := range d.Log {
		for _, m := range d.Missing(&d.Log[i].Parts) {
			way := "add it, or take the id out here"
			if m.Near != "" {
				way = "did you mean " + m.Near + "?"
			}
			n.add(d.Log[i].Parts.Origin, m.Key, "no %s is called %s; %s; learn refuses the log until that is mended", m.Kind, m.ID, way)
		}
	}
}

func (d *Drawer) withoutCount() []string {
	var without []string
	for item := range d.All() {
		if p := item.Base(); p.Count == nil && p.ID != "" {
			without = append(without, p.ID)
		}
	}
	return without
}
