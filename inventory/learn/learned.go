package learn

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"

	"gonum.org/v1/gonum/mat"
)

// Learned is what a log taught: corrections of parts with their joint uncertainty, and where they
// come from. It is what a learned file holds.
type Learned struct {
	Drawer  string // base name of the drawer's file
	Version string // of the program whose laws are corrected
	From    []From
	Parts   []Part
	// Correlation is that of all changes, part by part in order.
	Correlation *mat.SymDense
}

// From is an entry of the log, or a bench, that something was learned from.
type From struct {
	Entry    int    // number in the log, from 1; 0 for a bench
	Date     string // of the entry, as written
	What     string // of a bench, in words
	Readings []Key
}

// Part is a part, or a way of flying, of which something was learned.
type Part struct {
	Kind inventory.Kind
	ID   string
	// Figures are the part's own figures that the changes correct, as one text; a part whose
	// figures have changed since is not corrected.
	Figures string
	Changes []Change
}

// Change is what was learned of one input of a part.
type Change struct {
	Input uncertain.Input
	// LnFactor is the most likely logarithm of the factor on what the part's figures say.
	LnFactor float64
	// LnSDBefore and LnSDAfter are its standard deviation without and with the readings.
	LnSDBefore, LnSDAfter float64
	// Readings is how many readings tell of it.
	Readings int
}

// Factor is the most likely factor on what the part's figures say.
func (c *Change) Factor() float64 { return math.Exp(c.LnFactor) }

// Narrowed is the share of the standard deviation that the readings took away.
func (c *Change) Narrowed() float64 { return 1 - c.LnSDAfter/c.LnSDBefore }

// Of is the part of a kind and id, nil if nothing was learned of it.
func (l *Learned) Of(kind inventory.Kind, id string) *Part {
	i := slices.IndexFunc(l.Parts, func(p Part) bool { return p.Kind == kind && p.ID == id })
	if i < 0 {
		return nil
	}
	return &l.Parts[i]
}
