package readings

import (
	"bytes"
	"context"
	"errors"
	"slices"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/learn"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// BuildNews is a build whose figures a reading changes.
type BuildNews struct {
	Parts   answer.Parts `json:"parts"`
	Text    string       `json:"text"`
	Figures []FigureNews `json:"figures"`
}

// FigureNews is a figure before and after a reading.
type FigureNews struct {
	Key    string        `json:"key"`
	Name   string        `json:"name"`
	Before answer.Figure `json:"before"`
	After  answer.Figure `json:"after"`

	Was, Is catalogue.Shown `json:"-"`
}

// toldFigures are those that a prop's thrust at an rpm moves most.
var toldFigures = [...]figure.Quantity{figure.ThrustToWeight, figure.HoverThrottle, figure.HoverTime}

// mostBuilds that are shown beside the craft that was heard.
const mostBuilds = 2

// brings says what the reading brings: the doubt of the prop's thrust, and figures of builds that use it, each by the
// drawer's log without the reading, as it has corrected d, and with it.
func (l *Listen) brings(ctx context.Context, ask *answer.Ask, x *Listened, d *inventory.Drawer, text []byte,
	c *inventory.Combination, sdBefore float64) error {
	after, err := inventory.Read(l.Name, bytes.NewReader(text))
	if err != nil {
		return err
	}
	x.Entry = len(after.Log)
	sdAfter, prior, err := l.learned(ctx, after, ask, c.Prop.ID)
	if err != nil || sdAfter == 0 {
		return err
	}
	if sdBefore == 0 {
		sdBefore = prior
	}
	x.PropDoubt = &PropDoubt{c.Prop.ID, catalogue.Round(100 * sdBefore), catalogue.Round(100 * sdAfter)}
	x.Words.Brings = catalogue.HeardBrings(c.Prop.ID, sdBefore, sdAfter)
	x.Words.Figures = catalogue.HeardFigures(c.Prop.ID)
	builds, err := l.builds(ctx, ask, d, c)
	if err != nil {
		return err
	}
	was, err := l.assess(ctx, ask, d, builds)
	if err != nil {
		return err
	}
	is, err := l.assess(ctx, ask, after, builds)
	if err != nil {
		return err
	}
	for i := range builds {
		x.Changes = append(x.Changes, news(&was[i], &is[i]))
	}
	return nil
}

// learned corrects a drawer by its log: the doubt of a prop's thrust with it and without it, 0 if nothing is learned.
func (l *Listen) learned(ctx context.Context, d *inventory.Drawer, ask *answer.Ask, prop string) (after, prior float64,
	err error) {
	report, err := learn.Learn(ctx, d, l.Ways)
	if errors.As(err, new(inventory.Faults)) {
		return 0, 0, nil // no readings, or others are at fault: learn says so
	}
	if err != nil {
		return 0, 0, err
	}
	for i := range report.Learned.Parts {
		p := &report.Learned.Parts[i]
		for _, change := range p.Changes {
			if p.Kind == inventory.KindProp && p.ID == prop && change.Input == uncertain.PropThrust {
				after, prior = change.LnSDAfter, change.LnSDBefore
			}
		}
	}
	return after, prior, report.Learned.Apply(d, ask.Problem.Style.Name, l.Ways)
}

// builds are the craft that was heard and the best others with its prop.
func (l *Listen) builds(ctx context.Context, ask *answer.Ask, d *inventory.Drawer, c *inventory.Combination) (
	[]inventory.Parts, error) {
	list := []inventory.Parts{c.Parts()}
	cut := *d
	i := slices.Index(d.IDs(inventory.KindProp), c.Prop.ID)
	if i < 0 {
		return list, nil
	}
	cut.Take(inventory.KindProp, d, i, i+1)
	o := ask.Search
	o.Top, o.Draws = mostBuilds+1, 1
	r, err := search.Search(ctx, space.Problem{Drawer: &cut, Air: ask.Problem.Air, Style: ask.Problem.Style,
		With: ask.Problem.With}, o)
	if err != nil {
		return nil, err
	}
	for i := range r.Best {
		if best := &r.Best[i].Combination; best.Key() != c.Key() && len(list) <= mostBuilds {
			list = append(list, best.Parts())
		}
	}
	return list, ctx.Err()
}

func (l *Listen) assess(ctx context.Context, ask *answer.Ask, d *inventory.Drawer, builds []inventory.Parts) (
	[]predict.Result, error) {
	var list []inventory.Combination
	for i := range builds {
		c, err := compat.Build(d, &builds[i])
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	p := *ask.Problem
	p.Drawer = d
	return predict.Assess(ctx, p, list, ask.Search.Sampling(d))
}

func news(was, is *predict.Result) BuildNews {
	p := was.Combination.Parts()
	n := BuildNews{Parts: answer.Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board,
		Extras: append([]string{}, p.Extras...)}, Text: catalogue.BareText(&was.Combination)}
	for _, q := range toldFigures {
		before, after := catalogue.ShownOf(was, q), catalogue.ShownOf(is, q)
		n.Figures = append(n.Figures, FigureNews{Key: before.Key, Name: before.Name, Was: before, Is: after,
			Before: told(&before), After: told(&after)})
	}
	return n
}

func told(s *catalogue.Shown) answer.Figure {
	if !s.Defined() {
		return answer.Unknown(s.Basis, catalogue.Undefined(s.Why))
	}
	return answer.Known(s.Value, s.Low, s.High, s.Basis)
}
