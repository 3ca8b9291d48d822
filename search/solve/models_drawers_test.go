//go:build unix

package solve

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// modelDrawers are what models of evolution are held against each other on. The search's numbers were chosen on the
// first seven and on generated ones of seeds 20 to 39; the rest are held out.
var modelDrawers = []struct {
	name string
	lay  func(*testing.B) *space.Space
}{
	{"club", func(b *testing.B) *space.Space { return laidOut(b, synthetic.Club(b), "freestyle") }},
	{"easy", generated(5, synthetic.Sizes{12, 14, 12, 6, 5}, true, "freestyle")},
	{"hard", generated(1, synthetic.Sizes{100, 150, 100, 40, 20}, false, "freestyle")},
	{"dense", generated(2, synthetic.Sizes{30, 40, 30, 12, 8}, true, "cruise")},
	{"frames", generated(3, synthetic.Sizes{25, 30, 20, 40, 10}, false, "freestyle")},
	{"packs", generated(4, synthetic.Sizes{20, 25, 80, 8, 6}, false, "cruise")},
	{"tight", func(b *testing.B) *space.Space {
		s := laidOut(b, synthetic.Generate(6, synthetic.Sizes{20, 25, 20, 10, 6}, true), "freestyle")
		return tightened(b, s, figure.StyleTime)
	}},
	{"twins", func(b *testing.B) *space.Space {
		d, rng := synthetic.Generate(11, synthetic.Sizes{20, 25, 20, 8, 6}, true), rand.New(rand.NewPCG(11, 1))
		synthetic.AddTwins(d, rng)
		synthetic.AddPowertrainTwins(d, rng)
		synthetic.AddBodyTwins(d, rng)
		return laidOut(b, d, "race")
	}},
	{"far", func(b *testing.B) *space.Space {
		s := laidOut(b, synthetic.Generate(12, synthetic.Sizes{40, 50, 40, 12, 8}, true), "race")
		return tightened(b, s, figure.Range)
	}},
	{"rare", rare},
	{"other", generated(14, synthetic.Sizes{35, 60, 25, 25, 12}, false, "hall")},
	{"trillion", generated(3, synthetic.Sizes{500, 700, 400, 150, 90}, false, "indoor")},
}

func generated(seed uint64, n synthetic.Sizes, loose bool, style string) func(*testing.B) *space.Space {
	return func(b *testing.B) *space.Space { return laidOut(b, synthetic.Generate(seed, n, loose), style) }
}

// rare is a drawer that deceives: its best build flies on a pack of eight cells that goes with one motor and one board
// alone, and on a prop an inch or more from that of the best build without them. The three are the parts of the best
// build with such a prop, made for eight cells; the pack is as much lighter as makes it the best of all.
func rare(b *testing.B) *space.Space {
	const cells = 8
	d := synthetic.Generate(13, synthetic.Sizes{25, 30, 20, 10, 6}, true)
	for i := range d.Motors {
		if d.Motors[i].Cells == nil {
			d.Motors[i].Cells = &inventory.CellRange{Min: 1, Max: 6}
		}
	}
	common := laidOut(b, d, "freestyle")
	c := bestElsewhere(b, common)
	motor, pack, board := *common.Motors[c.Motor], *common.Packs[c.Pack], *common.Boards[common.Bodies[c.Body].Board]
	ratio := float64(pack.Cells) / cells
	motor.ID, pack.ID, board.ID = "m-rare", "k-rare", "b-rare"
	motor.KV *= ratio
	if motor.MaxCurrentA != nil {
		ampere := *motor.MaxCurrentA * ratio
		motor.MaxCurrentA = &ampere
	}
	only := &inventory.CellRange{Min: cells, Max: cells}
	motor.Cells, board.Cells = only, only
	pack.Cells, pack.CapacityMAh = cells, pack.CapacityMAh*ratio
	d.Motors, d.Packs, d.Boards = append(d.Motors, motor), append(d.Packs, pack), append(d.Boards, board)
	for share := 0.95; share > 0.2; share -= 0.05 {
		massG := common.SI.Packs[c.Pack].MassKg * 1000 * share
		d.Packs[len(d.Packs)-1].MassG = &massG
		s := laidOut(b, d, "freestyle")
		p, err := BranchAndBound(context.Background(), s, &Options{Top: 1, Workers: 2})
		if err != nil || !p.Whole {
			b.Fatal(err)
		}
		if s.Packs[p.Best.List[0].Candidate.Pack].ID == pack.ID {
			return s
		}
	}
	b.Fatal("the rare pack never makes the best build")
	return nil
}

// bestElsewhere is the best of the builds whose prop is at least an inch larger or smaller than that of the best build.
func bestElsewhere(b *testing.B, s *space.Space) space.Candidate {
	all := NewIncumbents(s, &Options{Top: 1})
	sizes := map[float64]space.Scored{}
	all.Each = func(one *space.Scored) {
		size := s.Props[one.Candidate.Prop].DiameterIn
		if best, ok := sizes[size]; one.Evaluation.Feasible() && (!ok || one.Order(&best) < 0) {
			sizes[size] = *one
		}
	}
	Enumerate(context.Background(), s, &Options{Top: 1, Workers: 1}, &all)
	usual := s.Props[all.Best.List[0].Candidate.Prop].DiameterIn
	var elsewhere *space.Scored
	for size, best := range sizes {
		if math.Abs(size-usual) >= 1 && (elsewhere == nil || best.Order(elsewhere) < 0) {
			elsewhere = &best
		}
	}
	if elsewhere == nil {
		b.Fatal("no build has a prop of another size")
	}
	return elsewhere.Candidate
}
