package search

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

// Bound is a figure that whoever reads a catalogue may limit, on one side and in whole steps, of
// which PerUnit make one unit of the figure: 10 for tenths.
type Bound struct {
	Quantity figure.Quantity
	AtMost   bool
	PerUnit  int
}

// Steps is the tightest limit that a performance keeps, in steps. The limit k steps stands for the
// number k/PerUnit, exactly as that number is read from text, so that comparing steps is the same
// as comparing figures. An undefined figure keeps no limit.
func (b *Bound) Steps(p *physics.Performance) int32 {
	const most = 1 << 30
	side := 1.0
	if !b.AtMost {
		side = -1
	}
	si, why := p.Get(b.Quantity)
	if why != physics.Defined {
		return int32(side * math.MaxInt32)
	}
	// Mirrored, at least is at most.
	value, unit := side*figure.Of(b.Quantity).FromSI(si), float64(b.PerUnit)
	k := math.Ceil(value * unit)
	for (k-1)/unit >= value {
		k--
	}
	for k/unit < value {
		k++
	}
	return int32(side * math.Max(-most, math.Min(k, most)))
}

// CatalogueOptions say what a catalogue holds; the Top of Options is how many of the first rows
// at the opening get their intervals from draws.
type CatalogueOptions struct {
	Options
	Bounds []Bound
	// Opening are the limits that are set to begin with, in steps, one a bound; nil means none.
	Opening []*int32
	Rows    int // most entries; 0 means 24 000
	Details int // most results among them; 0 means 3000
	// Whole is the number of fitted candidates up to which each is looked at by itself; 0 means
	// 400 000.
	Whole int64
}

const (
	defaultRows    = 24_000
	defaultDetails = 3_000
	defaultWhole   = 400_000
	// catalogueMost is the number of fitted candidates up to which each is looked at when asked for.
	catalogueMost = 5_000_000
	// catalogueEvals is the budget of a genetic search for a catalogue.
	catalogueEvals = 100_000
)

// Entry is one feasible combination of a catalogue.
type Entry struct {
	Combination inventory.Combination
	Axes        objective.Axes
	Steps       []int32 // by bound
	// Body numbers frame, board and extras in the order of their ids, adapters left out: with the ids
	// of motor, prop and pack it breaks ties.
	Body int
	// Class is the first pack by id of those that are twins of its own: entries with the same motor, prop and
	// class are variants of one row.
	Class string
	// Result is the prediction in full; nil for an entry that few weights and limits bring to the
	// top. Its intervals follow from moving each uncertain input by itself (see predict.Spread), those of
	// the first of the first rows at the opening from draws.
	Result *predict.Result

	found space.Scored
}

// Catalogue holds the feasible combinations of a drawer that matter for any weights and limits.
type Catalogue struct {
	Method string
	Why    Why
	// Candidates is the size of the space, Fitted how many go together, Feasible how many of those
	// looked at break no rule.
	Candidates, Fitted, Evaluated, Feasible int64
	// Proven says that every candidate that fits was looked at. Then the best of the drawer for any
	// weights and any limits on the bounds is among the entries, or scores at most Loss, a share,
	// more than the best entry.
	Proven bool
	Loss   float64
	// Complete is how many of the first rows at the opening weights and limits the entries hold without a
	// gap, proven even where the rest is not; all entries where none is left out.
	Complete   int64
	Infeasible []ReasonCount
	// Entries are the best first at the opening weights, whatever the limits.
	Entries  []Entry
	SetAside []space.SetAside
}

// MakeCatalogue looks at every candidate that fits, or at what a genetic search and a proof of the best at
// the opening come across where there are too many, and keeps what can be the best for some weights and limits. The
// style of the problem must carry no limits on the bounds beyond those that are never to be moved. It fails when the
// context ends. Nothing feasible is no error.
func MakeCatalogue(ctx context.Context, p space.Problem, o CatalogueOptions) (*Catalogue, error) {
	job := progress.Of(ctx)
	prepare, list := job.Plan(progress.Preparing, space.Work(p.Drawer)), job.Plan(progress.Searching, o.Work(p.Drawer))
	s, err := space.New(prepare.In(ctx), p, o.Workers)
	if err != nil {
		return nil, err
	}
	prepare.End()
	return catalogueOf(list.In(ctx), s, o)
}

func catalogueOf(ctx context.Context, s *space.Space, o CatalogueOptions) (*Catalogue, error) {
	o.Workers = parallel.Workers(o.Workers)
	o.Top = cmp.Or(max(o.Top, 0), defaultTop)
	o.Rows, o.Details = cmp.Or(max(o.Rows, 0), defaultRows), cmp.Or(max(o.Details, 0), defaultDetails)
	o.Whole = cmp.Or(max(o.Whole, 0), defaultWhole)
	c := &Catalogue{Candidates: s.Candidates, Fitted: s.Fitted, SetAside: s.SetAside}
	g := gathering{space: s, options: &o, catalogue: c}
	work := o.plan(ctx, s)
	all, err := g.gather(work.seek.In(ctx))
	if err != nil {
		return nil, err
	}
	work.seek.End()
	work.details.Expect(predict.SpreadWork * float64(min(len(all), o.Details)))
	c.Evaluated, c.Feasible = g.seen.Evaluated, int64(len(all))
	c.Infeasible = infeasible(s, &g.seen)
	inOrder := func(a, b Entry) int { return a.found.Order(&b.found) }
	kept := all
	if len(all) > o.Rows {
		if kept, c.Loss, err = pruned(ctx, all, &o); err != nil {
			return nil, err
		}
		slices.SortFunc(all, inOrder)
		kept = topUp(kept, all, &o)
	}
	slices.SortFunc(kept, inOrder)
	if c.Proven {
		c.Complete = complete(s, all, kept, &o)
	}
	c.Entries = kept
	for i := range kept {
		found := kept[i].found.Candidate
		kept[i].Combination, kept[i].Body = s.Combination(found), int(found.Body)
		kept[i].Class = s.Packs[s.Group(found).Pack].ID
	}
	detail(ctx, s, kept, &o, work)
	return c, ctx.Err()
}

// gathering is the collecting of a catalogue's entries.
type gathering struct {
	space     *space.Space
	options   *CatalogueOptions
	catalogue *Catalogue
	seen      solve.Incumbents // counts what was evaluated and what breaks a rule in the air
}

// gather evaluates the candidates and returns the feasible ones, those of the whole space or those
// that a genetic search came across, in an order that does not depend on the workers.
func (g *gathering) gather(ctx context.Context) ([]Entry, error) {
	o, c, fitted := g.options, g.catalogue, g.space.Fitted
	method, why := o.Method, Why{Kind: CatalogueAsked}
	switch {
	case method == Auto || method == "":
		method, why = Exact, Why{Kind: FewFit, Count: fitted, Most: o.Whole}
		if fitted > o.Whole {
			method, why = Genetic, Why{Kind: ManyFit, Count: fitted}
		}
	case method == Exact && fitted > catalogueMost:
		return nil, fmt.Errorf("%d combinations fit, a catalogue of all of them takes at most %d: leave the method to auto",
			fitted, catalogueMost)
	}
	c.Method, c.Why = string(method), why
	if method == Exact {
		c.Proven = true
		return g.feasible(ctx, g.space.Each, fitted)
	}
	known, err := g.comeAcross(ctx)
	if err != nil {
		return nil, err
	}
	c.Proven = int64(len(known)) >= fitted
	return g.feasible(ctx, slices.Values(known), int64(len(known)))
}

// comeAcross are the candidates that a genetic search looks at, and, where a ranking would prove it, the best at the
// opening.
func (g *gathering) comeAcross(ctx context.Context) ([]space.Candidate, error) {
	s, o := g.space, g.options
	seek := o.Options
	seek.MaxEvals = cmp.Or(seek.MaxEvals, catalogueEvals)
	job := progress.Of(ctx)
	meet, prove := job.Plan(progress.Searching, geneticLooks), job.Plan(progress.Searching, 0)
	if o.Method != Genetic {
		prove.Expect(mostLooked)
	}
	job.Expect(geneticLooks) // what was met is looked at again
	h, err := solve.Genetic(meet.In(ctx), s, seek.ungrouped())
	if err != nil {
		return nil, err
	}
	known := make([]space.Candidate, 0, len(h.Known))
	for candidate := range h.Known {
		known = append(known, candidate)
	}
	meet.End()
	method, why, err := methodFor(s, o.Method)
	if err != nil {
		return nil, err
	}
	if method == Exact && why.Kind != ProvablePowertrains {
		proof := o.Options.solve()
		proof.MaxProof = cmp.Or(o.MaxProof, defaultMaxProof)
		p, err := solve.BranchAndBound(prove.In(ctx), s.InStyle(o.opened(s.Problem.Style)), proof)
		if err != nil {
			return nil, err
		}
		for _, list := range [][]space.Scored{p.Best.List, p.Champions[:]} {
			for i := range list {
				if list[i].Evaluation.Score > 0 || list[i].Evaluation.Axes.Sum() > 0 {
					known = append(known, list[i].Candidate)
				}
			}
		}
		if p.Whole {
			g.catalogue.Complete = int64(len(p.Best.List))
		}
	}
	slices.SortFunc(known, space.Candidate.Compare)
	return slices.Compact(known), ctx.Err()
}

// opened is a style with the opening limits on top.
func (o *CatalogueOptions) opened(style objective.Style) objective.Style {
	for b, k := range o.Opening {
		if k == nil {
			continue
		}
		bound := &o.Bounds[b]
		r := objective.Range{Low: math.Inf(-1), High: math.Inf(1)}
		for _, l := range style.Limits {
			if l.Quantity == bound.Quantity {
				r = l.Range
			}
		}
		if end := float64(*k) / float64(bound.PerUnit); bound.AtMost {
			r.High = math.Min(r.High, end)
		} else {
			r.Low = math.Max(r.Low, end)
		}
		style = style.With(objective.Limit{Quantity: bound.Quantity, Range: r})
	}
	return style
}

// feasible evaluates candidates, so many in all, and keeps the feasible ones.
func (g *gathering) feasible(ctx context.Context, candidates iter.Seq[space.Candidate], whole int64) ([]Entry, error) {
	var all []Entry
	s, o, t := g.space, g.options, &g.seen
	style := &s.Problem.Style
	asked := style.Questions().Both()
	for i := range o.Bounds {
		asked |= figure.SetOf(o.Bounds[i].Quantity)
	}
	evaluate := func(c space.Candidate) Entry {
		craft := s.Craft(c)
		p := craft.EvaluateOnly(&style.Flying, asked)
		v := style.Evaluate(&craft, &p)
		e := Entry{Axes: v.Axes, found: space.Scored{Candidate: c, Evaluation: v}}
		if v.Feasible() {
			e.Steps = make([]int32, len(o.Bounds))
			for b := range o.Bounds {
				e.Steps[b] = o.Bounds[b].Steps(&p)
			}
		}
		return e
	}
	progress.Of(ctx).Expect(float64(whole))
	solve.EvaluateAll(ctx, o.Workers, candidates, evaluate, func(_ []space.Candidate, found []Entry) {
		for i := range found {
			t.Evaluated++
			if v := &found[i].found.Evaluation; v.Feasible() {
				all = append(all, found[i])
			} else {
				t.Excluded[v.First]++
			}
		}
	})
	return all, ctx.Err()
}

// SameRow reports whether two entries are variants of one row.
func (e *Entry) SameRow(f *Entry) bool {
	return e.Combination.Motor.ID == f.Combination.Motor.ID && e.Combination.Prop.ID == f.Combination.Prop.ID &&
		e.Class == f.Class
}

// Keeps reports whether an entry keeps limits.
func (e *Entry) Keeps(limits []*int32, bounds []Bound) bool {
	for b, limit := range limits {
		if limit != nil && (bounds[b].AtMost && e.Steps[b] > *limit || !bounds[b].AtMost && e.Steps[b] < *limit) {
			return false
		}
	}
	return true
}

// topUp fills a catalogue with the best at the opening; all are in order.
func topUp(kept, all []Entry, o *CatalogueOptions) []Entry {
	has := make(map[space.Candidate]bool, len(kept))
	for i := range kept {
		has[kept[i].found.Candidate] = true
	}
	for i := range all {
		if len(kept) >= o.Rows {
			break
		}
		if e := &all[i]; !has[e.found.Candidate] && e.Keeps(o.Opening, o.Bounds) {
			kept = append(kept, *e)
		}
	}
	return kept
}

// complete counts the first rows at the opening that the kept entries hold without a gap; both lists are in order
// unless they are the same.
func complete(s *space.Space, all, kept []Entry, o *CatalogueOptions) int64 {
	if len(all) == len(kept) {
		return int64(len(all))
	}
	heads := func(list []Entry) []space.Candidate {
		var found []space.Candidate
		seen := map[space.Group]bool{}
		for i := range list {
			if g := s.Group(list[i].found.Candidate); !seen[g] && list[i].Keeps(o.Opening, o.Bounds) {
				seen[g] = true
				found = append(found, list[i].found.Candidate)
			}
		}
		return found
	}
	want, have := heads(all), heads(kept)
	n := 0
	for n < min(len(want), len(have)) && want[n] == have[n] {
		n++
	}
	return int64(n)
}
