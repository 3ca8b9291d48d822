package cli

import (
	"fmt"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
)

// matrix says which parts of two kinds go together.
type matrix struct {
	kinds, title string
	a, b         []string
	cells        [][]fit
	left         string // why there are no cells, "" if there are
}

// mostPairs bounds a matrix, which takes memory for every pair.
const mostPairs = 40_000

type fit struct {
	severity inventory.Severity
	why      []string
}

// pair fills the matrix of two lists of parts from what the rules find of each pair.
func pair[A, B any](kindA, kindB string, as []A, bs []B, idA func(*A) string, idB func(*B) string, find func(*A, *B) []inventory.Finding) matrix {
	m := matrix{kinds: kindA + "-" + kindB, title: "Which " + kindA + " fits which " + kindB}
	if len(as)*len(bs) > mostPairs {
		m.left = fmt.Sprintf("%d kinds of %s and %d of %s make more pairs than the %d that are set side by side: look at fewer at a time, or let rank say what goes together",
			len(as), kindA, len(bs), kindB, mostPairs)
		return m
	}
	for k := range bs {
		m.b = append(m.b, idB(&bs[k]))
	}
	for i := range as {
		m.a = append(m.a, idA(&as[i]))
		row := make([]fit, len(bs))
		for k := range bs {
			row[k] = fit{why: []string{}}
			for _, f := range find(&as[i], &bs[k]) {
				row[k].severity = max(row[k].severity, f.Severity)
				if f.Severity != inventory.Fits {
					row[k].why = append(row[k].why, f.Text)
				}
			}
		}
		m.cells = append(m.cells, row)
	}
	return m
}

// matrices are all pairs of kinds that have rules of fit, and a word on those that are too many. Adapters
// count as on board.
func matrices(d *inventory.Drawer) (list []matrix, tooMany []string) {
	motor := func(m *inventory.Motor) string { return m.ID }
	prop := func(p *inventory.Prop) string { return p.ID }
	pack := func(p *inventory.Pack) string { return p.ID }
	frame := func(f *inventory.Frame) string { return f.ID }
	board := func(b *inventory.Board) string { return b.ID }
	var cameras []inventory.Extra
	var adapters []*inventory.Extra
	for i := range d.Extras {
		if d.Extras[i].Role == inventory.Camera {
			cameras = append(cameras, d.Extras[i])
		}
		if d.Extras[i].Bridges != nil {
			adapters = append(adapters, &d.Extras[i])
		}
	}
	all := []matrix{
		pair("motor", "frame", d.Motors, d.Frames, motor, frame, inventory.MotorFrame),
		pair("prop", "motor", d.Props, d.Motors, prop, motor, inventory.PropMotor),
		pair("prop", "frame", d.Props, d.Frames, prop, frame, inventory.PropFrame),
		pair("board", "frame", d.Boards, d.Frames, board, frame, func(b *inventory.Board, f *inventory.Frame) []inventory.Finding {
			return inventory.BoardFrame(b, f, adapters)
		}),
		pair("pack", "motor", d.Packs, d.Motors, pack, motor, func(p *inventory.Pack, m *inventory.Motor) []inventory.Finding {
			return inventory.MotorPack(m, p)
		}),
		pair("pack", "board", d.Packs, d.Boards, pack, board, func(p *inventory.Pack, b *inventory.Board) []inventory.Finding {
			return append(inventory.BoardPack(b, p), inventory.PackBoard(p, b, adapters)...)
		}),
		pair("pack", "frame", d.Packs, d.Frames, pack, frame, inventory.PackFrame),
		pair("camera", "frame", cameras, d.Frames, func(e *inventory.Extra) string { return e.ID }, frame, inventory.CameraFrame),
	}
	filled := all[:0]
	for _, m := range all {
		switch {
		case m.left != "":
			tooMany = append(tooMany, m.left)
		case len(m.a) > 0 && len(m.b) > 0:
			filled = append(filled, m)
		}
	}
	return filled, tooMany
}

var marks = [...]string{inventory.Fits: "yes", inventory.Remark: "note", inventory.Unknown: "?", inventory.Misfit: "–"}

// blocks shows the matrix; columns are numbered where their ids would make it too wide.
func (m *matrix) blocks() []render.Block {
	width := 0
	for _, id := range m.a {
		width = max(width, len(id))
	}
	for _, id := range m.b {
		width += 2 + max(len(id), 4)
	}
	numbered := width > render.Width
	kindA, kindB, _ := strings.Cut(m.kinds, "-")
	t := &render.Table{Columns: []render.Column{render.Left(kindA)}}
	var legend []string
	for k, id := range m.b {
		head := id
		if numbered {
			head = strconv.Itoa(k + 1)
			legend = append(legend, head+" "+id)
		}
		t.Columns = append(t.Columns, render.Right(head))
	}
	for i, id := range m.a {
		row := []string{id}
		for _, cell := range m.cells[i] {
			row = append(row, marks[cell.severity])
		}
		t.Rows = append(t.Rows, row)
	}
	blocks := []render.Block{render.Heading(m.title), t}
	if numbered {
		blocks = append(blocks, render.Paragraph(fmt.Sprintf("Columns by %s: %s.", kindB, strings.Join(legend, ", "))))
	}
	return blocks
}

// remarks are what the rules say of pairs that fit with a remark or may not fit: for each part once,
// with the others that it is the same with, and with the parts of its own kind of which the same is said.
func (m *matrix) remarks() render.List {
	var texts []string
	said := map[string]int{} // by the text without the part's id
	alike := map[int][]string{}
	for i := range m.a {
		for _, severity := range []inventory.Severity{inventory.Remark, inventory.Unknown} {
			var first string
			var others []string
			for k, cell := range m.cells[i] {
				switch {
				case cell.severity != severity || len(cell.why) == 0:
				case first == "":
					first = joined(cell.why)
				default:
					others = append(others, m.b[k])
				}
			}
			if first == "" {
				continue
			}
			if len(others) > 0 {
				first += "; likewise with " + wordList(others)
			}
			bare := strings.ReplaceAll(first, " "+m.a[i]+" ", " … ")
			if k, ok := said[bare]; ok && bare != first {
				alike[k] = append(alike[k], m.a[i])
				continue
			}
			said[bare] = len(texts)
			texts = append(texts, first)
		}
	}
	var list render.List
	for k, text := range texts {
		if alike[k] != nil {
			text += "; the same goes for " + wordList(alike[k])
		}
		list = append(list, text+".")
	}
	return list
}

// alone names the parts that go with no part of another kind.
func alone(all []matrix) []string {
	var notes []string
	for _, m := range all {
		kindA, kindB, _ := strings.Cut(m.kinds, "-")
		for i, id := range m.a {
			found := false
			for _, cell := range m.cells[i] {
				found = found || cell.severity != inventory.Misfit
			}
			if !found {
				notes = append(notes, fmt.Sprintf("%s %s fits no %s of the drawer", kindA, id, kindB))
			}
		}
		for k, id := range m.b {
			found := false
			for i := range m.a {
				found = found || m.cells[i][k].severity != inventory.Misfit
			}
			if !found {
				notes = append(notes, fmt.Sprintf("%s %s fits no %s of the drawer", kindB, id, kindA))
			}
		}
	}
	return notes
}

func joined(sentences []string) string { return strings.Join(sentences, "; ") }
