package catalogue

import (
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
)

// KindCount is how many parts there are of a kind.
type KindCount struct {
	Kind inventory.Kind
	N    int
}

// PartsOfKinds counts parts by kind: 3 motors, 1 prop and 2 packs.
func PartsOfKinds(counts []KindCount) string {
	words := make([]string, len(counts))
	for i, c := range counts {
		words[i] = phrase.Plural(int64(c.N), string(c.Kind), c.Kind.Section())
	}
	return phrase.Words(words)
}

// LacksKinds says which kinds of parts a craft needs still, "" if it needs none.
func LacksKinds(kinds []inventory.Kind) string {
	if len(kinds) == 0 {
		return ""
	}
	words := make([]string, len(kinds))
	for i, kind := range kinds {
		words[i] = kind.Section()
	}
	return "Nothing can be built yet: add " + phrase.Words(words) + "."
}

// OnLine is a sentence on a line of a list.
func OnLine(line int, sentence string) string { return fmt.Sprintf("line %d: %s", line, sentence) }

// ListHead is what stands first in a drawer that was made from a list, before the lines that are no part of it.
func ListHead(list string, left bool) string {
	head := "Made from " + list + ". Units are in the keys: mass_g: 9.1 is 9.1 g. Leave out what you do not know: it is " +
		"estimated. All keys: partsaloft help drawer."
	if left {
		head += " Lines that are not in here yet:"
	}
	return head
}

// ListTail stands before the lines of a list that are no part of the drawer.
func ListTail(list string, left bool) string {
	if !left {
		return ""
	}
	return "Lines of " + list + " that are not in here yet:"
}
