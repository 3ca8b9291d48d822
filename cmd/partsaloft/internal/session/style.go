package session

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// LoadStyle is the style of a name or file, with the weights, limits and extras that the options ask for.
func (s *Session) LoadStyle(name string) (objective.Style, error) {
	style, err := s.styleNamed(name)
	if err != nil {
		return style, err
	}
	o := &s.Options
	if o.Weights != "" {
		w, err := objective.ParseWeights(o.Weights)
		if err != nil {
			return style, exit.Usagef("--weights: %w", err)
		}
		style.Weights = w
	}
	for _, role := range o.With {
		if err := knownRole(role); err != nil {
			return style, exit.Usagef("--with: %w", err)
		}
	}
	for _, text := range o.Limits {
		l, err := objective.ParseLimit(text)
		if err != nil {
			return style, exit.Usagef("--limit: %w", err)
		}
		style = style.With(l)
	}
	return style, nil
}

// styleNamed is a preset, or the style in a file.
func (s *Session) styleNamed(name string) (objective.Style, error) {
	if style, ok := objective.Preset(name); ok {
		return style, nil
	}
	if !strings.ContainsAny(name, `/\.`) {
		if _, err := os.Stat(name); err != nil {
			if style, ok := objective.Preset(strings.ToLower(name)); ok {
				return style, nil
			}
			return objective.Style{}, exit.Usagef("--style: %q is not a built-in style (%s) and no file of that name is here%s",
				name, strings.Join(objective.PresetNames(), ", "), exit.DidYouMean(name, objective.PresetNames()))
		}
	}
	content, err := s.Read(name)
	if err != nil {
		return objective.Style{}, err
	}
	return ReadStyle(filepath.Base(name), content)
}

// ReadStyle reads the text of a style's file; one without a name takes the file's.
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
		if err := knownRole(role); err != nil && doc.Sound(path) {
			doc.Add(path, *err)
		}
	}
	if err := doc.Err(); err != nil {
		return objective.Style{}, exit.Data(err)
	}
	if style.Name == "" {
		style.Name = strings.TrimSuffix(file, filepath.Ext(file))
	}
	return style, nil
}

// Roles are what an extra can be for.
var Roles = []string{
	string(inventory.Camera), string(inventory.Video), string(inventory.Receiver), string(inventory.Antenna),
	string(inventory.Capacitor),
	string(inventory.Adapter), string(inventory.Strap), string(inventory.Hardware),
}

func knownRole(role string) *strict.Problem {
	if slices.Contains(Roles, role) {
		return nil
	}
	return &strict.Problem{Code: "style.role", Values: strict.Values{"got": strict.Quoted(role), "roles": Roles}}
}
