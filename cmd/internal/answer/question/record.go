package question

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/strict"
)

// record puts readings of a craft into the log; the reply's text is the drawer with the entry. Without readings it says
// which to take, and there is no text.
func record(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Craft    string             `json:"craft"`
		Pick     string             `json:"pick"`
		Readings []readings.Reading `json:"readings"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	style, err := a.style(&a.Style)
	if err != nil {
		return nil, err
	}
	r := readings.Record{Name: a.file(), Text: []byte(a.Drawer), Craft: o.Craft, Pick: o.Pick, Readings: o.Readings,
		Way: style.Name}
	d, err := inventory.Read(r.Name, bytes.NewReader(r.Text))
	if err != nil {
		return nil, err
	}
	flown := ""
	for _, said := range o.Readings {
		if known := slices.Contains(recordKeys, said.Key); !known {
			return nil, wrong("readings", "%q cannot be recorded%s", said.Key, near(said.Key, recordKeys))
		}
		if said.Key == "flown" {
			flown = said.Typed
		}
	}
	r.Ways = a.logWays(d, &style, flown)
	x, text, err := r.Answer(ctx, a.head(&o.Shared))
	return made(x, text, ofAsk(err))
}

// recordKeys are the keys that a record may hold.
var recordKeys = append([]string{"date", "temperature_c"}, readings.Recordable()...)

// ofAsk makes an error that lies in what was asked, not in the drawer, one of the question.
func ofAsk(err error) error {
	var list inventory.Faults
	var problem *strict.Problem
	if errors.As(err, &list) && list[0].File == "" || !errors.As(err, &list) && errors.As(err, &problem) {
		return answer.Refused(err)
	}
	return err
}

// Built is the document of a craft that was put into the fleet.
type Built struct {
	answer.Head
	Craft string        `json:"craft"`
	Parts answer.Parts  `json:"parts"`
	Taken []TakenPieces `json:"taken"`
	// Keeps says that its pieces are out of the counts; else they could not be lowered as the drawer is written.
	Keeps bool `json:"keeps"`
}

// TakenPieces are pieces of a part that a craft keeps, and what is left in the drawer.
type TakenPieces struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	Pieces int    `json:"pieces"`
	Left   int    `json:"left"`
}

// build puts a build into the fleet; the reply's text is the drawer with it, its pieces out of the counts.
func build(_ context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Pick string `json:"pick"`
		Name string `json:"name"` // of the craft; by its parts if left out
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	d, err := a.bare(&o.Shared)
	if err != nil {
		return nil, err
	}
	c, err := answer.Picked(d, o.Pick)
	if err != nil {
		return nil, err
	}
	x := &Built{Head: a.head(&o.Shared), Craft: craftName(d, &c, o.Name), Taken: []TakenPieces{}}
	x.Drawer, x.Care = a.file(), answer.CareOf(&answer.Scene{Drawer: d})
	p := c.Parts()
	x.Parts = answer.Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board,
		Extras: append([]string{}, p.Extras...)}
	text, taken, err := edit.AppendCraft(a.file(), []byte(a.Drawer), x.Craft, &c)
	for _, t := range taken {
		x.Taken = append(x.Taken, TakenPieces{string(t.Kind), t.ID, t.Pieces, t.Left})
	}
	x.Keeps = taken != nil
	return made(x, text, ofAsk(err))
}

// longestName is that of a craft, in bytes; a number may follow.
const longestName = 56

// craftName is a name that no craft of the fleet has: the one given, or motor, prop and pack.
func craftName(d *inventory.Drawer, c *inventory.Combination, given string) string {
	name := strings.Join(strings.Fields(given), " ")
	if name == "" {
		name = c.Motor.ID + " " + c.Prop.ID + " " + c.Pack.ID
	}
	if len(name) > longestName {
		name = strings.TrimSpace(strings.ToValidUTF8(name[:longestName], ""))
	}
	taken := func(name string) bool {
		return slices.ContainsFunc(d.Fleet, func(f inventory.FleetCraft) bool { return strings.EqualFold(f.Name, name) })
	}
	numbered := name
	for n := 2; taken(numbered); n++ {
		numbered = name + " " + strconv.Itoa(n)
	}
	return numbered
}
