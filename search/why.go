package search

// WhyKind is a kind of reason for how a search went about, or for how far its result is proven.
type WhyKind uint8

// The kinds of reasons.
const (
	FewPowertrains      WhyKind = iota // exact: no more than Most powertrains fit
	ManyPowertrains                    // genetic: more than Most powertrains fit, too many to lay a proof out
	ProvablePowertrains                // exact: more than Most powertrains fit, and a proof is not too long
	LongProof                          // genetic: a proof that would take more than Most evaluations was given up after Count
	MethodAsked                        // asked for; Count powertrains fit
	FewFit                             // exact: Count combinations fit, no more than Most
	ManyFit                            // genetic: Count combinations fit, too many to look at each
	CatalogueAsked                     // asked for
	Named                              // the combinations were named
	KindMissing                        // a kind of part is missing
	EveryChoice                        // every combination was looked at, and every choice that could be better
	ChoicesCut                         // the search for the best choice stopped after Most steps
	WishesCut                          // each wish chose among what a genetic search found
	EveryPurchase                      // every combination with what can be bought was looked at
	PurchasesCut                       // Count combinations are too many: owned parts of the best Most alone, and steps from these
	WhyKinds                           // one past the last
)

// Why is a reason for how a search went about, with what it counts.
type Why struct {
	Kind        WhyKind
	Count, Most int64
	// Over says that there are more than Count.
	Over bool
	// Pool is the number of the best by score among which what is new was chosen, where that leaves open
	// whether something newer comes before what is listed; else 0.
	Pool int
}
