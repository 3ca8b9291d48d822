package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"partsaloft/cmd/partsaloft/internal/render"
	"partsaloft/examples"
	"partsaloft/inventory"
)

// fix writes a normalised copy of the drawer; never in its own place.
func (s *session) fix(ctx context.Context) error {
	if s.options.output != "" && sameFile(s.options.output, s.options.drawer) {
		return usagef("--fix does not change the drawer itself: give --output another name, and compare the two")
	}
	name, text, err := s.rawDrawer()
	if err != nil {
		return err
	}
	fixed, mended, err := inventory.Fix(name, text, estimateRemark)
	for _, m := range mended {
		s.remark("%s:%d:%d: %s is now %s", name, m.Line, m.Column, shownText(m.From), shownText(m.To))
	}
	var faults inventory.Faults
	if errors.As(err, &faults) {
		return dataError{fmt.Errorf("%w\n%s, so no copy was written: mend what is left by hand", faults, plural(int64(len(faults)), "fault is left", "faults are left"))}
	}
	if err != nil {
		return dataError{err}
	}
	return s.put(ctx, fixed)
}

// shownText is a text in a remark: spaces that are none are named.
func shownText(text string) string {
	if strings.TrimSpace(text) == "" {
		return fmt.Sprintf("%+q", text)
	}
	return text
}

// rawDrawer is the text of the drawer that the options name, or of the embedded one, sound or not.
func (s *session) rawDrawer() (name string, text []byte, err error) {
	if s.options.drawer != "" {
		text, err = drawerText(s.options.drawer)
		return filepath.Base(s.options.drawer), text, err
	}
	s.remark("No drawer was named: this is the embedded example of an invented club. Name yours with --drawer FILE.")
	text, err = examples.Files.ReadFile(examples.DefaultDrawer)
	return examples.DefaultDrawer, text, err
}

func sameFile(a, b string) bool {
	if target, err := filepath.EvalSymlinks(a); err == nil {
		a = target
	}
	if target, err := filepath.EvalSymlinks(b); err == nil {
		b = target
	}
	x, errX := filepath.Abs(a)
	y, errY := filepath.Abs(b)
	return errX == nil && errY == nil && x == y
}

// estimateRemark is what is reckoned with for a key that is left out, with the digits that its interval
// supports.
func estimateRemark(g *inventory.Gap) string {
	if g.Value == 0 {
		return ""
	}
	low, high := g.Interval()
	at := ""
	if g.At != "" {
		at = " at " + g.At
	}
	return fmt.Sprintf("%s: %s%s (%s)", g.Key, render.Number(g.Value, low, high), at, render.Interval(g.Value, low, high))
}
