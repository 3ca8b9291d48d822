package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/search/predict"

	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/space"
)

// whys are the sentences of the reasons for how a search went about.
var whys = [search.WhyKinds]Search{
	search.FewPowertrains: "why.few_powertrains", search.ManyPowertrains: "why.many_powertrains",
	search.ProvablePowertrains: "why.provable", search.MethodAsked: "why.asked", search.LongProof: "why.long_proof",
	search.FewFit: "why.few_fit", search.ManyFit: "why.many_fit", search.CatalogueAsked: "why.catalogue_asked",
	search.Named: "why.named", search.KindMissing: "why.kind_missing",
	search.EveryChoice: "why.every_choice", search.ChoicesCut: "why.choices_cut", search.WishesCut: "why.wishes_cut",
	search.EveryPurchase: "why.every_purchase", search.PurchasesCut: "why.purchases_cut",
}

// WhyText says why a search went about as it did.
func WhyText(w search.Why) string {
	plain := func(n int64) string { return strconv.FormatInt(n, 10) }
	values := map[string]any{"count": plain(w.Count), "most": plain(w.Most)}
	size := Search("why.powertrains")
	if w.Over {
		size = "why.powertrains_over"
	}
	values["powertrains"] = size.Sentence(values)
	text := whys[w.Kind].Sentence(values)
	if w.Pool > 0 {
		text = Search("why.pool").Sentence(map[string]any{"why": text, "pool": plain(int64(w.Pool))})
	}
	return text
}

// LackingText says which kinds of part a drawer lacks.
func LackingText(drawer string, kinds []inventory.Kind) string {
	return Search("lacking").Sentence(map[string]any{"drawer": drawer, "kinds": alternatives(Sections(kinds))})
}

// Sections are kinds as the lists of a drawer are called.
func Sections(kinds []inventory.Kind) []string {
	list := make([]string, len(kinds))
	for i, kind := range kinds {
		list[i] = kind.Section()
	}
	return list
}

// SetAsideTexts say which parts a search left out, and why.
func SetAsideTexts(list []space.SetAside) []string {
	texts := make([]string, len(list))
	for i, a := range list {
		part := KindAndID(a.Kind, a.ID)
		if a.Step != "" {
			part = StepText(a.Kind, a.Of, a.Step)
		}
		texts[i] = Search("set_aside").Sentence(map[string]any{"part": part, "reason": reason(a.Err)})
	}
	return texts
}

func KindAndID(kind inventory.Kind, id string) string { return fmt.Sprintf("%s %s", kind, id) }

// UnmetTexts say why a wish cannot be met: a sentence a shortage; what the drawer gives no count of and the same
// craft takes shares one.
func UnmetTexts(u *search.Unmet) []string {
	switch {
	case len(u.Lacking) > 0:
		return []string{Search("unmet.lacking").Sentence(map[string]any{"kinds": alternatives(Sections(u.Lacking))})}
	case len(u.Shortages) == 0:
		return []string{Search("unmet.infeasible").Sentence(map[string]any{
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
		uncounted[by] = append(uncounted[by], KindAndID(s.Kind, s.ID))
	}
	for _, by := range takers {
		list = append(list, Search("shortage.uncounted").Sentence(map[string]any{"by": by, "parts": uncounted[by]}))
	}
	return list
}

// SharedSentence says that more crafts of a plan carry an extra than there are pieces.
func SharedSentence(s *search.Shortage) string {
	are := "are"
	if s.Pieces == 1 {
		are = "is"
	}
	return phrase.Sentence(Search("shortage.along").Sentence(map[string]any{"by": s.TakenBy, "extra": s.ID, "are": are,
		"pieces": s.Pieces}))
}

func shortage(s *search.Shortage, by string) string {
	values := map[string]any{
		"part": KindAndID(s.Kind, s.ID), "are": "are", "pieces": phrase.Plural(int64(s.Pieces), "piece", "pieces"),
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
	return Search("shortage.pieces").Sentence(values)
}

// measures are the sentences of measurements.
var measures = [predict.MeasurementKinds]Answer{
	predict.Weigh: "measure.weigh", predict.WeighAll: "measure.weigh_all", predict.MeasureResistance: "measure.resistance",
	predict.MeasureCapacity: "measure.capacity", predict.BenchProp: "measure.prop", predict.CaliperProp: "measure.caliper",
	predict.BenchMotor: "measure.motor", predict.ReadHoverSpeed: "measure.rpm", predict.ReadHoverDuty: "measure.throttle",
	predict.ReadHoverAmps: "measure.current", predict.TimeFlight: "measure.time",
}

// MeasureWords says what to measure.
func MeasureWords(m *predict.Measurement) string {
	return measures[m.Kind].Sentence(map[string]any{"part": KindAndID(m.Part, m.ID), "id": m.ID})
}

// DecideSentence says which reading, the cheapest that is worth it, would decide between the first two of a ranking, of
// which the first is ahead in a share of the draws.
func DecideSentence(list []predict.Measurement, ahead float64) string {
	m, now := predict.Cheapest(list), About(math.Max(ahead, 1-ahead))
	if m == nil || About(m.Right) == now || m.Right < ahead {
		return Answer("decide.none").Template()
	}
	which := Answer("decide")
	if m.Kind.OnStand() {
		which = "decide.stand"
	}
	return which.Sentence(map[string]any{"reading": MeasureWords(m), "right": About(m.Right), "now": now})
}

// changes are the sentences of changes whose amount has one form.
var changes = map[search.ChangeKind]struct {
	sentence Search
	form     string
	scale    float64
}{

	search.PitchChange:       {"change.pitch", "%+.0f", 100},
	search.BladesChange:      {"change.blade", "%.0f", 1},
	search.CapacityChange:    {"change.capacity", "%.0f", 100},
	search.WornPackChange:    {"change.worn_pack", "%.0f", 1},
	search.CapChange:         {"change.cap", "%.0f", 100},
	search.StickChange:       {"change.stick", "%.0f", 100},
	search.RootMassChange:    {"change.root_mass", "%.0f", 1},
	search.TipMassChange:     {"change.tip_mass", "%.0f", 1},
	search.CameraOffChange:   {"change.camera_off", "%.0f", 1},
	search.WindChange:        {"change.wind", "%.0f", 1},
	search.AltitudeChange:    {"change.altitude", "%.0f", 1},
	search.TemperatureChange: {"change.temperature", "%.0f", 1},
}

// ChangeName names a change to a combination.
func ChangeName(c *search.Change) string {
	either := func(more, less Search, amount string) string {
		if c.Amount < 0 {
			more = less
		}
		return more.Sentence(map[string]any{"amount": amount})
	}
	switch c.Kind {
	case search.AskedChange, search.NoChange:
		return c.Asked
	case search.MassChange:
		return either("change.heavier", "change.lighter", fmt.Sprintf("%.3g", math.Abs(1000*c.Amount)))
	case search.CellsChange:
		return either("change.cell_more", "change.cell_less", "")
	}
	form := changes[c.Kind]
	amount := strings.Replace(fmt.Sprintf(form.form, form.scale*c.Amount), "-", "−", 1)
	return form.sentence.Sentence(map[string]any{"amount": amount})
}

// StepText names a hypothetical part by the owned one that it is a step away from.
func StepText(kind inventory.Kind, of, step string) string {
	return Search("step").Sentence(map[string]any{"part": KindAndID(kind, of), "step": Search("step." + step).Template()})
}
