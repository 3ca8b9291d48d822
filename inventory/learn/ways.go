package learn

import (
	"maps"
	"slices"

	"partsaloft/physics"
)

// Ways are the ways of flying that an entry's flown can name, beside hover, cruise and hard.
type Ways map[string]physics.Flying

// The ways of flying that need no style.
const (
	wayHover  = "hover"
	wayCruise = "cruise"
	wayHard   = "hard"
)

// named is the way of flying of a name, with the name under which it is learned: ways with the
// same segments are one.
func (w Ways) named(name string) (physics.Flying, string, bool) {
	f, ok := w.flying(name)
	if !ok {
		return f, "", false
	}
	return f, w.Canonical(name, &f), true
}

func (w Ways) flying(name string) (physics.Flying, bool) {
	switch name {
	case wayHover:
		return physics.Flying{Segments: hovering()}, true
	case wayCruise:
		return physics.Flying{Segments: physics.EasySegments()}, true
	case wayHard:
		return physics.Flying{Segments: physics.HardSegments()}, true
	}
	f, ok := w[name]
	return f, ok
}

// Flying is the way of flying of a name.
func (w Ways) Flying(name string) (physics.Flying, bool) { return w.flying(name) }

// Canonical is the name under which a way of flying is learned: the first of hover, cruise, hard
// and the others by name that has the same segments.
func (w Ways) Canonical(name string, f *physics.Flying) string {
	for _, other := range w.names() {
		if g, _ := w.flying(other); slices.Equal(g.Segments, f.Segments) {
			return other
		}
	}
	return name
}

func (w Ways) names() []string {
	names := []string{wayHover, wayCruise, wayHard}
	for _, name := range slices.Sorted(maps.Keys(w)) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}
