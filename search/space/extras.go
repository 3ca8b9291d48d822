package space

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"partsaloft/inventory"
)

// loadout is one choice of extras for a frame and a board, adapters left out.
type loadout struct {
	extras  []*inventory.Extra // by id
	lacking bool               // a wanted role has no extra
}

// maxLoadouts bounds the choices of extras for one frame and board.
const maxLoadouts = 20000

var errTooManyExtras = errors.New(
	"the required roles leave too many choices of extras for one frame and board: require fewer roles")

// wantedRoles are the roles of which each candidate takes exactly one extra, sorted.
func wantedRoles(p *Problem) ([]inventory.Role, error) {
	var roles []inventory.Role
	for _, text := range append(slices.Clone(p.Style.RequiredRoles), p.With...) {
		role := inventory.Role(text)
		if !slices.Contains(allRoles[:], role) {
			return nil, fmt.Errorf("%q is not a role of an extra; the roles are %v", text, allRoles)
		}
		roles = append(roles, role)
	}
	slices.Sort(roles)
	return slices.Compact(roles), nil
}

var allRoles = [...]inventory.Role{
	inventory.Camera, inventory.Video, inventory.Receiver, inventory.Antenna, inventory.Capacitor, inventory.Adapter,
	inventory.Strap, inventory.Hardware,
}

// loadouts lists the choices of extras for a frame and a board: what follows them in any case,
// and for each wanted role that nothing there fills, one of the extras of that role that are optional or go along.
func (s *Space) loadouts(f *inventory.Frame, b *inventory.Board) ([]loadout, error) {
	choices := []loadout{{extras: s.Problem.Drawer.Following(f, b)}}
	following := choices[0].extras
	for _, role := range s.Roles {
		if slices.ContainsFunc(following, func(e *inventory.Extra) bool { return e.Role == role }) {
			continue
		}
		options := s.optional[role]
		if len(options) == 0 {
			for i := range choices {
				choices[i].lacking = true
			}
			continue
		}
		if len(choices)*len(options) > maxLoadouts {
			return nil, errTooManyExtras
		}
		grown := make([]loadout, 0, len(choices)*len(options))
		for _, c := range choices {
			for _, e := range options {
				extras := append(slices.Clone(c.extras), e)
				SortByID(extras)
				grown = append(grown, loadout{extras, c.lacking})
			}
		}
		choices = grown
	}
	return choices, nil
}

// optionalExtras lists the extras of each role that are optional or go along and of which there is a piece, by id.
func optionalExtras(d *inventory.Drawer) map[inventory.Role][]*inventory.Extra {
	optional := map[inventory.Role][]*inventory.Extra{}
	for i := range d.Extras {
		e := &d.Extras[i]
		if (e.Use == inventory.Optional || e.Use == inventory.Along) && (e.Count == nil || *e.Count > 0) {
			optional[e.Role] = append(optional[e.Role], e)
		}
	}
	for _, list := range optional {
		SortByID(list)
	}
	return optional
}

func SortByID(list []*inventory.Extra) {
	slices.SortFunc(list, func(a, b *inventory.Extra) int { return cmp.Compare(a.ID, b.ID) })
}
