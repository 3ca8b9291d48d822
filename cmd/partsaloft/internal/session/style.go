package session

import (
	"os"
	"path/filepath"
	"strings"

	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/partsaloft/internal/exit"
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
		if err := question.KnownRole(role); err != nil {
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
	style, err := question.ReadStyle(file, content)
	if err != nil {
		return style, exit.Data(err)
	}
	return style, nil
}
