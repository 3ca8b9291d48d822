package answer

import (
	"maps"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// FitMatrix says which parts of two kinds go together.
type FitMatrix struct {
	KindA, KindB string
	A, B         []string            // by id
	Severities   [][]compat.Severity // of each A with each B
	why          [][][]compat.Finding
	left         string // why it is not filled, "" if it is
}

// Title is the question that the matrix answers.
func (m *FitMatrix) Title() string { return catalogue.Say("fits.title", "a", m.KindA, "b", m.KindB) }

// mostPairs bounds a matrix, which takes memory for every pair.
const mostPairs = 40_000

// kindOf is the parts of a kind, with what tells their ids.
type kindOf[P any] struct {
	kind  string
	parts []P
	id    func(*P) string
}

// pair fills the matrix of two kinds of parts from what the rules find of each pair.
func pair[A, B any](a kindOf[A], b kindOf[B], find func(*A, *B) []compat.Finding) FitMatrix {
	as, bs := a.parts, b.parts
	m := FitMatrix{KindA: a.kind, KindB: b.kind}
	if len(as)*len(bs) > mostPairs {
		m.left = catalogue.Say("fits.too_many", "as", len(as), "a", a.kind, "bs", len(bs), "b", b.kind, "most", mostPairs)
		return m
	}
	for k := range bs {
		m.B = append(m.B, b.id(&bs[k]))
	}
	for i := range as {
		m.A = append(m.A, a.id(&as[i]))
		severities, why := make([]compat.Severity, len(bs)), make([][]compat.Finding, len(bs))
		for k := range bs {
			for _, f := range find(&as[i], &bs[k]) {
				severities[k] = max(severities[k], f.Severity)
				if f.Severity != compat.Fits {
					why[k] = append(why[k], f)
				}
			}
		}
		m.Severities, m.why = append(m.Severities, severities), append(m.why, why)
	}
	return m
}

// matrices are all pairs of kinds that have rules of fit, and a word on those that are too many. Adapters
// count as on board.
func matrices(d *inventory.Drawer) (list []FitMatrix, tooMany []string) {
	motors := kindOf[inventory.Motor]{"motor", d.Motors, func(m *inventory.Motor) string { return m.ID }}
	props := kindOf[inventory.Prop]{"prop", d.Props, func(p *inventory.Prop) string { return p.ID }}
	packs := kindOf[inventory.Pack]{"pack", d.Packs, func(p *inventory.Pack) string { return p.ID }}
	frames := kindOf[inventory.Frame]{"frame", d.Frames, func(f *inventory.Frame) string { return f.ID }}
	boards := kindOf[inventory.Board]{"board", d.Boards, func(b *inventory.Board) string { return b.ID }}
	cameras := kindOf[inventory.Extra]{kind: "camera", id: func(e *inventory.Extra) string { return e.ID }}
	var adapters []*inventory.Extra
	for i := range d.Extras {
		if d.Extras[i].Role == inventory.Camera {
			cameras.parts = append(cameras.parts, d.Extras[i])
		}
		if d.Extras[i].Bridges != nil {
			adapters = append(adapters, &d.Extras[i])
		}
	}
	all := []FitMatrix{
		pair(motors, frames, compat.MotorFrame),
		pair(props, motors, compat.PropMotor),
		pair(props, frames, compat.PropFrame),
		pair(boards, frames, func(b *inventory.Board, f *inventory.Frame) []compat.Finding {
			return compat.BoardFrame(b, f, adapters)
		}),
		pair(packs, motors, func(p *inventory.Pack, m *inventory.Motor) []compat.Finding {
			return compat.MotorPack(m, p)
		}),
		pair(packs, boards, func(p *inventory.Pack, b *inventory.Board) []compat.Finding {
			return append(compat.BoardPack(b, p), compat.PackBoard(p, b, adapters)...)
		}),
		pair(packs, frames, compat.PackFrame),
		pair(cameras, frames, compat.CameraFrame),
	}
	filled := all[:0]
	for _, m := range all {
		switch {
		case m.left != "":
			tooMany = append(tooMany, m.left)
		case len(m.A) > 0 && len(m.B) > 0:
			filled = append(filled, m)
		}
	}
	return filled, tooMany
}

// remarks are what the rules say of pairs that fit with a remark or may not fit: for each part once,
// with the others that it is the same with, and with the parts of its own kind of which the same is said.
func (m *FitMatrix) remarks() []string {
	var texts []string
	said := map[string]int{} // by what is said of any part
	alike := map[int][]string{}
	for i := range m.A {
		for _, severity := range []compat.Severity{compat.Remark, compat.Unknown} {
			var first []compat.Finding
			var others []string
			for k, why := range m.why[i] {
				switch {
				case m.Severities[i][k] != severity || len(why) == 0:
				case first == nil:
					first = why
				default:
					others = append(others, m.B[k])
				}
			}
			if first == nil {
				continue
			}
			likewise := ""
			if len(others) > 0 {
				likewise = catalogue.Say("fits.alike", "others", others)
			}
			text, ofAny := joined(findingTexts(first))+likewise, joined(findingTexts(ofAnyPart(first,
				m.A[i])))+likewise
			if k, ok := said[ofAny]; ok && ofAny != text {
				alike[k] = append(alike[k], m.A[i])
				continue
			}
			said[ofAny] = len(texts)
			texts = append(texts, text)
		}
	}
	var list []string
	for k, text := range texts {
		if alike[k] != nil {
			text += catalogue.Say("fits.alike", "others", alike[k])
		}
		list = append(list, text+".")
	}
	return list
}

// findingTexts are findings in words.
func findingTexts(list []compat.Finding) []string {
	texts := make([]string, len(list))
	for i := range list {
		texts[i] = faults.Finding(&list[i])
	}
	return texts
}

// ofAnyPart are findings without the id of the part that they are of.
func ofAnyPart(list []compat.Finding, id string) []compat.Finding {
	bare := slices.Clone(list)
	for i := range bare {
		values := maps.Clone(bare[i].Values)
		for name, value := range values {
			if value == id {
				values[name] = "…"
			}
		}
		bare[i].Values = values
	}
	return bare
}

// alone names the parts that go with no part of another kind.
func alone(all []FitMatrix) []string {
	var notes []string
	for _, m := range all {
		for i, id := range m.A {
			found := false
			for _, severity := range m.Severities[i] {
				found = found || severity != compat.Misfit
			}
			if !found {
				notes = append(notes, catalogue.Say("fits.alone", "kind", m.KindA, "id", id, "other", m.KindB))
			}
		}
		for k, id := range m.B {
			found := false
			for i := range m.A {
				found = found || m.Severities[i][k] != compat.Misfit
			}
			if !found {
				notes = append(notes, catalogue.Say("fits.alone", "kind", m.KindB, "id", id, "other", m.KindA))
			}
		}
	}
	return notes
}

func joined(sentences []string) string { return strings.Join(sentences, "; ") }
