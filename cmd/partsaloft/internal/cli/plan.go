package cli

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

func newPlan(s *commands) *cobra.Command {
	o := &answer.PlanOptions{}
	c := &cobra.Command{
		Use:   "plan STYLE...",
		Short: "Plan several crafts from one drawer without using a part twice",
		Long: `plan chooses a craft for each style named, all at once, so that no two take the same piece: first as
many crafts as can be met, then the best total of their scores, or with --aim worst the best score of
the worst. A style may be named twice. It says what a craft that cannot be built is short of, and
which parts are left.`,
		Example: `  partsaloft plan race cruise
  partsaloft plan freestyle freestyle indoor --share-packs --aim worst`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return exit.Usagef("name a style for each craft, such as: partsaloft plan race cruise")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return s.plan(c.Context(), args, o) },
	}
	c.Flags().StringVar(&o.Aim, "aim", answer.Aims[0], "what to make large: the `AIM` is "+strings.Join(answer.Aims,
		" or "))
	c.Flags().BoolVar(&o.SharePacks, "share-packs", false, "let several crafts fly the same pack in turn")
	_ = c.RegisterFlagCompletionFunc("aim", cobra.FixedCompletions(answer.Aims, cobra.ShellCompDirectiveNoFileComp))
	return s.Take(c, session.UsesSearch&^session.UsesStyle)
}

func (s *commands) plan(ctx context.Context, styles []string, o *answer.PlanOptions) error {
	o.Aim = strings.ToLower(o.Aim)
	if !slices.Contains(answer.Aims, o.Aim) {
		return exit.Usagef("--aim must be one of %s, got %q", strings.Join(answer.Aims, ", "), o.Aim)
	}
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	for _, name := range styles {
		style, err := s.LoadStyle(name)
		if err != nil {
			return err
		}
		o.Styles = append(o.Styles, style)
	}
	d, err := answer.MakePlan(ctx, ask, *o)
	if err != nil {
		return exit.Asked(err)
	}
	if d.Found.Interrupted && s.Options.Output == "" {
		ctx = context.WithoutCancel(ctx)
	}
	if err := s.Deliver(ctx, d, planSheet(d)); err != nil {
		return err
	}
	switch {
	case d.Found.Interrupted:
		return exit.ErrBestSoFar
	case len(d.Met) == 0:
		return exit.ErrNothing
	}
	return nil
}

func planSheet(d *answer.Plan) session.Sheet {
	var page render.Page
	page.Add(section("Dangers", d.Words.Dangers)...)
	if len(d.Met) > 0 {
		table := resultTable(d.Met, render.Left("style"), func(i int) string { return d.Crafts[i].Wish }, false)
		page.Add(table)
	}
	page.Add(render.Paragraph(d.Words.Scores), render.List(d.Words.Shared))
	page.Add(section("Short of", d.Words.Unmet)...)
	page.Add(section("Closest", d.Words.Misses)...)
	for _, c := range d.Words.Crafts {
		page.Add(render.Heading(c.Title), render.Paragraph(c.IDs), render.List(c.Notes))
	}
	page.Add(section("Parts left", d.Words.LeftOver)...)
	page.Add(section("Left out", d.Words.LeftOut)...)
	return session.Sheet{Page: page, Searched: d.Words.Searched}
}
