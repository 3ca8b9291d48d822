package answer

import (
	"context"
	"fmt"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// Aims are what a plan can make large: the total of the scores, or the lowest of them.
var Aims = []string{"total", "worst"}

// PlanOptions say what a plan is for.
type PlanOptions struct {
	Styles     []objective.Style // a craft for each
	Aim        string            // one of Aims
	SharePacks bool              // let several crafts fly the same pack in turn
}

// MakePlan chooses a craft for each style, no two of which take the same piece. Where no craft can be met the document
// has what comes nearest to each style.
func MakePlan(ctx context.Context, a *Ask, o PlanOptions) (*Plan, error) {
	p := search.PlanProblem{Drawer: a.Problem.Drawer, Air: a.Problem.Air, SharePacks: o.SharePacks}
	if o.Aim == Aims[1] {
		p.Aim = search.BestWorst
	}
	named := map[string]int{}
	var styles []string
	for _, style := range o.Styles {
		wish := search.Wish{Name: style.Name, Style: style, With: a.Problem.With}
		if named[style.Name]++; named[style.Name] > 1 {
			wish.Name = fmt.Sprintf("%s %d", style.Name, named[style.Name])
		}
		p.Wishes, styles = append(p.Wishes, wish), append(styles, style.Name)
	}
	plan, err := search.MakePlan(ctx, p, a.Search)
	if err != nil {
		return nil, err
	}
	d := a.planned(plan)
	d.Style = strings.Join(styles, ", ")
	if len(d.Met) > 0 {
		return d, nil
	}
	d.Results = &[]Result{}
	if plan.Interrupted {
		return d, nil
	}
	misses, err := a.planMisses(ctx, &p)
	d.NearMisses, d.Words.Misses = missesOf(misses), catalogue.MissList(misses)
	return d, err
}

// planMisses are what comes nearest to each style where none can be met.
func (a *Ask) planMisses(ctx context.Context, p *search.PlanProblem) ([]search.NearMiss, error) {
	var misses []search.NearMiss
	styles := map[string]bool{}
	for _, w := range p.Wishes {
		if styles[w.Style.Name] {
			continue
		}
		styles[w.Style.Name] = true
		r, err := search.Search(ctx, space.Problem{Drawer: p.Drawer, Air: p.Air, Style: w.Style, With: w.With}, a.Search)
		if err != nil {
			return nil, err
		}
		misses = append(misses, r.NearMisses...)
	}
	return misses, ctx.Err()
}

// Plan is the document of plan.
type Plan struct {
	Head
	Search   Search         `json:"search"`
	Proven   bool           `json:"proven"`
	Why      string         `json:"why"`
	Total    float64        `json:"total"`
	Worst    float64        `json:"worst"`
	Crafts   []PlannedCraft `json:"crafts"`
	Unmet    []Unmet        `json:"unmet"`
	LeftOver []LeftOver     `json:"left_over"`
	// Where no wish is met, Results is empty and NearMisses come nearest; else both are left out.
	Results    *[]Result  `json:"results,omitempty"`
	NearMisses []NearMiss `json:"near_misses,omitempty"`

	Found *search.Plan     `json:"-"`
	Met   []predict.Result `json:"-"` // those of Crafts
	Words PlanWords        `json:"-"`
}

// PlanWords are the sentences of a plan.
type PlanWords struct {
	Dangers  []string // what may burn or fall of each craft, to be read first
	Scores   string   // what the crafts score, and how sure it is that no other choice is better
	Shared   []string // packs that several crafts fly in turn
	Searched string   // what was searched
	Unmet    []string // what each craft that cannot be met runs out of
	Misses   []string // what comes nearest where none can be met
	Crafts   []CraftWords
	LeftOver []string // a line a kind of part
	LeftOut  []string // parts that the search set aside
}

// CraftWords are the sentences on a craft of a plan.
type CraftWords struct {
	Title, IDs string
	Notes      []string
}

// PlannedCraft is a craft that meets a wish.
type PlannedCraft struct {
	Wish string `json:"wish"`
	Result
}

// Unmet is a wish that no craft meets.
type Unmet struct {
	Wish    string   `json:"wish"`
	RunsOut []string `json:"runs_out"`
}

// LeftOver is what remains of a kind of part; pieces are null where the drawer gives no count. Retire marks a pack
// that is worn out or noted as damaged: it lies there, and nothing is to be built with it.
type LeftOver struct {
	Kind   string `json:"kind"`
	ID     string `json:"id"`
	Pieces *int   `json:"pieces"`
	Retire bool   `json:"retire,omitempty"`
}

func (a *Ask) planned(plan *search.Plan) *Plan {
	found := search.Ranking{Method: plan.Method, Why: plan.Why, Candidates: plan.Candidates, Evaluated: plan.Evaluated,
		Proven:     plan.Proven,
		Infeasible: plan.Infeasible, SetAside: plan.SetAside}
	d := &Plan{Head: a.head(planCare(a.Problem.Drawer, plan)), Search: searchOf(&found), Proven: plan.Proven,
		Why: catalogue.WhyText(plan.Why), Total: hundredths(plan.Total),
		Worst: hundredths(plan.Worst), Crafts: []PlannedCraft{}, Unmet: []Unmet{}, LeftOver: []LeftOver{}, Found: plan}
	retired := retiredPacks(a.Problem.Drawer)
	d.Words = PlanWords{LeftOver: leftOverList(plan.LeftOver, retired),
		LeftOut: catalogue.Sentences(catalogue.SetAsideTexts(plan.SetAside))}
	for i := range plan.Crafts {
		c := &plan.Crafts[i]
		if c.Result == nil {
			d.Unmet = append(d.Unmet, Unmet{c.Wish.Name, catalogue.UnmetTexts(&c.Unmet)})
			d.Words.Unmet = append(d.Words.Unmet, catalogue.Say("plan.unmet", "craft", c.Wish.Name,
				"reasons", strings.TrimRight(joined(catalogue.UnmetTexts(&c.Unmet)), ".")))
			continue
		}
		d.Crafts, d.Met = append(d.Crafts, PlannedCraft{c.Wish.Name, resultOf(c.Result, 0)}), append(d.Met, *c.Result)
		d.Words.Dangers = append(d.Words.Dangers, catalogue.NamedDangers(c.Wish.Name, c.Result)...)
		d.Words.Crafts = append(d.Words.Crafts, CraftWords{c.Wish.Name, catalogue.IDsSentence(&c.Result.Combination),
			catalogue.NoteList(c.Result)})
	}
	for _, l := range plan.LeftOver {
		one := LeftOver{Kind: string(l.Kind), ID: l.ID, Retire: l.Kind == inventory.KindPack && retired[l.ID]}
		if !l.Uncounted {
			one.Pieces = &l.Pieces
		}
		d.LeftOver = append(d.LeftOver, one)
	}
	d.Words.Searched = catalogue.PlanSearchedSentence(a.Problem, plan)
	d.Words.Scores = catalogue.PlanScores(plan, len(d.Met))
	for i := range plan.Shared {
		d.Words.Shared = append(d.Words.Shared, catalogue.SharedSentence(&plan.Shared[i]))
	}
	d.Advice = planAdvice(plan)
	return d
}

// planAdvice says which crafts to build, then what each is and does.
func planAdvice(plan *search.Plan) []string {
	var met, unmet, lines []string
	for i := range plan.Crafts {
		c := &plan.Crafts[i]
		if c.Result == nil {
			unmet = append(unmet, c.Wish.Name)
			continue
		}
		met = append(met, c.Wish.Name)
		lines = append(lines, adviceOn(c.Result, catalogue.NamedSentence(c.Wish.Name, &c.Result.Combination),
			c.Wish.Style.Name)...)
	}
	return append([]string{catalogue.PlanSentence(met, unmet)}, lines...)
}

// Rows is the crafts of the plan as a table of plain values.
func (d *Plan) Rows() *Rows {
	rows := resultHead("wish")
	for i := range d.Met {
		rows.Add(append([]string{d.Crafts[i].Wish}, resultRow(&d.Met[i], 0)...)...)
	}
	return rows
}

// retiredPacks are the ids of the packs that are to be retired.
func retiredPacks(d *inventory.Drawer) map[string]bool {
	retired := map[string]bool{}
	for i := range d.Packs {
		if p := &d.Packs[i]; p.Retired() {
			retired[p.ID] = true
		}
	}
	return retired
}

// leftOverList has one line a kind of part.
func leftOverList(left []space.LeftOver, retired map[string]bool) []string {
	var list []string
	for _, kind := range []inventory.Kind{inventory.KindMotor, inventory.KindProp, inventory.KindPack, inventory.KindFrame,
		inventory.KindBoard, inventory.KindExtra} {
		var parts []string
		for _, l := range left {
			switch {
			case l.Kind != kind:
			case kind == inventory.KindPack && retired[l.ID]:
				parts = append(parts, catalogue.Say("left.retire", "id", l.ID))
			case l.Uncounted:
				parts = append(parts, catalogue.Say("left.uncounted", "id", l.ID))
			case l.Pieces > 1:
				parts = append(parts, catalogue.Say("left.pieces", "id", l.ID, "pieces", l.Pieces))
			default:
				parts = append(parts, l.ID)
			}
		}
		if len(parts) > 0 {
			list = append(list, catalogue.Say("left.kind", "kind", string(kind), "parts", strings.Join(parts, ", ")))
		}
	}
	return list
}

// planCare is what to mind with the crafts of a plan.
func planCare(d *inventory.Drawer, plan *search.Plan) Care {
	scene := Scene{Drawer: d}
	for i := range plan.Crafts {
		c := &plan.Crafts[i]
		scene.Styles = append(scene.Styles, c.Wish.Style)
		if c.Result != nil {
			scene.Crafts = append(scene.Crafts, c.Result)
		}
	}
	return CareOf(&scene)
}
