package question

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/inventory/strict"
)

// Parts is the document of a drawer's parts as they are written, with the drawer's faults, which lie at the paths of
// parts and their keys. Of a text that is no YAML no parts are listed.
type Parts struct {
	answer.Head
	Faults []answer.Fault `json:"faults"`
	Parts  []Listed       `json:"parts"`
	Fleet  []Craft        `json:"fleet"` // crafts that fly already; none of a drawer with faults
}

// Craft is a craft that flies already, by the ids of its parts.
type Craft struct {
	Name  string       `json:"name"`
	Parts answer.Parts `json:"parts"`
}

// Listed is a part with what is estimated where it leaves a key out; of a drawer with faults nothing is estimated.
type Listed struct {
	Kind      string        `json:"kind"`
	ID        string        `json:"id"`
	Path      string        `json:"path"` // such as motors[2]
	Line      int           `json:"line"`
	Keys      answer.Fields `json:"keys"` // as they are written, in their order
	Estimates []Estimate    `json:"estimates"`
}

// Estimate is what is reckoned with for a key that is left out, in the key's unit, with its 80 % interval; no numbers
// where no single one stands for it.
type Estimate struct {
	Key    string   `json:"key"`
	Unit   string   `json:"unit"`
	At     string   `json:"at,omitempty"`
	Value  *float64 `json:"value"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Effort int      `json:"effort"` // what it takes to measure it: 0 a scale or a sheet, 4 a thrust stand
}

func listParts(_ context.Context, a *asked) (*Reply, error) {
	var o Shared
	if err := a.options(&o); err != nil {
		return nil, err
	}
	d := &Parts{Head: a.head(&o), Faults: []answer.Fault{}, Parts: []Listed{}, Fleet: []Craft{}}
	d.Drawer = a.file()
	drawer, err := a.bare(&o)
	var faults inventory.Faults
	switch {
	case errors.As(err, &faults):
		d.Head, d.Faults = answer.Faulty(d.Head, faults).Head, answer.Faulty(d.Head, faults).Faults
		if slices.ContainsFunc(faults, func(f inventory.Fault) bool { return f.Line == 0 || noYAML(f.Code) }) {
			return &Reply{Document: d}, nil
		}
	case err != nil:
		return nil, err
	default:
		d.Care = answer.CareOf(&answer.Scene{Drawer: drawer})
	}
	if d.Parts, err = written([]byte(a.Drawer)); err != nil {
		return nil, answer.Unusable(fmt.Errorf("%s: %w", d.Drawer, err))
	}
	if drawer != nil {
		estimate(d.Parts, check.Gaps(drawer))
		for i := range drawer.Fleet {
			f := &drawer.Fleet[i]
			extras := append([]string{}, f.Parts.Extras...)
			d.Fleet = append(d.Fleet, Craft{f.Name, answer.Parts{Motor: f.Parts.Motor, Prop: f.Parts.Prop, Pack: f.Parts.Pack,
				Frame: f.Parts.Frame, Board: f.Parts.Board, Extras: extras}})
		}
	}
	return &Reply{Document: d}, nil
}

// noYAML reports whether a fault says that a text has no nodes to read.
func noYAML(code strict.Code) bool {
	return strings.HasPrefix(string(code), "yaml.") || strings.HasPrefix(string(code), "file.")
}

// written lists the parts of a drawer's text.
func written(text []byte) ([]Listed, error) {
	list := []Listed{}
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		return nil, err
	}
	if len(document.Content) == 0 || document.Content[0].Kind != yaml.MappingNode {
		return list, nil
	}
	root := document.Content[0].Content
	for i := 0; i+1 < len(root); i += 2 {
		kind, ok := inventory.KindNamed(root[i].Value)
		if !ok || root[i+1].Kind != yaml.SequenceNode {
			continue
		}
		for k, n := range root[i+1].Content {
			part := Listed{Kind: string(kind), Path: fmt.Sprintf("%s[%d]", kind.Section(), k), Line: n.Line,
				Keys: fieldsOf(n, mostDepth), Estimates: []Estimate{}}
			for _, f := range part.Keys {
				if f.Key == "id" {
					part.ID = fmt.Sprint(f.Value)
				}
			}
			list = append(list, part)
		}
	}
	return list, nil
}

// mostDepth bounds how deep a value of a part is listed.
const mostDepth = 8

// fieldsOf are the keys of a mapping with their values.
func fieldsOf(n *yaml.Node, depth int) answer.Fields {
	fields := answer.Fields{}
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			fields = append(fields, answer.Field{Key: n.Content[i].Value, Value: valueOf(n.Content[i+1], depth-1)})
		}
	}
	return fields
}

// valueOf is a value as JSON has it: a number where it is written as one, else text.
func valueOf(n *yaml.Node, depth int) any {
	switch {
	case depth <= 0 || n.Kind == yaml.AliasNode:
		return nil
	case n.Kind == yaml.MappingNode:
		return fieldsOf(n, depth)
	case n.Kind == yaml.SequenceNode:
		list := []any{}
		for _, one := range n.Content {
			list = append(list, valueOf(one, depth-1))
		}
		return list
	}
	if x, err := strconv.ParseFloat(n.Value, 64); err == nil && n.Style == 0 && !math.IsInf(x, 0) && !math.IsNaN(x) {
		return x
	}
	return n.Value
}

// estimate puts estimates to the parts that they are for.
func estimate(list []Listed, gaps []check.Gap) {
	at := map[string]*Listed{}
	for i := range list {
		at[list[i].Path] = &list[i]
	}
	for i := range gaps {
		g := &gaps[i]
		part := at[g.Path]
		if part == nil {
			continue
		}
		one := Estimate{Key: g.Key, Unit: g.Unit, At: g.At, Effort: g.Effort()}
		if g.Value != 0 {
			low, high := g.Interval()
			value, low, high := catalogue.Round(g.Value), catalogue.Round(low), catalogue.Round(high)
			one.Value, one.Low, one.High = &value, &low, &high
		}
		part.Estimates = append(part.Estimates, one)
	}
}
