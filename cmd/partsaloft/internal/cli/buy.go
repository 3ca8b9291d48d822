package cli

import (
	"bytes"
	"context"
	"path/filepath"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
)

func newBuy(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "buy [FILE]",
		Short: "Say which one part more would help most",
		Long: `buy judges the parts in a FILE that you could buy, written like a drawer with an optional price and
currency beside each. It says first what to get, or not to buy and what to measure instead: which one
part, and which two together, raise the best score most, what each gains for its price, and which idle
parts it puts to use. Without a FILE it tries one step from each part you own: a pitch step, a cell,
30 % more capacity.`,
		Example: `  partsaloft buy --style cruise
  partsaloft buy shop.yaml --drawer drawer.yaml`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return s.buy(c.Context(), args) },
	}, session.UsesSearch|session.UsesTop)
}

func (s *commands) buy(ctx context.Context, args []string) error {
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	var offer *inventory.Offer
	if len(args) == 1 {
		content, err := s.Read(args[0])
		if err != nil {
			return err
		}
		if offer, err = inventory.ReadOffer(filepath.Base(args[0]), bytes.NewReader(content)); err != nil {
			return exit.Data(err)
		}
	}
	d, err := answer.Buy(ctx, ask, offer)
	if err != nil {
		return exit.Asked(err)
	}
	if err := s.Deliver(ctx, d, buySheet(d)); err != nil {
		return err
	}
	if d.Results != nil {
		return exit.ErrNothing
	}
	return nil
}

func buySheet(d *answer.Shopping) session.Sheet {
	var page render.Page
	page.Add(section("Dangers", d.Words.Dangers)...)
	page.Add(render.Paragraph(d.Words.IDs), render.Paragraph(d.Words.Before), render.Paragraph(d.Words.Lacking))
	page.Add(section("Closest", d.Words.Misses)...)
	page.Add(section("One part", d.Words.Singles)...)
	page.Add(section("Two together", d.Words.Pairs)...)
	page.Add(section("Left out", d.Words.LeftOut)...)
	page.Add(render.List(d.Words.Notes))
	return session.Sheet{Page: page, Searched: d.Words.Searched}
}
