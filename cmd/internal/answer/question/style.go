package question

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// Style names a style and changes it. A name alone is a built-in style or one of the question's texts; freestyle if it
// is left out as well.
type Style struct {
	Name    string             `json:"name"`
	Text    string             `json:"text"`    // of a style file that is called Name
	Weights map[string]float64 `json:"weights"` // by axis, in place of its own; axes that are not named weigh 0
	Limits  map[string]string  `json:"limits"`  // by figure, such as ..250, in place of its own; .. takes one away
}

const defaultStyle = "freestyle"

// style is a style with what is asked of it.
func (a *asked) style(s *Style) (objective.Style, error) {
	style, err := a.named(s)
	if err != nil {
		return style, err
	}
	if len(s.Weights) > 0 {
		var words []string
		for axis, weight := range s.Weights {
			words = append(words, fmt.Sprintf("%s=%g", axis, weight))
		}
		slices.Sort(words)
		if style.Weights, err = objective.ParseWeights(strings.Join(words, ",")); err != nil {
			return style, answer.Refused(err)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(s.Limits)) {
		value := strings.TrimSpace(s.Limits[key])
		if f, ok := figure.ByKey(key); ok && value == ".." {
			ofFigure := func(l objective.Limit) bool { return l.Quantity == f.Quantity }
			style.Limits = slices.DeleteFunc(slices.Clone(style.Limits), ofFigure)
			style.DuctedLimits = slices.DeleteFunc(slices.Clone(style.DuctedLimits), ofFigure)
			continue
		}
		l, err := objective.ParseLimit(key + "=" + value)
		if err != nil {
			return style, answer.Refused(err)
		}
		style = style.With(l)
	}
	return style, nil
}

func (a *asked) named(s *Style) (objective.Style, error) {
	if s.Text != "" {
		return ReadStyle(s.Name, []byte(s.Text))
	}
	name := s.Name
	if name == "" {
		name = defaultStyle
	}
	if style, ok := objective.Preset(name); ok {
		return style, nil
	}
	if text, ok := a.styles[styleName(name)]; ok {
		return ReadStyle(text.Name, []byte(text.Text))
	}
	return objective.Style{}, wrong("style", "%q is not a style here%s", name, near(name, objective.PresetNames()))
}

// styleName is the name of a style's file without its ending.
func styleName(file string) string {
	if at := strings.LastIndexByte(file, '.'); at >= 0 {
		return file[:at]
	}
	return file
}

// ReadStyle reads the text of a style's file; one without a name takes the file's. The error is a Faults.
func ReadStyle(file string, content []byte) (objective.Style, error) {
	var w objective.Written
	doc := strict.Read(file, bytes.NewReader(content), &w)
	style, faults := w.Style()
	for _, f := range faults {
		if doc.Sound(f.Path) {
			doc.Add(f.Path, f.Problem)
		}
	}
	for i, role := range w.RequiredRoles {
		path := fmt.Sprintf("required_roles[%d]", i)
		if p := KnownRole(role); p != nil && doc.Sound(path) {
			doc.Add(path, *p)
		}
	}
	if err := doc.Err(); err != nil {
		return objective.Style{}, err
	}
	if style.Name == "" {
		style.Name = styleName(file)
	}
	return style, nil
}

// Roles are what an extra can be for.
var Roles = []string{
	string(inventory.Camera), string(inventory.Video), string(inventory.Receiver), string(inventory.Antenna),
	string(inventory.Capacitor), string(inventory.Adapter), string(inventory.Strap), string(inventory.Hardware),
}

// KnownRole is what is wrong with a role, nil if an extra can have it.
func KnownRole(role string) *strict.Problem {
	if slices.Contains(Roles, role) {
		return nil
	}
	return &strict.Problem{Code: "style.role", Values: strict.Values{"got": strict.Quoted(role), "roles": Roles}}
}

// Ways are the built-in styles and the one in use as ways of flying.
func Ways(style *objective.Style) learn.Ways {
	ways := learn.Ways{}
	for _, name := range objective.PresetNames() {
		if p, ok := objective.Preset(name); ok {
			ways[name] = p.Flying
		}
	}
	if style != nil {
		ways[style.Name] = style.Flying
	}
	return ways
}

// logWays are the ways of flying that the log of a drawer, and more, may name. A text that is no style is left out: the
// log's line is then at fault.
func (a *asked) logWays(d *inventory.Drawer, style *objective.Style, more ...string) learn.Ways {
	ways := Ways(style)
	names := slices.Clone(more)
	for i := range d.Log {
		names = append(names, d.Log[i].Flown)
	}
	for _, name := range names {
		text, ok := a.styles[name]
		if _, known := ways[name]; known || !ok {
			continue
		}
		if found, err := ReadStyle(text.Name, []byte(text.Text)); err == nil {
			ways[name] = found.Flying
		} else if !errors.As(err, new(inventory.Faults)) {
			continue
		}
	}
	return ways
}
