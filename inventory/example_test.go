package inventory_test

import (
	"fmt"
	"strings"

	"partsaloft/inventory"
)

// A drawer is read with all its faults at once, each with file, line and column.
func ExampleRead() {
	_, err := inventory.Read("shelf.yaml", strings.NewReader(`
motors:
  - {id: m1507-27, stator: "1507", kv: -2720}
packs:
  - {id: k4s-720, size: 4S 720 95C, mass: 80}
`))
	fmt.Println(err)
	// Output:
	// shelf.yaml:3:40: motor m1507-27: kv: number.over_zero allowed=[50, 60000] rpm per volt got=-2720
	// shelf.yaml:5:37: pack k4s-720: mass: key.unknown_near near=mass_g
}

// Parts that are named by id become a combination, and a combination becomes a craft in SI units.
func ExampleDrawer_Combination() {
	d, err := inventory.Read("shelf.yaml", strings.NewReader(shelf))
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := d.Combination(&inventory.Parts{Motor: "m1507-27", Prop: "p3.5-26x3", Pack: "k4s-720", Frame: "f3.5-yawl",
		Board: "b22-24"})
	if err != nil {
		fmt.Println(err)
		return
	}
	air, err := d.Air.SI()
	if err != nil {
		fmt.Println(err)
		return
	}
	prop, err := c.Prop.Propeller(air)
	if err != nil {
		fmt.Println(err)
		return
	}
	craft, err := c.Craft(prop)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %d rotors, %.3f kg\n", c.Key(), craft.Rotors, craft.MassKg())
	// Output:
	// motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24: 4 rotors, 0.182 kg
}

const shelf = `
air: {altitude_m: 6, temperature_c: 14}
motors: [{id: m1507-27, stator: "1507", kv: 2720, mass_g: 15.2, shaft_mm: 1.5, prop_mount: screws, hole_pattern_mm: 12, cells: [4, 5]}]
props: [{id: p3.5-26x3, size: 3.5x2.6x3, mass_g: 1.95, bore_mm: 1.5, mount: screws}]
packs: [{id: k4s-720, size: 4S 720 95C, mass_g: 80, connector: XT30}]
frames: [{id: f3.5-yawl, mass_g: 24.5, max_prop_in: 3.5, hole_pattern_mm: [9, 12], stack_mm: 25.5}]
boards: [{id: b22-24, esc_current_a: 22, esc_burst_a: 28, cells: [2, 4], stack_mm: 25.5, mass_g: 8.8, connector: XT30}]
`
