package answer

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
)

// Holding says what a catalogue holds of a drawer's combinations and how far their order can be trusted, whatever the
// weights and limits.
func Holding(style *objective.Style, c *search.Catalogue) []string {
	held := int64(len(c.Entries))
	values := map[string]any{
		"style": style.Name, "candidates": c.Candidates, "fitted": c.Fitted, "feasible": c.Feasible,
		"held": held, "evaluated": c.Evaluated, "complete": c.Complete, "whole": "these",
		"loss": catalogue.Fixed(100*c.Loss, 1),
	}
	if !c.Proven {
		values["whole"] = "those looked at"
	}
	said := []catalogue.Holding{catalogue.HoldingCounts}
	switch {
	case !c.Proven:
		said = append(said, catalogue.HoldingUnproven)
		if c.Complete > 0 {
			said = append(said, catalogue.HoldingProvenTop)
		}
	case held == c.Feasible:
		said = append(said, catalogue.HoldingAll)
	case c.Loss > 0:
		said = append(said, catalogue.HoldingWithinLoss)
	default:
		said = append(said, catalogue.HoldingBest)
	}
	if len(style.Limits) > 0 {
		said = append(said, catalogue.HoldingKept)
		var kept []string
		for _, l := range style.Limits {
			text := fmt.Sprintf("%s %s", figure.Of(l.Quantity).Name, rangeText(l.Range))
			if ducted := style.RangeFor(&l, true); ducted != l.Range {
				text += fmt.Sprintf(" (with ducts %s)", rangeText(ducted))
			}
			kept = append(kept, text)
		}
		values["limits"] = strings.Join(kept, ", ")
	}
	var text []string
	for _, h := range said {
		text = append(text, h.Sentence(values))
	}
	for _, a := range c.SetAside {
		text = append(text, catalogue.HoldingLeftOut.Sentence(map[string]any{
			"kind": string(a.Kind), "id": a.ID, "reason": strings.ReplaceAll(faults.Error(a.Err), "\n", "; "),
		}))
	}
	return text
}

// rangeText is a range in words: at least 3.
func rangeText(r objective.Range) string {
	plain := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	switch {
	case math.IsInf(r.Low, -1):
		return "at most " + plain(r.High)
	case math.IsInf(r.High, 1):
		return "at least " + plain(r.Low)
	}
	return plain(r.Low) + " to " + plain(r.High)
}
