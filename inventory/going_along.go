package inventory

import (
	"cmp"
	"slices"
)

// alongRoles are the roles of which every craft carries one where the drawer holds one that goes along.
var alongRoles = [...]Role{Camera, Video, Receiver, Antenna}

// expected are the roles that a craft is flown with; an antenna mostly comes with what it belongs to.
var expected = [...]Role{Camera, Video, Receiver}

// GoesIn reports whether the extra goes with a frame and a pack as far as widths and cells say; either may be nil.
func (e *Extra) GoesIn(f *Frame, p *Pack) bool {
	if f != nil && e.Role == Camera && e.WidthMm != nil && f.CameraWidthMm != nil && *e.WidthMm > *f.CameraWidthMm {
		return false
	}
	return p == nil || e.Cells == nil || e.Cells.Holds(p.Cells)
}

// GoingAlong lists what a combination carries without being asked for beyond what follows its parts, by id: of each of
// camera, video transmitter, receiver and antenna that it does not have yet, the lightest that goes along and suits
// its frame and pack, by id among equals.
func (d *Drawer) GoingAlong(c *Combination) []*Extra {
	var along []*Extra
	for _, role := range alongRoles {
		if slices.ContainsFunc(c.Extras, func(e *Extra) bool { return e.Role == role }) {
			continue
		}
		var best *Extra
		for i := range d.Extras {
			e := &d.Extras[i]
			if e.Role != role || e.Use != Along || Pieces(e.Count, 1) < 1 || !e.GoesIn(c.Frame, c.Pack) {
				continue
			}
			if best == nil || cmp.Or(cmp.Compare(e.MassG, best.MassG), cmp.Compare(e.ID, best.ID)) < 0 {
				best = e
			}
		}
		if best != nil {
			along = append(along, best)
		}
	}
	slices.SortFunc(along, func(a, b *Extra) int { return cmp.Compare(a.ID, b.ID) })
	return along
}

// EnoughForAll reports whether there are pieces for every craft: no count is given, and it is always on board or goes
// along.
func (e *Extra) EnoughForAll() bool { return e.Count == nil && (e.Use == Always || e.Use == Along) }

// Lacking lists the roles out of camera, video and receiver that the combination has no extra of.
func (c *Combination) Lacking() []Role {
	var roles []Role
	for _, role := range expected {
		if !slices.ContainsFunc(c.Extras, func(e *Extra) bool { return e.Role == role }) {
			roles = append(roles, role)
		}
	}
	return roles
}

// noteChoices tells each extra that goes along how many do in its role.
func (d *Drawer) noteChoices() {
	for i := range d.Extras {
		e := &d.Extras[i]
		e.Choices = 0
		for k := range d.Extras {
			if other := &d.Extras[k]; e.Use == Along && other.Use == Along && other.Role == e.Role &&
				Pieces(other.Count, 1) > 0 {
				e.Choices++
			}
		}
	}
}
