package answer

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Buy says which one part of an offer, and which two, would help most; without an offer, which part one step from what
// is owned.
func Buy(ctx context.Context, a *Ask, offer *inventory.Offer) (*Shopping, error) {
	job := progress.Of(ctx)
	buy, say := job.Plan(progress.Purchasing, 8*a.Search.Work(a.Problem.Drawer)), job.Plan(progress.Doubting, 0)
	shopping, err := search.Buy(buy.In(ctx), *a.Problem, offer, a.Search)
	if err != nil {
		return nil, err
	}
	buy.End()
	d := a.shopping(say.In(ctx), shopping)
	if shopping.Before != nil || len(d.Purchases) > 0 {
		return d, nil
	}
	d.Results = &[]Result{}
	r, err := search.Search(ctx, *a.Problem, a.Search)
	if err != nil {
		return nil, err
	}
	d.NearMisses, d.Words.Misses = missesOf(r.NearMisses), catalogue.MissList(r.NearMisses)
	return d, nil
}

// Shopping is the document of buy.
type Shopping struct {
	Head
	Search    Search     `json:"search"`
	Evaluated int64      `json:"evaluated"`
	Proven    bool       `json:"proven"`
	Why       string     `json:"why"`
	Before    *Result    `json:"before"`
	Purchases []Purchase `json:"purchases"`
	// Where nothing is feasible with any purchase, Results is empty and NearMisses come nearest; else
	// both are left out.
	Results    *[]Result  `json:"results,omitempty"`
	NearMisses []NearMiss `json:"near_misses,omitempty"`

	Found *search.Shopping `json:"-"`
	Words BuyWords         `json:"-"`
}

// BuyWords are the sentences of a document of buy.
type BuyWords struct {
	Dangers  []string // what may burn or fall of what is to be built
	IDs      string   // the parts of what is to be built
	Before   string   // what is owned, and how sure the list is to hold the best
	Lacking  string   // kinds of part that the drawer has not
	Singles  []string // one part each
	Pairs    []string // two together
	Misses   []string
	Searched string   // what was searched
	LeftOut  []string // parts that the search set aside
	Notes    []string // of the drawer on the parts of the first
}

// Purchase is one part or two, and what they gain.
type Purchase struct {
	Parts    []Offered `json:"parts"`
	Gain     float64   `json:"gain"`
	Before   float64   `json:"before"`
	After    float64   `json:"after"`
	Price    *float64  `json:"price"`
	Currency string    `json:"currency,omitempty"`
	PerPrice *float64  `json:"gain_per_price"`
	Unblocks []string  `json:"unblocks"`
	Result   Result    `json:"result"`
}

// Offered is a part that is bought.
type Offered struct {
	Kind     string `json:"kind"`
	ID       string `json:"id,omitempty"`
	Like     string `json:"like,omitempty"`
	Price    string `json:"price,omitempty"`
	Currency string `json:"currency,omitempty"`
}

func (a *Ask) shopping(ctx context.Context, s *search.Shopping) *Shopping {
	found := search.Ranking{Method: s.Method, Why: s.Why, Candidates: s.Candidates, Evaluated: s.Evaluated,
		Proven: s.Proven, Infeasible: s.Infeasible, SetAside: s.SetAside}
	d := &Shopping{Head: a.head(shoppingCare(a.Problem, s)), Search: searchOf(&found), Evaluated: s.Evaluated,
		Proven: s.Proven, Why: catalogue.WhyText(s.Why), Purchases: []Purchase{}, Found: s}
	if s.Before != nil {
		before := resultOf(s.Before, 0)
		d.Before = &before
	}
	all := slices.Concat(s.Singles, s.Pairs)
	for i := range all {
		d.Purchases = append(d.Purchases, purchaseOf(&all[i]))
	}
	d.Words = BuyWords{Singles: purchaseSentences(s.Before, s.Singles), Pairs: purchaseSentences(s.Before, s.Pairs),
		LeftOut:  catalogue.Sentences(catalogue.SetAsideTexts(s.SetAside)),
		Searched: catalogue.ShopSearchedSentence(a.Problem, s)}
	var build *predict.Result
	d.Advice, build = a.buyAdvice(ctx, s, all)
	if build != nil {
		d.Words.IDs, d.Words.Notes = catalogue.IDsSentence(&build.Combination), catalogue.OwnNotes(&build.Combination)
		d.Words.Dangers = catalogue.Sentences(catalogue.DangerTexts(build))
	}
	if s.Before != nil {
		d.Words.Before = catalogue.OwnedSentence(s.Before)
	}
	if kinds := space.Lacking(a.Problem.Drawer); len(all) == 0 && len(kinds) > 0 {
		d.Words.Lacking = catalogue.LackingText(a.Problem.Drawer.Name, kinds)
	}
	return d
}

// buyAdvice says what to get, or not to, and what to build then, which it returns as well; nil if there is nothing.
func (a *Ask) buyAdvice(ctx context.Context, s *search.Shopping, all []search.Purchase) ([]string, *predict.Result) {
	style := &a.Problem.Style
	if s.Before == nil && len(all) == 0 {
		return []string{catalogue.Answer("buy.no_help").Template()}, nil
	}
	gains := func(b search.Purchase) bool { return catalogue.SignedFixed(b.Gain, 1) != "0" }
	get := slices.IndexFunc(all, func(b search.Purchase) bool {
		return s.Before == nil || gains(b) && b.Best.AheadShare >= likelyShare
	})
	if get >= 0 {
		b := &all[get]
		do := catalogue.Answer("buy.makes").Sentence(map[string]any{"build": catalogue.BuildText(&b.Best.Combination)})
		return append([]string{catalogue.PurchaseSentence(b, s.Before != nil)}, adviceOn(&b.Best, do, style.Name)...), &b.Best
	}
	do := catalogue.Answer("buy.owned").Sentence(map[string]any{"build": catalogue.BuildText(&s.Before.Combination)})
	owned := adviceOn(s.Before, do, style.Name)
	first := catalogue.Answer("buy.nothing").Template()
	if best := slices.IndexFunc(all, gains); best >= 0 {
		first = catalogue.MeasureFirst(predict.ValueOfInformation(ctx, style, s.Before, &all[best].Best,
			a.Search.Sampling(a.Problem.Drawer)),
			a.Problem.Drawer)
	} else if len(all) > 0 {
		first = catalogue.Answer("buy.idle").Template()
	}
	return append([]string{first}, owned...), s.Before
}

// purchaseSentences say what each purchase gains, for its price, and what it makes.
func purchaseSentences(before *predict.Result, list []search.Purchase) []string {
	lines := make([]string, len(list))
	for i := range list {
		b := &list[i]
		gains := catalogue.SignedFixed(b.Gain, 1) != "0"
		values := map[string]any{"parts": purchaseText(b), "gain": catalogue.Fixed(b.Gain, 1),
			"before": catalogue.Fixed(b.Before, 1), "after": catalogue.Fixed(b.After, 1),
			"share": catalogue.About(b.Best.AheadShare), "price": "", "deltas": "", "uses": "",
			"build": catalogue.CombinationText(&b.Best.Combination)}
		switch {
		case b.Price > 0 && gains:
			values["price"] = catalogue.Say("buy.price_per", "price", b.Price, "currency", b.Currency, "per",
				catalogue.Fixed(b.PerPrice, 2), "unit", cmp.Or(b.Currency, catalogue.Say("buy.unit")))
		case b.Price > 0:
			values["price"] = strings.TrimRight(catalogue.Say("buy.price", "price", b.Price, "currency", b.Currency), " ")
		}
		if before != nil && gains {
			if deltas := catalogue.DeltasText(before, &b.Best, nil); deltas != "" {
				values["deltas"] = catalogue.Say("buy.deltas", "deltas", deltas)
			}
		}
		if len(b.Unblocks) > 0 {
			values["uses"] = catalogue.Say("buy.uses", "parts", names(b.Unblocks))
		}
		which := catalogue.Answer("buy.no_gain")
		if gains {
			which = "buy.gain"
		}
		lines[i] = which.Sentence(values)
	}
	return lines
}

// Rows is the purchases as a table of plain values.
func (d *Shopping) Rows() *Rows {
	rows := &Rows{Keys: []string{"parts", "gain", "before", "after", "price", "currency", "gain_per_price", "unblocks",
		"motor", "prop", "pack", "frame", "board", "extras"}}
	all := slices.Concat(d.Found.Singles, d.Found.Pairs)
	for i := range all {
		rows.Add(purchaseRow(&all[i], &d.Purchases[i])...)
	}
	return rows
}

func purchaseOf(b *search.Purchase) Purchase {
	d := Purchase{Gain: hundredths(b.Gain), Before: hundredths(b.Before), After: hundredths(b.After), Currency: b.Currency,
		Unblocks: names(b.Unblocks), Result: resultOf(&b.Best, 0)}
	for _, o := range b.Parts {
		one := Offered{Kind: string(o.Kind), ID: o.ID, Like: like(&o), Price: o.Price.Price, Currency: o.Price.Currency}
		if one.Like != "" {
			one.ID = ""
		}
		d.Parts = append(d.Parts, one)
	}
	if b.Price > 0 {
		price, per := catalogue.Round(b.Price), catalogue.Round(b.PerPrice)
		d.Price, d.PerPrice = &price, &per
	}
	return d
}

func purchaseRow(b *search.Purchase, d *Purchase) []string {
	price, per := "", ""
	if d.Price != nil {
		price, per = catalogue.Raw(*d.Price), catalogue.Raw(*d.PerPrice)
	}
	parts := d.Result.Parts
	return []string{purchaseText(b), catalogue.Raw(d.Gain), catalogue.Raw(d.Before), catalogue.Raw(d.After), price,
		d.Currency, per, strings.Join(d.Unblocks, "+"),
		parts.Motor, parts.Prop, parts.Pack, parts.Frame, parts.Board, strings.Join(parts.Extras, "+")}
}

// like names what a hypothetical part is like; empty for another part.
func like(o *search.Offered) string {
	if o.Step == "" {
		return ""
	}
	return catalogue.StepText(o.Kind, o.Of, o.Step)
}

// names are parts by kind and id.
func names(parts []search.PartName) []string {
	list := make([]string, len(parts))
	for i, p := range parts {
		list[i] = catalogue.KindAndID(p.Kind, p.ID)
	}
	return list
}

// purchaseText names what is bought.
func purchaseText(b *search.Purchase) string {
	var words []string
	for _, o := range b.Parts {
		switch {
		case o.Step != "":
			words = append(words, like(&o))
		case o.Outfit != "":
			words = append(words, catalogue.Say("buy.outfit", "part", catalogue.KindAndID(o.Kind, o.ID), "outfit", o.Outfit))
		default:
			words = append(words, catalogue.KindAndID(o.Kind, o.ID))
		}
	}
	return strings.Join(words, " and ")
}

// shoppingCare is what to mind with what a purchase makes; before it is bought, with what is owned.
func shoppingCare(p *space.Problem, s *search.Shopping) Care {
	scene := Scene{Drawer: p.Drawer, Styles: []objective.Style{p.Style}}
	for _, list := range [...][]search.Purchase{s.Singles, s.Pairs} {
		for i := range list {
			scene.Listed = append(scene.Listed, &list[i].Best)
		}
	}
	if s.Before != nil {
		scene.Listed = append(scene.Listed, s.Before)
	}
	if len(scene.Listed) > 0 {
		scene.Crafts = scene.Listed[:1]
	}
	return CareOf(&scene)
}
