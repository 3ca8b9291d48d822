package check

import (
	"fmt"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Assumptions are which ratings of a combination are missing or contradict each other, with what is
// reckoned with instead; parts that are nil are left out.
func Assumptions(c *inventory.Combination) []strict.Problem {
	var list []strict.Problem
	say := func(code strict.Code, values strict.Values) {
		list = append(list, strict.Problem{Code: code, Values: values})
	}
	if m := c.Motor; m != nil && m.MaxCurrentA == nil {
		say("assumed.motor_current", strict.Values{"id": m.ID, "amps": fmt.Sprintf("%.1f", m.SI().MaxCurrentA)})
	}
	if p := c.Prop; p != nil && p.PitchEstimated {
		say("assumed.pitch", strict.Values{"id": p.ID, "inches": strict.Digits(p.PitchIn, 2)})
	}
	if f := c.Frame; f != nil && f.MassG == nil {
		say("assumed.frame_mass", strict.Values{"id": f.ID, "grams": strict.Digits(1000*f.Mass().Value, 2)})
	}
	if p := c.Pack; p != nil && p.BurstC != nil && *p.BurstC < p.DischargeC {
		say("assumed.pack_burst", strict.Values{"id": p.ID, "burst": strict.Number(*p.BurstC),
			"continuous": strict.Number(p.DischargeC)})
	}
	if b := c.Board; b != nil {
		switch {
		case b.EscBurstA == nil:
			say("assumed.no_burst", strict.Values{"id": b.ID, "times": strict.Number(inventory.BurstShare),
				"continuous": strict.Number(b.EscCurrentA)})
		case *b.EscBurstA < b.EscCurrentA:
			say("assumed.board_burst", strict.Values{"id": b.ID, "burst": strict.Number(*b.EscBurstA),
				"continuous": strict.Number(b.EscCurrentA)})
		}
	}
	for _, p := range c.Plugs() {
		r, from, ok := p.Rating()
		switch {
		case !ok:
			say("assumed.plug", strict.Values{"plug": p})
		case r.Advisory:
			say("assumed.advisory", strict.Values{"plug": p, "amps": strict.Number(r.ContinuousA), "from": from})
		case from == "from memory":
			say("assumed.rating_from_memory", strict.Values{"plug": p})
		case from != "datasheet":
			say("assumed.rating", strict.Values{"plug": p, "from": from})
		}
	}
	return list
}
