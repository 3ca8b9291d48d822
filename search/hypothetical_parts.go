package search

import (
	"math"

	"partsaloft/inventory"
)

// Steps are the steps from an owned part to a hypothetical one: up and down by a tenth of kV or pitch, a cell,
// or 30 % of capacity, of round cells a row of them; a frame of 20 % less mass; ESCs for 40 % more current at 15 % more
// mass.
var Steps = []string{"kv-up", "kv-down", "pitch-up", "pitch-down", "cell-up", "cell-down", "capacity-up",
	"capacity-down", "row-up", "row-down", "amps-up", "lighter", "stronger"}

// packStep is a step to another pack: so many cells more, so many times the capacity and so many times the current that
// its label allows for its capacity.
type packStep struct {
	cells           int
	capacity, label float64
	name            string
}

// largestRoundMAh is the largest capacity of a round cell (common practice, no source): 18650 have up to 3600, 21700 up to
// 5200 mAh.
const largestRoundMAh = 5200

// A round cell of the same capacity that gives half as much current again is on sale up to so much of its capacity per
// hour, in C (common practice, no source): 3000 mAh for 20 A, 4000 mAh for 30 A.
const roundAmpsStep, mostRoundC = 1.5, 8

// packSteps are the steps from a pack. Li-ion cells are round and of a few sizes: more capacity is one more row of them
// beside those that there are, and labels that allow little current leave room for better cells.
func packSteps(p *inventory.Pack) []packStep {
	steps := []packStep{{1, 1, 1, "cell-up"}, {-1, 1, 1, "cell-down"}}
	if p.Chemistry != inventory.LiIon {
		return append(steps, packStep{0, 1.3, 1, "capacity-up"}, packStep{0, 0.7, 1, "capacity-down"})
	}
	rows := math.Ceil(p.CapacityMAh / largestRoundMAh)
	steps = append(steps, packStep{0, (rows + 1) / rows, 1, "row-up"})
	if rows > 1 {
		steps = append(steps, packStep{0, (rows - 1) / rows, 1, "row-down"})
	}
	if !p.AssumedC && roundAmpsStep*p.DischargeC <= mostRoundC {
		steps = append(steps, packStep{0, 1, roundAmpsStep, "amps-up"})
	}
	return steps
}

// hypothetical is an offer of parts that are one step away from owned ones: a pitch step, a cell, a
// third of capacity or a row of round cells, a tenth of kV, stronger ESCs, a lighter frame. What goes with the step goes
// along: mass and resistance of packs with cells and capacity, resistance of motors with the
// square of kV. A prop that was measured on a bench has no such neighbours, for its readings would
// not hold for them.
func hypothetical(d *inventory.Drawer) *offer {
	m := newOffer(d)
	put := func(kind inventory.Kind, id, step string) string {
		name := id + "." + step
		m.put(Offered{Kind: kind, ID: name, Of: id, Step: step})
		return name
	}
	for _, part := range d.Motors {
		if part.Mixed != nil {
			continue
		}
		for _, step := range []struct {
			by   float64
			name string
		}{{1.1, "kv-up"}, {1 / 1.1, "kv-down"}} {
			one := part
			one.Note = ""
			one.ID, one.Count, one.Bench = put(inventory.KindMotor, part.ID, step.name), nil, nil
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
			by   float64
			name string
		}{{1.1, "pitch-up"}, {1 / 1.1, "pitch-down"}} {
			one := part
			one.Note = ""
			one.ID, one.Count, one.Directions = put(inventory.KindProp, part.ID, step.name), nil, nil
			one.PitchIn *= step.by
			one.Stations = steeper(part.Stations, step.by)
			m.drawer.Props = append(m.drawer.Props, one)
		}
	}
	for _, part := range d.Packs {
		for _, step := range packSteps(&part) {
			if part.Cells+step.cells < 1 || part.Cells+step.cells > 14 {
				continue
			}
			one := part
			one.Note = ""
			one.ID, one.Count = put(inventory.KindPack, part.ID, step.name), nil
			one.Cells += step.cells
			one.CapacityMAh *= step.capacity
			one.MassG = scaled(part.MassG, float64(one.Cells)/float64(part.Cells)*step.capacity)
			one.CellResistanceMohm = scaled(part.CellResistanceMohm, 1/step.capacity)
			one.DischargeA = scaled(part.DischargeA, step.capacity*step.label)
			one.DischargeC *= step.label
			one.BurstC = scaled(part.BurstC, step.label)
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
		one.ID, one.Count = put(inventory.KindFrame, part.ID, "lighter"), nil
		lighterG := 0.8 * part.Mass().Value * 1000
		one.MassG = &lighterG
		m.outfit(one.ID, part.ID)
		m.drawer.Frames = append(m.drawer.Frames, one)
	}
	for _, part := range d.Boards {
		one := part
		one.Note = ""
		one.ID, one.Count = put(inventory.KindBoard, part.ID, "stronger"), nil
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
