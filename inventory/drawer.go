package inventory

import (
	"io"

	"partsaloft/inventory/strict"
)

// Drawer is everything in a drawer file.
type Drawer struct {
	Name   string       `yaml:"-"` // base name of the file
	Air    Air          `yaml:"air"`
	Motors []Motor      `yaml:"motors"`
	Props  []Prop       `yaml:"props" check:"also=propellers|blades"`
	Packs  []Pack       `yaml:"packs" check:"also=batteries|battery|lipos|lipo|cells"`
	Frames []Frame      `yaml:"frames" check:"also=airframes"`
	Boards []Board      `yaml:"boards" check:"also=flight_controllers|fcs|aios|escs|esc"`
	Extras []Extra      `yaml:"extras" check:"also=cameras|vtxs|hardware|other"`
	Fleet  []FleetCraft `yaml:"fleet"`
	Log    []LogEntry   `yaml:"log" check:"also=flights|readings"`

	remarks notes // what was noticed while reading
}

// Faults are all faults of a file, by position; see strict.Faults.
type Faults = strict.Faults

// Fault is one thing wrong with a file.
type Fault = strict.Fault

// Read reads a drawer; name stands for the file in messages. The error is a Faults that holds
// every fault at once.
func Read(name string, r io.Reader) (*Drawer, error) {
	d := &Drawer{}
	doc := strict.Read(name, r, d)
	d.Name = doc.File
	d.settle(doc)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return d, nil
}
