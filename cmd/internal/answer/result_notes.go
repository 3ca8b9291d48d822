package answer

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory/check"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

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

// Note is one thing to mind of a combination: a sentence whose values stand as {} in their order.
type Note struct {
	Kind   NoteKind
	Rule   compat.Rule // of what fits or is unknown
	Form   string
	Values []string
}

// Text is the note in full.
func (n *Note) Text() string {
	text := n.Form
	for _, value := range n.Values {
		text = strings.Replace(text, "{}", value, 1)
	}
	return text
}

// Notes are what to mind of a combination, the gravest first.
func Notes(r *predict.Result) []Note {
	var list []Note
	for _, text := range catalogue.Notes(check.Dangers(&r.Combination)) {
		list = append(list, Note{Kind: DangerNote, Form: text})
	}
	cautions := func(kind NoteKind) {
		for _, w := range r.Cautions {
			if w.Caution.Danger() == (kind == DangerNote) {
				form, values := catalogue.CraftCautionForm(w)
				list = append(list, Note{Kind: kind, Form: form, Values: values})
			}
		}
	}
	cautions(DangerNote)
	for _, f := range r.Remarks {
		kind := FitNote
		if f.Severity == compat.Unknown {
			kind = UnknownNote
		}
		list = append(list, Note{Kind: kind, Rule: f.Rule, Form: catalogue.Finding(&f)})
	}
	cautions(CautionNote)
	for i := range r.AtRisk {
		list = append(list, riskNote(&r.AtRisk[i]))
	}
	return list
}

// dangerTexts are the notes on what may burn or fall.
func dangerTexts(r *predict.Result) []string {
	var texts []string
	for _, n := range Notes(r) {
		if n.Kind == DangerNote {
			texts = append(texts, n.Text())
		}
	}
	return texts
}

// noteTexts are the notes in full.
func noteTexts(r *predict.Result) []string {
	notes := Notes(r)
	texts := make([]string, len(notes))
	for i := range notes {
		texts[i] = notes[i].Text()
	}
	return texts
}

func riskNote(l *predict.LimitAtRisk) Note {
	f := figure.Of(l.Quantity)
	withUnit := func(x float64) string { return strings.TrimRight(fmt.Sprintf("%g %s", x, f.Unit), " ") }
	values := map[string]any{"low": told(f, l.Low, &l.Range), "high": told(f, l.High, &l.Range), "bound": withUnit(l.Range.High)}
	sentence := catalogue.Search("risk.between")
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
	return Note{Kind: RiskNote, Form: strings.Replace(form, "{}", f.Name, 1), Values: list[1:]}
}

// told is a figure as it is shown, with a digit more where it would else seem to keep a range that it
// breaks.
func told(f figure.Figure, x float64, r *objective.Range) string {
	if f.Unit == "°C" && x > 150 {
		return "over 150" // the law of heat tells no more
	}
	if !r.Holds(x) && r.Holds(f.Round(x)) {
		f.Decimals++
	}
	return fmt.Sprintf("%.*f", f.Decimals, x)
}

// misfitTexts say why a combination cannot be built; empty if it can.
func misfitTexts(r *predict.Result) []string {
	texts := make([]string, len(r.Misfits))
	for i := range r.Misfits {
		texts[i] = misfit(&r.Misfits[i])
	}
	return texts
}

func misfit(m *predict.Misfit) string {
	switch m.Kind {
	case predict.DoesNotFit:
		return catalogue.Finding(&m.Finding)
	case predict.TooLight:
		return catalogue.Search("misfit.too_light").Sentence(map[string]any{"mass": fmt.Sprintf("%.3g", 1000*m.StructureKg)})
	case predict.LacksRoles:
		lacks := make([]string, len(m.Roles))
		for i, role := range m.Roles {
			lacks[i] = "no " + string(role)
		}
		return catalogue.Search("misfit.roles").Sentence(map[string]any{"roles": lacks})
	}
	if m.Prop != "" {
		return catalogue.Search("misfit.prop").Sentence(map[string]any{"prop": m.Prop, "reason": reason(m.Err)})
	}
	return reason(m.Err)
}

// reason is an error as part of a sentence.
func reason(err error) string { return strings.ReplaceAll(catalogue.Error(err), "\n", "; ") }
