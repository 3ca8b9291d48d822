package check

import (
	"fmt"
	"strings"

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
	if p := c.Pack; p != nil && p.AssumedC {
		say("assumed.pack_c", strict.Values{"id": p.ID, "c": strict.Number(p.DischargeC),
			"amps": strict.Digits(p.DischargeC*p.CapacityMAh/1000, 2)})
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
		if !ok {
			say("assumed.plug", strict.Values{"plug": p})
			continue
		}
		code := strict.Code("assumed.drawn")
		if from == "" {
			code = "assumed.drawn_no_sheet"
		}
		say(code, strict.Values{"plug": p, "flight": strict.Number(r.ContinuousA), "seconds": strict.Number(r.PeakA),
			"sheet": PlugSheet{r.SheetContinuousA, r.SheetPeakA}, "from": from})
	}
	return list
}

// PlugSheet is what a plug's datasheet allows in A, for good and for seconds; 0 where it says nothing.
type PlugSheet struct{ ContinuousA, PeakA float64 }

// String is 15 A, 30 A for seconds.
func (s PlugSheet) String() string {
	var words []string
	if s.ContinuousA > 0 {
		words = append(words, fmt.Sprintf("%v A", strict.Number(s.ContinuousA)))
	}
	if s.PeakA > 0 {
		words = append(words, fmt.Sprintf("%v A for seconds", strict.Number(s.PeakA)))
	}
	return strings.Join(words, ", ")
}
