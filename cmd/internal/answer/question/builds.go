package question

import (
	"context"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/objective"
)

// found is a document, or instead of it that nothing is feasible.
func found[D any](d *D, nothing *answer.Ranking, err error) (*Reply, error) {
	switch {
	case err != nil:
		return nil, err
	case nothing != nil:
		return &Reply{Document: nothing}, nil
	}
	return &Reply{Document: d}, nil
}

func rank(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Spread bool    `json:"spread"`
		Novel  float64 `json:"novel"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	if !inside(o.Novel, 0, 1) {
		return nil, wrong("novel", "must be from 0 to 1, got %g", o.Novel)
	}
	ask, c, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, err := answer.Rank(ctx, ask, answer.RankOptions{Spread: o.Spread, Novel: o.Novel, Bare: c.bare, Partial: true})
	return found(d, nil, err)
}

// which are the options that name a build.
type which struct {
	Rank int    `json:"rank"`
	Pick string `json:"pick"`
}

// which is the build that the options name: the first if they name none.
func (w *which) which() (answer.Which, error) {
	switch {
	case w.Pick != "" && w.Rank != 0:
		return answer.Which{}, wrong("rank", "name the build by its rank or by pick, not both")
	case w.Pick != "":
		return answer.Which{Pick: w.Pick}, nil
	case w.Rank == 0:
		return answer.Which{Rank: 1}, nil
	case w.Rank < 1 || w.Rank > answer.MostTop:
		return answer.Which{}, wrong("rank", "must be from 1 to %d, got %d", answer.MostTop, w.Rank)
	}
	return answer.Which{Rank: w.Rank}, nil
}

func explain(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		which
		Packs  bool    `json:"packs"`
		ClassG float64 `json:"class_g"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	build, err := o.which.which()
	if err != nil {
		return nil, err
	}
	if !inside(o.ClassG, 0, mostClassG) {
		return nil, wrong("class_g", "must be over 0, got %g", o.ClassG)
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, nothing, err := answer.Explain(ctx, ask, build, answer.ExplainOptions{Packs: o.Packs, ClassG: o.ClassG})
	return found(d, nothing, err)
}

// mostClassG is the heaviest weight class, in g.
const mostClassG = 1e6

func compare(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Builds []string `json:"builds"`
		Picks  []string `json:"picks"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, nothing, err := answer.Compare(ctx, ask, o.Builds, o.Picks)
	return found(d, nothing, err)
}

func vary(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		which
		Changes []string `json:"changes"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	build, err := o.which.which()
	if err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, nothing, err := answer.Vary(ctx, ask, build, o.Changes)
	return found(d, nothing, err)
}

func plan(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Styles     []Style `json:"styles"`
		Aim        string  `json:"aim"`
		SharePacks bool    `json:"share_packs"`
	}
	o.Aim = answer.Aims[0]
	if err := a.options(&o); err != nil {
		return nil, err
	}
	switch {
	case !slices.Contains(answer.Aims, o.Aim):
		return nil, wrong("aim", "must be one of %s, got %q", strings.Join(answer.Aims, ", "), o.Aim)
	case len(o.Styles) == 0:
		return nil, wrong("styles", "name a style for each craft")
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	p := answer.PlanOptions{Aim: o.Aim, SharePacks: o.SharePacks}
	for i := range o.Styles {
		style, err := a.style(&o.Styles[i])
		if err != nil {
			return nil, err
		}
		p.Styles = append(p.Styles, style)
	}
	d, err := answer.MakePlan(ctx, ask, p)
	return found(d, nil, err)
}

func buy(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Offer *Text `json:"offer"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	var offer *inventory.Offer
	if o.Offer != nil {
		if offer, err = inventory.ReadOffer(o.Offer.Name, strings.NewReader(o.Offer.Text)); err != nil {
			return nil, err
		}
	}
	d, err := answer.Buy(ctx, ask, offer)
	return found(d, nil, err)
}

func bench(_ context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Motor        string    `json:"motor"`
		Prop         string    `json:"prop"`
		VoltsV       []float64 `json:"volts"`
		ThrottlesPct []float64 `json:"throttle_pct"`
		ThrustsG     []float64 `json:"thrust_g"`
		RPMs         []float64 `json:"rpm"`
		AirspeedsMPS []float64 `json:"airspeed_mps"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	switch {
	case o.Prop == "":
		return nil, wrong("prop", "name a prop of the drawer")
	case o.Motor != "" && len(o.VoltsV) == 0:
		return nil, wrong("volts", "name the voltages at the ESC")
	case o.Motor == "" && len(o.RPMs) == 0:
		return nil, wrong("rpm", "name a motor with volts, or rpm for the prop alone")
	}
	if len(o.ThrottlesPct) == 0 {
		o.ThrottlesPct = []float64{25, 50, 75, 100}
	}
	if len(o.AirspeedsMPS) == 0 {
		o.AirspeedsMPS = []float64{0}
	}
	ask, _, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	d, err := answer.PredictBench(ask, answer.BenchOptions{Motor: o.Motor, Prop: o.Prop, VoltsV: o.VoltsV,
		ThrottlesPct: o.ThrottlesPct, ThrustsG: o.ThrustsG, RPMs: o.RPMs, AirspeedsMPS: o.AirspeedsMPS})
	return found(d, nil, err)
}

func styles(_ context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		All bool `json:"all"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	var list []objective.Style
	if o.All {
		for _, name := range objective.PresetNames() {
			preset, _ := objective.Preset(name)
			list = append(list, preset)
		}
		for _, s := range a.Question.Styles {
			style, err := ReadStyle(s.Name, []byte(s.Text))
			if err != nil {
				return nil, err
			}
			list = append(list, style)
		}
	} else {
		style, err := a.style(&a.Style)
		if err != nil {
			return nil, err
		}
		list = append(list, style)
	}
	return &Reply{Document: answer.ShowStyles(a.head(&o.Shared), list)}, nil
}
