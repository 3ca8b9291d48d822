// Package answer makes the documents that the program answers with, one question a file, and the sentences
// in them: what the command line, the page and any other front end share. It knows no flags, tables, plots
// or files.
package answer

import (
	"fmt"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// Care is what to mind: dangers, which stand before any praise, and cautions, which may follow it.
type Care struct{ Dangers, Cautions []string }

// MarshalJSON writes one list, the dangers first.
func (c Care) MarshalJSON() ([]byte, error) { return plain(c.All()) }

// All are the dangers, then the cautions.
func (c *Care) All() []string {
	return append(append([]string{}, c.Dangers...), c.Cautions...)
}

// Scene is what a document speaks of, as far as it can hurt.
type Scene struct {
	Drawer *inventory.Drawer
	Styles []objective.Style
	Crafts []*predict.Result // that it recommends or sets side by side
	Listed []*predict.Result // that it lists beside them
	Built  bool              // something is built by it, though no craft stands out
	Stand  bool              // it asks for a reading on a thrust stand
	Feel   bool              // it asks to feel the motors
}

// classG is the weight class that is warned of by itself.
const classG = 250

// CareOf is what to mind in a scene.
func CareOf(s *Scene) Care {
	var c Care
	retired := false
	if s.Drawer != nil {
		for i := range s.Drawer.Packs {
			p := &s.Drawer.Packs[i]
			if p.Retired() && (p.Count == nil || *p.Count > 0) {
				retired = true
				c.Dangers = append(c.Dangers, danger(p))
			}
		}
	}
	// A pack that is flown against the signs is a danger where a craft carries it.
	said := map[*inventory.Pack]bool{}
	for _, r := range slices.Concat(s.Crafts, s.Listed) {
		p := r.Combination.Pack
		if w := p.Wear(); w.Retire && w.Overruled && !said[p] {
			said[p] = true
			c.Dangers = append(c.Dangers, danger(p))
		}
	}
	add := func(one catalogue.Caution, values map[string]any) {
		c.Cautions = append(c.Cautions, one.Sentence(values))
	}
	if s.Built || len(s.Crafts) > 0 {
		add(catalogue.FirstPower, nil)
	}
	if s.Stand {
		add(catalogue.Spinning, nil)
	}
	if s.Feel {
		add(catalogue.WarmMotors, nil)
	}
	add(catalogue.Packs, nil)
	if retired {
		add(catalogue.Disposal, nil)
	}
	for _, mass := range straddling(s.Crafts) {
		add(catalogue.ClassLimit, map[string]any{"mass": mass, "class": classG})
	}
	if slices.ContainsFunc(s.Styles, betweenWalls) {
		add(catalogue.Indoors, nil)
	}
	if len(s.Styles) > 0 || len(s.Crafts) > 0 {
		add(catalogue.LocalLaw, nil)
	}
	return c
}

// danger is the sentence on a worn pack.
func danger(p *inventory.Pack) string {
	worn, _ := compat.Worn(p)
	return phrase.Sentence(faults.Problem(&worn))
}

// straddling are the masses that may fall on either side of the class, once each.
func straddling(crafts []*predict.Result) []string {
	var list []string
	seen := map[string]bool{}
	for _, r := range crafts {
		v := r.Figures[figure.AllUpMass]
		f := figure.Of(figure.AllUpMass)
		if v.Why != physics.Defined || f.FromSI(v.Low) > classG || f.FromSI(v.High) < classG {
			continue
		}
		if text := fmt.Sprintf("%.0f g", f.FromSI(v.Value)); !seen[text] {
			seen[text] = true
			list = append(list, text)
		}
	}
	return list
}

// betweenWalls reports whether a way of flying is slow throughout, as in a room.
func betweenWalls(s objective.Style) bool { return s.Flying.Indoors }
