package answer

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/space"
)

// whys are the sentences of the reasons for how a search went about.
var whys = [search.WhyKinds]catalogue.Search{
	search.FewPowertrains: "why.few_powertrains", search.ManyPowertrains: "why.many_powertrains", search.MethodAsked: "why.asked",
	search.FewFit: "why.few_fit", search.ManyFit: "why.many_fit", search.CatalogueAsked: "why.catalogue_asked",
	search.Named: "why.named", search.KindMissing: "why.kind_missing",
	search.EveryChoice: "why.every_choice", search.ChoicesCut: "why.choices_cut", search.WishesCut: "why.wishes_cut",
	search.EveryPurchase: "why.every_purchase", search.PurchasesCut: "why.purchases_cut",
}

// whyText says why a search went about as it did.
func whyText(w search.Why) string {
	plain := func(n int64) string { return strconv.FormatInt(n, 10) }
	values := map[string]any{"count": plain(w.Count), "most": plain(w.Most)}
	size := catalogue.Search("why.powertrains")
	if w.Over {
		size = "why.powertrains_over"
	}
	values["powertrains"] = size.Sentence(values)
	text := whys[w.Kind].Sentence(values)
	if w.Pool > 0 {
		text = catalogue.Search("why.pool").Sentence(map[string]any{"why": text, "pool": plain(int64(w.Pool))})
	}
	return text
}

// lackingText says which kinds of part a drawer lacks.
func lackingText(drawer string, kinds []inventory.Kind) string {
	return catalogue.Search("lacking").Sentence(map[string]any{"drawer": drawer, "kinds": Sections(kinds)})
}

// Sections are kinds as the lists of a drawer are called.
func Sections(kinds []inventory.Kind) []string {
	list := make([]string, len(kinds))
	for i, kind := range kinds {
		list[i] = kind.Section()
	}
	return list
}

// setAsideTexts say which parts a search left out, and why.
func setAsideTexts(list []space.SetAside) []string {
	texts := make([]string, len(list))
	for i, a := range list {
		part := kindAndID(a.Kind, a.ID)
		if a.Step != "" {
			part = stepText(a.Kind, a.Of, a.Step)
		}
		texts[i] = catalogue.Search("set_aside").Sentence(map[string]any{"part": part, "reason": reason(a.Err)})
	}
	return texts
}

func kindAndID(kind inventory.Kind, id string) string { return fmt.Sprintf("%s %s", kind, id) }

// unmetTexts say why a wish cannot be met: a sentence a shortage; what the drawer gives no count of and the same
// craft takes shares one.
func unmetTexts(u *search.Unmet) []string {
	switch {
	case len(u.Lacking) > 0:
		return []string{catalogue.Search("unmet.lacking").Sentence(map[string]any{"kinds": Sections(u.Lacking)})}
	case len(u.Shortages) == 0:
		return []string{catalogue.Search("unmet.infeasible").Sentence(map[string]any{
			"candidates": strconv.FormatInt(u.Candidates, 10), "fitted": strconv.FormatInt(u.Fitted, 10),
		})}
	}
	var list, takers []string
	uncounted := map[string][]string{}
	for i := range u.Shortages {
		s := &u.Shortages[i]
		by := strings.Join(s.TakenBy, " and ")
		if !s.Uncounted {
			list = append(list, shortage(s, by))
			continue
		}
		if !slices.Contains(takers, by) {
			takers = append(takers, by)
		}
		uncounted[by] = append(uncounted[by], kindAndID(s.Kind, s.ID))
	}
	for _, by := range takers {
		list = append(list, catalogue.Search("shortage.uncounted").Sentence(map[string]any{"by": by, "parts": uncounted[by]}))
	}
	return list
}

func shortage(s *search.Shortage, by string) string {
	values := map[string]any{
		"part": kindAndID(s.Kind, s.ID), "are": "are", "pieces": catalogue.Plural(int64(s.Pieces), "piece", "pieces"),
		"by": by, "take": "takes", "taken": s.Taken, "needed": s.Needed,
	}
	if s.Direction != "" {
		values["part"] = fmt.Sprintf("%s (%s)", values["part"], s.Direction)
	}
	if s.Pieces == 1 {
		values["are"] = "is"
	}
	if len(s.TakenBy) > 1 {
		values["take"] = "take"
	}
	return catalogue.Search("shortage.pieces").Sentence(values)
}
