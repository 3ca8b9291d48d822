package answer

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
)

// PickKeys are the keys of a combination, in the order in which they are written.
var PickKeys = []string{"motor", "prop", "pack", "frame", "board", "extras"}

// PickForm is how a combination is named by its parts.
const PickForm = "motor=ID,prop=ID,pack=ID,frame=ID,board=ID,extras=ID+ID"

// parsePick reads motor=ID,prop=ID,pack=ID,frame=ID,board=ID,extras=ID+ID. The bool reports whether extras
// were named; all other keys are required.
func parsePick(text string) (parts inventory.Parts, extras bool, err error) {
	into := map[string]*string{"motor": &parts.Motor, "prop": &parts.Prop, "pack": &parts.Pack, "frame": &parts.Frame,
		"board": &parts.Board}
	var errs []error
	given := map[string]bool{}
	for word := range strings.SplitSeq(text, ",") {
		key, value, ok := strings.Cut(word, "=")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		switch {
		case !ok || !slices.Contains(PickKeys, key):
			errs = append(errs, fmt.Errorf("%q is no part: write %s", strings.TrimSpace(word), PickForm))
			continue
		case given[key]:
			errs = append(errs, fmt.Errorf("%s is given twice; keep one", key))
			continue
		}
		given[key] = true
		if key == "extras" {
			for id := range strings.SplitSeq(value, "+") {
				if id = strings.TrimSpace(id); id != "" {
					parts.Extras = append(parts.Extras, id)
				}
			}
			continue
		}
		if value == "" {
			errs = append(errs, fmt.Errorf("%s has no id: write %s=ID", key, key))
		}
		*into[key] = value
	}
	var lacking []string
	for _, key := range PickKeys[:5] {
		if !given[key] {
			lacking = append(lacking, key)
		}
	}
	if len(lacking) > 0 && len(errs) == 0 {
		errs = append(errs, fmt.Errorf("%s missing: write %s", strings.Join(lacking, ", "), PickForm))
	}
	return parts, given["extras"], errors.Join(errs...)
}

// picked is the combination that --pick names. Without extras it carries those that go along and the
// adapters that it needs.
func picked(d *inventory.Drawer, text string) (inventory.Combination, error) {
	parts, extras, err := parsePick(text)
	if err != nil {
		return inventory.Combination{}, askf("--pick: %w", err)
	}
	if extras && parts.Extras == nil {
		parts.Extras = []string{}
	}
	c, err := compat.Build(d, &parts)
	if err != nil {
		return c, askf("--pick: %w", err)
	}
	return c, nil
}
