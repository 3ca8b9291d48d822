package solve

import "math/bits"

// effort weighs whether it pays to bound a node, and to halve one that a bound leaves open, against evaluating all of
// it, by how often bounds of nodes of like size did settle them. In evaluations, with a bound taken for c of them,
//
//	V(s) = min(s, c + p(s) X(s))   a node of s candidates that is not bounded yet
//	X(s) = min(s, 2 V(s/2))        one that its bound leaves open
//
// and p(s) the share that bounds leave open. So parts that are alike to a hair, which no bound tells apart, are
// enumerated.
type effort struct {
	classes [effortClasses]struct{ tried, open float64 }
	x       [effortClasses]float64 // X of the sizes 2^class
	v       [effortClasses]float64 // V likewise
}

// budget is how many evaluations and bounds the list of a proof may take that was not asked for; 0 is any number.
type budget int64

const (
	// budgetTrial is the part of a budget after which its course is first asked what a proof will take.
	budgetTrial = 1.0 / 32
	// budgetLeanTrial is that of a lean proof, which first proves a sample of its roots that stands for all of them: on 1.9
	// trillion builds of five styles that takes 2500 evaluations and bounds, of 5000 parts that cannot be proven 55 000.
	budgetLeanTrial = 1.0 / 256
	// budgetEnd is where a proof ends at the latest, over its budget: one that is nearly done may go on so far.
	budgetEnd = 1.5
	// budgetDoubt is how much more than what is left a rest must be, forecasts being true to a factor of some two (generated
	// drawers of 10 to 200 million builds, by their first half).
	budgetDoubt = 4.0 / 3
)

// exceeded reports whether a proof is to be given up that has spent so much and seems to have a rest before it; trial is
// the part of the budget that it may take before it is asked.
func (b budget) exceeded(spent, rest, trial float64) bool {
	of := float64(b)
	return b > 0 && spent > trial*of && rest > budgetDoubt*(budgetEnd*of-spent)
}

const (
	// effortClasses bounds the sizes that may be evaluated whole, so that work comes in small portions.
	effortClasses = 15
	// effortPrior is how many bounds the guess is worth that half of the nodes stay open.
	effortPrior = 16.0
	// effortMemory is how many bounds back p reaches.
	effortMemory = 2048.0
	// effortTrial is of how many nodes that need no bound one is bounded all the same, to see whether that has changed.
	effortTrial = 32
)

func classOf(size int64) int { return bits.Len64(uint64(size)) - 1 }

// weigh works the costs out anew, where a bound takes as much as so many evaluations.
func (e *effort) weigh(cost float64) {
	for c := range e.classes {
		size := float64(int64(1) << c)
		e.x[c] = size
		if c > 0 {
			e.x[c] = min(size, 2*e.v[c-1])
		}
		e.v[c] = min(size, cost+e.share(c)*e.x[c])
	}
}

func (e *effort) share(class int) float64 {
	k := &e.classes[class]
	return (k.open + effortPrior/2) / (k.tried + effortPrior)
}

// boundFirst reports whether a node is to be bounded before it is evaluated; n is its place among those that are asked
// for.
func (e *effort) boundFirst(size int64, n int) bool {
	c := classOf(size)
	return size > leafSize && (c >= effortClasses || e.v[c] < float64(int64(1)<<c) || n%effortTrial == 0)
}

// halve reports whether a node that its bound leaves open is to be halved rather than evaluated.
func (e *effort) halve(size int64) bool {
	c := classOf(size)
	return size > leafSize && (c >= effortClasses || e.x[c] < float64(int64(1)<<c))
}

// note takes in whether a bound left a node open.
func (e *effort) note(size int64, open bool) {
	c := classOf(size)
	if c >= effortClasses {
		return
	}
	k := &e.classes[c]
	if k.tried >= effortMemory {
		k.tried, k.open = k.tried/2, k.open/2
	}
	k.tried++
	if open {
		k.open++
	}
}
