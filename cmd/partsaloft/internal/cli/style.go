package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// loadStyle is the style of a name or file, with the weights, limits and extras that the options ask for.
func (s *session) loadStyle(name string) (objective.Style, error) {
	style, err := s.styleNamed(name)
	if err != nil {
		return style, err
	}
	o := &s.options
	if o.weights != "" {
		w, err := objective.ParseWeights(o.weights)
		if err != nil {
			return style, usagef("--weights: %w", err)
		}
		style.Weights = w
	}
	for _, role := range o.with {
		if err := knownRole(role); err != nil {
			return style, usagef("--with: %w", err)
		}
	}
	for _, text := range o.limits {
		l, err := objective.ParseLimit(text)
		if err != nil {
			return style, usagef("--limit: %w", err)
		}
		style = style.With(l)
	}
	return style, nil
}

// styleNamed is a preset, or the style in a file.
func (s *session) styleNamed(name string) (objective.Style, error) {
	if style, ok := objective.Preset(name); ok {
		return style, nil
	}
	if !strings.ContainsAny(name, `/\.`) {
		if _, err := os.Stat(name); err != nil {
			return objective.Style{}, usagef("--style: %q is no built-in style (%s) and no file of that name is here%s",
				name, strings.Join(objective.PresetNames(), ", "), didYouMean(name, objective.PresetNames()))
		}
	}
	content, err := s.read(name)
	if err != nil {
		return objective.Style{}, err
	}
	return readStyle(filepath.Base(name), content)
}

// readStyle reads the text of a style's file; one without a name takes the file's.
func readStyle(file string, content []byte) (objective.Style, error) {
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
		if err := knownRole(role); err != nil && doc.Sound(path) {
			doc.Add(path, *err)
		}
	}
	if err := doc.Err(); err != nil {
		return objective.Style{}, dataError{err}
	}
	if style.Name == "" {
		style.Name = strings.TrimSuffix(file, filepath.Ext(file))
	}
	return style, nil
}

// roles are what an extra can be for.
var roles = []string{
	string(inventory.Camera), string(inventory.Video), string(inventory.Receiver), string(inventory.Antenna), string(inventory.Capacitor),
	string(inventory.Adapter), string(inventory.Strap), string(inventory.Hardware),
}

func knownRole(role string) *strict.Problem {
	if slices.Contains(roles, role) {
		return nil
	}
	return &strict.Problem{Code: "style.role", Values: strict.Values{"got": strict.Quoted(role), "roles": roles}}
}
