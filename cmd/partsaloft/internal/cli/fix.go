package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/edit"
)

// fix writes a normalised copy of the drawer; never in its own place.
func (s *session) fix(ctx context.Context) error {
	name, text, err := s.drawerText()
	if err != nil {
		return err
	}
	fixed, mended, err := edit.Fix(name, text, estimateLines)
	for _, m := range mended {
		s.remark("%s:%d:%d: %s is now %s", name, m.At.Line, m.At.Column, shownText(m.From), shownText(m.To))
	}
	var faults inventory.Faults
	if errors.As(err, &faults) {
		return dataError{fmt.Errorf("%w\n%s, so no copy was written: mend what is left by hand", faults, catalogue.Plural(int64(len(faults)), "fault is left", "faults are left"))}
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

// estimateLines are the estimates for what a drawer leaves out, by the path of the part.
func estimateLines(d *inventory.Drawer) map[string][]string {
	lines := map[string][]string{}
	for _, g := range d.Gaps() {
		if line := estimateRemark(&g); line != "" {
			lines[g.Path] = append(lines[g.Path], line)
		}
	}
	return lines
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
	return fmt.Sprintf("%s: %s%s (%s)", g.Key, catalogue.Number(g.Value, low, high), at, catalogue.Interval(g.Value, low, high))
}
