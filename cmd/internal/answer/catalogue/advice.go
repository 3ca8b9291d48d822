package catalogue

import (
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// NothingSentence says what to do where nothing of a ranking is feasible.
func NothingSentence(r *search.Ranking) string {
	switch {
	case len(r.Lacking) > 0:
		return Say("nothing.lacking", "kinds", Sections(r.Lacking))
	case len(r.NearMisses) == 0:
		return Answer("nothing.far").Template()
	}
	m := &r.NearMisses[0]
	build, remedies := BuildText(&m.Combination), RemedyTexts(m)
	switch faults := MisfitTexts(&m.Result); {
	case len(faults) > mostTold || len(faults) == 0 && len(remedies) == 0:
	case len(faults) == 0:
		return Say("nothing.near", "build", build, "remedy", remedies[0])
	case len(remedies) == 0:
		return Say("nothing.unfit", "build", build, "faults", strings.Join(faults, "; "))
	default:
		return Say("nothing.unfit_weak", "build", build, "faults", strings.Join(faults, "; "), "remedy", remedies[0])
	}
	return Answer("nothing.far").Template()
}

// mostTold are the misfits up to which what does not fit is close to fitting.
const mostTold = 2

// OddSentence says not to build a combination.
func OddSentence(c *inventory.Combination) string { return Say("nothing.odd", "build", BuildText(c)) }

// PlanSentence says which crafts to build at once, and for which the parts are short.
func PlanSentence(met, unmet []string) string {
	values := map[string]any{"n": len(met), "met": met, "unmet": unmet}
	switch {
	case len(met) == 0:
		return Answer("plan.none").Template()
	case len(unmet) > 0:
		return Answer("plan.some").Sentence(values)
	}
	return Answer("plan.all").Sentence(values)
}

// PlanScores says what the crafts of a plan score, and how sure it is that no other choice is better.
func PlanScores(plan *search.Plan, met int) string {
	proof := Answer("searched.proven").Template()
	if !plan.Proven {
		proof = Answer("plan.open").Sentence(map[string]any{"why": WhyText(plan.Why)})
	}
	if met == 0 {
		return phrase.Sentence(proof)
	}
	return Answer("plan.scores").Sentence(map[string]any{"total": Fixed(plan.Total, 1), "worst": Fixed(plan.Worst, 1),
		"proof": proof})
}

// PlanSearchedSentence says what a plan was chosen from.
func PlanSearchedSentence(p *space.Problem, plan *search.Plan) string {
	return Answer("searched.plan").Sentence(map[string]any{"drawer": p.Drawer.Name, "method": plan.Method,
		"candidates": phrase.Plural(plan.Candidates, "combination", "combinations"),
		"evaluated":  phrase.Plural(plan.Evaluated, "evaluation", "evaluations")})
}

// offeredText is what is bought, in words with its id: "4S 850 mAh LiPo (pack k4s-850)".
func offeredText(o *search.Offered, c *inventory.Combination) string {
	if o.Step != "" {
		return StepText(o.Kind, o.Of, o.Step)
	}
	words := ""
	switch o.Kind {
	case inventory.KindMotor:
		words = motorsText(c)
	case inventory.KindProp:
		words = propsText(c.Prop)
	case inventory.KindPack:
		words = packSizeText(c.Pack)
	case inventory.KindFrame:
		words = frameClassText(c.Frame)
	case inventory.KindBoard:
		words = boardText(c.Board)
	default:
		if i := extraAt(c, o.ID); i >= 0 {
			words = RoleText(c.Extras[i].Role)
		}
	}
	if words == "" {
		return KindAndID(o.Kind, o.ID)
	}
	return Answer("buy.part").Sentence(map[string]any{"words": words, "part": KindAndID(o.Kind, o.ID)})
}

func extraAt(c *inventory.Combination, id string) int {
	for i, x := range c.Extras {
		if x.ID == id {
			return i
		}
	}
	return -1
}

// PurchaseSentence says to get what is bought, what it gains and how sure that is; where nothing was feasible before,
// that it makes something so.
func PurchaseSentence(b *search.Purchase, owned bool) string {
	var parts []string
	for i := range b.Parts {
		parts = append(parts, offeredText(&b.Parts[i], &b.Best.Combination))
	}
	values := map[string]any{"parts": parts, "before": Fixed(b.Before, 1), "after": Fixed(b.After, 1),
		"share": About(b.Best.AheadShare)}
	if !owned {
		return Answer("buy.unblocks").Sentence(values)
	}
	return Answer("buy.get").Sentence(values)
}

// OwnedSentence says what the best of what is owned scores.
func OwnedSentence(before *predict.Result) string {
	return Answer("buy.before").Sentence(map[string]any{"score": Fixed(before.Evaluation.Score, 1)})
}

// ShopSearchedSentence says what was searched of what can be bought, and whether that was all.
func ShopSearchedSentence(p *space.Problem, s *search.Shopping) string {
	proof := Answer("searched.most").Template()
	if !s.Proven {
		proof = Answer("searched.some").Sentence(map[string]any{"why": WhyText(s.Why)})
	}
	return Answer("searched.shop").Sentence(map[string]any{"drawer": p.Drawer.Name, "style": StyleWords(&p.Style),
		"evaluated": phrase.Plural(s.Evaluated, "evaluation", "evaluations"), "proof": proof})
}

// MeasureFirst says not to buy yet, and which reading of what is owned would tell more; list is what it could be.
func MeasureFirst(list []predict.Measurement, d *inventory.Drawer) string {
	var owned []predict.Measurement
	for _, m := range list {
		// Parts that are not there, and the two crafts together, cannot be measured.
		if m.Kind == predict.WeighAll || m.ID != "" && d.Item(m.Part, m.ID) == nil && d.Motor(m.ID) == nil {
			continue
		}
		owned = append(owned, m)
	}
	if m := predict.Cheapest(owned); m != nil && !m.Kind.OnStand() {
		return Answer("buy.measure").Sentence(map[string]any{"reading": MeasureWords(m)})
	}
	return Answer("buy.wait").Template()
}

// TakeSentence says which of several builds to take and why: the best among those that can be built and flown; names
// are theirs.
func TakeSentence(style *objective.Style, results []predict.Result, names []string) string {
	best, other := -1, -1
	var out []string
	for i := range results {
		r := &results[i]
		switch {
		case !r.Feasible():
			out = append(out, names[i])
		case best < 0 || r.Evaluation.Score > results[best].Evaluation.Score:
			best, other = i, best
		case other < 0 || r.Evaluation.Score > results[other].Evaluation.Score:
			other = i
		}
	}
	if best < 0 {
		return Answer("take.none").Template()
	}
	r, values := &results[best], map[string]any{"name": names[best], "out": out}
	if other < 0 {
		return Answer("take.only").Sentence(values)
	}
	if r.Endangered() {
		if at := bestSafe(results, r.Evaluation.Score-mostGivenUp); at >= 0 {
			return Answer("take.safe").Sentence(map[string]any{"name": names[at], "first": names[best],
				"points": PointsText(r.Evaluation.Score - results[at].Evaluation.Score)})
		}
	}
	values["share"], values["other"] = About(r.BestShare), names[other]
	values["points"] = PointsText(r.Evaluation.Score - results[other].Evaluation.Score)
	values["why"] = apartBrief(style, r, &results[other])
	which := Answer("take")
	switch {
	case r.Endangered():
		which = "take.danger"
	case values["why"] == "":
		which = "take.same"
	case predict.LeadOf(r.BestShare) == predict.TossUp:
		which = "take.close"
	}
	return which.Sentence(values)
}

// bestSafe is the best of those without dangers that score over so much, -1 if there is none.
func bestSafe(results []predict.Result, over float64) int {
	at := -1
	for i := range results {
		if r := &results[i]; r.Feasible() && !r.Endangered() && r.Evaluation.Score > over {
			at, over = i, r.Evaluation.Score
		}
	}
	return at
}

// leastGain is the gain of a change, in points, under which it is none.
const leastGain = 0.05

// VarySentence says which of the changes that a pilot can make gains most, or to leave it as it is.
func VarySentence(base *predict.Result, varied []search.Varied) string {
	var best *search.Varied
	for i := range varied {
		v := &varied[i]
		if v.Change.Kind.Chosen() && v.Feasible() && v.ScoreDelta >= leastGain && (best == nil ||
			v.ScoreDelta > best.ScoreDelta) {
			best = v
		}
	}
	if best == nil {
		return Answer("vary.none").Template()
	}
	values := map[string]any{"change": ChangeName(&best.Change), "points": SignedFixed(best.ScoreDelta, 1)}
	if deltas := DeltasText(base, &best.Result, nil); deltas != "" {
		values["deltas"] = deltas
		return Answer("vary.do").Sentence(values)
	}
	return Answer("vary.bare").Sentence(values)
}
