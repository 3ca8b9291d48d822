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
	d.Motors = withTwins(d.Motors, rng, massG, func(m *inventory.Motor) (*inventory.Part, **float64) { return &m.Part, &m.MassG }, nil)
	d.Props = withTwins(d.Props, rng, massG/5, func(p *inventory.Prop) (*inventory.Part, **float64) { return &p.Part, &p.MassG }, nil)
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
	d.Frames = withTwins(d.Frames, rng, massG, func(f *inventory.Frame) (*inventory.Part, **float64) { return &f.Part, &f.MassG }, own)
	d.Boards = withTwins(d.Boards, rng, massG/5, func(b *inventory.Board) (*inventory.Part, **float64) { return &b.Part, &b.MassG }, own)
}

// withTwins are some parts and up to two twins of each, one of three with another mass; made, if set, is told the id of
// each twin.
func withTwins[T any](list []T, rng *rand.Rand, massG float64, of func(*T) (*inventory.Part, **float64), made func(id string)) []T {
	for _, p := range list {
		for n := range rng.IntN(3) {
			twin := p
			base, mass := of(&twin)
			*base = another(base, n, rng)
			if rng.IntN(3) == 0 {
				*mass = &massG
			}
			list = append(list, twin)
			if made != nil {
				made(base.ID)
			}
		}
	}
	return list
}

// another is a part again under another id.
func another(of *inventory.Part, n int, rng *rand.Rand) inventory.Part {
	part := *of
	part.ID = string(rune('a'+rng.IntN(26))) + of.ID + string(rune('a'+n))
	return part
}
