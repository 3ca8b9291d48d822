package space

import (
	"cmp"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// wornMisfits are what a pack to be retired counts for: it is no way out while another pack is.
const wornMisfits = 100

// NearestFits finds, when nothing fits, the combinations with the fewest misfits, one for a frame and a motor. Types
// without enough pieces count as misfits here. Of parts that fit equally well it takes those that rate says less of: by
// how much they break the rules of flight. It takes the best prop for each frame and motor, and the best pack, board and
// first choice of extras for these, one after the other, rather than every combination.
func (s *Space) NearestFits(n int, rate func(*inventory.Combination) float64) []inventory.Combination {
	type near struct {
		c           inventory.Combination
		misfits     int
		props, rest int // of them those by the prop, by pack and board
		boards      []loadedBoard
	}
	var all []near
	for _, f := range s.Frames {
		boards := s.loadedBoards(f)
		for _, m := range s.Motors {
			best := near{c: inventory.Combination{Frame: f, Motor: m}, props: -1, rest: -1, boards: boards}
			for _, p := range s.Props {
				if n := propMisfits(f, m, p); best.props < 0 || n < best.props {
					best.c.Prop, best.props = p, n
				}
			}
			for _, k := range s.Packs {
				for i := range boards {
					if n := boards[i].misfits + packMisfits(m, k, &boards[i].c); best.rest < 0 || n < best.rest {
						best.rest = n
						best.c.Pack, best.c.Board, best.c.Extras = k, boards[i].c.Board, boards[i].c.Extras
					}
				}
			}
			best.misfits = broken(inventory.Combination{Frame: f, Motor: m}) + best.props + best.rest
			all = append(all, best)
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.misfits, b.misfits) })
	var list []inventory.Combination
	for _, one := range all[:min(len(all), n)] {
		best := one.c
		least := rate(&best)
		try := func(change func(*inventory.Combination)) {
			c := best
			change(&c)
			if excess := rate(&c); excess < least {
				best, least = c, excess
			}
		}
		// Twice, for what suits one part depends on the others.
		for range 2 {
			for _, p := range s.Props {
				if propMisfits(best.Frame, best.Motor, p) == one.props {
					try(func(c *inventory.Combination) { c.Prop = p })
				}
			}
			for i := range one.boards {
				for _, k := range s.Packs {
					b := &one.boards[i]
					if (k == best.Pack || b.c.Board == best.Board) &&
						b.misfits+packMisfits(best.Motor, k, &b.c) == one.rest {
						try(func(c *inventory.Combination) { c.Pack, c.Board, c.Extras = k, b.c.Board, b.c.Extras })
					}
				}
			}
		}
		list = append(list, best)
	}
	return list
}

// loadedBoard is a frame with a board and all extras that go along.
type loadedBoard struct {
	c       inventory.Combination
	misfits int
}

func (s *Space) loadedBoards(f *inventory.Frame) []loadedBoard {
	list := make([]loadedBoard, 0, len(s.Boards))
	for _, b := range s.Boards {
		c := inventory.Combination{Frame: f, Board: b}
		if choices, err := s.loadouts(f, b); err == nil {
			c.Extras = choices[0].extras
		}
		more := s.Problem.Drawer.GoingAlong(&c)
		adapters, _ := compat.Bridges(s.Problem.Drawer, &c)
		c.Extras = slices.Concat(c.Extras, more, adapters)
		SortByID(c.Extras)
		list = append(list, loadedBoard{c, broken(c)})
	}
	return list
}

// broken is 1 for parts that do not go together, else 0.
func broken(c inventory.Combination) int {
	if compat.FirstFault(&c) == compat.NoRule {
		return 0
	}
	return 1
}

func propMisfits(f *inventory.Frame, m *inventory.Motor, p *inventory.Prop) int {
	return broken(inventory.Combination{Frame: f, Prop: p}) + broken(inventory.Combination{Motor: m, Prop: p})
}

func packMisfits(m *inventory.Motor, k *inventory.Pack, board *inventory.Combination) int {
	n := broken(inventory.Combination{Motor: m, Pack: k}) +
		broken(inventory.Combination{Pack: k, Board: board.Board, Extras: board.Extras})
	if k.Retired() {
		n += wornMisfits
	}
	return n
}
