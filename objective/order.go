package objective

import "cmp"

// Compare orders two feasible evaluations, the better first: by score, then by the unweighted sum of
// the axes, then by dominance. It returns 0 for a tie, which part ids break.
func Compare(a, b *Evaluation) int {
	if c := cmp.Compare(b.Score, a.Score); c != 0 {
		return c
	}
	if c := cmp.Compare(b.Axes.Sum(), a.Axes.Sum()); c != 0 {
		return c
	}
	switch {
	case a.Axes.Dominates(&b.Axes):
		return -1
	case b.Axes.Dominates(&a.Axes):
		return 1
	}
	return 0
}
