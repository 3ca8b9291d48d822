package answer

import (
	"context"
	"math"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/learn"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// Gain is what was learned in terms of what a pilot asks: how sure the figures of his crafts were and are, which build
// comes first, which reading taught most and which would teach most yet.
type Gain struct {
	Crafts []CraftGain `json:"crafts"`
	First  *FirstPlace `json:"first,omitempty"`
	Taught *Teacher    `json:"taught,omitempty"`
	Next   *Teacher    `json:"next,omitempty"`
	Texts  []string    `json:"texts"`
}

// CraftGain is a craft of the log, by its first entry, before and after.
type CraftGain struct {
	Entry   int          `json:"entry"`
	Parts   Parts        `json:"parts"`
	Figures []FigureGain `json:"figures"`
}

// FigureGain is a figure predicted by labels alone, and with what was learned.
type FigureGain struct {
	Key    string `json:"key"`
	Name   string `json:"-"`
	Before Figure `json:"before"`
	After  Figure `json:"after"`
	// Width is the width of the likely range over what it was.
	Width float64 `json:"width"`

	BeforeText string `json:"-"`
	AfterText  string `json:"-"`
}

// FirstPlace is the best build of the drawer in the style in use, before and after.
type FirstPlace struct {
	Before     Parts  `json:"before"`
	LeadBefore string `json:"lead_before"`
	After      Parts  `json:"after"`
	LeadAfter  string `json:"lead_after"`
}

// Teacher is a reading that taught, or would teach.
type Teacher struct {
	Entry int    `json:"entry,omitempty"`
	Key   string `json:"key,omitempty"`
	Part  string `json:"part,omitempty"`
	// ChangePct is by how much likely ranges would be wider without it, or are narrower with it.
	ChangePct float64 `json:"change_pct"`
	// Costs says what it takes to read.
	Costs string `json:"costs,omitempty"`
}

// Gained is what a drawer's log brought: after is the same drawer as the report's, read anew, which is corrected here.
func (x *Learned) Gained(ctx context.Context, before, after *inventory.Drawer, style *objective.Style, ways learn.Ways,
	o search.Options) error {
	r := x.Report
	g := &Gain{Crafts: []CraftGain{}, Texts: []string{}}
	x.Gain = g
	if r.Inflation == 0 || len(r.Crafts) == 0 {
		return nil
	}
	job, of := progress.Of(ctx), o.Sampling(before)
	crafts, first := job.Plan(progress.Doubting, of.Work(2*len(r.Crafts))), job.Plan(progress.Searching, 2*o.Work(before))
	for _, n := range r.Crafts {
		if err := g.craft(crafts.Plan(progress.Doubting, of.Work(2)).In(ctx), n, [...]*inventory.Drawer{before, after}, style, ways, o, r.Learned); err != nil {
			return err
		}
	}
	crafts.End()
	if err := g.first(first.In(ctx), [...]*inventory.Drawer{before, after}, style, ways, o, r.Learned); err != nil {
		return err
	}
	if t := r.Taught; t.Entry > 0 {
		g.Taught = &Teacher{Entry: t.Entry, Key: string(t.Key), ChangePct: catalogue.Round(100 * t.Wider)}
		g.Texts = append(g.Texts, catalogue.TaughtMost(&t))
	}
	if n := r.Next; n.Key != "" || n.Bench != learn.NoBench {
		g.Next = &Teacher{Entry: n.Entry, Key: string(n.Key), Part: n.ID, ChangePct: catalogue.Round(100 * (1 - n.Left)),
			Costs: catalogue.ReadingCosts(&n)}
		if n.Bench != learn.NoBench {
			g.Next.Entry = 0
		}
		g.Texts = append(g.Texts, catalogue.NextReading(&n))
	}
	return nil
}

// flownAs is a style with the way of flying of an entry, if it names one.
func flownAs(style *objective.Style, ways learn.Ways, flown string) (objective.Style, string) {
	s := *style
	if f, ok := ways.Flying(flown); ok && flown != "" {
		s.Flying.Segments, s.Flying.Indoors = f.Segments, f.Indoors
		return s, flown
	}
	return s, style.Name
}

// craft adds the craft of an entry; drawers are those before and after learning.
func (g *Gain) craft(ctx context.Context, entry int, drawers [2]*inventory.Drawer, style *objective.Style, ways learn.Ways,
	o search.Options, l *learn.Learned) error {
	var results [2]*predict.Result
	for i, d := range drawers {
		e := &d.Log[entry-1]
		flying, way := flownAs(style, ways, e.Flown)
		if i == 1 {
			if err := l.Apply(d, way, ways); err != nil {
				return err
			}
		}
		c, err := compat.Build(d, &e.Parts)
		if err != nil {
			return err
		}
		air, err := d.Air.SI()
		if err != nil {
			return err
		}
		list, err := predict.Assess(ctx, space.Problem{Drawer: d, Air: air, Style: flying}, []inventory.Combination{c},
			o.Sampling(d))
		if err != nil {
			return err
		}
		results[i] = &list[0]
	}
	one := CraftGain{Entry: entry, Parts: partsOf(&results[0].Combination), Figures: []FigureGain{}}
	put := func(key, name string, before, after catalogue.Shown) {
		if !before.Defined() || !after.Defined() {
			return
		}
		f := FigureGain{Key: key, Name: name,
			Before: Known(before.Value, before.Low, before.High, before.Basis),
			After:  Known(after.Value, after.Low, after.High, after.Basis),
			Width:  catalogue.Round((after.High - after.Low) / math.Max(before.High-before.Low, 1e-9)),
		}
		f.BeforeText, f.AfterText = catalogue.WithSpan(&before), catalogue.WithSpan(&after)
		one.Figures = append(one.Figures, f)
	}
	throttle := figure.Of(figure.HoverThrottle)
	put("shown_throttle_pct", catalogue.ShownThrottle, catalogue.ShownAs(results[0].Shown, throttle),
		catalogue.ShownAs(results[1].Shown, throttle))
	for _, q := range [...]figure.Quantity{figure.StyleTime, figure.ThrustToWeight} {
		f := figure.Of(q)
		put(f.Key, f.Name, catalogue.ShownOf(results[0], q), catalogue.ShownOf(results[1], q))
	}
	g.Crafts = append(g.Crafts, one)
	return nil
}

// first ranks the drawer before and after in the style in use.
func (g *Gain) first(ctx context.Context, drawers [2]*inventory.Drawer, style *objective.Style, ways learn.Ways,
	o search.Options, l *learn.Learned) error {
	o.Top, o.Variants = 2, false
	var best [2]*predict.Result
	job := progress.Of(ctx)
	parts := [...]*progress.Part{job.Plan(progress.Searching, o.Work(drawers[0])), job.Plan(progress.Searching, o.Work(drawers[1]))}
	for i, d := range drawers {
		if i == 1 {
			if err := l.Apply(d, style.Name, ways); err != nil {
				return err
			}
		}
		air, err := d.Air.SI()
		if err != nil {
			return err
		}
		r, err := search.Search(parts[i].In(ctx), space.Problem{Drawer: d, Air: air, Style: *style}, o)
		if err != nil {
			return err
		}
		parts[i].End()
		if len(r.Best) == 0 || ctx.Err() != nil {
			return ctx.Err()
		}
		best[i] = &r.Best[0]
	}
	a, b := best[0].Combination.Parts(), best[1].Combination.Parts()
	g.First = &FirstPlace{partsOf(&best[0].Combination), predict.LeadOf(best[0].AheadShare).String(), partsOf(&best[1].Combination),
		predict.LeadOf(best[1].AheadShare).String()}
	same := a.Motor == b.Motor && a.Prop == b.Prop && a.Pack == b.Pack
	g.Texts = append(g.Texts, catalogue.FirstPlace(style.Name, best[0], best[1], same))
	return nil
}

// Narrowed is the geometric mean of the widths of a figure's likely ranges over what they were, 0 without any.
func (g *Gain) Narrowed(key string) float64 {
	var sum float64
	n := 0
	for i := range g.Crafts {
		at := slices.IndexFunc(g.Crafts[i].Figures, func(f FigureGain) bool { return f.Key == key && f.Width > 0 })
		if at >= 0 {
			sum += math.Log(g.Crafts[i].Figures[at].Width)
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return math.Exp(sum / float64(n))
}
