package catalogue

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Property: every kind that the search knows has a sentence, and every placeholder of it a value.
func TestEveryKindOfTheSearchHasItsSentence(t *testing.T) {
	var texts []string
	add := func(more ...string) { texts = append(texts, more...) }
	for kind := range search.WhyKinds {
		add(WhyText(search.Why{Kind: kind, Count: 3, Most: 7}), WhyText(search.Why{Kind: kind, Over: true, Pool: 9}))
	}
	for kind := range search.RemedyKinds {
		limit := &objective.Limit{Quantity: figure.AllUpMass, Range: objective.Range{Low: math.Inf(-1), High: 250}}
		m := search.NearMiss{Remedies: []search.Remedy{{Kind: kind, Needs: 2, Has: 1},
			{Kind: kind, Loose: limit, Now: limit}}}
		add(RemedyTexts(&m)...)
	}
	for kind := search.AskedChange; kind < search.ChangeKinds; kind++ {
		add(ChangeName(&search.Change{Kind: kind, Amount: 1, Asked: "pack.cells = 4"}),
			ChangeName(&search.Change{Kind: kind, Amount: -1, Asked: "x"}))
	}
	for _, step := range search.Steps {
		add(StepText(inventory.KindPack, "k1", step))
	}
	r := predict.Result{GroundedShare: 0.14}
	r.Combination.Extras = []*inventory.Extra{{Part: inventory.Part{ID: "x-eye"}, Role: inventory.Camera,
		Use: inventory.Along, Choices: 2}}
	for kind := range predict.MisfitKinds {
		for _, prop := range []string{"", "p1"} {
			r.Misfits = append(r.Misfits, predict.Misfit{
				Kind: kind, Finding: compat.Finding{Problem: strict.Problem{Code: "fit.none_left",
					Values: strict.Values{"kind": "pack", "id": "k1"}}}, Err: errors.New("one\ntwo"), Prop: prop, StructureKg: 0.004,
				Roles: []inventory.Role{inventory.Camera, inventory.Receiver},
			})
		}
	}
	add(MisfitTexts(&r)...)
	for caution := range physics.CautionEnd {
		r.Cautions = append(r.Cautions, physics.Warning{Caution: caution, Value: 400, Bound: 300})
	}
	open := math.Inf(1)
	for _, limits := range []objective.Range{{Low: 2, High: open}, {Low: -open, High: 5}, {Low: 2, High: 5}} {
		r.AtRisk = append(r.AtRisk, predict.LimitAtRisk{Limit: objective.Limit{Quantity: figure.StyleTime, Range: limits},
			Low: 1, High: 6})
	}
	notes := ResultNotes(&r)
	for i := range notes {
		if strings.Count(notes[i].Form, "{}") != len(notes[i].Values) {
			t.Errorf("%q takes %q", notes[i].Form, notes[i].Values)
		}
		add(notes[i].Text())
	}
	add(LackingText("drawer.yaml", []inventory.Kind{inventory.KindMotor, inventory.KindProp}))
	add(SetAsideTexts([]space.SetAside{{Kind: inventory.KindProp, ID: "p1", Err: errors.New("no blade")},
		{Kind: inventory.KindProp, ID: "p1.pitch-up", Of: "p1", Step: "pitch-up", Err: errors.New("no blade")}})...)
	shortage := func(pieces int, uncounted bool, direction string, by ...string) search.Shortage {
		return search.Shortage{Resource: space.Resource{Kind: inventory.KindProp, ID: "p1", Direction: direction,
			Pieces: pieces, Uncounted: uncounted},
			TakenBy: by, Taken: 1, Needed: 4}
	}
	for _, u := range []search.Unmet{
		{Lacking: []inventory.Kind{inventory.KindMotor}}, {Candidates: 9, Fitted: 3},
		{Shortages: []search.Shortage{shortage(1, false, "cw", "race"), shortage(5, false, "", "race", "cruise"),
			shortage(1, true, "", "race")}},
	} {
		add(UnmetTexts(&u)...)
	}
	shared := shortage(1, false, "", "race", "cruise")
	add(SharedSentence(&shared))
	add(NoveltyText(&predict.Novelty{}), NoveltyText(&predict.Novelty{Nearest: "Tern"}))
	for q := range contrasts {
		for _, theirs := range []float64{0.25, 0.5, 2} {
			add(NoveltyText(&predict.Novelty{Nearest: "Tern", Differences: []predict.Contrast{{Quantity: q, Value: 1,
				Theirs: theirs}}}))
		}
	}
	for _, text := range texts {
		if text == "" || strings.ContainsAny(text, "{}\n") || strings.Contains(text, "<nil>") ||
			strings.Contains(text, "%!") {
			t.Errorf("%q", text)
		}
	}
	// Nothing in the catalogue is left over.
	all := strings.Join(texts, "\n")
	for _, s := range Searches() {
		longest := slices.MaxFunc(strings.FieldsFunc(blanked(s.Template()), func(r rune) bool { return r == '\x00' }),
			func(a, b string) int { return len(a) - len(b) })
		if !strings.Contains(all, strings.TrimSpace(longest)) {
			t.Errorf("%s is never said: %s", s, s.Template())
		}
	}
}

// blanked is a sentence with its placeholders cut out.
func blanked(form string) string {
	values := map[string]any{}
	for _, name := range phrase.Placeholders(form) {
		values[name] = "\x00"
	}
	return phrase.Fill(form, values)
}

// What was left out of the front is told in points, and nothing is said where nothing was.
func TestInsteadGapSentence(t *testing.T) {
	for gap, want := range map[float64]string{0: "",
		3: "Not every build was checked for these: one with up to 3 points (of 100) more on an axis may exist."} {
		if got := InsteadGapSentence(&search.Ranking{FrontGap: gap}); got != want {
			t.Errorf("%g points: got %q, want %q", gap, got, want)
		}
	}
}
