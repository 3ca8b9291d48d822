package inventory

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"partsaloft/inventory/strict"
)

// Mix is the two kinds of motor that a derived motor is made of.
type Mix struct {
	A, B *Motor
	// FirstAt and SecondAt are the places of the two in the drawer's list, if it paired them.
	FirstAt, SecondAt int
	// KVSpread is (max − min)/mean of the two kV.
	KVSpread float64
}

// Pieces is how many of each kind a set for a number of rotors takes, as even as the counts
// allow.
func (m *Mix) Pieces(rotors int) (a, b int) {
	a = min((rotors+1)/2, Pieces(m.A.Count, rotors))
	b = min(rotors-a, Pieces(m.B.Count, rotors))
	return rotors - b, b
}

// Pieces is a count, or enough if it is not given.
func Pieces(count *int, enough int) int {
	if count == nil {
		return enough
	}
	return *count
}

// Mixed is the derived motor a~b: mean kV and mass, and where the two differ the more cautious
// rating. It fails if the two cannot make a set: other stator, mount or shaft, nothing in common
// in cells or holes.
func Mixed(a, b *Motor) (*Motor, error) {
	if cmp.Compare(a.ID, b.ID) > 0 {
		a, b = b, a
	}
	refuse := func(code strict.Code) (*Motor, error) {
		return nil, &strict.Problem{Code: code, Values: strict.Values{"a": a.ID, "b": b.ID}}
	}
	switch {
	case a.StatorDiameterMm != b.StatorDiameterMm || a.StatorHeightMm != b.StatorHeightMm:
		return refuse("set.stator")
	case a.PropMount != "" && b.PropMount != "" && a.PropMount != b.PropMount:
		return refuse("set.mount")
	case a.ShaftMm != nil && b.ShaftMm != nil && *a.ShaftMm != *b.ShaftMm:
		return refuse("set.shaft")
	}
	m := &Motor{
		Part: Part{ID: a.ID + "~" + b.ID}, Stator: a.Stator,
		StatorDiameterMm: a.StatorDiameterMm, StatorHeightMm: a.StatorHeightMm,
		KV: (a.KV + b.KV) / 2, MassG: mean(a.MassG, b.MassG), ResistanceMohm: mean(a.ResistanceMohm, b.ResistanceMohm),
		PropMount: cmp.Or(a.PropMount, b.PropMount), ShaftMm: cmp.Or(a.ShaftMm, b.ShaftMm),
		MaxCurrentA: least(a.MaxCurrentA, b.MaxCurrentA),
		Mixed:       &Mix{A: a, B: b, KVSpread: math.Abs(a.KV-b.KV) / ((a.KV + b.KV) / 2)},
	}
	if a.Count != nil && b.Count != nil {
		sum := *a.Count + *b.Count
		m.Count = &sum
	}
	if a.Poles != nil && b.Poles != nil && *a.Poles == *b.Poles {
		m.Poles = a.Poles
	}
	if a.NoLoadV != nil && b.NoLoadV != nil && *a.NoLoadV == *b.NoLoadV {
		m.NoLoadA, m.NoLoadV = mean(a.NoLoadA, b.NoLoadA), a.NoLoadV
	}
	if a.HolePatternMm != nil && b.HolePatternMm != nil {
		for _, x := range a.HolePatternMm {
			if slices.Contains(b.HolePatternMm, x) {
				m.HolePatternMm = append(m.HolePatternMm, x)
			}
		}
		if m.HolePatternMm == nil {
			return refuse("set.holes")
		}
	}
	switch {
	case a.Cells == nil || b.Cells == nil:
		m.Cells = cmp.Or(a.Cells, b.Cells)
	default:
		m.Cells = &CellRange{Min: max(a.Cells.Min, b.Cells.Min), Max: min(a.Cells.Max, b.Cells.Max),
			UpTo: a.Cells.UpTo && b.Cells.UpTo}
		if m.Cells.Min > m.Cells.Max {
			return refuse("set.cells")
		}
	}
	m.Note = fmt.Sprintf("mixed set of %s (%s rpm/V) and %s (%s rpm/V), predicted with the mean", a.ID, number(a.KV), b.ID,
		number(b.KV))
	m.Learned = m.mixedCorrections()
	return m, nil
}

func mean(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	x := (*a + *b) / 2
	return &x
}

func least(a, b *float64) *float64 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

// MixedMotors lists the derived motors a~b of a drawer by id: two kinds of one stator size of
// which neither has pieces enough for some owned frame's rotors, but both together have.
func (d *Drawer) MixedMotors() []*Motor {
	rotors := map[int]bool{}
	for i := range d.Frames {
		rotors[d.Frames[i].RotorCount()] = true
	}
	var mixed []*Motor
	for i := range d.Motors {
		a := &d.Motors[i]
		if a.Count == nil || *a.Count == 0 {
			continue
		}
		for j := range d.Motors[:i] {
			b := &d.Motors[j]
			if b.Count == nil || *b.Count == 0 || b.StatorDiameterMm != a.StatorDiameterMm ||
				b.StatorHeightMm != a.StatorHeightMm {
				continue
			}
			for r := range rotors {
				if *a.Count < r && *b.Count < r && *a.Count+*b.Count >= r {
					if m, err := Mixed(a, b); err == nil && strict.ValidID(a.ID) && strict.ValidID(b.ID) {
						m.Mixed.FirstAt, m.Mixed.SecondAt = i, j
						if a.ID > b.ID {
							m.Mixed.FirstAt, m.Mixed.SecondAt = j, i
						}
						mixed = append(mixed, m)
					}
					break
				}
			}
		}
	}
	slices.SortFunc(mixed, func(a, b *Motor) int { return cmp.Compare(a.ID, b.ID) })
	return mixed
}
