package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Offered is a part that one could buy, or that is thought up.
type Offered struct {
	Kind  inventory.Kind
	ID    string
	Price inventory.Price
	// Of a hypothetical part the owned one that it is a step away from, and the step; else empty.
	Of, Step string
	// Outfit is the owned frame or board whose extras an offered one is judged with.
	Outfit string
}

// Purchase is one part, or two together, with what buying them brings.
type Purchase struct {
	Parts []Offered
	// Gain is by how much the best score rises, from Before to After; Before is 0 if nothing was
	// feasible.
	Gain, Before, After float64
	// Best is the combination that becomes possible; its AheadShare is over the best of the drawer
	// as it is.
	Best predict.Result
	// Price is what the parts cost together, in Currency; 0 if a price is missing, is no number, or
	// the currencies differ. PerPrice is gain over price.
	Price, PerPrice float64
	Currency        string
	// Unblocks lists owned parts that are in no feasible combination now and in one with the
	// purchase.
	Unblocks []PartName

	basket basket
}

// PartName names a part of a drawer.
type PartName struct {
	Kind inventory.Kind
	ID   string
}

// Shopping is what to buy.
type Shopping struct {
	Before  *predict.Result // the best of the drawer as it is; nil if nothing is feasible
	Singles []Purchase
	// Pairs gain more together than either part alone.
	Pairs []Purchase
	// Evaluated counts candidates; Proven says that none was left out; Why says what was.
	Evaluated int64
	Proven    bool
	Why       Why
	// Method is exact, or genetic if that chose the owned parts that purchases were judged with.
	// Candidates are those of the drawer with every offered part but the extras; those with more
	// bought parts than a purchase has were not looked at. Infeasible counts as that of a Ranking does.
	Method     string
	Candidates int64
	Infeasible []ReasonCount
	// SetAside are parts, owned, offered or thought up, that nothing could be reckoned with.
	SetAside []space.SetAside
}

// leastRise is what a purchase must gain, in points, to be worth a line.
const leastRise = 0.05

// buyWhole is the number of candidates up to which a purchase is judged on the whole drawer.
const buyWhole = 400_000

// Buy says which part of an offer, and which two, would raise the best score most. With no offer it
// tries one step variations of what is owned, one at a time. Purchases come with the largest gain
// first; those that neither gain a twentieth of a point nor unblock anything are left out.
func Buy(ctx context.Context, p space.Problem, list *inventory.Offer, o Options) (*Shopping, error) {
	if o.Top <= 0 {
		o.Top = defaultTop
	}
	o.Workers = parallel.Workers(o.Workers)
	b := &purchaseSearch{problem: p, options: &o, most: 2, best: map[basket]scoredIn{},
		usable: map[basket]*[len(kinds)]space.Bitset{}}
	if list == nil {
		b.most, b.offer = 1, hypothetical(p.Drawer)
	} else {
		b.offer = offerOf(p.Drawer, list)
	}
	job, of := progress.Of(ctx), o.Sampling(p.Drawer)
	look := job.Plan(progress.Purchasing, o.shopWork(p.Drawer, len(b.offer.parts)))
	show := job.Plan(progress.Doubting, of.Work(2*o.Top*min(b.most, 2)))
	if err := b.look(look.In(ctx)); err != nil {
		return nil, err
	}
	look.End()
	return b.shopping(show.In(ctx))
}

// basket is up to two offered parts by index, in order; −1 is none.
type basket [2]int

var emptyBasket = basket{-1, -1}

// with adds a part; false if the basket is full.
func (k basket) with(part int) (basket, bool) {
	switch {
	case k[0] == part || k[1] == part:
		return k, true
	case k[0] < 0:
		return basket{part, -1}, true
	case k[1] >= 0:
		return k, false
	case part < k[0]:
		return basket{part, k[0]}, true
	}
	return basket{k[0], part}, true
}

func (k basket) size() int {
	n := 0
	for _, part := range k {
		if part >= 0 {
			n++
		}
	}
	return n
}

// scoredIn is a candidate with the space it is of.
type scoredIn struct {
	space.Scored
	space *space.Space
}

// better compares candidates of any spaces.
func (s *scoredIn) better(other *scoredIn) bool {
	if c := objective.Compare(&s.Evaluation, &other.Evaluation); c != 0 {
		return c < 0
	}
	a, b := s.space.Combination(s.Candidate), other.space.Combination(other.Candidate)
	return a.Key() < b.Key()
}

// shopping makes the lists of purchases.
func (b *purchaseSearch) shopping(ctx context.Context) (*Shopping, error) {
	list := &Shopping{Evaluated: b.evaluated, Proven: b.proven, Why: b.why, Method: string(Exact),
		Candidates: b.candidates, Infeasible: b.infeasible, SetAside: b.aside}
	if !b.proven {
		list.Method = string(Genetic)
	}
	d := predict.NewDraws(b.options.Sampling(b.problem.Drawer))
	before := 0.0
	if now, ok := b.best[emptyBasket]; ok {
		r := resultOf(now.space, &now.Scored)
		before = r.Evaluation.Score
		list.Before = &r
	}
	var baskets []basket
	for k := range b.best {
		if k != emptyBasket {
			baskets = append(baskets, k)
		}
	}
	slices.SortFunc(baskets, func(x, y basket) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	var singles, pairs []Purchase
	for _, k := range baskets {
		one := b.purchase(k, before)
		if k.size() == 1 && (one.Gain >= leastRise || one.Unblocks != nil) {
			singles = append(singles, one)
		}
		if k.size() == 2 && one.Gain >= leastRise && b.together(k, before) {
			pairs = append(pairs, one)
		}
	}
	top := b.options.Top
	progress.Of(ctx).Expect(d.Work(1 + 2*min(len(singles), top) + 2*min(len(pairs), top)))
	for _, of := range []*[]Purchase{&singles, &pairs} {
		slices.SortStableFunc(*of, func(x, y Purchase) int {
			return cmp.Or(cmp.Compare(y.Gain, x.Gain), cmp.Compare(len(y.Unblocks), len(x.Unblocks)))
		})
		*of = (*of)[:min(len(*of), top)]
		for i := range *of {
			b.show(ctx, &(*of)[i], list.Before, d)
		}
	}
	if list.Before != nil {
		one := []predict.Result{*list.Before}
		predict.Judge(ctx, one, &b.problem.Style, d, b.options.Workers)
		list.Before = &one[0]
	}
	list.Singles, list.Pairs = singles, pairs
	return list, ctx.Err()
}

// together reports whether two parts gain more than either alone.
func (b *purchaseSearch) together(k basket, before float64) bool {
	most := before
	for _, part := range k {
		if one, ok := b.best[basket{part, -1}]; ok {
			most = math.Max(most, one.Evaluation.Score)
		}
	}
	return b.best[k].Evaluation.Score > most
}

func (b *purchaseSearch) purchase(k basket, before float64) Purchase {
	found := b.best[k]
	p := Purchase{Before: before, After: math.Max(found.Evaluation.Score, before), basket: k}
	p.Gain = p.After - before
	for _, part := range k {
		if part >= 0 {
			p.Parts = append(p.Parts, b.offer.parts[part])
		}
	}
	p.Price, p.Currency = total(p.Parts)
	if p.Price > 0 {
		p.PerPrice = p.Gain / p.Price
	}
	if b.proven {
		p.Unblocks = b.unblocks(k)
	}
	return p
}

// total adds up prices; 0 if one is missing or no number, or if the currencies differ.
func total(parts []Offered) (float64, string) {
	var sum float64
	for _, part := range parts {
		price, err := strconv.ParseFloat(strings.TrimSpace(part.Price.Price), 64)
		if err != nil || !(price > 0) || math.IsInf(price, 0) || part.Price.Currency != parts[0].Price.Currency {
			return 0, ""
		}
		sum += price
	}
	return sum, parts[0].Price.Currency
}

// unblocks lists the owned parts that only a purchase makes usable, by kind and id.
func (b *purchaseSearch) unblocks(k basket) []PartName {
	var list []PartName
	known := []*[len(kinds)]space.Bitset{b.usable[emptyBasket]}
	if k.size() == 2 {
		known = append(known, b.usable[basket{k[0], -1}], b.usable[basket{k[1], -1}])
	}
	for kind, name := range kinds {
		ids := b.offer.drawer.IDs(name)[:b.offer.owned[kind]]
		b.usable[k][kind].Each(nil, func(at int) bool {
			if at < len(ids) && !slices.ContainsFunc(known,
				func(use *[len(kinds)]space.Bitset) bool { return use != nil && use[kind].Has(at) }) {
				list = append(list, PartName{name, ids[at]})
			}
			return true
		})
	}
	slices.SortFunc(list, func(x, y PartName) int { return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.ID, y.ID)) })
	return list
}

// show works the combination of a purchase out in full.
func (b *purchaseSearch) show(ctx context.Context, p *Purchase, before *predict.Result, d *predict.Draws) {
	found := b.best[p.basket]
	both := []predict.Result{resultOf(found.space, &found.Scored)}
	if before != nil {
		both = append(both, *before)
	}
	predict.Judge(ctx, both, &b.problem.Style, d, b.options.Workers)
	p.Best = both[0]
}
