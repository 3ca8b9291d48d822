package answer

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/predict"
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
	Searched string   // what was searched, and how sure the list is to hold the best
	Dangers  []string // what may burn or fall of each of the listed, to be read first
	Twins    string   // that the list holds few sets of motor, prop and pack
	Unlike   []string // where each result differs most from what flies already
	Best     string   // why the first leads, what to expect of it, what binds it
	Instead  []string // for each axis what has most of it
	Notes    []string // on the first
	LeftOut  []string // parts that the search set aside
	Fallen   []Field  // where nothing is feasible: how many candidates fell to what
	Misses   []string // and what comes nearest
	Drawer   []string // on the whole drawer
	Odd      []string // why the combination in question is not to be built
}

// Rank ranks what can be built from a drawer. Where nothing is feasible the document has no results, but what
// comes nearest. A search that is cut short is an error, unless Partial is set and something was found.
func Rank(ctx context.Context, a *Ask, o RankOptions) (*Ranking, error) {
	p := a.Problem
	if o.Novel > 0 && len(p.Drawer.Fleet) == 0 {
		return nil, askf("--novel compares with the crafts that fly already: list them under fleet in %s", p.Drawer.Name)
	}
	seek := a.Search
	seek.Spread, seek.Novel = o.Spread, o.Novel
	r, err := search.Search(ctx, *p, seek)
	if err != nil {
		return nil, err
	}
	if o.Partial && r.Interrupted && len(r.Best) > 0 {
		ctx = context.WithoutCancel(ctx)
	}
	d := a.ranking(r, a.settle(ctx, r))
	if o.Bare != nil && !r.Interrupted {
		d.Moves, err = a.moved(ctx, o.Bare, r)
	}
	return d, err
}

// ranking is the document of a search.
func (a *Ask) ranking(r *search.Ranking, settle []Settle) *Ranking {
	d := &Ranking{Head: a.head(CareOf(a.rankScene(r, settle))), Search: searchOf(r), Results: []Result{}, NearMisses: missesOf(r.NearMisses), Front: frontOf(r),
		Settle: settle, Found: r, Problem: a.Problem}
	for i := range r.Best {
		d.Results = append(d.Results, resultOf(&r.Best[i], i+1))
	}
	d.Words = RankWords{Searched: searchedSentence(a.Problem, r), LeftOut: sentences(setAsideTexts(r.SetAside)), Drawer: drawerNotes(r)}
	if len(r.Best) == 0 {
		for _, reason := range r.Infeasible {
			if reason.Count > 0 {
				d.Words.Fallen = append(d.Words.Fallen, Field{FallenTo(reason.Reason), reason.Count})
			}
		}
		d.Words.Misses = missList(r.NearMisses)
		return d
	}
	best := &r.Best[0]
	wins := ""
	if len(r.Best) == 1 {
		wins = loneSentence(r)
	} else if wins = winsSentence(&a.Problem.Style, r.Best); best.AheadShare < likelyShare {
		wins += " " + settleSentence(settle)
	}
	d.Words.Dangers = dangerList(r.Best)
	d.Words.Twins, d.Words.Unlike = twinsSentence(r.Best), unlikeList(r.Best)
	d.Words.Best = strings.Join([]string{wins, expectSentence(best), bindsSentence(best)}, " ")
	d.Words.Instead, d.Words.Notes = insteadSentences(r), noteList(best)
	return d
}

// Rows is the ranking as a table of plain values.
func (d *Ranking) Rows() *Rows { return resultRows(d.Found.Best) }

// rankScene is what a ranking speaks of.
func (a *Ask) rankScene(r *search.Ranking, settle []Settle) *Scene {
	scene := &Scene{Drawer: a.Problem.Drawer, Styles: a.styles()}
	for i := range r.Best {
		scene.Listed = append(scene.Listed, &r.Best[i])
	}
	if len(r.Best) > 0 {
		scene.Crafts = scene.Listed[:1]
	}
	scene.Stand = slices.ContainsFunc(settle, func(s Settle) bool { return s.onStand })
	return scene
}

// nothing is the answer of a question about combinations where nothing is feasible, or where the one in question
// is not to be built: then it is what comes nearest.
func (a *Ask) nothing(r *search.Ranking, odd *predict.Result) *Ranking {
	found := *r
	if odd == nil {
		return a.ranking(&found, []Settle{})
	}
	care := CareOf(a.rankScene(r, nil))
	found.Best, found.NearMisses = nil, []search.NearMiss{{Result: *odd}}
	d := a.ranking(&found, []Settle{})
	d.Care, d.Odd, d.Words.Odd = care, odd, sentences(misfitTexts(odd))
	return d
}

func frontOf(r *search.Ranking) Front {
	f := Front{Size: len(r.FrontAxes), Proven: r.FrontProven, Members: []FrontMember{}}
	for i := range r.Front {
		x := &r.Front[i]
		f.Members = append(f.Members, FrontMember{Score: hundredths(x.Evaluation.Score), Axes: axesFields(&x.Evaluation.Axes), Parts: partsOf(x)})
	}
	return f
}

func searchOf(r *search.Ranking) Search {
	d := Search{Method: r.Method, Why: whyText(r.Why), Candidates: r.Candidates, Evaluated: r.Evaluated, Skipped: r.Skipped,
		Proven: r.Proven, Gap: catalogue.Round(r.Gap), Infeasible: Fields{}, Notes: append(setAsideTexts(r.SetAside), drawerNotes(r)...)}
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
	return []string{lackingText(r.Drawer, r.Lacking)}
}

func missesOf(misses []search.NearMiss) []NearMiss {
	list := []NearMiss{}
	for i := range misses {
		list = append(list, missOf(&misses[i]))
	}
	return list
}

func missOf(m *search.NearMiss) NearMiss {
	d := NearMiss{Score: hundredths(m.Evaluation.Score), Axes: axesFields(&m.Evaluation.Axes), Parts: partsOf(&m.Result),
		Figures: figuresOf(&m.Result), BrokenLimits: brokenOf(m.Violations), Misfits: misfitTexts(&m.Result), Notes: noteTexts(&m.Result), Mend: remedyTexts(m)}
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
	what := catalogue.Plural(int64(len(sets)), "set of motor, prop and pack fills", "sets of motor, prop and pack fill")
	return fmt.Sprintf("%s the %d places; --spread lists combinations that differ in kind.", what, len(results))
}

// unlikeList says where each result differs most from the nearest craft that flies already, if that
// was asked for.
func unlikeList(results []predict.Result) []string {
	var list []string
	for i := range results {
		if n := results[i].Novelty; n != nil {
			list = append(list, fmt.Sprintf("rank %d: %s.", i+1, noveltyText(n)))
		}
	}
	return list
}
