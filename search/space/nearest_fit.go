package space

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// wornMisfits are what a pack to be retired counts for: it is no way out while another pack is.
const wornMisfits = 100

// NearestFits finds, when nothing fits, the combinations with the fewest misfits. Types without enough
// pieces count as misfits here. It takes the best prop for each frame and motor, and the best pack,
// board and first choice of extras for these, rather than every combination.
func (s *Space) NearestFits(n int) []inventory.Combination {
	type near struct {
		c       inventory.Combination
		misfits int
	}
	broken := func(c inventory.Combination) int {
		if compat.FirstFault(&c) == compat.NoRule {
			return 0
		}
		return 1
	}
	var all []near
	for _, f := range s.Frames {
		boards := make([]near, 0, len(s.Boards))
		for _, b := range s.Boards {
			c := inventory.Combination{Frame: f, Board: b}
			if choices, err := s.loadouts(f, b); err == nil {
				c.Extras = choices[0].extras
			}
			more := s.Problem.Drawer.GoingAlong(&c)
			adapters, _ := compat.Bridges(s.Problem.Drawer, &c)
			c.Extras = slices.Concat(c.Extras, more, adapters)
			SortByID(c.Extras)
			boards = append(boards, near{c, broken(c)})
		}
		for _, m := range s.Motors {
			best := near{inventory.Combination{Frame: f, Motor: m}, -1}
			base := broken(best.c)
			for _, p := range s.Props {
				n := base + broken(inventory.Combination{Frame: f, Prop: p}) + broken(inventory.Combination{Motor: m, Prop: p})
				if best.misfits < 0 || n < best.misfits {
					best.c.Prop, best.misfits = p, n
				}
			}
			rest := -1
			for _, k := range s.Packs {
				alone := broken(inventory.Combination{Motor: m, Pack: k})
				if k.Retired() {
					alone += wornMisfits
				}
				for _, b := range boards {
					n := alone + b.misfits + broken(inventory.Combination{Pack: k, Board: b.c.Board, Extras: b.c.Extras})
					if rest < 0 || n < rest {
						rest = n
						best.c.Pack, best.c.Board, best.c.Extras = k, b.c.Board, b.c.Extras
					}
				}
			}
			best.misfits += rest
			all = append(all, best)
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.misfits, b.misfits) })
	var list []inventory.Combination
	for _, one := range all[:min(len(all), n)] {
		list = append(list, one.c)
	}
	return list
}
