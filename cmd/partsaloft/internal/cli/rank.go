package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

type rankOptions struct {
	spread bool
	novel  float64
}

func newRank(s *session) *cobra.Command {
	o := &rankOptions{}
	c := &cobra.Command{
		Use:   "rank",
		Short: "Rank what can be put together from the drawer",
		Long: `rank computes what every combination of the drawer's parts would do in the air, ranks the feasible
ones for a style and says what the best one gives up. Without --drawer it ranks the embedded example.
When nothing is feasible it counts the reasons, shows the nearest misses and exits with 4.`,
		Example: `  partsaloft rank
  partsaloft rank --drawer drawer.yaml --style race --limit all_up_g=..250
  partsaloft rank --weights grip=2,endurance=1 --format json
  partsaloft rank --spread --novel 0.3`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error { return s.rank(c.Context(), o) },
	}
	c.Flags().BoolVar(&o.spread, "spread", false, "show combinations that differ in kind: no two share two of motor, prop and pack")
	c.Flags().Float64Var(&o.novel, "novel", 0, "prefer what is unlike the crafts that fly already, by a `WEIGHT` from 0 to 1")
	return c
}

func (s *session) rank(ctx context.Context, o *rankOptions) error {
	if !inside(o.novel, 0, 1) {
		return usagef("--novel must be from 0 to 1, got %g", o.novel)
	}
	p, err := s.problem()
	if err != nil {
		return err
	}
	if o.novel > 0 && len(p.Drawer.Fleet) == 0 {
		return usagef("--novel compares with the crafts that fly already: list them under fleet in %s", p.Drawer.Name)
	}
	seek := s.searchOptions()
	seek.Spread, seek.Novel = o.spread, o.novel
	r, err := s.searchWith(ctx, p, seek)
	if err != nil {
		return err
	}
	show, cut := ctx, error(nil)
	if r.Interrupted && len(r.Best) > 0 && s.options.output == "" {
		show, cut = context.WithoutCancel(ctx), errBestSoFar
	}
	a, err := s.withMoves(show, rankAnswer(s.head(p.Drawer.Name, p.Style.Name, answer.Care{}), p, r, s.settle(show, p, r)), p, r)
	if err != nil {
		return err
	}
	if err := s.deliver(show, a); err != nil {
		return err
	}
	if cut != nil {
		return cut
	}
	if len(r.Best) == 0 {
		return errNothing
	}
	return nil
}

// rankScene is what a ranking speaks of.
func rankScene(p *space.Problem, r *search.Ranking, settle []answer.Settle) *answer.Scene {
	scene := &answer.Scene{Drawer: p.Drawer, Styles: []objective.Style{p.Style}}
	for i := range r.Best {
		scene.Listed = append(scene.Listed, &r.Best[i])
	}
	if len(r.Best) > 0 {
		scene.Crafts = scene.Listed[:1]
	}
	scene.Stand = slices.ContainsFunc(settle, func(s answer.Settle) bool { return s.OnStand })
	return scene
}

func rankAnswer(head answer.Head, p *space.Problem, r *search.Ranking, settle []answer.Settle) reply {
	care := answer.CareOf(rankScene(p, r, settle))
	head.Care = care.All()
	document := answer.Ranking{Head: head, Search: searchOf(r), Results: []answer.Result{}, NearMisses: []answer.NearMiss{}, Front: frontOf(r), Settle: settle}
	for i := range r.Best {
		document.Results = append(document.Results, resultOf(&r.Best[i], i+1))
	}
	for i := range r.NearMisses {
		document.NearMisses = append(document.NearMisses, missOf(&r.NearMisses[i]))
	}
	page := render.Page{render.Paragraph(searchedSentence(p, r))}
	if len(r.Best) == 0 {
		page.Add(nothingFeasible(r)...)
		return reply{document, resultRows(r.Best), page, care}
	}
	page.Add(rankTable(r.Best), render.Paragraph(twinsSentence(r.Best)))
	if unlike := unlikeList(r.Best); len(unlike) > 0 {
		page.Add(render.Paragraph("Against what flies already:"), unlike)
	}
	page.Add(bestSummary(p, r, settle)...)
	page.Add(setAsideBlocks(r.SetAside)...)
	return reply{document, resultRows(r.Best), page, care}
}

func frontOf(r *search.Ranking) answer.Front {
	f := answer.Front{Size: len(r.FrontAxes), Proven: r.FrontProven, Members: []answer.FrontMember{}}
	for i := range r.Front {
		x := &r.Front[i]
		f.Members = append(f.Members, answer.FrontMember{Score: hundredths(x.Evaluation.Score), Axes: axesFields(&x.Evaluation.Axes), Parts: partsOf(x)})
	}
	return f
}

func searchOf(r *search.Ranking) answer.Search {
	d := answer.Search{Method: r.Method, Why: r.Why, Candidates: r.Candidates, Evaluated: r.Evaluated, Skipped: r.Skipped,
		Proven: r.Proven, Gap: catalogue.Round(r.Gap), Infeasible: answer.Fields{}, Notes: append(setAsideTexts(r.SetAside), r.Notes...)}
	for _, reason := range r.Infeasible {
		d.Infeasible = append(d.Infeasible, answer.Field{Key: reason.Reason, Value: reason.Count})
	}
	return d
}

// setAsideTexts say which parts a search left out, and why.
func setAsideTexts(list []space.SetAside) []string {
	texts := make([]string, len(list))
	for i, a := range list {
		what := fmt.Sprintf("%s %s", a.Kind, a.ID)
		if a.Like != "" {
			what = a.Like
		}
		texts[i] = fmt.Sprintf("left out: %s: %s", what, strings.ReplaceAll(catalogue.Error(a.Err), "\n", "; "))
	}
	return texts
}

// setAsideBlocks say the same on a page.
func setAsideBlocks(list []space.SetAside) []render.Block {
	if len(list) == 0 {
		return nil
	}
	return []render.Block{render.Heading("Left out"), render.List(sentences(setAsideTexts(list)))}
}

func missOf(m *search.Miss) answer.NearMiss {
	d := answer.NearMiss{Score: hundredths(m.Evaluation.Score), Axes: axesFields(&m.Evaluation.Axes), Parts: partsOf(&m.Result),
		Figures: figuresOf(&m.Result), BrokenLimits: brokenOf(m.Violations), Misfits: m.Misfits, Notes: notesOf(&m.Result), Mend: m.Mend}
	if d.Misfits == nil {
		d.Misfits = []string{}
	}
	if d.Mend == nil {
		d.Mend = []string{}
	}
	return d
}

// fewestPlaces is the length of a list from which on its twins are worth a word.
const fewestPlaces = 5

// twinsSentence says that a list holds few sets of motor, prop and pack, "" if it holds many.
func twinsSentence(results []predict.Result) string {
	sets := map[[3]string]bool{}
	for i := range results {
		p := results[i].Combination.Parts()
		sets[[3]string{p.Motor, p.Prop, p.Pack}] = true
	}
	if len(results) < fewestPlaces || 2*len(sets) > len(results) {
		return ""
	}
	what := plural(int64(len(sets)), "set of motor, prop and pack fills", "sets of motor, prop and pack fill")
	return fmt.Sprintf("%s the %d places; --spread lists combinations that differ in kind.", what, len(results))
}

// unlikeList says where each result differs most from the nearest craft that flies already, if that
// was asked for.
func unlikeList(results []predict.Result) render.List {
	var list render.List
	for i := range results {
		if text := results[i].UnlikeText; text != "" {
			list = append(list, fmt.Sprintf("rank %d: %s.", i+1, text))
		}
	}
	return list
}

// rankTable shows results with the figures that lead a choice, two lines a row.
func rankTable(results []predict.Result) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Right("#"), render.Left("motor prop\npack frame board"), render.Right("score\nahead")}}
	for a := range objective.AxisCount {
		t.Columns = append(t.Columns, render.Right(axisHead(a)))
	}
	t.Columns = append(t.Columns, render.Right("grams\nT/W"), render.Right("hover\n%"), render.Right("full A\n% pack"), render.Right("cap %\nby"))
	for i := range results {
		r := &results[i]
		row := []string{fmt.Sprint(i + 1), twoLines(&r.Combination), catalogue.Fixed(r.Evaluation.Score, 1)}
		if i+1 < len(results) {
			row[2] += "\n" + pct(r.AheadShare)
		}
		for a := range objective.AxisCount {
			lead := leading(r, a)
			row = append(row, catalogue.Fixed(r.Evaluation.Axes[a], 0)+"\n"+lead.number())
		}
		number := func(q figure.Quantity) string { f := shownOf(r, q); return f.number() }
		row = append(row, number(figure.AllUpMass)+"\n"+number(figure.ThrustToWeight), number(figure.HoverThrottle),
			number(figure.FullThrottleCurrent)+"\n"+number(figure.PackCurrentUse), capText(r))
		t.Rows = append(t.Rows, row)
	}
	return t
}

// axisHead is the head of an axis's column: its name over its leading figure's unit.
func axisHead(a objective.Axis) string {
	name := a.String()
	switch a {
	case objective.Grip:
		return name + "\nturn %"
	case objective.Endurance:
		name = "endur."
	case objective.Smoothness:
		name = "smooth"
	case objective.TopSpeed:
		name = "speed"
	}
	return name + "\n" + objective.LeadingFigure(a).Unit
}

func capText(r *predict.Result) string {
	f := shownOf(r, figure.ThrottleCap)
	if r.Performance.Cap == physics.NoLimit {
		return "none"
	}
	return f.number() + "\n" + brief[r.Performance.Cap]
}
