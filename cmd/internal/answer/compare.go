package answer

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// mostCompared bounds the combinations named one by one; a wildcard may bring more.
const mostCompared = 5

// contestant is one combination of a comparison.
type contestant struct {
	name   string // as it was named: a rank, a craft, or empty
	rank   int
	result predict.Result
}

// contestants are what a command line sets side by side, in its order, ranks and crafts first, with
// the search that ranks were looked up in. There are none if a rank is named and nothing is feasible.
func (a *Ask) contestants(ctx context.Context, args, picks []string) ([]contestant, *search.Ranking, error) {
	var list []contestant
	var ranks []int
	wildcard := false
	p := a.Problem
	for _, arg := range args {
		if isNumber(arg) {
			rank, err := parseRank(arg)
			if err != nil {
				return nil, nil, err
			}
			ranks = append(ranks, rank)
			list = append(list, contestant{name: "rank " + arg, rank: rank})
			continue
		}
		one, err := a.named(ctx, arg)
		if err != nil {
			return nil, nil, err
		}
		wildcard = wildcard || len(one) != 1
		list = append(list, one...)
	}

	for _, text := range picks {
		all, err := pickedAll(p.Drawer, text)
		if err != nil {
			return nil, nil, err
		}
		wildcard = wildcard || len(all) != 1
		for _, c := range all {
			list = append(list, contestant{result: predict.Result{Combination: c}})
		}
	}
	switch {
	case len(list) < 2:
		return nil, nil, askf("name at least two builds: ranks, crafts of the fleet, or --pick")
	case len(list) > mostCompared && !wildcard:
		return nil, nil, askf("name at most %d builds, got %d", mostCompared, len(list))
	}
	r := unranked(len(list))
	if len(ranks) > 0 {
		// The combinations are drawn once all are known.
		o := a.Search
		o.Top, o.Draws = slices.Max(ranks), 1
		var err error
		if r, err = search.Search(ctx, *p, o); err != nil {
			return nil, nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if len(r.Best) == 0 {
			return nil, r, nil
		}
		for i := range list {
			switch rank := list[i].rank; {
			case rank == 0:
			case rank > len(r.Best):
				return nil, nil, notListed(rank, r)
			default:
				list[i].result.Combination = r.Best[rank-1].Combination
			}
		}
	}
	return list, r, nil
}

// named are the contestants of one word that is no rank: a craft of the fleet, the best build with a part, or with parts
// that commas part; with pack=* among them every pack that suits.
func (a *Ask) named(ctx context.Context, word string) ([]contestant, error) {
	c, err := fleetCraft(a.Problem.Drawer, word)
	if err == nil {
		return []contestant{{name: word, result: predict.Result{Combination: c}}}, nil
	}
	if _, _, unknown := namedPart(a.Problem.Drawer, word); unknown != nil && !strings.Contains(word, "=") {
		return nil, err
	}
	if strings.Contains(word, anyPack) {
		all, err := pickedAll(a.Problem.Drawer, word)
		var list []contestant
		for _, c := range all {
			list = append(list, contestant{result: predict.Result{Combination: c}})
		}
		return list, err
	}
	if c, err = a.bestWith(ctx, []string{word}); err != nil {
		return nil, err
	}
	return []contestant{{result: predict.Result{Combination: c}}}, nil
}

// unranked stands for a search where the combinations were named and none was made.
func unranked(combinations int) *search.Ranking {
	n := int64(combinations)
	return &search.Ranking{Method: "none", Why: search.Why{Kind: search.Named}, Candidates: n, Evaluated: n}
}

// fleetCraft is the combination of a craft in the drawer's fleet.
func fleetCraft(d *inventory.Drawer, name string) (inventory.Combination, error) {
	var names []string
	for i := range d.Fleet {
		if strings.EqualFold(d.Fleet[i].Name, name) {
			c, err := compat.Build(d, &d.Fleet[i].Parts)
			if err != nil {
				return c, DrawerError{fmt.Errorf("craft %s: %w", name, err)}
			}
			return c, nil
		}
		names = append(names, d.Fleet[i].Name)
	}
	if len(names) == 0 {
		return inventory.Combination{}, askf("%q is not a valid rank, and the drawer has no fleet", name)
	}
	return inventory.Combination{}, askf("%q is neither a rank nor a craft of the fleet (%s)", name,
		strings.Join(names, ", "))
}

// anyPack stands for every pack that suits.
const anyPack = "pack=*"

// pickedAll is what one --pick names: one combination, or with pack=* one for every pack whose cells
// and size suit.
func pickedAll(d *inventory.Drawer, text string) ([]inventory.Combination, error) {
	if !strings.Contains(text, anyPack) {
		c, err := picked(d, text)
		return []inventory.Combination{c}, err
	}
	var list []inventory.Combination
	for i := range d.Packs {
		c, err := picked(d, strings.Replace(text, anyPack, "pack="+d.Packs[i].ID, 1))
		if err != nil {
			return nil, err
		}
		if compat.FirstFault(&c) == compat.NoRule {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return nil, askf("--pick: no pack of the drawer fits that craft; check says why")
	}
	return list, nil
}

// comparing is what a comparison found: differences[i] holds contestant i+1 against the first.
type comparing struct {
	problem     *space.Problem
	ranking     *search.Ranking
	contestants []contestant
	differences [][]predict.Difference
}

// Comparison is the document of compare.
type Comparison struct {
	Head
	Search      Search       `json:"search"`
	Results     []Compared   `json:"results"`
	Differences []Difference `json:"differences"`

	Found   []predict.Result       `json:"-"`
	Against [][]predict.Difference `json:"-"` // Against[i] holds result i+1 against the first
	Words   CompareWords           `json:"-"`
}

// CompareWords are the sentences of a comparison.
type CompareWords struct {
	Title   string
	Dangers []string // what may burn or fall of each
	Sides   []string // the parts of each, and what keeps it from being built or ranked
	Told    []Told   // what each has over the first
	Notes   []string // of the drawer on the parts
}

// Told are sentences under a title.
type Told struct {
	Title     string
	Sentences []string
}

// Compared is one side of a comparison.
type Compared struct {
	Result
	Name    string   `json:"name"`
	Misfits []string `json:"misfits"`
}

// Difference is how much more of a figure the result of index other has than that of index first.
type Difference struct {
	First   int     `json:"first"`
	Other   int     `json:"other"`
	Figure  string  `json:"figure"`
	Delta   Figure  `json:"delta"`
	Verdict string  `json:"verdict"`
	Causes  []Cause `json:"causes"`
	Text    string  `json:"text"`
}

// Cause is how much of a difference a part makes.
type Cause struct {
	What string  `json:"what"`
	By   float64 `json:"by"`
}

func verdictOf(d *predict.Difference) string {
	if d.Real {
		return "real"
	}
	return "within doubt"
}

// Compare sets combinations side by side: ranks and crafts of the fleet as args name them, and picks. Where a rank is
// named and nothing is feasible the second document says so instead of the first.
func Compare(ctx context.Context, a *Ask, args, picks []string) (*Comparison, *Ranking, error) {
	p := a.Problem
	job, of := progress.Of(ctx), a.Search.Sampling(p.Drawer)
	name := job.Plan(progress.Searching, a.Search.Work(p.Drawer)*float64(len(args))/float64(max(len(args)+len(picks), 1)))
	assess := job.Plan(progress.Doubting, of.Work(len(args)+len(picks)))
	differ := job.Plan(progress.Doubting, 2*of.Work(len(args)+len(picks)))
	list, ranking, err := a.contestants(name.In(ctx), args, picks)
	if err != nil {
		return nil, nil, err
	}
	name.End()
	if len(list) == 0 {
		return nil, a.nothing(ranking, nil), nil
	}
	combinations := make([]inventory.Combination, len(list))
	for i := range list {
		combinations[i] = list[i].result.Combination
	}
	results, err := predict.Assess(assess.In(ctx), *p, combinations, of)
	if err != nil {
		return nil, nil, err
	}
	assess.End()
	differ.Expect(2 * of.Work(len(list)-1))
	for i := range list {
		list[i].result = results[i]
	}
	c := comparing{problem: p, ranking: ranking, contestants: list}
	for i := 1; i < len(list) && len(results[0].Misfits) == 0; i++ {
		var differences []predict.Difference
		if other := &results[i]; len(other.Misfits) == 0 {
			differences = predict.Differences(differ.In(ctx), &p.Style, &results[0], other, of)
		}
		c.differences = append(c.differences, differences)
	}
	return c.document(a, results), nil, nil
}

func (c *comparing) document(a *Ask, results []predict.Result) *Comparison {
	scene := Scene{Drawer: c.problem.Drawer, Styles: a.styles()}
	for i := range results {
		scene.Crafts = append(scene.Crafts, &results[i])
	}
	d := &Comparison{Head: a.head(CareOf(&scene)), Search: searchOf(c.ranking), Differences: []Difference{},
		Found: results, Against: c.differences}
	d.Words.Title = catalogue.Say("compare.title", "style", catalogue.StyleWords(&c.problem.Style))
	var names, builds []string
	for i := range results {
		r := &results[i]
		one := Compared{resultOf(r, 0), c.label(i), catalogue.MisfitTexts(r)}
		if rank := c.contestants[i].rank; rank > 0 {
			one.Rank = &rank
		}
		d.Results = append(d.Results, one)
		d.Words.Sides = append(d.Words.Sides, one.sentence(r))
		d.Words.Dangers = append(d.Words.Dangers, catalogue.NamedDangers(one.Name, r)...)
		names, builds = append(names, one.Name), append(builds, catalogue.NamedSentence(one.Name, &r.Combination))
		for _, note := range catalogue.OwnNotes(&r.Combination) {
			if !slices.Contains(d.Words.Notes, note) {
				d.Words.Notes = append(d.Words.Notes, note)
			}
		}
	}
	take := catalogue.TakeSentence(&c.problem.Style, results, names)
	d.Advice = append([]string{take}, builds...)
	for i, differences := range c.differences {
		told := Told{Title: catalogue.Say("compare.told", "other", c.label(i+1), "first", c.label(0))}
		for k := range differences {
			x := &differences[k]
			d.Differences = append(d.Differences, differenceOf(x, i+1))
			if x.Real && figure.Of(x.Quantity).Shown == figure.Headline && noticeable(&results[0], x) {
				told.Sentences = append(told.Sentences, differenceSentence(x)+".")
			}
		}
		d.Words.Told = append(d.Words.Told, told)
	}
	return d
}

// sentence names one side of a comparison, and says what keeps it from being built or ranked.
func (x *Compared) sentence(r *predict.Result) string {
	why := ""
	if len(r.Misfits) > 0 {
		why += catalogue.Say("compare.misfit", "reasons", joined(catalogue.MisfitTexts(r)))
	}
	for k := range r.Violations {
		why += catalogue.Say("compare.limit", "limit", catalogue.Violation(&r.Violations[k]))
	}
	return catalogue.Say("compare.side", "name", x.Name, "build", catalogue.CombinationText(&r.Combination), "why", why)
}

func differenceOf(x *predict.Difference, other int) Difference {
	f := figure.Of(x.Quantity)
	one := Difference{0, other, f.Key, Known(f.PerSI*x.Value.Value, f.PerSI*x.Value.Low, f.PerSI*x.Value.High,
		x.Value.Basis.String()),
		verdictOf(x), []Cause{}, differenceSentence(x)}
	for _, cause := range x.Causes {
		one.Causes = append(one.Causes, Cause{cause.Side.String(), catalogue.Round(f.PerSI * cause.By)})
	}
	return one
}

// Rows is the comparison as a table of plain values.
func (d *Comparison) Rows() *Rows {
	rows := resultHead("name")
	for i := range d.Found {
		row := resultRow(&d.Found[i], 0)
		if rank := d.Results[i].Rank; rank != nil {
			row[0] = strconv.Itoa(*rank)
		}
		rows.Add(append([]string{d.Results[i].Name}, row...)...)
	}
	return rows
}

// label names a contestant: as it was named, else by the part in which the picks differ.
func (c *comparing) label(i int) string {
	if name := c.contestants[i].name; name != "" {
		return name
	}
	ids := func(k int) []string {
		p := c.contestants[k].result.Combination.Parts()
		return []string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}
	}
	mine := ids(i)
	different := map[int]bool{}
	for k := range c.contestants {
		for part, id := range ids(k) {
			if id != mine[part] {
				different[part] = true
			}
		}
	}
	if len(different) == 1 {
		for part := range different {
			return mine[part]
		}
	}
	return "pick " + strconv.Itoa(i+1)
}

// differenceSentence says how much more or less of a figure there is and what makes it.
func differenceSentence(d *predict.Difference) string {
	f := figure.Of(d.Quantity)
	value, low, high := f.PerSI*d.Value.Value, f.PerSI*d.Value.Low, f.PerSI*d.Value.High
	span, made := "", ""
	if interval := catalogue.Interval(value, low, high); interval != "" {
		span = catalogue.Say("compare.range", "range", interval)
	}
	var causes []string
	for k, cause := range d.Causes {
		if k == 3 {
			break
		}
		causes = append(causes, catalogue.Say("compare.cause", "what", cause.Side.String(), "by",
			catalogue.Signed(f.PerSI*cause.By, low, high)))
	}
	if len(causes) > 0 {
		made = catalogue.Say("compare.causes", "causes", strings.Join(causes, ", "))
	}
	return catalogue.Say("compare.difference", "figure", catalogue.FigureName(f.Key), "more",
		catalogue.WithUnit(catalogue.Signed(value, low, high), f.Unit), "range", span, "causes", made)
}

// leastTold is the share of a figure from which on a difference is told in words.
const leastTold = 0.02

func noticeable(first *predict.Result, d *predict.Difference) bool {
	return math.Abs(d.Value.Value) >= leastTold*math.Abs(first.Figures[d.Quantity].Value)
}
