package space

import (
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/rotor"
)

// Problem is what to search for.
type Problem struct {
	Drawer *inventory.Drawer
	Air    rotor.Air
	Style  objective.Style
	// With lists roles of which one optional extra is to be on board beside the style's required
	// roles.
	With []string
}
