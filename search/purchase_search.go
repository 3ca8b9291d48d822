package search

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/search/progress"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

// purchaseSearch looks at what purchases make possible.
type purchaseSearch struct {
	problem   space.Problem
	options   *Options
	offer     *offer
	most      int // parts bought at once
	best      map[basket]scoredIn
	usable    map[basket]*[len(kinds)]space.Bitset // by kind: parts of the drawer in some feasible combination
	evaluated int64
	proven    bool
	why       Why

	fallen     solve.Incumbents // counts what breaks a rule in the air
	candidates int64
	infeasible []ReasonCount
	aside      []space.SetAside
}

// look goes through the drawer with all offered parts but the extras, then with each extra.
func (b *purchaseSearch) look(ctx context.Context) error {
	b.proven, b.why = true, Why{Kind: EveryPurchase}
	cut := false
	if n := b.offer.product(); n > layWhole {
		cut, b.proven = true, false
		b.why = Why{Kind: PurchasesCut, Count: int64(min(n, 1<<62)), Most: shortList}
		if err := b.cutDown(ctx); err != nil {
			return err
		}
	}
	drawer := b.offer.drawer
	job := progress.Of(ctx)
	prepare, shorten := job.Plan(progress.Preparing, space.Work(drawer)), job.Plan(progress.Searching, 0)
	walk := job.Plan(progress.Purchasing, math.Min(builds(drawer)*fitting, buyWhole/2))
	var extras []*progress.Part
	for range b.offer.extras {
		extras = append(extras, job.Plan(progress.Purchasing, math.Min(builds(drawer)*fitting/2, mostLooked)))
	}
	s, err := b.space(prepare.In(ctx), drawer)
	if err != nil {
		return err
	}
	if s != nil && cut {
		if err := b.walk(ctx, newPurchaseIndex(s, b.offer, -1), -1); err != nil {
			return err
		}
		b.candidates, b.infeasible = s.Candidates, infeasible(s, &b.fallen)
		b.setAside(s)
	} else if s != nil {
		h := newPurchaseIndex(s, b.offer, -1)
		if n := h.count(b.most); n > buyWhole {
			b.proven = false
			b.why = Why{Kind: PurchasesCut, Count: n, Most: shortList}
			walk.Expect(geneticLooks)
			shorten.Expect(space.Work(b.problem.Drawer) + geneticLooks)
			if drawer, err = b.shorten(shorten.In(ctx)); err != nil {
				return err
			}
			shorten.End()
			if s, err = b.space(prepare.In(ctx), drawer); err != nil || s == nil {
				return err
			}
			h = newPurchaseIndex(s, b.offer, -1)
		}
		prepare.End()
		walk.Expect(float64(h.count(b.most)))
		if err := b.walk(walk.In(ctx), h, -1); err != nil {
			return err
		}
		walk.End()
		b.candidates, b.infeasible = s.Candidates, infeasible(s, &b.fallen)
		b.setAside(s)
	}
	for i := range b.offer.extras {
		with := *drawer
		with.Extras = append(slices.Clone(drawer.Extras), b.offer.extras[i])
		s, err := b.space(extras[i].In(ctx), &with)
		if err != nil {
			return err
		}
		if s == nil {
			extras[i].End()
			continue
		}
		extra := b.offer.offset + i
		if err := b.walk(extras[i].In(ctx), newPurchaseIndex(s, b.offer, extra), extra); err != nil {
			return err
		}
		extras[i].End()
	}
	return nil
}

// layWhole is the product of the numbers of motors, props, packs, frames and boards, owned and offered, up to which a
// drawer with an offer is laid out whole: beyond, the count alone of what fits takes minutes.
const layWhole = 1e11

// cutDown leaves of the drawer only what the best combinations of owned parts use, before anything is thought up or put
// to it.
func (b *purchaseSearch) cutDown(ctx context.Context) error {
	thoughtUp := b.most == 1
	drawer, err := b.shorten(ctx)
	if err != nil {
		return err
	}
	if !thoughtUp {
		b.offer.drawer = drawer
		return nil
	}
	none := func(count *int) bool { return count != nil && *count == 0 }
	d := *b.problem.Drawer
	d.Motors = slices.DeleteFunc(drawer.Motors[:b.offer.owned[motorKind]], func(p inventory.Motor) bool { return none(p.Count) })
	d.Props = slices.DeleteFunc(drawer.Props[:b.offer.owned[propKind]], func(p inventory.Prop) bool { return none(p.Count) })
	d.Packs = slices.DeleteFunc(drawer.Packs[:b.offer.owned[packKind]], func(p inventory.Pack) bool { return none(p.Count) })
	d.Frames = slices.DeleteFunc(drawer.Frames[:b.offer.owned[frameKind]], func(p inventory.Frame) bool { return none(p.Count) })
	d.Boards = slices.DeleteFunc(drawer.Boards[:b.offer.owned[boardKind]], func(p inventory.Board) bool { return none(p.Count) })
	b.offer = hypothetical(&d)
	return nil
}

// setAside notes what a space left out.
func (b *purchaseSearch) setAside(s *space.Space) {
	for _, a := range s.SetAside {
		for _, part := range b.offer.parts {
			if part.Kind == a.Kind && part.ID == a.ID {
				a.Of, a.Step = part.Of, part.Step
			}
		}
		b.aside = append(b.aside, a)
	}
}

// space lays out a drawer; nil if it lacks a kind of part.
func (b *purchaseSearch) space(ctx context.Context, d *inventory.Drawer) (*space.Space, error) {
	p := b.problem
	p.Drawer = d
	s, err := space.New(ctx, p, b.options.Workers)
	if none := (*space.NoPartsError)(nil); errors.As(err, &none) && len(none.Aside) == 0 {
		return nil, nil
	}
	return s, err
}

// shortList is how many of the best combinations a too large drawer is cut down to the parts of.
const shortList = 200

// shorten is the offer's drawer with only those owned parts that the best combinations use.
func (b *purchaseSearch) shorten(ctx context.Context) (*inventory.Drawer, error) {
	prepare := progress.Of(ctx).Plan(progress.Preparing, space.Work(b.problem.Drawer))
	seek := progress.Of(ctx).Plan(progress.Searching, geneticLooks)
	s, err := space.New(prepare.In(ctx), b.problem, b.options.Workers)
	if err != nil {
		return nil, err
	}
	prepare.End()
	o := *b.options
	o.Top, o.Spread = shortList, false
	h, err := solve.Genetic(seek.In(ctx), s, o.ungrouped())
	if err != nil {
		return nil, err
	}
	b.evaluated += h.Evaluated
	kept := map[string]bool{}
	for i := range h.Best.List {
		c := s.Combination(h.Best.List[i].Candidate)
		p := c.Parts()
		for motor := range strings.SplitSeq(p.Motor, "~") {
			kept["motor "+motor] = true
		}
		kept["prop "+p.Prop], kept["pack "+p.Pack], kept["frame "+p.Frame], kept["board "+p.Board] = true, true, true, true
	}
	// Parts that are not kept get a count of none, so that the others keep their places.
	d, owned := *b.offer.drawer, &b.offer.owned
	none := 0
	for i := range d.Motors[:owned[motorKind]] {
		if !kept["motor "+d.Motors[i].ID] {
			d.Motors[i].Count = &none
		}
	}
	for i := range d.Props[:owned[propKind]] {
		if !kept["prop "+d.Props[i].ID] {
			d.Props[i].Count = &none
		}
	}
	for i := range d.Packs[:owned[packKind]] {
		if !kept["pack "+d.Packs[i].ID] {
			d.Packs[i].Count = &none
		}
	}
	for i := range d.Frames[:owned[frameKind]] {
		if !kept["frame "+d.Frames[i].ID] {
			d.Frames[i].Count = &none
		}
	}
	for i := range d.Boards[:owned[boardKind]] {
		if !kept["board "+d.Boards[i].ID] {
			d.Boards[i].Count = &none
		}
	}
	return &d, ctx.Err()
}

// inBasket is a candidate with what of it is bought.
type inBasket struct {
	candidate space.Candidate
	basket    basket
}

// walk evaluates the candidates of a space with few enough bought parts; with an extra, those that
// have it.
func (b *purchaseSearch) walk(ctx context.Context, h *purchaseIndex, extra int) error {
	s := h.space
	candidates := func(yield func(inBasket) bool) {
		h.each(b.most, func(c space.Candidate, k basket) bool {
			return extra >= 0 && k[0] != extra && k[1] != extra || yield(inBasket{c, k})
		})
	}
	evaluate := func(c inBasket) space.Scored { return s.Evaluate(c.candidate) }
	solve.EvaluateAll(ctx, b.options.Workers, candidates, evaluate, func(block []inBasket, found []space.Scored) {
		for i := range found {
			b.note(s, &found[i], block[i].basket)
		}
	})
	return ctx.Err()
}

func (b *purchaseSearch) note(s *space.Space, found *space.Scored, k basket) {
	b.evaluated++
	if !found.Evaluation.Feasible() {
		b.fallen.Excluded[found.Evaluation.First]++
		return
	}
	now := scoredIn{*found, s}
	if old, ok := b.best[k]; !ok || now.better(&old) {
		b.best[k] = now
	}
	use := b.usable[k]
	if use == nil {
		use = &[len(kinds)]space.Bitset{}
		d := b.offer.drawer
		for kind, n := range [...]int{len(d.Motors), len(d.Props), len(d.Packs), len(d.Frames), len(d.Boards)} {
			use[kind] = space.NewBitset(n)
		}
		b.usable[k] = use
	}
	c := found.Candidate
	body := &s.Bodies[c.Body]
	for _, at := range s.MotorAt[c.Motor] {
		if at >= 0 {
			use[motorKind].Add(at)
		}
	}
	use[propKind].Add(s.PropAt[c.Prop])
	use[packKind].Add(s.PackAt[c.Pack])
	use[frameKind].Add(s.FrameAt[body.Frame])
	use[boardKind].Add(s.BoardAt[body.Board])
}
