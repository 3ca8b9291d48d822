package session

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
)

// learnedSuffix replaces the ending of a drawer's name for what was learned from its log.
const learnedSuffix = ".learned.yaml"

// LearnedBeside is the learned file that belongs to a drawer's file.
func LearnedBeside(drawer string) string {
	return strings.TrimSuffix(drawer, filepath.Ext(drawer)) + learnedSuffix
}

// useLearned corrects a drawer by the learned file that --learned names, or by the one beside the
// drawer's file, or else by what the drawer's own benches teach. One that was named must hold; one that was found is
// passed over with a remark if it does not.
func (s *Session) useLearned(d *inventory.Drawer) error {
	path, named := s.Options.Learned, s.Options.LearnedGiven
	if !named && s.DrawerFile() != "" {
		path = LearnedBeside(s.DrawerFile())
		if _, err := os.Stat(path); err != nil {
			path = ""
		}
	}
	if path == "" {
		return s.useBenches(d)
	}
	entries, err := s.correct(d, path)
	switch {
	case err != nil && (named || errors.As(err, new(*files.ClashError))):
		return exit.AsData(err)
	case err != nil:
		s.Remark("%s, beside the drawer, is not used: %s", filepath.Base(path), faults.Error(err))
		return nil
	}
	if entries > 0 {
		s.LearnedFile, s.learnedFrom = filepath.Base(path), entries
	}
	return nil
}

// useBenches corrects a drawer by its own benches, which takes a fraction of a second.
func (s *Session) useBenches(d *inventory.Drawer) error {
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return err
	}
	ctx := s.Context
	if ctx == nil {
		ctx = context.Background()
	}
	l, err := learn.Benches(ctx, d)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err == nil && l != nil {
		err = l.Apply(d, style.Name, question.Ways(&style))
	}
	if err != nil {
		s.Remark("the benches in %s are not used: %s", d.Name, faults.Error(err))
	}
	return nil
}

// correct applies a learned file and returns the number of entries that it was learned from.
func (s *Session) correct(d *inventory.Drawer, path string) (int, error) {
	content, err := s.Read(path)
	if err != nil {
		return 0, err
	}
	base := filepath.Base(path)
	l, err := learn.Read(base, bytes.NewReader(content))
	if err != nil {
		return 0, err
	}
	if l.Version != Version {
		return 0, fmt.Errorf("%s: was written by version %s, this is %s: run learn again", base, l.Version, Version)
	}
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return 0, err
	}
	ways := question.Ways(&style)
	if err := l.Apply(d, style.Name, ways); err != nil {
		var faults inventory.Faults
		if errors.As(err, &faults) {
			for i := range faults {
				faults[i].File = base
			}
			return 0, faults
		}
		return 0, fmt.Errorf("%s: %w", base, err)
	}
	if len(l.Parts) == 0 {
		return 0, nil
	}
	return len(l.From), nil
}

// correctedText says that and from what figures were corrected, "" if they were not.
func (s *Session) correctedText() string {
	if s.LearnedFile == "" {
		return ""
	}
	return fmt.Sprintf("The figures are corrected by %s, learned from %s.", s.LearnedFile,
		phrase.Plural(int64(s.learnedFrom), "entry or bench", "entries and benches"))
}
