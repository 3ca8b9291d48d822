package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

type planOptions struct {
	aim        string
	sharePacks bool
}

var aims = []string{"total", "worst"}

func newPlan(s *session) *cobra.Command {
	o := &planOptions{}
	c := &cobra.Command{
		Use:   "plan STYLE...",
		Short: "Plan several crafts from one drawer without using a part twice",
		Long: `plan chooses a craft for each style named, all at once, so that no two take the same piece: first as
many crafts as can be met, then the best total of their scores, or with --aim worst the best score of
the worst. A style may be named twice. It says what a craft that cannot be met runs out of, and what
is left over.`,
		Example: `  partsaloft plan race cruise
  partsaloft plan freestyle freestyle indoor --share-packs --aim worst`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("name a style for each craft, such as: partsaloft plan race cruise")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error { return s.plan(c.Context(), args, o) },
	}
	c.Flags().StringVar(&o.aim, "aim", aims[0], "what to make large: the `AIM` is "+strings.Join(aims, " or "))
	c.Flags().BoolVar(&o.sharePacks, "share-packs", false, "let several crafts fly the same pack in turn")
	_ = c.RegisterFlagCompletionFunc("aim", cobra.FixedCompletions(aims, cobra.ShellCompDirectiveNoFileComp))
	return c
}

func (s *session) plan(ctx context.Context, styles []string, o *planOptions) error {
	if !slices.Contains(aims, o.aim) {
		return usagef("--aim must be one of %s, got %q", strings.Join(aims, ", "), o.aim)
	}
	base, err := s.problem()
	if err != nil {
		return err
	}
	problem := search.PlanProblem{Drawer: base.Drawer, Air: base.Air, SharePacks: o.sharePacks}
	if o.aim == aims[1] {
		problem.Aim = search.BestWorst
	}
	named := map[string]int{}
	for _, name := range styles {
		style, err := s.loadStyle(name)
		if err != nil {
			return err
		}
		wish := search.Wish{Name: style.Name, Style: style, With: s.options.with}
		if named[style.Name]++; named[style.Name] > 1 {
			wish.Name = fmt.Sprintf("%s %d", style.Name, named[style.Name])
		}
		problem.Wishes = append(problem.Wishes, wish)
	}
	plan, err := s.makePlan(ctx, &problem)
	if err != nil {
		return err
	}
	show := ctx
	if plan.Interrupted && s.options.output == "" {
		show = context.WithoutCancel(ctx)
	}
	var misses []search.Miss
	none := !slices.ContainsFunc(plan.Crafts, func(c search.PlannedCraft) bool { return c.Result != nil })
	if none && !plan.Interrupted {
		if misses, err = s.planMisses(ctx, &problem); err != nil {
			return err
		}
	}
	var wishes []string
	for i := range problem.Wishes {
		wishes = append(wishes, problem.Wishes[i].Style.Name)
	}
	care := planCare(base.Drawer, plan)
	if err := s.deliver(show, planAnswer(s.head(base.Drawer.Name, strings.Join(wishes, ", "), care), plan, misses, care)); err != nil {
		return err
	}
	switch {
	case plan.Interrupted:
		return errBestSoFar
	case none:
		return errNothing
	}
	return nil
}

// makePlan plans the wishes; a drawer that lacks a kind of part meets none.
func (s *session) makePlan(ctx context.Context, p *search.PlanProblem) (*search.Plan, error) {
	kinds := lacking(p.Drawer)
	if len(kinds) == 0 {
		return search.MakePlan(ctx, *p, s.searchOptions())
	}
	plan := &search.Plan{Method: string(search.Exact), Proven: true, Why: "a kind of part is missing"}
	for _, w := range p.Wishes {
		plan.Crafts = append(plan.Crafts, search.PlannedCraft{Wish: w, RunsOut: []string{fmt.Sprintf("the drawer holds no %s", wordList(kinds))}})
	}
	return plan, nil
}

// planMisses are what comes nearest to each style where none can be met.
func (s *session) planMisses(ctx context.Context, p *search.PlanProblem) ([]search.Miss, error) {
	var misses []search.Miss
	styles := map[string]bool{}
	for _, w := range p.Wishes {
		if styles[w.Style.Name] {
			continue
		}
		styles[w.Style.Name] = true
		r, err := s.search(ctx, &space.Problem{Drawer: p.Drawer, Air: p.Air, Style: w.Style, With: w.With})
		if err != nil {
			return nil, err
		}
		misses = append(misses, r.NearMisses...)
	}
	return misses, ctx.Err()
}

type planDocument struct {
	answer.Head
	Search   answer.Search  `json:"search"`
	Proven   bool           `json:"proven"`
	Why      string         `json:"why"`
	Total    float64        `json:"total"`
	Worst    float64        `json:"worst"`
	Crafts   []craftJSON    `json:"crafts"`
	Unmet    []unmetJSON    `json:"unmet"`
	LeftOver []leftOverJSON `json:"left_over"`
	// Where no wish is met, Results is empty and NearMisses come nearest; else both are left out.
	Results    *[]answer.Result  `json:"results,omitempty"`
	NearMisses []answer.NearMiss `json:"near_misses,omitempty"`
}

type craftJSON struct {
	Wish string `json:"wish"`
	answer.Result
}

type unmetJSON struct {
	Wish    string   `json:"wish"`
	RunsOut []string `json:"runs_out"`
}

// leftOverJSON is what remains of a kind of part; pieces are null where the drawer gives no count.
type leftOverJSON struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	Pieces *int   `json:"pieces"`
}

func planAnswer(head answer.Head, plan *search.Plan, misses []search.Miss, care answer.Care) reply {
	found := search.Ranking{Method: plan.Method, Why: plan.Why, Candidates: plan.Candidates, Evaluated: plan.Evaluated, Proven: plan.Proven, Infeasible: plan.Infeasible, SetAside: plan.SetAside}
	document := planDocument{Head: head, Search: searchOf(&found), Proven: plan.Proven, Why: plan.Why, Total: hundredths(plan.Total), Worst: hundredths(plan.Worst),
		Crafts: []craftJSON{}, Unmet: []unmetJSON{}, LeftOver: []leftOverJSON{}}
	rows := resultHead()
	rows.Columns = append([]render.Column{render.Left("wish")}, rows.Columns...)
	var met []predict.Result
	var names []string
	var unmet render.List
	for i := range plan.Crafts {
		c := &plan.Crafts[i]
		if c.Result == nil {
			document.Unmet = append(document.Unmet, unmetJSON{c.Wish.Name, append([]string{}, c.RunsOut...)})
			unmet = append(unmet, fmt.Sprintf("%s: %s.", c.Wish.Name, strings.TrimRight(joined(c.RunsOut), ".")))
			continue
		}
		document.Crafts = append(document.Crafts, craftJSON{c.Wish.Name, resultOf(c.Result, 0)})
		rows.Rows = append(rows.Rows, append([]string{c.Wish.Name}, resultRow(c.Result, 0)...))
		met, names = append(met, *c.Result), append(names, c.Wish.Name)
	}
	for _, l := range plan.LeftOver {
		one := leftOverJSON{Kind: string(l.Kind), ID: l.ID}
		if !l.Uncounted {
			one.Pieces = &l.Pieces
		}
		document.LeftOver = append(document.LeftOver, one)
	}
	if len(met) == 0 {
		document.Results = &[]answer.Result{}
	}
	for i := range misses {
		document.NearMisses = append(document.NearMisses, missOf(&misses[i]))
	}
	return reply{document, rows, planPage(plan, met, names, unmet, misses), care}
}

func planPage(plan *search.Plan, met []predict.Result, names []string, unmet render.List, misses []search.Miss) render.Page {
	text := fmt.Sprintf("%d of %s can be met at once, with scores of %.1f in total, the lowest %.1f.",
		len(met), plural(int64(len(plan.Crafts)), "craft", "crafts"), plan.Total, plan.Worst)
	if len(met) == 0 {
		text = "None of the crafts can be met."
	}
	switch {
	case len(met) == 0 && plan.Proven:
	case plan.Proven:
		text += " No other choice is better."
	default:
		text += " Not proven the best: " + plan.Why + "."
	}
	page := render.Page{render.Paragraph(text)}
	if len(met) > 0 {
		table := rankTable(met)
		table.Columns[2].Head = "score"
		for i := range table.Rows {
			score, _, _ := strings.Cut(table.Rows[i][2], "\n")
			table.Rows[i][0], table.Rows[i][2] = names[i], score
		}
		table.Columns[0] = render.Left("style")
		page.Add(table)
	}
	if len(unmet) > 0 {
		page.Add(render.Heading("What runs out"), unmet)
	}
	if len(misses) > 0 {
		page.Add(render.Heading("Nearest misses"), missList(misses))
	}
	for i := range met {
		page.Add(render.Heading(names[i]+": "+combinationText(&met[i].Combination)), render.Paragraph(expectSentence(&met[i])+" "+bindsSentence(&met[i])), ownNotes(&met[i].Combination))
	}
	if left := leftOverList(plan.LeftOver); len(left) > 0 {
		page.Add(render.Heading("Left over"), left)
	}
	page.Add(setAsideBlocks(plan.SetAside)...)
	return page
}

// leftOverList has one line a kind of part.
func leftOverList(left []space.LeftOver) render.List {
	var list render.List
	for _, kind := range []inventory.Kind{inventory.KindMotor, inventory.KindProp, inventory.KindPack, inventory.KindFrame, inventory.KindBoard, inventory.KindExtra} {
		var parts []string
		for _, l := range left {
			switch {
			case l.Kind != kind:
			case l.Uncounted:
				parts = append(parts, l.ID+" (not counted)")
			case l.Pieces > 1:
				parts = append(parts, fmt.Sprintf("%s ×%d", l.ID, l.Pieces))
			default:
				parts = append(parts, l.ID)
			}
		}
		if len(parts) > 0 {
			list = append(list, fmt.Sprintf("%ss: %s.", kind, strings.Join(parts, ", ")))
		}
	}
	return list
}

// planCare is what to mind with the crafts of a plan.
func planCare(d *inventory.Drawer, plan *search.Plan) answer.Care {
	scene := answer.Scene{Drawer: d}
	for i := range plan.Crafts {
		c := &plan.Crafts[i]
		scene.Styles = append(scene.Styles, c.Wish.Style)
		if c.Result != nil {
			scene.Crafts = append(scene.Crafts, c.Result)
		}
	}
	return answer.CareOf(&scene)
}
