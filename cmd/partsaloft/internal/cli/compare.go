package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

type compareOptions struct {
	picks []string
}

// mostCompared bounds the combinations named one by one; a wildcard may bring more.
const mostCompared = 5

func newCompare(s *session) *cobra.Command {
	o := &compareOptions{}
	c := &cobra.Command{
		Use:   "compare [RANK|CRAFT]...",
		Short: "Set two or more combinations side by side, and say what makes the difference",
		Long: `compare sets 2 to 5 combinations side by side: ranks, crafts of the drawer's fleet by their name, and
combinations by --pick. Differences larger than their doubt are marked as real. In one --pick,
pack=* stands for every pack that fits.`,
		Example: `  partsaloft compare 1 2 3
  partsaloft compare 1 --pick motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24
  partsaloft compare --pick motor=m1507-27,prop=p3.5-26x3,pack=*,frame=f3.5-yawl,board=b22-24`,
		RunE: func(c *cobra.Command, args []string) error { return s.compare(c.Context(), args, o) },
	}
	c.Flags().StringArrayVar(&o.picks, "pick", nil, "combination by its `PARTS`: "+pickForm+", or pack=*; may be repeated")
	return c
}

// contestant is one combination of a comparison.
type contestant struct {
	name   string // as it was named: a rank, a craft, or empty
	rank   int
	result predict.Result
}

func (s *session) compare(ctx context.Context, args []string, o *compareOptions) error {
	p, err := s.problem()
	if err != nil {
		return err
	}
	list, ranking, err := s.contestants(ctx, p, args, o.picks)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return s.deliverNothing(ctx, &subject{problem: p, ranking: ranking})
	}
	combinations := make([]inventory.Combination, len(list))
	for i := range list {
		combinations[i] = list[i].result.Combination
	}
	results, err := predict.Assess(ctx, *p, combinations, s.searchOptions().Sampling())
	if err != nil {
		return err
	}
	for i := range list {
		list[i].result = results[i]
	}
	c := comparison{problem: p, ranking: ranking, contestants: list}
	first := &c.contestants[0].result
	for i := 1; i < len(list) && len(first.Misfits) == 0; i++ {
		var differences []predict.Difference
		if other := &c.contestants[i].result; len(other.Misfits) == 0 {
			differences = predict.Differences(ctx, &p.Style, first, other, s.searchOptions().Sampling())
		}
		c.differences = append(c.differences, differences)
	}
	scene := answer.Scene{Drawer: p.Drawer, Styles: []objective.Style{p.Style}}
	for i := range list {
		scene.Crafts = append(scene.Crafts, &list[i].result)
	}
	care := answer.CareOf(&scene)
	return s.deliver(ctx, c.answer(s.head(p.Drawer.Name, p.Style.Name, care), care))
}

// contestants are what a command line sets side by side, in its order, ranks and crafts first, with
// the search that ranks were looked up in. There are none if a rank is named and nothing is feasible.
func (s *session) contestants(ctx context.Context, p *space.Problem, args, picks []string) ([]contestant, *search.Ranking, error) {
	var list []contestant
	var ranks []int
	for _, arg := range args {
		if rank, err := strconv.Atoi(arg); err == nil {
			if rank < 1 || rank > mostTop {
				return nil, nil, usagef("%q is no rank: write a whole number from 1 to %d", arg, mostTop)
			}
			ranks = append(ranks, rank)
			list = append(list, contestant{name: "rank " + arg, rank: rank})
			continue
		}
		c, err := fleetCraft(p.Drawer, arg)
		if err != nil {
			return nil, nil, err
		}
		list = append(list, contestant{name: arg, result: predict.Result{Combination: c}})
	}
	wildcard := false
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
		return nil, nil, usagef("name at least two combinations: ranks, crafts of the fleet, or --pick")
	case len(list) > mostCompared && !wildcard:
		return nil, nil, usagef("name at most %d combinations, got %d", mostCompared, len(list))
	}
	r := named(len(list))
	if len(ranks) > 0 {
		// The combinations are drawn once all are known.
		o := s.searchOptions()
		o.Top, o.Draws = slices.Max(ranks), 1
		var err error
		if r, err = s.searchWith(ctx, p, o); err != nil {
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
				return nil, nil, usagef("rank %d is not there: %s feasible", rank, plural(int64(len(r.Best)), "combination is", "combinations are"))
			default:
				list[i].result.Combination = r.Best[rank-1].Combination
			}
		}
	}
	return list, r, nil
}

// named stands for a search where the combinations were named and none was made.
func named(combinations int) *search.Ranking {
	n := int64(combinations)
	return &search.Ranking{Method: "none", Why: "the combinations were named", Candidates: n, Evaluated: n}
}

// fleetCraft is the combination of a craft in the drawer's fleet.
func fleetCraft(d *inventory.Drawer, name string) (inventory.Combination, error) {
	var names []string
	for i := range d.Fleet {
		if d.Fleet[i].Name == name {
			c, err := d.Built(&d.Fleet[i].Parts)
			if err != nil {
				return c, dataError{fmt.Errorf("craft %s: %w", name, err)}
			}
			return c, nil
		}
		names = append(names, d.Fleet[i].Name)
	}
	if len(names) == 0 {
		return inventory.Combination{}, usagef("%q is no rank, and the drawer has no fleet", name)
	}
	return inventory.Combination{}, usagef("%q is neither a rank nor a craft of the fleet (%s)", name, strings.Join(names, ", "))
}

// pickedAll is what one --pick names: one combination, or with pack=* one for every pack whose cells
// and size suit.
func pickedAll(d *inventory.Drawer, text string) ([]inventory.Combination, error) {
	const wildcard = "pack=*"
	if !strings.Contains(text, wildcard) {
		c, err := picked(d, text)
		return []inventory.Combination{c}, err
	}
	var list []inventory.Combination
	for i := range d.Packs {
		c, err := picked(d, strings.Replace(text, wildcard, "pack="+d.Packs[i].ID, 1))
		if err != nil {
			return nil, err
		}
		if c.FirstFault() == inventory.NoRule {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return nil, usagef("--pick: no pack of the drawer fits that craft; check says why")
	}
	return list, nil
}

// comparison is what a comparison found: differences[i] holds contestant i+1 against the first.
type comparison struct {
	problem     *space.Problem
	ranking     *search.Ranking
	contestants []contestant
	differences [][]predict.Difference
}

type compareDocument struct {
	answer.Head
	Search      answer.Search    `json:"search"`
	Results     []comparedJSON   `json:"results"`
	Differences []differenceJSON `json:"differences"`
}

type comparedJSON struct {
	answer.Result
	Name    string   `json:"name"`
	Misfits []string `json:"misfits"`
}

// differenceJSON is how much more of a figure the result of index other has than that of index first.
type differenceJSON struct {
	First   int           `json:"first"`
	Other   int           `json:"other"`
	Figure  string        `json:"figure"`
	Delta   answer.Figure `json:"delta"`
	Verdict string        `json:"verdict"`
	Causes  []causeJSON   `json:"causes"`
	Text    string        `json:"text"`
}

type causeJSON struct {
	What string  `json:"what"`
	By   float64 `json:"by"`
}

func verdictOf(d *predict.Difference) string {
	if d.Real {
		return "real"
	}
	return "within doubt"
}

func (c *comparison) answer(head answer.Head, care answer.Care) reply {
	document := compareDocument{Head: head, Search: searchOf(c.ranking), Differences: []differenceJSON{}}
	rows := resultHead()
	rows.Columns = append([]render.Column{render.Left("name")}, rows.Columns...)
	for i := range c.contestants {
		r := &c.contestants[i].result
		one := comparedJSON{resultOf(r, 0), c.label(i), append([]string{}, r.Misfits...)}
		row := resultRow(r, 0)
		if rank := c.contestants[i].rank; rank > 0 {
			one.Rank, row[0] = &rank, strconv.Itoa(rank)
		}
		document.Results, rows.Rows = append(document.Results, one), append(rows.Rows, append([]string{one.Name}, row...))
	}
	for i, differences := range c.differences {
		for k := range differences {
			d := &differences[k]
			f := figure.Of(d.Quantity)
			one := differenceJSON{0, i + 1, f.Key, answer.Known(f.PerSI*d.Value.Value, f.PerSI*d.Value.Low, f.PerSI*d.Value.High, d.Value.Basis.String()),
				verdictOf(d), []causeJSON{}, differenceSentence(d)}
			for _, cause := range d.Causes {
				one.Causes = append(one.Causes, causeJSON{cause.Name, catalogue.Round(f.PerSI * cause.By)})
			}
			document.Differences = append(document.Differences, one)
		}
	}
	return reply{document, rows, c.page(), care}
}

// label names a contestant: as it was named, else by the part in which the picks differ.
func (c *comparison) label(i int) string {
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
