package space

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// Body is a frame with a board and extras.
type Body struct {
	Frame, Board int
	// With holds, by supply, the extras with the adapters that join what else would not; nil if
	// the supply's cells do not suit the board or an extra.
	With [][]*inventory.Extra
	like int // the first body of the same numbers: of a frame and a board alike and the same extras
}

// alike gives each part the first of the list that fits and flies as it does: they differ in id, note, pieces and place
// in the file alone, and the same extras go with both. Parts are compared with those of the same rough numbers alone.
func alike[T any](list []*T, base func(*T) *inventory.Part, rough func(*T) [2]float64,
	extras []inventory.Extra,
) []int {
	type bin struct {
		rough [2]float64
		with  string
	}
	bins := map[bin][]int{}
	bare := make([]T, len(list))
	first := make([]int, len(list))
	for i, part := range list {
		bare[i] = *part
		b := base(&bare[i])
		id := b.ID
		*b = inventory.Part{Learned: b.Learned}
		with := NewBitset(len(extras))
		for e := range extras {
			if slices.Contains(extras[e].With, id) {
				with.Add(e)
			}
		}
		key := bin{rough(part), with.Key()}
		first[i] = i
		at := slices.IndexFunc(bins[key], func(j int) bool { return reflect.DeepEqual(&bare[i], &bare[j]) })
		if at >= 0 {
			first[i] = bins[key][at]
		} else {
			bins[key] = append(bins[key], i)
		}
	}
	return first
}

// layBodies makes every frame, board and choice of extras, keeps those that fit, and counts the
// others by rule. What is alike is tried once.
func (s *Space) layBodies(ctx context.Context) error {
	s.Compatible.bodies = make([][][levels]int64, len(s.Frames))
	tried := make([][]*triedBodies, len(s.Frames)) // by frame and board
	boardLike := alike(s.Boards, (*inventory.Board).Base, func(b *inventory.Board) [2]float64 {
		massG := 0.0
		if b.MassG != nil {
			massG = *b.MassG
		}
		return [2]float64{b.EscCurrentA, massG}
	}, s.Problem.Drawer.Extras)
	fit := 0
	for f, frame := range s.Frames {
		if like := s.frameLike[f]; like < f {
			tried[f], s.Compatible.bodies[f] = tried[like], s.Compatible.bodies[like]
		} else {
			tried[f], s.Compatible.bodies[f] = make([]*triedBodies, len(s.Boards)), make([][levels]int64, len(s.Supplies))
		}
		for b, board := range s.Boards {
			if err := ctx.Err(); err != nil {
				return err
			}
			if s.frameLike[f] == f {
				if like := boardLike[b]; like < b {
					tried[f][b] = tried[f][like]
				} else {
					choices, err := s.loadouts(frame, board)
					if err != nil {
						return fmt.Errorf("frame %s, board %s: %w", frame.ID, board.ID, err)
					}
					tried[f][b] = s.tryBodies(f, b, choices)
				}
				tried[f][b].addTo(s.Compatible.bodies[f])
			}
			fit += len(tried[f][b].with)
		}
	}
	s.Bodies, s.BodyOf = make([]Body, 0, fit), make([][2]int, len(s.Frames))
	for f := range s.Frames {
		s.BodyOf[f][0] = len(s.Bodies)
		for b, t := range tried[f] {
			if t.first < 0 {
				t.first = len(s.Bodies)
			}
			for i, with := range t.with {
				s.Bodies = append(s.Bodies, Body{Frame: f, Board: b, With: with, like: t.first + i})
			}
		}
		s.BodyOf[f][1] = len(s.Bodies)
	}
	return nil
}

// triedBodies are a frame and a board with each choice of extras.
type triedBodies struct {
	with   [][][]*inventory.Extra // of what fits, as in Body
	levels [][levels]int64        // by supply: choices of each level
	first  int                    // the first body of them; −1 until bodies are numbered
}

// addTo adds what is of each level, by supply.
func (t *triedBodies) addTo(sum [][levels]int64) {
	for v := range t.levels {
		for l, n := range t.levels[v] {
			sum[v][l] += n
		}
	}
}

func (s *Space) tryBodies(f, b int, choices []loadout) *triedBodies {
	tried := &triedBodies{levels: make([][levels]int64, len(s.Supplies)), first: -1}
	for _, l := range choices {
		with := make([][]*inventory.Extra, len(s.Supplies))
		fits := false
		for i := range s.Supplies {
			// Any pack of the supply stands for all.
			c := inventory.Combination{Frame: s.Frames[f], Board: s.Boards[b], Pack: s.Packs[slices.Index(s.SupplyOf, i)],
				Extras: l.extras}
			more := s.Problem.Drawer.GoingAlong(&c)
			adapters, _ := compat.Bridges(s.Problem.Drawer, &c)
			if more = append(more, adapters...); more != nil {
				c.Extras = append(slices.Clone(c.Extras), more...)
				SortByID(c.Extras)
			}
			rule := compat.FirstFault(&c)
			if l.lacking {
				rule = compat.RuleCount
			}
			tried.levels[i][levelOf(rule)]++
			if rule == compat.NoRule {
				fits = true
				with[i] = c.Extras
				if with[i] == nil {
					with[i] = []*inventory.Extra{}
				}
			}
		}
		if fits {
			tried.with = append(tried.with, with)
		}
	}
	return tried
}
