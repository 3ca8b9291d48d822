// Package figure is the table of figures: for every quantity that physics predicts of a craft its key and unit in
// files, JSON and CSV, its name, what it means, how it is computed and how far to trust it. Tables, documents, limits,
// schemas and help are made from these rows.
//
// A new figure is a name and a row in table.go, and the line of physics that computes it.
package figure

import "math"

// StandardGravityMS2 is the standard acceleration of free fall in m/s² (3rd CGPM, 1901), by which thrusts in newton
// are shown in grams.
const StandardGravityMS2 = 9.80665

// celsiusAtZeroKelvin is the Celsius temperature of 0 K (ISO 80000-5).
const celsiusAtZeroKelvin = -273.15

// Figure is one number that a pilot sees: a quantity in a pilot's unit.
type Figure struct {
	Quantity Quantity
	Key      string  // in files, JSON and CSV
	Unit     string  // "" for a plain number
	PerSI    float64 // the figure is PerSI times the quantity in SI …
	Offset   float64 // … plus Offset
	Decimals int     // that are worth showing
	Name     string  // in tables and sentences
	Group    Group
	Shown    Prominence
	// Meaning, Method and Trust are what the figure is, how it is computed, and what its error depends on: a sentence
	// or two each.
	Meaning, Method, Trust string
}

// Group is what a pilot asks for together.
type Group uint8

// The groups in the order in which they are shown.
const (
	WeightGroup Group = iota
	HoverGroup
	FullThrottleGroup
	FlyingTimeGroup
	FeelGroup
	SpeedAndRangeGroup
	HeatGroup
	GroupCount
)

// String returns the group as a heading.
func (g Group) String() string {
	return [GroupCount]string{"Weight", "Hover", "Full throttle", "Flying time", "Feel", "Speed and range", "Heat"}[g]
}

// Prominence says where a figure is shown. Each level is shown wherever the next one is.
type Prominence uint8

// The levels of prominence.
const (
	Headline Prominence = iota // a difference in it is worth a sentence
	Compared                   // where builds stand side by side
	Listed                     // where every figure is listed
)

// All returns every figure in the order in which they are shown, which is that of their quantities.
func All() []Figure {
	all := make([]Figure, Count)
	for q := range Count {
		all[q] = Of(q)
	}
	return all
}

// Keys returns the keys of all figures in their order.
func Keys() []string {
	keys := make([]string, Count)
	for q := range Count {
		keys[q] = table[q].Key
	}
	return keys
}

// Of returns the figure of a quantity.
func Of(q Quantity) Figure {
	f := table[q]
	f.Quantity = q
	return f
}

// In returns the figures of a group down to a prominence, in order.
func In(g Group, least Prominence) []Figure {
	var list []Figure
	for q := range Count {
		if f := &table[q]; f.Group == g && f.Shown <= least {
			list = append(list, Of(q))
		}
	}
	return list
}

// ByKey finds a figure by its key; the bool reports whether there is one.
func ByKey(key string) (Figure, bool) {
	for q := range Count {
		if table[q].Key == key {
			return Of(q), true
		}
	}
	return Figure{}, false
}

// Key returns the key of the quantity's figure.
func (q Quantity) Key() string { return table[q].Key }

// FromSI converts a value of the quantity in SI units to the unit of its figure.
func (q Quantity) FromSI(si float64) float64 { return si*table[q].PerSI + table[q].Offset }

// FromSI converts a value in SI units to the figure's unit.
func (f Figure) FromSI(si float64) float64 { return si*f.PerSI + f.Offset }

// ToSI converts the figure back; infinities stay.
func (f Figure) ToSI(value float64) float64 { return (value - f.Offset) / f.PerSI }

// Positive reports whether the figure is always over 0: all but temperatures in °C.
func (f Figure) Positive() bool { return f.Offset == 0 }

// Round rounds a value to the decimals worth showing.
func (f Figure) Round(value float64) float64 {
	scale := math.Pow10(f.Decimals)
	return math.Round(value*scale) / scale
}

// Set is a set of quantities.
type Set uint64

// Every is the set of all quantities.
const Every Set = 1<<Count - 1

// SetOf returns the set of some quantities.
func SetOf(qs ...Quantity) Set {
	var set Set
	for _, q := range qs {
		set |= 1 << q
	}
	return set
}

// Has reports whether any quantity of another set is in this one.
func (s Set) Has(any Set) bool { return s&any != 0 }
