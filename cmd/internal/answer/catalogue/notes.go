package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/check"
	"partsaloft/objective"
	"partsaloft/physics/figure"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/search/predict"
)

// unknowns are the rules of fit in words, where the drawer does not say enough to try them.
var unknowns = [compat.RuleEnd]string{
	compat.RuleHoles:     "motor holes and frame holes",
	compat.RulePropMount: "how the prop sits on the motor",
	compat.RulePropSize:  "room for the prop",
	compat.RuleStack:     "board holes and frame holes",
	compat.RuleCamera:    "camera width and frame width",
	compat.RuleConnector: "plugs of pack and board",
	compat.RuleBay:       "room for the pack",
}

// leastGathered is the number of notes on what the drawer does not say from which on they share one
// sentence.
const leastGathered = 3

// partNotes are what the drawer's notes say of a combination's parts, in its order.
func partNotes(c *inventory.Combination) []string {
	var list []string
	add := func(kind inventory.Kind, id, note string) {
		if note != "" {
			list = append(list, fmt.Sprintf("your note on %s %s: %s", kind, id, note))
		}
	}
	add(inventory.KindMotor, c.Motor.ID, c.Motor.Note)
	add(inventory.KindProp, c.Prop.ID, c.Prop.Note)
	add(inventory.KindPack, c.Pack.ID, c.Pack.Note)
	add(inventory.KindFrame, c.Frame.ID, c.Frame.Note)
	add(inventory.KindBoard, c.Board.ID, c.Board.Note)
	for _, e := range c.Extras {
		add(inventory.KindExtra, e.ID, e.Note)
	}
	return list
}

// OwnNotes are the same as a list for people.
func OwnNotes(c *inventory.Combination) []string {
	var list []string
	for _, note := range partNotes(c) {
		list = append(list, phrase.Sentence(note))
	}
	return list
}

// AllNotes are what a document notes of a combination: what fits but wants a word, what to mind, and the drawer's own
// notes.
func AllNotes(r *predict.Result) []string { return append(NoteTexts(r), partNotes(&r.Combination)...) }

// NoteList are a combination's notes for people, its dangers left out. What the drawer leaves out of its parts' fit is
// one sentence if it is much; JSON and check have it in full.
func NoteList(r *predict.Result) []string {
	notes := slices.DeleteFunc(ResultNotes(r), func(n ResultNote) bool { return n.Kind == DangerNote })
	gathered := func(n *ResultNote) bool { return n.Kind == UnknownNote && unknowns[n.Rule] != "" }
	many := 0
	for i := range notes {
		if gathered(&notes[i]) {
			many++
		}
	}
	var list []string
	var look []string
	for i := range notes {
		n := &notes[i]
		if !gathered(n) || many < leastGathered {
			list = append(list, Sentences([]string{n.Text()})...)
		} else if !slices.Contains(look, unknowns[n.Rule]) {
			look = append(look, unknowns[n.Rule])
		}
	}
	list = append(list, OwnNotes(&r.Combination)...)
	if len(look) > 0 {
		list = append(list, "Check before you build (not in the drawer): "+strings.Join(look, ", ")+".")
	}
	return list
}

// NoteKind is a kind of note on a combination.
type NoteKind uint8

// The kinds of notes, in the order in which they stand.
const (
	DangerNote  NoteKind = iota // what may burn or fall
	FitNote                     // what fits but wants a word
	UnknownNote                 // what the drawer does not say of a fit
	CautionNote                 // what the craft's numbers warn of
	RiskNote                    // a limit that is kept, but may not be
)

// ResultNote is one thing to mind of a combination: a sentence whose values stand as {} in their order.
type ResultNote struct {
	Kind   NoteKind
	Rule   compat.Rule // of what fits or is unknown
	Form   string
	Values []string
}

// Text is the note in full.
func (n *ResultNote) Text() string {
	text := n.Form
	for _, value := range n.Values {
		text = strings.Replace(text, "{}", value, 1)
	}
	return text
}

// ResultNotes are what to mind of a combination, the gravest first.
func ResultNotes(r *predict.Result) []ResultNote {
	var list []ResultNote
	for _, text := range faults.Notes(check.Dangers(&r.Combination)) {
		list = append(list, ResultNote{Kind: DangerNote, Form: text})
	}
	cautions := func(kind NoteKind) {
		for _, w := range r.Cautions {
			if w.Caution.Danger() == (kind == DangerNote) {
				form, values := CraftCautionForm(w)
				list = append(list, ResultNote{Kind: kind, Form: form, Values: values})
			}
		}
	}
	for _, f := range r.Remarks {
		if f.Danger() {
			list = append(list, ResultNote{Kind: DangerNote, Rule: f.Rule, Form: faults.Finding(&f)})
		}
	}
	cautions(DangerNote)
	if r.GroundedShare >= predict.FlaggedShare {
		form, values := Search("grounded").Form(map[string]any{"count": hundred(r.GroundedShare)})
		list = append(list, ResultNote{Kind: DangerNote, Form: form, Values: values})
	}
	for _, f := range r.Remarks {
		if f.Danger() {
			continue
		}
		kind := FitNote
		if f.Severity == compat.Unknown {
			kind = UnknownNote
		}
		list = append(list, ResultNote{Kind: kind, Rule: f.Rule, Form: faults.Finding(&f)})
	}
	list = append(list, carriedNotes(&r.Combination)...)
	cautions(CautionNote)
	for i := range r.AtRisk {
		list = append(list, riskNote(&r.AtRisk[i]))
	}
	return list
}

// carriedNotes say which extra was taken where several go along, and what a craft is expected to carry and does not.
func carriedNotes(c *inventory.Combination) []ResultNote {
	var list []ResultNote
	for _, e := range c.Extras {
		if e.Use == inventory.Along && e.Choices > 1 {
			form, values := Search("carried.lightest").Form(map[string]any{"role": RoleText(e.Role), "id": e.ID,
				"choices": e.Choices})
			list = append(list, ResultNote{Kind: FitNote, Form: form, Values: values})
		}
	}
	var lacks []string
	for _, role := range c.Lacking() {
		lacks = append(lacks, RoleText(role))
	}
	if len(lacks) > 0 {
		form, values := Search("carried.none").Form(map[string]any{"roles": lacks})
		list = append(list, ResultNote{Kind: FitNote, Form: form, Values: values})
	}
	return list
}

// DangerTexts are the notes on what may burn or fall.
func DangerTexts(r *predict.Result) []string {
	var texts []string
	for _, n := range ResultNotes(r) {
		if n.Kind == DangerNote {
			texts = append(texts, n.Text())
		}
	}
	return texts
}

// NoteTexts are the notes in full.
func NoteTexts(r *predict.Result) []string {
	notes := ResultNotes(r)
	texts := make([]string, len(notes))
	for i := range notes {
		texts[i] = notes[i].Text()
	}
	return texts
}

// hundred is a share as a count of 100.
func hundred(share float64) string { return fmt.Sprintf("%.0f", 100*share) }

func riskNote(l *predict.LimitAtRisk) ResultNote {
	f := figure.Of(l.Quantity)
	withUnit := func(x float64) string { return strings.TrimRight(fmt.Sprintf("%g %s", x, f.Unit), " ") }
	values := map[string]any{"low": told(f, l.Low, &l.Range), "high": told(f, l.High, &l.Range),
		"bound": withUnit(l.Range.High)}
	sentence := Search("risk.between")
	switch {
	case math.IsInf(l.Range.Low, 0):
		sentence = "risk.most"
	case math.IsInf(l.Range.High, 0):
		sentence, values["bound"] = "risk.least", withUnit(l.Range.Low)
	default:
		values["from"] = fmt.Sprintf("%g", l.Range.Low)
	}
	form, list := sentence.Form(values)
	// The figure's name is part of the form, so that notes on one figure share it.
	return ResultNote{Kind: RiskNote, Form: strings.Replace(form, "{}", f.Name, 1), Values: list[1:]}
}

// told is a figure as it is shown, with a digit more where it would else seem to keep a range that it
// breaks.
func told(f figure.Figure, x float64, r *objective.Range) string {
	if !r.Holds(x) && r.Holds(f.Round(x)) {
		f.Decimals++
	}
	return fmt.Sprintf("%.*f", f.Decimals, x)
}

// MisfitTexts say why a combination cannot be built; empty if it can.
func MisfitTexts(r *predict.Result) []string {
	texts := make([]string, len(r.Misfits))
	for i := range r.Misfits {
		texts[i] = misfit(&r.Misfits[i])
	}
	return texts
}

func misfit(m *predict.Misfit) string {
	switch m.Kind {
	case predict.DoesNotFit:
		return faults.Finding(&m.Finding)
	case predict.TooLight:
		return Search("misfit.too_light").Sentence(map[string]any{"mass": fmt.Sprintf("%.3g", 1000*m.StructureKg)})
	case predict.LacksRoles:
		lacks := make([]string, len(m.Roles))
		for i, role := range m.Roles {
			lacks[i] = "no " + string(role)
		}
		return Search("misfit.roles").Sentence(map[string]any{"roles": lacks})
	}
	if m.Prop != "" {
		return Search("misfit.prop").Sentence(map[string]any{"prop": m.Prop, "reason": reason(m.Err)})
	}
	return reason(m.Err)
}

// reason is an error as part of a sentence.
func reason(err error) string { return strings.ReplaceAll(faults.Error(err), "\n", "; ") }

// Caution is something that can hurt a person or burn a house, with the sentence that stands where it
// applies.
type Caution uint8

// The cautions.
const (
	FirstPower Caution = iota // at the bench, before a craft is powered up
	Packs                     // lithium packs
	Disposal                  // packs to be retired
	Spinning                  // a prop that turns on a stand or at the bench
	WarmMotors                // motors that are felt after a flight
	ClassLimit                // a mass that may fall on either side of a weight class
	Indoors                   // flying in a room with people
	LocalLaw                  // where, near and over whom
	CautionEnd                // one past the last
)

// cautions are common practice and what packs' and props' makers print; they name no source of their own.
var cautions = [CautionEnd]string{
	FirstPower: "Take the props off at the bench, and power up the first time through a current limiter.",
	Packs: "Lithium packs burn when shorted, crushed, over-drawn or over-charged: watch them while charging, " +
		"retire puffed ones.",
	Disposal: "Do not charge or fly a retired pack: keep it away from anything that burns, and hand it in " +
		"discharged, as local rules say.",
	Spinning: "When a prop spins on a stand or at the bench: bolt the stand down, keep hands clear, wear eye " +
		"protection, let nobody stand in the plane of the disc, and make the first run through a current " +
		"limiter.",
	WarmMotors: "Check motor temperature by hand only after landing, disarmed and with the pack unplugged.",
	ClassLimit: "Weigh it: at {mass} it may be over or under {class} g, a class limit in many places.",
	Indoors:    "Indoors, keep people behind a net or outside the room.",
	LocalLaw:   "Local law sets where, near and over whom you may fly.",
}

// Sentence is the caution with its values.
func (c Caution) Sentence(values map[string]any) string { return phrase.Fill(cautions[c], values) }
