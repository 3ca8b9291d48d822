package catalogue

// Holding says what a list of combinations holds that is ranked anew for other weights and limits, and how far its
// order can be trusted.
type Holding uint8

// The sentences on what is held, in the order in which they follow each other.
const (
	HoldingCounts     Holding = iota // what was looked at and what is feasible
	HoldingUnproven                  // what a search came across
	HoldingProvenTop                 // how many places are proven all the same
	HoldingAll                       // everything feasible
	HoldingWithinLoss                // the best up to a bound
	HoldingBest                      // everything that can be the best
	HoldingKept                      // limits that cannot be moved
	HoldingLeftOut                   // a part that was set aside
	HoldingEnd                       // one past the last
)

var holdings = [HoldingEnd]string{
	HoldingCounts: "Flown as {style}. {candidates} candidates, {fitted} fit together, {feasible} of {whole} are feasible.",
	HoldingUnproven: "Not all of them could be looked at: this page holds {held} of the {evaluated} that a search came " +
		"across. For other weights and limits than it opens with, something better may be missing.",
	HoldingProvenTop: "As it opens, the first {complete} places are proven.",
	HoldingAll:       "All of them are in this page, so that the order is complete for any weights and limits.",
	HoldingWithinLoss: "This page holds {held} of them. Whatever the weights and limits, the best of the drawer scores " +
		"at most {loss} % more than the first place here.",
	HoldingBest: "This page holds {held} of them: all that can be the best for some weights and limits. The first place " +
		"is the best of the drawer whatever you set. Further down, what another one beats in everything may be missing; " +
		"as the page opens, the first {complete} places are complete.",
	HoldingKept:    "Kept throughout: {limits}.",
	HoldingLeftOut: "Left out: {kind} {id}, {reason}.",
}

// Sentence is the sentence with its values.
func (h Holding) Sentence(values map[string]any) string { return Fill(holdings[h], values) }
