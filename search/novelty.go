package search

import (
	"cmp"
	"partsaloft/search/predict"
	"partsaloft/search/space"
	"slices"
)

// novelPool is how many of the best by score a wish for something new chooses among.
const novelPool = 1000

// preferNew reorders candidates, the best by score first, by their preferred scores.
func preferNew(s *space.Space, list []space.Scored, weight float64, fleet []predict.Flying) []space.Scored {
	type wished struct {
		space.Scored
		score float64
	}
	all := make([]wished, len(list))
	for i := range list {
		craft := s.Craft(list[i].Candidate)
		p := craft.Evaluate(&s.Problem.Style.Flying)
		u, _ := predict.Unlike(&p, fleet)
		all[i] = wished{list[i], predict.Preferred(list[i].Evaluation.Score, weight, u)}
	}
	slices.SortStableFunc(all, func(a, b wished) int { return cmp.Compare(b.score, a.score) })
	out := make([]space.Scored, len(all))
	for i := range all {
		out[i] = all[i].Scored
	}
	return out
}
