package inventory

import "partsaloft/inventory/strict"

// settle fills in what follows from what is written and faults what contradicts itself.
func (d *Drawer) settle(doc *strict.Document) {
}
