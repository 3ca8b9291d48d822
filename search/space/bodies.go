package space

import (
	"context"
	"fmt"
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
}

// layBodies makes every frame, board and choice of extras, keeps those that fit, and counts the
// others by rule.
func (s *Space) layBodies(ctx context.Context) error {
	s.Compatible.bodies = make([][][levels]int64, len(s.Frames))
	s.BodyOf = make([][2]int, len(s.Frames))
	for f, frame := range s.Frames {
		s.Compatible.bodies[f] = make([][levels]int64, len(s.Supplies))
		first := len(s.Bodies)
		for b, board := range s.Boards {
			if err := ctx.Err(); err != nil {
				return err
			}
			choices, err := s.loadouts(frame, board)
			if err != nil {
				return fmt.Errorf("frame %s, board %s: %w", frame.ID, board.ID, err)
			}
			for i := range choices {
				s.layBody(f, b, &choices[i])
			}
		}
		s.BodyOf[f] = [2]int{first, len(s.Bodies)}
	}
	return nil
}

func (s *Space) layBody(f, b int, l *loadout) {
	made := Body{Frame: f, Board: b, With: make([][]*inventory.Extra, len(s.Supplies))}
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
		s.Compatible.bodies[f][i][levelOf(rule)]++
		if rule == compat.NoRule {
			fits = true
			made.With[i] = c.Extras
			if made.With[i] == nil {
				made.With[i] = []*inventory.Extra{}
			}
		}
	}
	if fits {
		s.Bodies = append(s.Bodies, made)
	}
}
