package answer

import (
	"context"
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/space"
)

// Ask is what every question says: of which drawer, in which style, how to search, and what the document
// begins with. Each answer fills in the head's drawer, style and care.
type Ask struct {
	Problem *space.Problem
	Search  search.Options
	Head    Head
}

// AskError is a question that asks for what there is not: a rank beyond the list, parts that are not owned.
type AskError struct{ error }

// Unwrap is the error itself.
func (e AskError) Unwrap() error { return e.error }

func askf(format string, args ...any) error { return AskError{fmt.Errorf(format, args...)} }

// DrawerError is a drawer that cannot answer the question as it is.
type DrawerError struct{ error }

// Unwrap is the error itself.
func (e DrawerError) Unwrap() error { return e.error }

// MostTop is the most combinations that a list may hold.
const MostTop = 10000

// head is the head of an answer about the problem's drawer and style.
func (a *Ask) head(care Care) Head {
	h := a.Head
	h.Drawer, h.Style, h.Care = a.Problem.Drawer.Name, a.Problem.Style.Name, care
	return h
}

// styles is the style of the problem as a scene has it.
func (a *Ask) styles() []objective.Style { return []objective.Style{a.Problem.Style} }

// find ranks the candidates of a problem. A drawer that lacks a kind of part has none.
func (a *Ask) find(ctx context.Context, p *space.Problem, o search.Options) (*search.Ranking, error) {
	if kinds := Lacking(p.Drawer); len(kinds) > 0 {
		return &search.Ranking{Method: string(search.Exact), Proven: true, Notes: []string{
			fmt.Sprintf("%s holds no %s; a craft takes motors, props, a pack, a frame and a board.", p.Drawer.Name,
				catalogue.Words(kinds)),
		}}, nil
	}
	return search.Search(ctx, *p, o)
}

// Lacking lists the kinds of part that a craft needs and the drawer holds no piece of.
func Lacking(d *inventory.Drawer) []string {
	var kinds []string
	need := func(kind string, counts []*int) {
		for _, n := range counts {
			if n == nil || *n > 0 {
				return
			}
		}
		kinds = append(kinds, kind)
	}
	need("motors", countsOf(d.Motors, func(m *inventory.Motor) *int { return m.Count }))
	need("props", countsOf(d.Props, func(p *inventory.Prop) *int { return p.Count }))
	need("packs", countsOf(d.Packs, func(p *inventory.Pack) *int { return p.Count }))
	need("frames", countsOf(d.Frames, func(f *inventory.Frame) *int { return f.Count }))
	need("boards", countsOf(d.Boards, func(b *inventory.Board) *int { return b.Count }))
	return kinds
}

func countsOf[T any](list []T, count func(*T) *int) []*int {
	counts := make([]*int, len(list))
	for i := range list {
		counts[i] = count(&list[i])
	}
	return counts
}
