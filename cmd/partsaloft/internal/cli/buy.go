package cli

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

func newBuy(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "buy [FILE]",
		Short: "Say which one part more would help most",
		Long: `buy judges the parts in a FILE that one could buy, written like a drawer with an optional price and
currency beside each: which one, and which two together, raise the best score most, what each gains
for its price, and which parts that lie idle now it puts to use. Without a FILE it thinks up one step
from what is owned — a pitch step, a cell, 30 % more capacity — and says which kind of part would help.`,
		Example: `  partsaloft buy --style cruise
  partsaloft buy shop.yaml --drawer drawer.yaml`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return s.buy(c.Context(), args) },
	}
}

func (s *session) buy(ctx context.Context, args []string) error {
	p, err := s.problem()
	if err != nil {
		return err
	}
	var offer *inventory.Offer
	if len(args) == 1 {
		content, err := s.read(args[0])
		if err != nil {
			return err
		}
		if offer, err = inventory.ReadOffer(filepath.Base(args[0]), bytes.NewReader(content)); err != nil {
			return dataError{err}
		}
	}
	shopping, err := search.Buy(ctx, *p, offer, s.searchOptions())
	if err != nil {
		return err
	}
	var misses []search.Miss
	none := shopping.Before == nil && len(shopping.Singles)+len(shopping.Pairs) == 0
	if none {
		r, err := s.search(ctx, p)
		if err != nil {
			return err
		}
		misses = r.NearMisses
	}
	care := shoppingCare(p, shopping)
	if err := s.deliver(ctx, shoppingAnswer(s.head(p.Drawer.Name, p.Style.Name, care), p, shopping, misses, care)); err != nil {
		return err
	}
	if none {
		return errNothing
	}
	return nil
}

type buyDocument struct {
	answer.Head
	Search    answer.Search  `json:"search"`
	Evaluated int64          `json:"evaluated"`
	Proven    bool           `json:"proven"`
	Why       string         `json:"why"`
	Before    *answer.Result `json:"before"`
	Purchases []purchaseJSON `json:"purchases"`
	// Where nothing is feasible with any purchase, Results is empty and NearMisses come nearest; else
	// both are left out.
	Results    *[]answer.Result  `json:"results,omitempty"`
	NearMisses []answer.NearMiss `json:"near_misses,omitempty"`
}

type purchaseJSON struct {
	Parts    []offeredJSON `json:"parts"`
	Gain     float64       `json:"gain"`
	Before   float64       `json:"before"`
	After    float64       `json:"after"`
	Price    *float64      `json:"price"`
	Currency string        `json:"currency,omitempty"`
	PerPrice *float64      `json:"gain_per_price"`
	Unblocks []string      `json:"unblocks"`
	Result   answer.Result `json:"result"`
}

type offeredJSON struct {
	Kind     string `json:"kind"`
	ID       string `json:"id,omitempty"`
	Like     string `json:"like,omitempty"`
	Price    string `json:"price,omitempty"`
	Currency string `json:"currency,omitempty"`
}

func shoppingAnswer(head answer.Head, p *space.Problem, s *search.Shopping, misses []search.Miss, care answer.Care) reply {
	found := search.Ranking{Method: s.Method, Why: s.Why, Candidates: s.Candidates, Evaluated: s.Evaluated, Proven: s.Proven, Infeasible: s.Infeasible, SetAside: s.SetAside}
	document := buyDocument{Head: head, Search: searchOf(&found), Evaluated: s.Evaluated, Proven: s.Proven, Why: s.Why, Purchases: []purchaseJSON{}}
	if s.Before != nil {
		before := resultOf(s.Before, 0)
		document.Before = &before
	}
	rows := &render.Table{}
	for _, key := range []string{"parts", "gain", "before", "after", "price", "currency", "gain_per_price", "unblocks", "motor", "prop", "pack", "frame", "board", "extras"} {
		rows.Columns = append(rows.Columns, render.Left(key))
	}
	for _, list := range [][]search.Purchase{s.Singles, s.Pairs} {
		for i := range list {
			one := purchaseOf(&list[i])
			document.Purchases = append(document.Purchases, one)
			rows.Rows = append(rows.Rows, purchaseRow(&list[i], &one))
		}
	}
	if s.Before == nil && len(document.Purchases) == 0 {
		document.Results = &[]answer.Result{}
	}
	for i := range misses {
		document.NearMisses = append(document.NearMisses, missOf(&misses[i]))
	}
	return reply{document, rows, buyPage(p, s, misses), care}
}

func purchaseOf(b *search.Purchase) purchaseJSON {
	d := purchaseJSON{Gain: hundredths(b.Gain), Before: hundredths(b.Before), After: hundredths(b.After), Currency: b.Currency,
		Unblocks: append([]string{}, b.Unblocks...), Result: resultOf(&b.Best, 0)}
	for _, o := range b.Parts {
		one := offeredJSON{Kind: string(o.Kind), ID: o.ID, Like: o.Like, Price: o.Price.Price, Currency: o.Price.Currency}
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

func purchaseRow(b *search.Purchase, d *purchaseJSON) []string {
	price, per := "", ""
	if d.Price != nil {
		price, per = raw(*d.Price), raw(*d.PerPrice)
	}
	parts := d.Result.Parts
	return []string{purchaseText(b), raw(d.Gain), raw(d.Before), raw(d.After), price, d.Currency, per, strings.Join(d.Unblocks, "+"),
		parts.Motor, parts.Prop, parts.Pack, parts.Frame, parts.Board, strings.Join(parts.Extras, "+")}
}

// purchaseText names what is bought.
func purchaseText(b *search.Purchase) string {
	var words []string
	for _, o := range b.Parts {
		switch {
		case o.Like != "":
			words = append(words, o.Like)
		case o.Outfit != "":
			words = append(words, fmt.Sprintf("%s %s (fitted out like %s)", o.Kind, o.ID, o.Outfit))
		default:
			words = append(words, fmt.Sprintf("%s %s", o.Kind, o.ID))
		}
	}
	return strings.Join(words, " and ")
}

func buyPage(p *space.Problem, s *search.Shopping, misses []search.Miss) render.Page {
	text := fmt.Sprintf("%s, %s: nothing is feasible as it is.", p.Drawer.Name, styleWords(&p.Style))
	if s.Before != nil {
		text = fmt.Sprintf("%s, %s: the best as it is scores %.1f, %s.", p.Drawer.Name, styleWords(&p.Style), s.Before.Evaluation.Score, combinationText(&s.Before.Combination))
	}
	text += fmt.Sprintf(" %s evaluated", plural(s.Evaluated, "candidate", "candidates"))
	switch {
	case s.Before == nil && len(s.Singles)+len(s.Pairs) == 0:
		text += "."
	case s.Proven:
		text += "; no purchase gains more than is shown."
	default:
		text += "; not all were looked at: " + s.Why + "."
	}
	page := render.Page{render.Paragraph(text)}
	if len(s.Singles)+len(s.Pairs) == 0 {
		none := "No purchase would raise the score or put an idle part to use."
		if s.Before == nil {
			none = "No single purchase and no pair makes anything feasible."
		}
		page.Add(render.Paragraph(none))
		if kinds := lacking(p.Drawer); len(kinds) > 0 {
			page.Add(render.Paragraph(fmt.Sprintf("%s holds no %s.", p.Drawer.Name, wordList(kinds))))
		}
		if len(misses) > 0 {
			page.Add(render.Heading("Nearest misses"), missList(misses))
		}
		page.Add(setAsideBlocks(s.SetAside)...)
		return page
	}
	page.Add(purchases("One part", s.Before, s.Singles)...)
	page.Add(purchases("Two together", s.Before, s.Pairs)...)
	if s.Before != nil && !slices.ContainsFunc(slices.Concat(s.Singles, s.Pairs), func(b search.Purchase) bool { return b.Best.AheadShare >= likelyShare }) {
		page.Add(render.Paragraph("None of these is likely ahead of what you own: before buying, measure what you have."))
	}
	page.Add(setAsideBlocks(s.SetAside)...)
	best := s.Singles
	if len(best) == 0 {
		best = s.Pairs
	}
	page.Add(ownNotes(&best[0].Best.Combination))
	return page
}

func purchases(title string, before *predict.Result, list []search.Purchase) []render.Block {
	if len(list) == 0 {
		return nil
	}
	lines := make(render.List, len(list))
	for i := range list {
		b := &list[i]
		gains := catalogue.SignedFixed(b.Gain, 1) != "0"
		text := purchaseText(b) + ": nothing gained in this style"
		if gains {
			text = fmt.Sprintf("%s: +%.1f points, %.1f → %.1f, ahead in %s of the draws", purchaseText(b), b.Gain, b.Before, b.After, pct(b.Best.AheadShare))
		}
		switch {
		case b.Price > 0 && gains:
			text += fmt.Sprintf("; %g %s, %.2f points per %s", b.Price, b.Currency, b.PerPrice, cmp.Or(b.Currency, "unit of price"))
		case b.Price > 0:
			text += strings.TrimRight(fmt.Sprintf("; %g %s", b.Price, b.Currency), " ")
		}
		if before != nil && gains {
			if deltas := deltasText(before, &b.Best, nil); deltas != "" {
				text += "; " + deltas
			}
		}
		text += "; makes " + combinationText(&b.Best.Combination)
		if len(b.Unblocks) > 0 {
			text += "; puts to use " + wordList(b.Unblocks)
		}
		lines[i] = text + "."
	}
	return []render.Block{render.Heading(title), lines}
}

// shoppingCare is what to mind with what a purchase makes; before it is bought, with what is owned.
func shoppingCare(p *space.Problem, s *search.Shopping) answer.Care {
	scene := answer.Scene{Drawer: p.Drawer, Styles: []objective.Style{p.Style}}
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
	return answer.CareOf(&scene)
}
