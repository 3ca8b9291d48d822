package search

import (
	"fmt"
	"math"

	"partsaloft/inventory"
)

// hypothetical is an offer of parts that are one step away from owned ones: a pitch step, a cell, a
// third of capacity, a tenth of kV, stronger ESCs, a lighter frame. What goes with the step goes
// along: mass and resistance of packs with cells and capacity, resistance of motors with the
// square of kV. A prop that was measured on a bench has no such neighbours, for its readings would
// not hold for them.
func hypothetical(d *inventory.Drawer) *offer {
	m := newOffer(d)
	put := func(kind inventory.Kind, id, of, step string) string {
		name := fmt.Sprintf("%s.%s", id, of)
		m.put(Offered{Kind: kind, ID: name, Like: fmt.Sprintf("%s %s with %s", kind, id, step)})
		return name
	}
	for _, part := range d.Motors {
		if part.Mixed != nil {
			continue
		}
		for _, step := range []struct {
			by       float64
			of, text string
		}{{1.1, "kv-up", "10 % more kV"}, {1 / 1.1, "kv-down", "9 % less kV"}} {
			one := part
			one.Note = ""
			one.ID, one.Count, one.Bench = put(inventory.KindMotor, part.ID, step.of, step.text), nil, nil
			one.KV *= step.by
			one.ResistanceMohm = scaled(part.ResistanceMohm, 1/(step.by*step.by))
			m.drawer.Motors = append(m.drawer.Motors, one)
		}
	}
	for _, part := range d.Props {
		if len(part.Spec().Bench) > 0 {
			continue
		}
		for _, step := range []struct {
			by       float64
			of, text string
		}{{1.1, "pitch-up", "10 % more pitch"}, {1 / 1.1, "pitch-down", "9 % less pitch"}} {
			one := part
			one.Note = ""
			one.ID, one.Count, one.Directions = put(inventory.KindProp, part.ID, step.of, step.text), nil, nil
			one.PitchIn *= step.by
			one.Stations = steeper(part.Stations, step.by)
			m.drawer.Props = append(m.drawer.Props, one)
		}
	}
	for _, part := range d.Packs {
		for _, step := range []struct {
			cells    int
			capacity float64
			of, text string
		}{{1, 1, "cell-up", "one cell more"}, {-1, 1, "cell-down", "one cell less"}, {0, 1.3, "capacity-up", "30 % more capacity"}, {0, 0.7, "capacity-down", "30 % less capacity"}} {
			if part.Cells+step.cells < 1 || part.Cells+step.cells > 14 {
				continue
			}
			one := part
			one.Note = ""
			one.ID, one.Count = put(inventory.KindPack, part.ID, step.of, step.text), nil
			one.Cells += step.cells
			one.CapacityMAh *= step.capacity
			one.MassG = scaled(part.MassG, float64(one.Cells)/float64(part.Cells)*step.capacity)
			one.CellResistanceMohm = scaled(part.CellResistanceMohm, 1/step.capacity)
			one.SizeMm = nil
			if part.Wear().Sign != inventory.NoWear {
				// What can be bought is new.
				one.Condition, one.Cycles, one.CellResistanceMohm = "", nil, nil
			}
			m.drawer.Packs = append(m.drawer.Packs, one)
		}
	}
	for _, part := range d.Frames {
		one := part
		one.Note = ""
		one.ID, one.Count = put(inventory.KindFrame, part.ID, "lighter", "20 % less weight"), nil
		one.MassG *= 0.8
		m.outfit(one.ID, part.ID)
		m.drawer.Frames = append(m.drawer.Frames, one)
	}
	for _, part := range d.Boards {
		one := part
		one.Note = ""
		one.ID, one.Count = put(inventory.KindBoard, part.ID, "stronger", "ESCs for 40 % more current and 15 % more weight"), nil
		one.EscCurrentA *= 1.4
		m.outfit(one.ID, part.ID)
		one.EscBurstA = scaled(part.EscBurstA, 1.4)
		one.MassG = scaled(part.MassG, 1.15)
		m.drawer.Boards = append(m.drawer.Boards, one)
	}
	return m
}

// steeper scales the tangents of measured angles as pitchBy does.
func steeper(stations []inventory.BladeStation, factor float64) []inventory.BladeStation {
	out := append([]inventory.BladeStation(nil), stations...)
	for i := range out {
		if a := out[i].AngleDeg; a != nil {
			angle := math.Atan(factor*math.Tan(*a*math.Pi/180)) * 180 / math.Pi
			out[i].AngleDeg = &angle
		}
	}
	return out
}
