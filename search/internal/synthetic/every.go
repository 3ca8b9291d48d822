package synthetic

import (
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// Every goes through the product of types with enough pieces and the extras' choices for wanted roles,
// the plain way.
func Every(d *inventory.Drawer, roles []string, yield func(inventory.Combination)) {
	var motors []*inventory.Motor
	for i := range d.Motors {
		motors = append(motors, &d.Motors[i])
	}
	motors = append(motors, d.MixedMotors()...)
	for f := range d.Frames {
		frame := &d.Frames[f]
		enough := func(count *int) bool { return count == nil || *count >= frame.RotorCount() }
		for b := range d.Boards {
			choices := loadsOf(d, frame, &d.Boards[b], roles)
			for _, motor := range motors {
				set := inventory.Combination{Motor: motor, Frame: frame}
				if !enough(motor.Count) || compat.FirstFault(&set) == compat.RuleCount {
					continue
				}
				for p := range d.Props {
					if !enough(d.Props[p].Count) {
						continue
					}
					for k := range d.Packs {
						for _, extras := range choices {
							c := inventory.Combination{Motor: motor, Prop: &d.Props[p], Pack: &d.Packs[k], Frame: frame, Board: &d.Boards[b]}
							c.Extras = append(c.Extras, extras...)
							c.Extras = append(c.Extras, d.GoingAlong(&c)...)
							adapters, _ := compat.Bridges(d, &c)
							c.Extras = append(c.Extras, adapters...)
							yield(c)
						}
					}
				}
			}
		}
	}
}

// loadsOf are the extras that follow frame and board with, for each role that none of them has, one of
// the optional extras of that role.
func loadsOf(d *inventory.Drawer, f *inventory.Frame, b *inventory.Board, roles []string) [][]*inventory.Extra {
	loads := [][]*inventory.Extra{d.Following(f, b)}
	for _, role := range roles {
		var grown [][]*inventory.Extra
		for _, load := range loads {
			filled := false
			for _, e := range load {
				filled = filled || string(e.Role) == role
			}
			if filled {
				grown = append(grown, load)
				continue
			}
			for i := range d.Extras {
				if e := &d.Extras[i]; string(e.Role) == role && (e.Use == inventory.Optional || e.Use == inventory.Along) {
					grown = append(grown, append(append([]*inventory.Extra(nil), load...), e))
				}
			}
		}
		loads = grown
	}
	return loads
}
