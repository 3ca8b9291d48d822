// Package solve searches a space of candidates: by enumeration, by branch and bound over k-d trees of packs and
// bodies with a relaxation that bounds every branch, and by a genetic algorithm with niches. Each keeps the
// incumbents: the top n groups, the best on each axis, the Pareto front, and what comes nearest to being feasible. The
// results do not depend on the number of workers.
package solve

// Options say how to solve.
type Options struct {
	Top      int    // how many of the best groups to keep
	Seed     uint64 // of the genetic search
	MaxEvals int64  // most evaluations of a genetic search; 0 means 20 000
	Workers  int    // 0 means one a processor
	// MaxProof is how many evaluations and bounds a proof of the list should take; 0 means any number. It is given up when
	// its course foretells clearly more.
	MaxProof int64
	// Spread keeps groups of which no two share two of motor, prop and pack.
	Spread bool
	// Ungrouped keeps the best candidates, whether of one group or not.
	Ungrouped bool
}
