package synthetic

import (
	"math/rand/v2"
	"partsaloft/inventory"
)

// AddTwins gives a drawer packs that are like those it holds: of some the same again, of some a little heavier or
// with another printed C, of some plainly another pack of the same size.
func AddTwins(d *inventory.Drawer, rng *rand.Rand) {
	for _, p := range d.Packs {
		for n := range rng.IntN(3) {
			twin := p
			twin.ID = string(rune('a'+rng.IntN(26))) + p.ID + string(rune('a'+n))
			massG := 10 * float64(p.Cells) * p.CapacityMAh / 400
			if p.MassG != nil {
				massG = *p.MassG
			}
			switch rng.IntN(4) {
			case 1:
				massG *= 0.99 + 0.02*rng.Float64()
				twin.MassG = &massG
			case 2:
				twin.DischargeC = p.DischargeC * (0.9 + 0.2*rng.Float64())
			case 3:
				massG *= 1.15
				twin.MassG = &massG
			}
			d.Packs = append(d.Packs, twin)
		}
	}
}

// AddPowertrainTwins gives a drawer motors and props that are like those it holds: of some the same again under another
// id, of some with another mass.
func AddPowertrainTwins(d *inventory.Drawer, rng *rand.Rand) {
	massG := 1 + 30*rng.Float64()
	for _, m := range d.Motors {
		for n := range rng.IntN(3) {
			twin := m
			twin.Part = another(&m.Part, n, rng)
			if rng.IntN(3) == 0 {
				twin.MassG = &massG
			}
			d.Motors = append(d.Motors, twin)
		}
	}
	massG /= 5
	for _, p := range d.Props {
		for n := range rng.IntN(3) {
			twin := p
			twin.Part = another(&p.Part, n, rng)
			if rng.IntN(3) == 0 {
				twin.MassG = &massG
			}
			d.Props = append(d.Props, twin)
		}
	}
}

// AddBodyTwins gives a drawer frames and boards that are like those it holds: of some the same again under another id,
// of some with another mass or with an extra of their own.
func AddBodyTwins(d *inventory.Drawer, rng *rand.Rand) {
	massG := 20 + 30*rng.Float64()
	own := func(id string) {
		if rng.IntN(3) == 0 {
			d.Extras = append(d.Extras, inventory.Extra{Part: inventory.Part{ID: "of-" + id}, Role: inventory.Hardware,
				Use: inventory.With, With: []string{id}, MassG: 1 + 4*rng.Float64()})
		}
	}
	for _, f := range d.Frames {
		for n := range rng.IntN(3) {
			twin := f
			twin.Part = another(&f.Part, n, rng)
			if rng.IntN(3) == 0 {
				twin.MassG = &massG
			}
			d.Frames = append(d.Frames, twin)
			own(twin.ID)
		}
	}
	massG /= 5
	for _, b := range d.Boards {
		for n := range rng.IntN(3) {
			twin := b
			twin.Part = another(&b.Part, n, rng)
			if rng.IntN(3) == 0 {
				twin.MassG = &massG
			}
			d.Boards = append(d.Boards, twin)
			own(twin.ID)
		}
	}
}

// another is a part again under another id.
func another(of *inventory.Part, n int, rng *rand.Rand) inventory.Part {
	part := *of
	part.ID = string(rune('a'+rng.IntN(26))) + of.ID + string(rune('a'+n))
	return part
}
