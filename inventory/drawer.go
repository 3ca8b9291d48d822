package inventory

import (
	"io"

	"partsaloft/inventory/strict"
)

// Drawer is everything in a drawer file.
type Drawer struct {
	Name   string       `yaml:"-"` // base name of the file
	Air    Air          `yaml:"air" check:"blank"`
	Motors []Motor      `yaml:"motors" check:"blank,each=motor"`
	Props  []Prop       `yaml:"props" check:"blank,each=prop,also=propellers|propeller|blades"`
	Packs  []Pack       `yaml:"packs" check:"blank,each=pack,also=batteries|battery|lipos|lipo|cells"`
	Frames []Frame      `yaml:"frames" check:"blank,each=frame,also=airframes|airframe"`
	Boards []Board      `yaml:"boards" check:"blank,each=board,also=flight_controllers|flight_controller|fcs|fc|aios|aio|escs|esc|stacks|stack"`
	Extras []Extra      `yaml:"extras" check:"blank,each=extra,also=vtxs|vtx|hardware|other|others|misc|accessories|other_parts|electronics"`
	Fleet  []FleetCraft `yaml:"fleet" check:"blank,each=craft"`
	Log    []LogEntry   `yaml:"log" check:"blank,also=flights|readings"`

	remarks []Remark // what was noticed while reading
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
	d.validate(doc)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return d, nil
}

// Remark is what is worth a second look in a drawer and no fault.
type Remark struct {
	strict.Position
	Path string
	strict.Problem
}

// Remarks are what was noticed while the drawer was read.
func (d *Drawer) Remarks() []Remark { return d.remarks }

func (d *Drawer) remark(o strict.Origin, key string, code strict.Code, values strict.Values) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	d.remarks = append(d.remarks, Remark{o.Position, path, strict.Problem{Code: code, Values: values}})
}
