package search

import (
	"partsaloft/inventory"
	"partsaloft/search/predict"
	"partsaloft/search/solve"
)

// Method says how to search.
type Method string

// The methods. Auto is exact as long as a proof seems to end within MaxProof, else genetic.
const (
	Auto    Method = "auto"
	Exact   Method = "exact"
	Genetic Method = "genetic"
)

// Options say how to search. The zero value searches automatically for the ten best groups.
type Options struct {
	Method   Method
	Top      int    // how many to list; 0 means 10
	Seed     uint64 // of the genetic search and of the draws
	MaxEvals int64  // most evaluations of a genetic search; 0 means 20 000
	Workers  int    // 0 means one a processor
	Draws    int    // of the uncertain inputs; 0 means 200, and more where a share is near to a verdict's bound
	// Spread lists groups of which no two share two of motor, prop and pack.
	Spread bool
	// Variants asks for the variants of each row.
	Variants bool
	// Novel is how much a combination unlike what already flies is preferred, 0 to 1: the list is
	// in the order of (1 − Novel) score + Novel times 100 Unlike, taken from the thousand best by
	// score.
	Novel float64
	// MaxProof is how many evaluations and bounds a proof may take in Auto; 0 means eight million, some two minutes of
	// processor time. Where the course of a proof foretells clearly more, the list is left to the genetic search, and at
	// half as many again at the latest. Exact goes on.
	MaxProof int64
	// Nominal leaves results without intervals and shares, for those who only look at the crafts.
	Nominal bool
}

const defaultMaxProof = 8_000_000

// solve are the options of the solvers.
func (o *Options) solve() *solve.Options {
	return &solve.Options{Top: o.Top, Seed: o.Seed, MaxEvals: o.MaxEvals, Workers: o.Workers, Spread: o.Spread}
}

// ungrouped are the options of the solvers where every combination counts by itself.
func (o *Options) ungrouped() *solve.Options {
	u := o.solve()
	u.Ungrouped = true
	return u
}

// Sampling are the options of the draws over the parts of a drawer.
func (o Options) Sampling(d *inventory.Drawer) predict.Sampling {
	return predict.Sampling{Draws: o.Draws, Seed: o.Seed, Workers: o.Workers, Drawer: d}
}
