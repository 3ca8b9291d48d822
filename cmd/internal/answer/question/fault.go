package question

import (
	"context"
	"errors"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
)

// Fault says why a question has no document.
type Fault struct {
	// Kind is ask for what the question asks and there is not, drawer for a text that cannot be used as it is, stopped,
	// or other.
	Kind   string         `json:"kind"`
	Text   string         `json:"text"`
	Faults []answer.Fault `json:"faults"`
}

// FaultOf is what an error says.
func FaultOf(err error) Fault {
	f := Fault{Kind: "other", Text: faults.Error(err), Faults: []answer.Fault{}}
	var list inventory.Faults
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		f.Kind = "stopped"
	case errors.As(err, new(answer.AskError)):
		f.Kind = "ask"
	case errors.As(err, &list):
		f.Kind, f.Faults = "drawer", answer.Faulty(answer.Head{}, list).Faults
	case errors.As(err, new(answer.DrawerError)):
		f.Kind = "drawer"
	}
	return f
}
