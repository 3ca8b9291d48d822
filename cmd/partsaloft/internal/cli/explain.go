package cli

import (
	"context"
	"strconv"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

type explainOptions struct {
	pick   string
	packs  bool
	classG float64
	plot   string
}

func newExplain(s *session) *cobra.Command {
	o := &explainOptions{}
	c := &cobra.Command{
		Use:   "explain [RANK]",
		Short: "Explain one combination in depth",
		Long: `explain takes one combination apart: its figures with their doubt, what each axis adds to its score,
what binds it, what it gives up, the best swap of one part for each axis, and what to read on its
first flight. It is named by its rank (1 if nothing is said) or by --pick.`,
		Example: `  partsaloft explain 2 --style race
  partsaloft explain --pick motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24 --packs`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			rank, err := rankArgument(args, o.pick)
			if err != nil {
				return err
			}
			if c.Flags().Changed("class-g") && !inside(o.classG, 10, 25000) {
				return usagef("--class-g must be from 10 to 25000, got %g", o.classG)
			}
			if err := s.willPlot(o.plot); err != nil {
				return err
			}
			return s.explain(c.Context(), rank, o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.pick, "pick", "", "combination by its `PARTS`: "+pickForm)
	f.BoolVar(&o.packs, "packs", false, "show what every owned pack does on it")
	f.Float64Var(&o.classG, "class-g", 0, "weight class in `GRAMS`: what is left to it, or which swap gets there")
	f.StringVar(&o.plot, "plot", "", "draw its curves into a `FILE` that ends in .svg or .png")
	return c
}

// rankArgument is the rank that a command line names: 1 if none, 0 if --pick names the combination.
func rankArgument(args []string, pick string) (int, error) {
	switch {
	case pick != "" && len(args) > 0:
		return 0, usagef("name the combination by its rank or by --pick, not both")
	case pick != "":
		return 0, nil
	case len(args) == 0:
		return 1, nil
	}
	rank, err := strconv.Atoi(args[0])
	if err != nil || rank < 1 || rank > mostTop {
		return 0, usagef("%q is no rank: write a whole number from 1 to %d", args[0], mostTop)
	}
	return rank, nil
}

// subject is the combination in question among the best of its drawer.
type subject struct {
	problem *space.Problem
	ranking *search.Ranking
	result  *predict.Result
	rank    int             // 0 if it is not among the listed
	best    *predict.Result // of the drawer; nil if nothing is feasible
	rival   *predict.Result // the one that it is held against: the best, or the second for the best
}

// subject finds the combination that a rank or --pick names, among the best of its drawer. A nil
// result means that nothing is feasible.
func (s *session) subject(ctx context.Context, rank int, pick string) (*subject, error) {
	p, err := s.problem()
	if err != nil {
		return nil, err
	}
	var c inventory.Combination
	if rank == 0 {
		if c, err = picked(p.Drawer, pick); err != nil {
			return nil, err
		}
	}
	o := s.searchOptions()
	o.Top = max(o.Top, rank)
	// Far down the list only the one in question is drawn.
	far := rank > defaultTop
	if far {
		o.Draws = 1
	}
	r, err := s.searchWith(ctx, p, o)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sub := &subject{problem: p, ranking: r}
	switch {
	case rank > 0 && len(r.Best) == 0:
		return sub, nil
	case rank > len(r.Best):
		return nil, usagef("rank %d is not there: %s feasible", rank, plural(int64(len(r.Best)), "combination is", "combinations are"))
	case rank > 0:
		sub.rank, c = rank, r.Best[rank-1].Combination
	default:
		for i := range r.Best {
			if r.Best[i].Combination.Key() == c.Key() {
				sub.rank = i + 1
			}
		}
	}
	if sub.rank > 0 && !far {
		sub.result = &r.Best[sub.rank-1]
	} else if err := sub.assess(ctx, c, s.searchOptions().Sampling()); err != nil {
		return nil, err
	}
	if len(r.Best) > 0 {
		sub.best, sub.rival = &r.Best[0], &r.Best[0]
	}
	if sub.rank == 1 {
		sub.rival = nil
		if len(r.Best) > 1 {
			sub.rival = &r.Best[1]
		}
	}
	return sub, nil
}

// assess works the combination in question out, with the best on the same draws.
func (sub *subject) assess(ctx context.Context, c inventory.Combination, o predict.Sampling) error {
	list := []inventory.Combination{c}
	if len(sub.ranking.Best) > 0 {
		list = append(list, sub.ranking.Best[0].Combination)
	}
	results, err := predict.Assess(ctx, *sub.problem, list, o)
	if err != nil {
		return err
	}
	sub.result = &results[0]
	if len(results) > 1 {
		sub.ranking.Best[0] = results[1]
	}
	return nil
}

func (s *session) explain(ctx context.Context, rank int, o *explainOptions) error {
	sub, err := s.subject(ctx, rank, o.pick)
	if err != nil {
		return err
	}
	if sub.result == nil || len(sub.result.Misfits) > 0 {
		return s.deliverNothing(ctx, sub)
	}
	e := explanation{subject: sub, classG: o.classG}
	if err := e.gather(ctx, s.searchOptions().Sampling(), o); err != nil {
		return err
	}
	if o.plot != "" {
		if err := s.plot(ctx, &e, o.plot); err != nil {
			return err
		}
	}
	care := answer.CareOf(&answer.Scene{Drawer: sub.problem.Drawer, Styles: []objective.Style{sub.problem.Style}, Crafts: []*predict.Result{sub.result}, Feel: true})
	return s.deliver(ctx, e.answer(s.head(sub.problem.Drawer.Name, sub.problem.Style.Name, care), care))
}

// gather asks for all that is said of the combination beside its own figures.
func (e *explanation) gather(ctx context.Context, so predict.Sampling, o *explainOptions) (err error) {
	p, c := *e.problem, e.result.Combination
	if e.swaps, err = search.Swaps(ctx, p, c, so); err != nil {
		return err
	}
	e.readings = predict.FirstFlight(ctx, &p.Style, e.result, so)
	if o.packs {
		if e.packs, err = search.Packs(ctx, p, c, so); err != nil {
			return err
		}
	}
	if e.classG > 0 {
		if e.lighter, err = search.Lighter(ctx, p, c, figure.Of(figure.AllUpMass).ToSI(e.classG), so); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// deliverNothing answers for a combination that cannot be built, or a drawer with nothing feasible.
func (s *session) deliverNothing(ctx context.Context, sub *subject) error {
	r := *sub.ranking
	head := s.head(sub.problem.Drawer.Name, sub.problem.Style.Name, answer.CareOf(rankScene(sub.problem, &r, nil)))
	if sub.result != nil {
		r.Best, r.NearMisses = nil, []search.Miss{{Result: *sub.result}}
	}
	a := rankAnswer(head, sub.problem, &r, []answer.Settle{})
	if sub.result != nil {
		a.page = render.Page{render.Heading(combinationText(&sub.result.Combination)), render.Paragraph("This is not to be built or flown as it is:"),
			render.List(sentences(sub.result.Misfits))}
	}
	if err := s.deliver(ctx, a); err != nil {
		return err
	}
	return errNothing
}

// explanation is all that is said of one combination.
type explanation struct {
	*subject
	swaps    []search.Swap
	readings []predict.Reading
	packs    []search.PackChoice
	classG   float64
	lighter  []search.Swap
}

// explained is the JSON of one explained result.
type explained struct {
	answer.Result
	Reasons      []reasonJSON      `json:"reasons"`
	GivesUp      []givesUpJSON     `json:"gives_up"`
	Alternatives []alternativeJSON `json:"alternatives"`
	FirstFlight  []readingJSON     `json:"first_flight"`
	Binds        string            `json:"binds"`
	Care         []string          `json:"care"`
	Assumed      []string          `json:"assumed"`
	Packs        []packJSON        `json:"packs,omitempty"`
	Class        *classJSON        `json:"class,omitempty"`
}

type explainDocument struct {
	answer.Head
	Search  answer.Search `json:"search"`
	Results []explained   `json:"results"`
}

func (e *explanation) answer(head answer.Head, care answer.Care) reply {
	r := e.result
	one := explained{
		Result: resultOf(r, e.rank), Reasons: e.reasons(), GivesUp: e.givesUp(), Alternatives: e.alternatives(),
		FirstFlight: e.firstFlight(), Binds: bindsSentence(r), Care: care.All(), Assumed: append([]string{}, r.Combination.Assumed()...), Packs: e.packDocuments(), Class: e.class(),
	}
	rows := resultHead()
	rows.Rows = append(rows.Rows, resultRow(r, e.rank))
	return reply{explainDocument{head, searchOf(e.ranking), []explained{one}}, rows, e.page(&one), care}
}
