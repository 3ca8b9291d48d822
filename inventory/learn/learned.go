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

// LnInterval is the 80 % interval of the logarithm of the factor.
func (c *Change) LnInterval() (low, high float64) {
	half := uncertain.HalfWidth() * c.LnSDAfter
	return c.LnFactor - half, c.LnFactor + half
}

// Finding is what a change says of an input.
type Finding uint8

// The findings.
const (
	AsGiven Finding = iota // about as given, and hardly better known
	Surer                  // about as given, and better known
	Shifted                // other than given
)

// Bounds of findings: of a shift its size over the doubt that is left and, in per cent or in points of an ESC's
// throttle, what a pilot would notice; of what is better known the share of the doubt that was taken away.
const (
	shiftSDs     = 0.5
	shiftPct     = 0.5
	shiftPoints  = 1.0
	surerNarrow  = 0.15
	ThrottleDuty = 0.3 // at which ESCs are compared
)

// ThrottlePoints is how many points more throttle a display shows where one of its kind shows ThrottleDuty, from the
// logarithm of the factor on it.
func ThrottlePoints(lnFactor float64) float64 { return 100 * ThrottleDuty * math.Expm1(lnFactor) }

// Finding says whether the input turned out other than given, or as given and surer.
func (c *Change) Finding() Finding {
	noticed := 100*math.Abs(math.Expm1(c.LnFactor)) >= shiftPct
	if c.Input == uncertain.ThrottleScale {
		noticed = noticed && math.Abs(ThrottlePoints(c.LnFactor)) >= shiftPoints
	}
	switch {
	case noticed && math.Abs(c.LnFactor) > shiftSDs*c.LnSDAfter:
		return Shifted
	case c.Narrowed() > surerNarrow:
		return Surer
	}
	return AsGiven
}

// Of is the part of a kind and id, nil if nothing was learned of it.
func (l *Learned) Of(kind inventory.Kind, id string) *Part {
	i := slices.IndexFunc(l.Parts, func(p Part) bool { return p.Kind == kind && p.ID == id })
	if i < 0 {
		return nil
	}
	return &l.Parts[i]
}
