package answer

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Which names a combination: by its rank, or where that is 0 by its parts.
type Which struct {
	Rank  int
	Pick  string   // all parts, as --pick has them
	Words []string // some parts, each as KEY=ID or as an id alone; the best combination with them is meant
}

// Named is what a command line names by its words and by --pick: by the rank 1 if nothing. A bare number is a rank.
func Named(words []string, pick string) (Which, error) {
	rank := slices.IndexFunc(words, isNumber)
	switch {
	case pick != "" && len(words) > 0:
		return Which{}, askf("name the build by its rank, by its parts or by --pick, not both")
	case pick != "":
		return Which{Pick: pick}, nil
	case len(words) == 0:
		return Which{Rank: 1}, nil
	case rank < 0:
		return Which{Words: words}, nil
	case len(words) > 1:
		return Which{}, askf("name the build by its rank or by its parts, not both; a part called %s is written as %s=%s",
			words[rank], "motor", words[rank])
	}
	n, err := parseRank(words[0])
	return Which{Rank: n}, err
}

// isNumber reports whether a word is a number and nothing else.
func isNumber(word string) bool {
	_, err := strconv.ParseFloat(word, 64)
	return err == nil
}

func parseRank(word string) (int, error) {
	rank, err := strconv.Atoi(word)
	if err != nil || rank < 1 || rank > MostTop {
		return 0, askf("%q is not a valid rank: write a whole number from 1 to %d", word, MostTop)
	}
	return rank, nil
}

// meant is the combination that is named by its parts.
func (a *Ask) meant(ctx context.Context, which Which) (inventory.Combination, error) {
	if which.Pick != "" {
		return picked(a.Problem.Drawer, which.Pick)
	}
	return a.bestWith(ctx, which.Words)
}

// bestWith is the best combination of the drawer that has the parts named, or where all are named that one, feasible or
// not.
func (a *Ask) bestWith(ctx context.Context, words []string) (inventory.Combination, error) {
	d := a.Problem.Drawer
	var none inventory.Combination
	parts, err := namedParts(d, words)
	if err != nil {
		return none, AskError{err}
	}
	cut := *d
	whole := true
	for _, kind := range inventory.Kinds() {
		id := parts.ID(kind)
		switch {
		case kind == inventory.KindExtra:
		case id == "":
			whole = false
		default:
			if i := slices.Index(d.IDs(kind), id); i >= 0 {
				cut.Take(kind, d, i, i+1)
			} else if d.Item(kind, id) == nil && d.Motor(id) != nil {
				return none, askf("%s is a set of two kinds of motor: name all parts with it, as --pick does: %s", id, PickForm)
			}
		}
	}
	if !whole {
		o := a.Search
		o.Top, o.Draws = 1, 1
		r, err := search.Search(ctx, space.Problem{Drawer: &cut, Air: a.Problem.Air, Style: a.Problem.Style,
			With: a.Problem.With}, o)
		if err != nil {
			return none, err
		}
		if err := ctx.Err(); err != nil {
			return none, err
		}
		if len(r.Best) == 0 {
			return none, askf("%s", catalogue.Say("pick.nothing", "parts", words, "form", PickForm))
		}
		extras := parts.Extras
		if parts = r.Best[0].Combination.Parts(); extras != nil {
			parts.Extras = extras
		}
	}
	c, err := compat.Build(d, &parts)
	if err != nil {
		return c, AskError{err}
	}
	return c, nil
}

// namedParts are the parts that words name, each as KEY=ID or as an id that one kind of part has; one word may hold
// several with commas between.
func namedParts(d *inventory.Drawer, words []string) (inventory.Parts, error) {
	var parts inventory.Parts
	given := map[inventory.Kind]string{}
	for word := range strings.SplitSeq(strings.Join(words, ","), ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		kind, id, err := namedPart(d, word)
		if err != nil {
			return parts, err
		}
		if before := given[kind]; before != "" && kind != inventory.KindExtra {
			return parts, fmt.Errorf("%s and %s are both a %s; keep one", before, id, kind)
		}
		given[kind] = id
		switch kind {
		case inventory.KindMotor:
			parts.Motor = id
		case inventory.KindProp:
			parts.Prop = id
		case inventory.KindPack:
			parts.Pack = id
		case inventory.KindFrame:
			parts.Frame = id
		case inventory.KindBoard:
			parts.Board = id
		case inventory.KindExtra:
			parts.Extras = append(parts.Extras, strings.Split(id, "+")...)
		}
	}
	foldIDs(d, &parts)
	if missing := d.Missing(&parts); missing != nil {
		p := missing[0].Problem()
		return parts, &p
	}
	return parts, nil
}

// namedPart is the kind and the id of a part that one word names.
func namedPart(d *inventory.Drawer, word string) (inventory.Kind, string, error) {
	if key, id, ok := strings.Cut(word, "="); ok {
		key, id = strings.ToLower(strings.TrimSpace(key)), strings.TrimSpace(id)
		kind, known := inventory.KindNamed(key)
		switch {
		case !known:
			return "", "", fmt.Errorf("%q is not a part: write %s", word, PickForm)
		case id == "":
			return "", "", fmt.Errorf("%s has no id: write %s=ID", key, key)
		}
		return kind, id, nil
	}
	var kinds []inventory.Kind
	var all []string
	for _, kind := range inventory.Kinds() {
		all = append(all, d.IDs(kind)...)
		if slices.Contains(d.IDs(kind), foldID(d, kind, word)) || kind == inventory.KindMotor && d.Motor(word) != nil {
			kinds = append(kinds, kind)
		}
	}
	switch {
	case len(kinds) == 0:
		near := ""
		if id := strict.Nearest(word, all); id != "" {
			near = fmt.Sprintf("; did you mean %s?", id)
		}
		return "", "", fmt.Errorf("%q is neither a rank nor a part of %s%s", word, d.Name, near)
	case len(kinds) > 1:
		return "", "", fmt.Errorf("a %s and a %s are called %s: write %s=%s or %s=%s", kinds[0], kinds[1], word, kinds[0],
			word, kinds[1], word)
	}
	return kinds[0], foldID(d, kinds[0], word), nil
}

// foldID is an id as the drawer writes it, where only one part's differs from it in capitals alone.
func foldID(d *inventory.Drawer, kind inventory.Kind, id string) string {
	same := id
	for _, own := range d.IDs(kind) {
		switch {
		case own == id:
			return id
		case strings.EqualFold(own, id) && same != id:
			return id
		case strings.EqualFold(own, id):
			same = own
		}
	}
	return same
}

func foldIDs(d *inventory.Drawer, parts *inventory.Parts) {
	for kind, id := range map[inventory.Kind]*string{inventory.KindMotor: &parts.Motor, inventory.KindProp: &parts.Prop,
		inventory.KindPack: &parts.Pack, inventory.KindFrame: &parts.Frame, inventory.KindBoard: &parts.Board} {
		*id = foldID(d, kind, *id)
	}
	for i := range parts.Extras {
		parts.Extras[i] = foldID(d, inventory.KindExtra, parts.Extras[i])
	}
}

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
			errs = append(errs, fmt.Errorf("%q is not a part: write %s", strings.TrimSpace(word), PickForm))
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

// Picked is the combination of a drawer that is named by its parts, as PickForm has them.
func Picked(d *inventory.Drawer, text string) (inventory.Combination, error) { return picked(d, text) }

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
	foldIDs(d, &parts)
	c, err := compat.Build(d, &parts)
	if err != nil {
		return c, askf("--pick: %w", err)
	}
	return c, nil
}

// PickedResults predicts builds that are named by their parts, in their order, on common draws.
func PickedResults(ctx context.Context, a *Ask, picks []string) ([]predict.Result, error) {
	var list []inventory.Combination
	for _, pick := range picks {
		c, err := picked(a.Problem.Drawer, pick)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return predict.Assess(ctx, *a.Problem, list, a.Search.Sampling(a.Problem.Drawer))
}
