package answer

import (
	"context"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
)

// RankOptions say how a ranking is made.
type RankOptions struct {
	Spread bool    // combinations that differ in kind
	Novel  float64 // weight of being unlike what flies already, from 0 to 1
	// Bare is the drawer without what was learned, to say what that moved; nil if nothing was learned.
	Bare *inventory.Drawer
	// Partial lets a search that was cut short answer with the best that it has found.
	Partial bool
}

// RankWords are the sentences of a ranking.
type RankWords struct {
	Searched   string   // what was searched, and how sure the list is to hold the best
	Dangers    []string // what may burn or fall of the advised one, to be read before it is praised
	Others     []string // the same of the others that are listed
	Variants   string   // how many more builds stand behind the rows
	Scale      string   // what 100 would be, and what the drawer reaches
	Unlike     []string // where each result differs most from what flies already
	IDs        string   // the parts of the advised one by id
	Sure       string   // how sure it is that the first is the better one, and what reading would tell
	Why        string   // why the first leads, "" if it is alone
	RuledOut   string   // how many candidates were ruled out by what
	InsteadGap string   // how much more of one there may be; empty where nothing is left out
	Instead    []string // for each axis what has most of it
	Notes      []string // on the advised one
	LeftOut    []string // parts that the search set aside
	Fallen     []Field  // where nothing is feasible: how many candidates fell to what
	Misses     []string // and what comes nearest
	Drawer     []string // on the whole drawer
	Odd        []string // why the combination in question is not to be built
}

// Rank ranks what can be built from a drawer. Where nothing is feasible the document has no results, but what
// comes nearest. A search that is cut short is an error, unless Partial is set and something was found.
func Rank(ctx context.Context, a *Ask, o RankOptions) (*Ranking, error) {
	p := a.Problem
	if o.Novel > 0 && len(p.Drawer.Fleet) == 0 {
		return nil, askf("--novel compares with the crafts that fly already: list them under fleet in %s", p.Drawer.Name)
	}
	seek := a.Search
	seek.Spread, seek.Novel, seek.Variants = o.Spread, o.Novel, true
	job, of := progress.Of(ctx), seek.Sampling(p.Drawer)
	list, settle, again := job.Plan(progress.Searching, seek.Work(p.Drawer)), job.Plan(progress.Doubting, of.Work(2)),
		job.Plan(progress.Searching, 0)
	if o.Bare != nil {
		again.Expect(a.Search.Work(p.Drawer))
	}
	r, err := search.Search(list.In(ctx), *p, seek)
	if err != nil {
		return nil, err
	}
	list.End()
	if o.Partial && r.Interrupted && len(r.Best) > 0 {
		ctx = context.WithoutCancel(ctx)
	}
	d := a.ranking(r, a.worth(settle.In(ctx), r))
	settle.End()
	if o.Bare != nil && !r.Interrupted {
		d.Moves, err = a.moved(again.In(ctx), o.Bare, r)
	}
	return d, err
}

// adviceOn is what to do with a build, what to expect of it in a style, and what limits its throttle.
func adviceOn(r *predict.Result, do, style string) []string {
	return []string{do, catalogue.ExpectSentence(r, style), catalogue.LimitSentence(r)}
}

// Advise says to build a result, what to expect of it in a style, and what limits its throttle.
func Advise(r *predict.Result, style string) []string {
	return adviceOn(r, catalogue.BuildSentence(r), style)
}

// ranking is the document of a search; worth are the measurements that would help to choose between its first two.
func (a *Ask) ranking(r *search.Ranking, worth []predict.Measurement) *Ranking {
	settle := settleOf(worth)
	d := &Ranking{Head: a.head(CareOf(a.rankScene(r, settle))), Search: searchOf(r), Results: []Result{},
		NearMisses: missesOf(r.NearMisses), Front: frontOf(r),
		Settle: settle, Found: r, Problem: a.Problem}
	for i := range r.Best {
		one := resultOf(&r.Best[i], i+1)
		one.Variants = variantsOf(&r.Best[i], &r.Groups[i])
		d.Results = append(d.Results, one)
	}
	d.Words = RankWords{Searched: catalogue.SearchedSentence(a.Problem, r),
		LeftOut: catalogue.Sentences(catalogue.SetAsideTexts(r.SetAside)), Drawer: drawerNotes(r)}
	if len(r.Best) == 0 {
		for _, reason := range r.Infeasible {
			if reason.Count > 0 {
				d.Words.Fallen = append(d.Words.Fallen, Field{catalogue.FallenTo(reason.Reason), reason.Count})
			}
		}
		d.Words.Misses = catalogue.MissList(r.NearMisses)
		d.Advice = []string{catalogue.NothingSentence(r)}
		return d
	}
	at := catalogue.Advised(r.Best)
	best := &r.Best[at]
	d.AdvisedRank, d.Words.IDs = at+1, catalogue.IDsSentence(&best.Combination)
	if style := &a.Problem.Style; at > 0 {
		d.Advice = append(adviceOn(best, catalogue.AdvisedSentence(r.Best, at), style.Name), catalogue.FirstSentence(r.Best, at))
		d.Words.Sure, d.Words.Why = catalogue.SureSentence(r, "rank 1"), catalogue.BehindSentence(style, r.Best, at)
	} else {
		d.Advice, d.Words.Sure = Advise(best, style.Name), catalogue.SureSentence(r, "it")
		if safer := catalogue.SaferSentence(r.Best); safer != "" {
			d.Advice = append(d.Advice, safer)
		}
		if len(r.Best) > 1 {
			d.Words.Why = catalogue.WhySentence(style, r.Best)
			if best.AheadShare < likelyShare {
				d.Words.Sure += " " + catalogue.DecideSentence(worth, best.AheadShare)
			}
		}
	}
	d.Words.RuledOut = catalogue.RuledOutSentence(r.Infeasible)
	d.Words.Dangers, d.Words.Others = catalogue.Sentences(catalogue.DangerTexts(best)), catalogue.DangerList(r.Best, at)
	d.Words.Variants, d.Words.Unlike = catalogue.VariantsSentence(r.Groups), unlikeList(r.Best)
	d.Words.Scale, d.AxesBest = catalogue.ScaleSentence(&a.Problem.Style, r), axesFields(&r.Most)
	d.Words.InsteadGap = catalogue.InsteadGapSentence(r)
	d.Words.Instead, d.Words.Notes = catalogue.InsteadSentences(r, at), catalogue.NoteList(best)
	return d
}

// Rows is the ranking as a table of plain values.
func (d *Ranking) Rows() *Rows { return rankRows(d.Found) }

// rankScene is what a ranking speaks of.
func (a *Ask) rankScene(r *search.Ranking, settle []Settle) *Scene {
	scene := &Scene{Drawer: a.Problem.Drawer, Styles: a.styles()}
	for i := range r.Best {
		scene.Listed = append(scene.Listed, &r.Best[i])
	}
	if len(r.Best) > 0 {
		at := catalogue.Advised(r.Best)
		scene.Crafts = scene.Listed[at : at+1]
	}
	scene.Stand = slices.ContainsFunc(settle, func(s Settle) bool { return s.Cheapest && s.onStand })
	return scene
}

// nothing is the answer of a question about combinations where nothing is feasible, or where the one in question
// is not to be built: then it is what comes nearest.
func (a *Ask) nothing(r *search.Ranking, odd *predict.Result) *Ranking {
	found := *r
	if odd == nil {
		return a.ranking(&found, nil)
	}
	care := CareOf(a.rankScene(r, nil))
	found.Best, found.NearMisses = nil, []search.NearMiss{{Result: *odd}}
	d := a.ranking(&found, nil)
	d.Advice, d.Words.IDs = []string{catalogue.OddSentence(&odd.Combination)}, catalogue.IDsSentence(&odd.Combination)
	d.Care, d.Odd, d.Words.Odd = care, odd, catalogue.Sentences(catalogue.MisfitTexts(odd))
	return d
}

func frontOf(r *search.Ranking) Front {
	f := Front{Size: len(r.FrontAxes), Proven: r.FrontProven, Gap: r.FrontGap, Members: []FrontMember{}}
	for i := range r.Front {
		x := &r.Front[i]
		f.Members = append(f.Members, FrontMember{Score: hundredths(x.Evaluation.Score), Axes: axesFields(&x.Evaluation.Axes),
			Parts: partsOf(&x.Combination)})
	}
	return f
}

func searchOf(r *search.Ranking) Search {
	d := Search{Method: r.Method, Why: catalogue.WhyText(r.Why), Candidates: r.Candidates, Evaluated: r.Evaluated,
		Skipped: r.Skipped,
		Proven:  r.Proven, Gap: catalogue.Round(r.Gap), Infeasible: Fields{},
		Notes: append(catalogue.SetAsideTexts(r.SetAside), drawerNotes(r)...)}
	for _, reason := range r.Infeasible {
		d.Infeasible = append(d.Infeasible, Field{Key: reason.Reason, Value: reason.Count})
	}
	return d
}

// drawerNotes are what holds for the whole drawer.
func drawerNotes(r *search.Ranking) []string {
	if len(r.Lacking) == 0 {
		return nil
	}
	return []string{catalogue.LackingText(r.Drawer, r.Lacking)}
}

func missesOf(misses []search.NearMiss) []NearMiss {
	list := []NearMiss{}
	for i := range misses {
		list = append(list, missOf(&misses[i]))
	}
	return list
}

func missOf(m *search.NearMiss) NearMiss {
	d := NearMiss{Score: hundredths(m.Evaluation.Score), Axes: axesFields(&m.Evaluation.Axes),
		Parts:   partsOf(&m.Combination),
		Figures: figuresOf(&m.Result), BrokenLimits: brokenOf(m.Violations), Misfits: catalogue.MisfitTexts(&m.Result),
		Notes: catalogue.NoteTexts(&m.Result), Mend: catalogue.RemedyTexts(m)}
	return d
}

// unlikeList says where each result differs most from the nearest craft that flies already, if that
// was asked for.
func unlikeList(results []predict.Result) []string {
	var list []string
	for i := range results {
		if n := results[i].Novelty; n != nil {
			list = append(list, catalogue.Say("rank.unlike", "rank", i+1, "what", catalogue.NoveltyText(n)))
		}
	}
	return list
}

// moved says where a ranking is another than with the drawer's own figures, by a second search with these.
func (a *Ask) moved(ctx context.Context, bare *inventory.Drawer, r *search.Ranking) ([]Move, error) {
	p, o := *a.Problem, a.Search
	p.Drawer = bare
	without, err := search.Search(ctx, p, o)
	if err != nil {
		return nil, err
	}
	moves := []Move{}
	was := make([]bool, len(without.Best)) // still in the list
	for i := range r.Best {
		c := &r.Best[i].Combination
		at := slices.IndexFunc(without.Best, func(x predict.Result) bool { return r.Groups[i].Holds(c, &x.Combination) })
		if at >= 0 {
			was[at] = true
		}
		if at == i {
			continue
		}
		m := Move{Rank: ptr(i + 1), Parts: partsOf(c)}
		m.Text = catalogue.Say("move.in", "build", catalogue.BareText(c), "rank", i+1)
		if at >= 0 {
			m.Before = ptr(at + 1)
			m.Text = catalogue.Say("move.from", "build", catalogue.BareText(c), "before", at+1, "rank", i+1)
		}
		moves = append(moves, m)
	}
	for i := range without.Best {
		if c := &without.Best[i].Combination; !was[i] {
			moves = append(moves, Move{Before: ptr(i + 1), Parts: partsOf(c),
				Text: catalogue.Say("move.out", "build", catalogue.BareText(c), "before", i+1)})
		}
	}
	return moves, nil
}

func ptr[T any](x T) *T { return &x }

// likelyShare is the share of draws from which on the first is likely ahead; under it the two are a
// toss-up.
const likelyShare = 0.7

// worth is what single measurements would bring to a toss-up between the first two.
func (a *Ask) worth(ctx context.Context, r *search.Ranking) []predict.Measurement {
	if len(r.Best) < 2 || r.Best[0].AheadShare >= likelyShare {
		return nil
	}
	return predict.ValueOfInformation(ctx, &a.Problem.Style, &r.Best[0], &r.Best[1], a.Search.Sampling(a.Problem.Drawer))
}

func settleOf(worth []predict.Measurement) []Settle {
	list := []Settle{}
	cheapest := predict.Cheapest(worth)
	for i := range worth {
		m := &worth[i]
		list = append(list, Settle{Measure: catalogue.MeasureWords(m), Part: string(m.Part), ID: m.ID,
			Right: catalogue.Round(m.Right), RightNow: catalogue.Round(m.RightNow), Cheapest: m == cheapest,
			onStand: m.Kind.OnStand()})
	}
	return list
}
