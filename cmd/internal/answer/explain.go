package answer

import (
	"context"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/physics"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
)

// ExplainOptions say what is explained beside the combination itself.
type ExplainOptions struct {
	Packs  bool    // what every owned pack does on it
	ClassG float64 // a weight class; 0 for none
}

// Explain takes one combination apart. Where nothing is feasible, or the combination cannot be built, the second
// document says so instead of the first.
func Explain(ctx context.Context, a *Ask, which Which, o ExplainOptions) (*Explanation, *Ranking, error) {
	job, so := progress.Of(ctx), a.Search.Sampling(a.Problem.Drawer)
	find := job.Plan(progress.Searching, a.Search.Work(a.Problem.Drawer))
	beside := job.Plan(progress.Varying, so.Work(2+int(objective.AxisCount))+o.packsWork(so, a.Problem.Drawer))
	sub, err := a.subject(find.In(ctx), which)
	if err != nil {
		return nil, nil, err
	}
	find.End()
	if !sub.built() {
		return nil, a.nothing(sub.Ranking, sub.Result), nil
	}
	e := explaining{Subject: sub, classG: o.ClassG}
	if err := e.gather(beside.In(ctx), so, &o); err != nil {
		return nil, nil, err
	}
	return e.document(a), nil, nil
}

// packsWork is about the work of trying the drawer's packs, if that is asked for.
func (o *ExplainOptions) packsWork(so predict.Sampling, d *inventory.Drawer) float64 {
	if !o.Packs {
		return 0
	}
	return so.Work(len(d.Packs)) / 2
}

func (e *explaining) document(a *Ask) *Explanation {
	r := e.Result
	care := CareOf(&Scene{Drawer: e.Problem.Drawer, Styles: a.styles(), Crafts: []*predict.Result{r}, Feel: true})
	one := Explained{
		Result: resultOf(r, e.Rank), Reasons: e.reasons(), GivesUp: e.givesUp(), Alternatives: e.alternatives(),
		FirstFlight: e.firstFlight(), Binds: catalogue.LimitSentence(r), Care: care.All(),
		Assumed: faults.Problems(check.Assumptions(&r.Combination)),
		Packs:   e.packDocuments(), Class: e.class(),
	}
	if e.RowOf > 0 {
		one.Variants = variantsOf(&e.Ranking.Best[e.RowOf-1], &e.Ranking.Groups[e.RowOf-1])
	}
	d := &Explanation{Head: a.head(care), Search: searchOf(e.Ranking), Results: []Explained{one}, Subject: e.Subject}
	d.Words = ExplainWords{Standing: e.standing(), Endurance: e.endurance(), Score: e.apartSentence(),
		Binds: one.Binds + " " + punchSentence(r),
		Swaps: e.swapList(), Spares: e.sparesSentence(), Dangers: catalogue.Sentences(catalogue.DangerTexts(r)),
		Notes: catalogue.NoteList(r), Assumed: catalogue.Sentences(one.Assumed)}
	do := catalogue.RankedSentence(e.Rank, &r.Combination)
	if e.Rank == 1 {
		do = catalogue.BuildSentence(r)
	}
	d.Advice, d.Words.IDs = adviceOn(r, do, e.Problem.Style.Name), catalogue.IDsSentence(&r.Combination)
	d.Words.Searched = catalogue.SearchedSentence(e.Problem, e.Ranking)
	d.Words.Variants = e.variantList(one.Variants)
	if len(e.Ranking.Best) > 0 {
		d.Words.Score += " " + catalogue.ScaleSentence(&e.Problem.Style, e.Ranking)
	}
	for i := range r.Violations {
		d.Words.Broken = append(d.Words.Broken, catalogue.Violation(&r.Violations[i])+".")
	}
	return d
}

// Rows is the combination as a table of plain values.
func (d *Explanation) Rows() *Rows {
	rows := resultHead()
	rows.Add(resultRow(d.Subject.Result, d.Subject.Rank)...)
	return rows
}

// gather asks for all that is said of the combination beside its own figures.
func (e *explaining) gather(ctx context.Context, so predict.Sampling, o *ExplainOptions) (err error) {
	p, c, job := *e.Problem, e.Result.Combination, progress.Of(ctx)
	swaps, readings := job.Plan(progress.Varying, so.Work(1+int(objective.AxisCount))), job.Plan(progress.Doubting,
		2*so.Work(1))
	packs, lighter := job.Plan(progress.Varying, 0), job.Plan(progress.Varying, 0)
	if o.Packs {
		packs.Expect(o.packsWork(so, e.Subject.Problem.Drawer))
	}
	if o.ClassG > 0 {
		lighter.Expect(so.Work(2 * search.MostLighter))
	}
	if e.swaps, err = search.Neighbours(swaps.In(ctx), p, c, so); err != nil {
		return err
	}
	swaps.End()
	e.readings = predict.FirstFlight(ctx, &p.Style, e.Result, so)
	readings.Add(2 * so.Work(1)) // each with the curve of a punch
	if o.Packs {
		if e.packs, err = search.Packs(packs.In(ctx), p, c, so); err != nil {
			return err
		}
		packs.End()
	}
	if o.ClassG > 0 {
		if e.lighter, err = search.Lighter(lighter.In(ctx), p, c, figure.Of(figure.AllUpMass).ToSI(o.ClassG), so); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// explaining is all that is said of one combination.
type explaining struct {
	*Subject
	swaps    []search.Neighbour
	readings []predict.Reading
	packs    []search.PackChoice
	classG   float64
	lighter  []search.Neighbour
}

// Explained is one explained result.
type Explained struct {
	Result
	Reasons      []Reason        `json:"reasons"`
	GivesUp      []GivesUp       `json:"gives_up"`
	Alternatives []Alternative   `json:"alternatives"`
	FirstFlight  []FlightReading `json:"first_flight"`
	Binds        string          `json:"binds"`
	Care         []string        `json:"care"`
	Assumed      []string        `json:"assumed"`
	Packs        []PackOnCraft   `json:"packs,omitempty"`
	Class        *WeightClass    `json:"class,omitempty"`
}

// Explanation is the document of explain.
type Explanation struct {
	Head
	Search  Search      `json:"search"`
	Results []Explained `json:"results"`

	Subject *Subject     `json:"-"`
	Words   ExplainWords `json:"-"`
}

// ExplainWords are the sentences of an explanation.
type ExplainWords struct {
	Dangers   []string // what may burn or fall, to be read first
	IDs       string   // its parts
	Standing  string   // where it stands in its drawer
	Searched  string   // what was searched
	Broken    []string // the limits that it breaks
	Endurance string   // how the flight of the style ends
	Score     string   // how the score comes about
	Binds     string   // what holds the throttle back, and how long a punch lasts
	Variants  []string // with the same motor, prop and pack, the best few
	Swaps     []string // the best swap of one part for each axis
	Spares    string   // props that are left
	Notes     []string
	Assumed   []string
}

// variantsShown is how many variants of its row an explanation names.
const variantsShown = 5

// variantList are the best few other builds of the combination's row.
func (e *explaining) variantList(v *Variants) []string {
	if v == nil {
		return nil
	}
	list := []string{}
	g := &e.Ranking.Groups[e.RowOf-1]
	for i := range g.Variants {
		c := &g.Variants[i].Combination
		if len(list) < variantsShown && c.Key() != e.Result.Combination.Key() {
			list = append(list, catalogue.VariantText(&e.Result.Combination, &g.Variants[i])+".")
		}
	}
	return list
}

// standing says where the combination stands in its drawer.
func (e *explaining) standing() string {
	score := catalogue.Say("stands.score", "score", catalogue.Fixed(e.Result.Evaluation.Score, 1), "style",
		catalogue.StyleWords(&e.Problem.Style))
	switch {
	case !e.Result.Evaluation.Feasible():
		return score + " " + catalogue.Say("stands.breaks")
	case e.Rank == 1 && e.rival == nil:
		return score + " " + catalogue.Say("stands.only")
	case e.Rank == 1:
		return score + " " + catalogue.SureSentence(e.Ranking, "it") + " " + catalogue.WhySentence(&e.Problem.Style, e.Ranking.Best)
	case e.best == nil:
		return score
	case e.Rank == 0 && e.RowOf > 0:
		return score + " " + catalogue.VariantOfSentence(e.RowOf, &e.Ranking.Best[e.RowOf-1],
			&e.Result.Combination)
	case e.Rank > 1:
		return score + " " + catalogue.Say("stands.at", "rank", e.Rank, "build",
			catalogue.CombinationText(&e.best.Combination))
	}
	return score + " " + catalogue.Say("stands.below", "listed", len(e.Ranking.Best), "build",
		catalogue.CombinationText(&e.best.Combination), "best", catalogue.Fixed(e.best.Evaluation.Score, 1))
}

// endurance says how the flight of the style ends.
func (e *explaining) endurance() string {
	r := e.Result
	minutes, used := catalogue.ShownOf(r, figure.StyleTime), catalogue.ShownOf(r, figure.UsedCharge)
	if !minutes.Defined() || !used.Defined() {
		return ""
	}
	capacity := e.Result.Combination.Pack.CapacityMAh
	end := catalogue.Say("flight.reserve", "left", catalogue.Fixed(100*r.Craft.Reserve(&e.Problem.Style.Flying), 0))
	if r.Performance.Ending == physics.CellLanding {
		end = catalogue.Say("flight.cell", "cell",
			catalogue.Raw(r.Craft.LandingV(&e.Problem.Style.Flying)))
	}
	return catalogue.Say("flight", "used", used.String(), "capacity", catalogue.Raw(capacity), "minutes",
		minutes.String(), "end", end)
}

// punchSentence says how long full throttle lasts.
func punchSentence(r *predict.Result) string {
	duty, _ := r.Performance.Get(figure.ThrottleCap)
	seconds := r.Craft.PunchS(duty)
	which := catalogue.Answer("punch.full")
	if r.Performance.Cap != physics.NoLimit {
		which = "punch.capped"
	}
	lowest := catalogue.Fixed(r.Craft.Pack.Chemistry.LowestCellV(), 1)
	if seconds < 1 {
		which += "_at_once"
	}
	return catalogue.Say(which, "cell", lowest, "time", duration(seconds))
}

// duration is a time in seconds, or in minutes from two minutes on, with two digits.
func duration(seconds float64) string {
	value, unit := seconds, "s"
	if seconds >= 120 {
		value, unit = seconds/60, "min"
	}
	return catalogue.WithUnit(catalogue.Number(value, 0.8*value, 1.2*value), unit)
}
