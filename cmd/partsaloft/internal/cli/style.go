package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// loadStyle is the style that the options ask for.
func (o *sharedOptions) loadStyle() (objective.Style, error) {
	s, err := styleNamed(o.style)
	if err != nil {
		return s, err
	}
	if o.weights != "" {
		w, err := objective.ParseWeights(o.weights)
		if err != nil {
			return s, usagef("--weights: %w", err)
		}
		s.Weights = w
	}
	for _, role := range o.with {
		if err := knownRole(role); err != nil {
			return s, usagef("--with: %w", err)
		}
	}
	for _, text := range o.limits {
		l, err := objective.ParseLimit(text)
		if err != nil {
			return s, usagef("--limit: %w", err)
		}
		s = s.With(l)
	}
	return s, nil
}

// styleNamed is a preset, or the style in a file.
func styleNamed(name string) (objective.Style, error) {
	if s, ok := objective.Preset(name); ok {
		return s, nil
	}
	if !strings.ContainsAny(name, `/\.`) {
		if _, err := os.Stat(name); err != nil {
			return objective.Style{}, usagef("--style: %q is no built-in style (%s) and no file of that name is here%s",
				name, strings.Join(objective.PresetNames(), ", "), didYouMean(name, objective.PresetNames()))
		}
	}
	var w objective.Written
	doc := strict.ReadFile(name, &w)
	s, faults := w.Style()
	for _, f := range faults {
		if doc.Sound(f.Path) {
			doc.Fault(f.Path, "%s", f.Message)
		}
	}
	for i, role := range w.RequiredRoles {
		path := fmt.Sprintf("required_roles[%d]", i)
		if err := knownRole(role); err != nil && doc.Sound(path) {
			doc.Fault(path, "%s", err)
		}
	}
	if err := doc.Err(); err != nil {
		return objective.Style{}, dataError{err}
	}
	if s.Name == "" {
		base := filepath.Base(name)
		s.Name = strings.TrimSuffix(base, filepath.Ext(base))
	}
	return s, nil
}

// roles are what an extra can be for.
var roles = []string{
	string(inventory.Camera), string(inventory.Video), string(inventory.Receiver), string(inventory.Antenna), string(inventory.Capacitor),
	string(inventory.Adapter), string(inventory.Strap), string(inventory.Hardware),
}

func knownRole(role string) error {
	if slices.Contains(roles, role) {
		return nil
	}
	return fmt.Errorf("%q is no role of an extra; the roles are %s", role, wordList(roles))
}
