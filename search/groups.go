package search

import (
	"context"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Group is what stands behind a row of a ranking: the builds with its motor, its prop, and its pack or a twin of it.
type Group struct {
	// Packs are the ids of the row's pack and its twins, in order.
	Packs []string
	// Fitted counts the builds of the group that fit, the row's own among them.
	Fitted int64
	// Variants are the feasible ones but the row's own, the best first; those that were looked at, if not Whole: of
	// a large group each that differs from the row in one part is looked at first.
	Variants []Variant
	Whole    bool
}

// Variant is a build on another board or frame than its row, or with a twin of its pack.
type Variant struct {
	Combination inventory.Combination
	Evaluation  objective.Evaluation
	AllUpKg     float64
	StyleTimeS  float64 // of a flight in the style; 0 if it is undefined
}

// Holds reports whether a combination is the row's own or a variant of it: of is the row's.
func (g *Group) Holds(of, c *inventory.Combination) bool {
	return c.Motor.ID == of.Motor.ID && c.Prop.ID == of.Prop.ID && slices.Contains(g.Packs, c.Pack.ID)
}

// The most builds that are looked at for the variants of one row, and of all rows.
const (
	groupLooks    = 2_000
	variantsLooks = 20_000
)

// groups say what stands behind each of the listed. Variants are worked out as far as a number of looks goes, from
// the first row on.
func (k *ranker) groups(ctx context.Context, list []space.Scored) []Group {
	s := k.space
	out := make([]Group, len(list))
	left := variantsLooks
	for i := range list {
		own := list[i].Candidate
		of := s.Group(own)
		for _, p := range s.Twins(of) {
			out[i].Packs = append(out[i].Packs, p.ID)
		}
		if !k.options.Variants {
			continue
		}
		var near, others []space.Candidate
		for c := range s.Members(of) {
			out[i].Fitted++
			switch {
			case c == own:
			case s.Changes(own, c) == 1:
				near = append(near, c)
			case len(others) < groupLooks:
				others = append(others, c)
			}
		}
		members := append(near, others...)
		members = members[:min(len(members), groupLooks, left)]
		left -= len(members)
		out[i].Whole = int64(len(members)) == out[i].Fitted-1
		out[i].Variants = k.variants(ctx, members)
		progress.Of(ctx).Add(2 * float64(len(members)))
	}
	return out
}

// variants evaluates members of a group and lists the feasible ones, the best first.
func (k *ranker) variants(ctx context.Context, members []space.Candidate) []Variant {
	type look struct {
		space.Scored
		Variant
	}
	found := make([]look, len(members))
	s := k.space
	parallel.For(ctx, k.options.Workers, len(members), 16, func(i int) {
		found[i].Scored = s.Evaluate(members[i])
		if !found[i].Scored.Evaluation.Feasible() {
			return
		}
		craft := s.Craft(members[i])
		p := craft.EvaluateOnly(&s.Problem.Style.Flying, figure.SetOf(figure.StyleTime))
		timeS, _ := p.Get(figure.StyleTime)
		found[i].Variant = Variant{s.Combination(members[i]), found[i].Scored.Evaluation, craft.MassKg(), timeS}
	})
	found = slices.DeleteFunc(found, func(l look) bool { return !l.Scored.Evaluation.Feasible() })
	slices.SortFunc(found, func(a, b look) int { return a.Order(&b.Scored) })
	list := make([]Variant, len(found))
	for i := range found {
		list[i] = found[i].Variant
	}
	return list
}
