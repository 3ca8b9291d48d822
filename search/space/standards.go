package space

import (
	"sync/atomic"

	"partsaloft/physics"
)

// standards remembers the standard of sets of motor, prop, cells and rotors, of which many candidates share each. Two
// sets that fall on one place take turns, so that memory stays bounded; what is remembered is what would be worked out.
type standards [standardPlaces]atomic.Pointer[standardOf]

const standardPlaces = 1 << 12

type standardOf struct {
	set      standardSet
	standard physics.Standard
}

type standardSet struct{ motor, prop, cells, rotors int32 }

// know sets a craft's Known.
func (t *standards) know(c *physics.Craft, motor, prop int32) {
	set := standardSet{motor, prop, int32(c.Pack.Cells), int32(c.Rotors)}
	place := &t[(uint32(motor)*0x9e3779b1^uint32(prop)*0x85ebca6b^uint32(set.cells*16+set.rotors)*0xc2b2ae35)>>20]
	of := place.Load()
	if of == nil || of.set != set {
		of = &standardOf{set, c.Standard()}
		place.Store(of)
	}
	c.Known = &of.standard
}
