package answer

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Buy says which one part of an offer, and which two, would help most; without an offer, which part one step from what
// is owned.
func Buy(ctx context.Context, a *Ask, offer *inventory.Offer) (*Shopping, error) {
	shopping, err := search.Buy(ctx, *a.Problem, offer, a.Search)
	if err != nil {
		return nil, err
	}
	d := a.shopping(shopping)
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
	Before  string // what is owned, and how sure the list is to hold the best
	None    []string
	Singles []string // one part each
	Pairs   []string // two together
	Doubt   string   // that none is likely ahead of what is owned
	Misses  []string
	LeftOut []string // parts that the search set aside
	Notes   []string // of the drawer on the parts of the first
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

func (a *Ask) shopping(s *search.Shopping) *Shopping {
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
	d.Words = BuyWords{Before: a.ownedSentence(s), Singles: purchaseSentences(s.Before, s.Singles),
		Pairs:   purchaseSentences(s.Before, s.Pairs),
		LeftOut: catalogue.Sentences(catalogue.SetAsideTexts(s.SetAside))}
	switch {
	case len(all) > 0:
		d.Words.Notes = catalogue.OwnNotes(&all[0].Best.Combination)
		if s.Before != nil && !slices.ContainsFunc(all, func(b search.Purchase) bool { return b.Best.AheadShare >= likelyShare }) {
			d.Words.Doubt = "None of these is likely ahead of what you own: before buying, measure what you have."
		}
		return d
	case s.Before == nil:
		d.Words.None = []string{"No single purchase and no pair makes anything feasible."}
	default:
		d.Words.None = []string{"No purchase would raise the score or put an idle part to use."}
	}
	if kinds := space.Lacking(a.Problem.Drawer); len(kinds) > 0 {
		d.Words.None = append(d.Words.None, fmt.Sprintf("%s holds no %s.", a.Problem.Drawer.Name,
			catalogue.Words(catalogue.Sections(kinds))))
	}
	return d
}

// ownedSentence says what the best is as it is, and whether all purchases were looked at.
func (a *Ask) ownedSentence(s *search.Shopping) string {
	p := a.Problem
	text := fmt.Sprintf("%s, %s: nothing is feasible as it is.", p.Drawer.Name, catalogue.StyleWords(&p.Style))
	if s.Before != nil {
		text = fmt.Sprintf("%s, %s: the best as it is scores %.1f, %s.", p.Drawer.Name, catalogue.StyleWords(&p.Style),
			s.Before.Evaluation.Score, catalogue.CombinationText(&s.Before.Combination))
	}
	text += fmt.Sprintf(" %s evaluated", catalogue.Plural(s.Evaluated, "candidate", "candidates"))
	switch {
	case s.Before == nil && len(s.Singles)+len(s.Pairs) == 0:
		return text + "."
	case s.Proven:
		return text + "; no purchase gains more than is shown."
	}
	return text + "; not all were looked at: " + catalogue.WhyText(s.Why) + "."
}

// purchaseSentences say what each purchase gains, for its price, and what it makes.
func purchaseSentences(before *predict.Result, list []search.Purchase) []string {
	lines := make([]string, len(list))
	for i := range list {
		b := &list[i]
		gains := catalogue.SignedFixed(b.Gain, 1) != "0"
		text := purchaseText(b) + ": nothing gained in this style"
		if gains {
			text = fmt.Sprintf("%s: +%.1f points, %.1f → %.1f, ahead in %s of 100", purchaseText(b), b.Gain, b.Before,
				b.After, catalogue.About(b.Best.AheadShare))
		}
		switch {
		case b.Price > 0 && gains:
			text += fmt.Sprintf("; %g %s, %.2f points per %s", b.Price, b.Currency, b.PerPrice,
				cmp.Or(b.Currency, "unit of price"))
		case b.Price > 0:
			text += strings.TrimRight(fmt.Sprintf("; %g %s", b.Price, b.Currency), " ")
		}
		if before != nil && gains {
			if deltas := catalogue.DeltasText(before, &b.Best, nil); deltas != "" {
				text += "; " + deltas
			}
		}
		text += "; makes " + catalogue.CombinationText(&b.Best.Combination)
		if len(b.Unblocks) > 0 {
			text += "; puts to use " + catalogue.Words(names(b.Unblocks))
		}
		lines[i] = text + "."
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
			words = append(words, fmt.Sprintf("%s %s (fitted out like %s)", o.Kind, o.ID, o.Outfit))
		default:
			words = append(words, fmt.Sprintf("%s %s", o.Kind, o.ID))
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
