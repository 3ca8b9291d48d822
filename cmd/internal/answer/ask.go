package answer

import (
	"fmt"

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
