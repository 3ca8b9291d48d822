package compat

import (
	"fmt"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// wearFindings is what the rule on worn packs has to say.
func wearFindings(c *inventory.Combination) []Finding {
	if c.Pack == nil {
		return nil
	}
	w := c.Pack.Wear()
	severity := Remark
	if w.Retire && !w.Overruled {
		severity = Misfit
	}
	if problem, ok := Worn(c.Pack); ok {
		return []Finding{{RuleWear, severity, problem}}
	}
	return nil
}

// Worn is what shows that a pack is worn, and what to do; false if nothing does.
func Worn(p *inventory.Pack) (strict.Problem, bool) {
	w := p.Wear()
	problem := strict.Problem{Values: strict.Values{"pack": p.ID}}
	switch w.Sign {
	case inventory.NoWear:
		return problem, false
	case inventory.GivenRetired:
		problem.Code = "wear.retired"
		return problem, true
	case inventory.NotedDamage:
		problem.Code, problem.Values["word"] = "wear.noted", strict.Quoted(w.Word)
	case inventory.HighResistance:
		problem.Code = "wear.resistance"
		problem.Values["mohm"], problem.Values["times"] = strict.Number(w.Value), fmt.Sprintf("%.1f", w.Value/w.Usual)
		problem.Values["usual"], problem.Values["mah"] = strict.Digits(w.Usual, 2), strict.Number(p.CapacityMAh)
	case inventory.ManyCycles:
		problem.Code = "wear.cycles"
		problem.Values["cycles"], problem.Values["usual"] = strict.Number(w.Value), strict.Number(w.Usual)
	}
	switch {
	case w.Retire && w.Overruled:
		problem.Way = "wear.overruled"
	case w.Retire && w.Sign == inventory.HighResistance:
		problem.Way = "wear.retire_resistance"
	case w.Retire:
		problem.Way = "wear.retire"
	case w.Sign == inventory.HighResistance:
		problem.Way, problem.Values["limit"] = "wear.aging_resistance", strict.Number(inventory.RetireRatio)
	default:
		problem.Way = "wear.aging"
	}
	return problem, true
}
