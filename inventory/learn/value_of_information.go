package learn

import (
	"cmp"
	"context"
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// Taught is the reading of the log that taught most.
type Taught struct {
	Entry int // number in the log, from 1; 0 if none taught
	Key   Key
	// Wider is by how much the crafts' hover throttle, minutes and thrust-to-weight would be less sure without it: the
	// mean factor on their standard deviations, less 1.
	Wider float64
}

// Bounds of what is worth a sentence.
const (
	leastWider    = 0.02
	usefulReading = 0.97 // a further reading that leaves more of the doubt than this is not asked for
	mostQuestions = 6
)

// aimed is a craft whose figures one wants to know: hover throttle on the display, minutes, thrust-to-weight.
type aimed struct {
	flightObservation
	flying physics.Flying
	entry  int // number in the log of the first entry of its parts, from 1; 0 if there is none
	parts  inventory.Parts
}

// aims are the logarithms of a craft's figures; false where one of them has none.
func (a *aimed) aims(z []float64) (figures [3]float64, ok bool) {
	d := a.all.deviation(z)
	c := a.craft.Deviate(&d)
	p := c.EvaluateOnly(&a.flying, 1<<figure.HoverThrottle|1<<figure.StyleTime|1<<figure.ThrustToWeight)
	duty, why := p.Get(figure.HoverThrottle)
	timeS, whyNot := p.Get(figure.StyleTime)
	thrust, _ := p.Get(figure.ThrustToWeight)
	shown := a.throttle.Shown(duty) * math.Exp(d[uncertain.ThrottleScale])
	if why != physics.Defined || whyNot != physics.Defined || !(timeS > 0 && thrust > 0 && shown > 0) {
		return figures, false
	}
	return [...]float64{math.Log(shown), math.Log(timeS), math.Log(thrust)}, true
}

// forms are the derivatives of a craft's figures over the latent numbers, by central differences; none where it is not
// predicted to fly.
func (a *aimed) forms(z []float64) []row {
	forms := make([]row, 3)
	moved := append([]float64{}, z...)
	for _, k := range a.all.touched() {
		moved[k] = z[k] + differenceStep
		above, okAbove := a.aims(moved)
		moved[k] = z[k] - differenceStep
		below, okBelow := a.aims(moved)
		moved[k] = z[k]
		if !okAbove || !okBelow {
			return nil
		}
		for i := range forms {
			if by := (above[i] - below[i]) / (2 * differenceStep); by != 0 {
				forms[i] = append(forms[i], term{k, by})
			}
		}
	}
	return forms
}

// aim makes a craft of parts, flown in a way, one whose figures are wanted.
func (g *evidence) aim(parts *inventory.Parts, flown string, entry int) (*aimed, error) {
	c, err := compat.Build(g.drawer, parts)
	if err != nil {
		return nil, err
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		return nil, err
	}
	prop, err := g.propeller(c.Prop, air)
	if err != nil {
		return nil, err
	}
	a := &aimed{entry: entry, parts: c.Parts()}
	flying, way, ok := g.ways.named(flown)
	if !ok {
		flying, way, _ = g.ways.named(wayCruise)
	}
	a.flying, a.frame = flying, c.Frame.ID
	if a.craft, err = c.Craft(prop); err != nil {
		return nil, err
	}
	a.all = g.rows(&c, &a.craft, way)
	a.throttle = c.Board.Throttle.SI()
	loose, ok := g.looseMass[a.frame]
	if !ok {
		loose = looseShare * a.craft.MassKg() / a.craft.FrameKg
	}
	a.all[uncertain.FrameMass] = a.all[uncertain.FrameMass].plus(
		row{{g.of(kindLoose, a.frame, uncertain.FrameMass), loose}})
	return a, nil
}

// aimAtLog are the crafts of the log, each once.
func (g *evidence) aimAtLog() []*aimed {
	var list []*aimed
	for k := range g.entries {
		from := &g.entries[k]
		if from.log < 0 {
			continue
		}
		seen := false
		for _, other := range list {
			seen = seen || sameParts(&other.parts, &from.parts)
		}
		if seen {
			continue
		}
		if a, err := g.aim(&from.parts, g.drawer.Log[from.log].Flown, from.log+1); err == nil {
			list = append(list, a)
		}
	}
	return list
}

// formsOf are the figures of crafts as linear forms about a posterior.
func formsOf(crafts []*aimed, p *posterior) []row {
	var forms []row
	for _, a := range crafts {
		forms = append(forms, a.forms(p.mean)...)
	}
	return forms
}

// taught finds the reading of the log without which the figures would be least sure, by taking each out alone.
//
//	v' = v + c²/(s²/w − h),  c covariance of figure and reading, h variance of the reading's prediction, s²/w its own
func (g *evidence) taught(p *posterior, forms []row) Taught {
	var best Taught
	for k := range g.observations {
		d := &p.linearised[k]
		if g.entries[k].log < 0 || d.predicted == nil {
			continue
		}
		for i, r := range g.observations[k].read() {
			reading := d.row(i)
			free := d.sd[i]*d.sd[i]/d.robust[i] - p.covarianceOf(reading, reading)
			if !(free > 0) {
				continue
			}
			var wider float64
			for _, form := range forms {
				c := p.covarianceOf(form, reading)
				wider += 0.5 * math.Log1p(c*c/free/p.covarianceOf(form, form)) / float64(len(forms))
			}
			if wider = math.Expm1(wider); wider > math.Max(best.Wider, leastWider) {
				best = Taught{g.entries[k].log + 1, r.Key, wider}
			}
		}
	}
	return best
}

// next finds the further reading of the crafts that would leave least of the doubt of their figures.
func (g *evidence) next(p *posterior, crafts []*aimed, forms []row) FurtherReading {
	best := FurtherReading{Left: usefulReading}
	seen := map[FurtherReading]bool{}
	for _, a := range crafts {
		list := append(g.askable(p, a, g.readOf(&a.parts)), g.benchCandidates(a.parts, seen)...)
		for i := range list {
			if left := meanLeft(p, forms, &list[i]); left < best.Left-1e-9 {
				best = list[i].FurtherReading
				best.Left = left
			}
		}
	}
	return best
}

// meanLeft is the geometric mean of the shares of the doubt of figures that a candidate leaves.
func meanLeft(p *posterior, forms []row, c *candidate) float64 {
	var sum float64
	for _, form := range forms {
		sum += math.Log(math.Max(shareLeft(p, form, c), 1e-3))
	}
	return math.Exp(sum / math.Max(float64(len(forms)), 1))
}

// readOf are the readings that the log has of a craft.
func (g *evidence) readOf(parts *inventory.Parts) map[Key]bool {
	read := map[Key]bool{}
	for k, s := range g.observations {
		if g.entries[k].log >= 0 && sameParts(&g.entries[k].parts, parts) {
			for _, r := range s.read() {
				read[r.Key] = true
			}
		}
	}
	return read
}

// askedKeys are the readings that a pilot may be asked for on a flown craft.
var askedKeys = [...]Key{AllUp, HoverThrottle, HoverSpeed, HoverCurrent, FlightMinutes, FullThrottleCurrent, LoadedCell,
	PunchSpeed, TopSpeed}

// usedShare is the share of the capacity that a flight is imagined to use.
const usedShare = 0.75

// askable are readings that could be taken of a craft, each by itself, those left out that were.
func (g *evidence) askable(p *posterior, a *aimed, known map[Key]bool) []candidate {
	var list []candidate
	for _, key := range askedKeys {
		if known[key] {
			continue
		}
		f := a.flightObservation
		f.flight = &flight{flying: a.flying, usedAs: usedShare * f.craft.Pack.CapacityAs, fromUsed: true}
		f.readings = []Reading{{Key: key, Measured: 1, SD: 1}}
		f.prune()
		values, ok := predictions(&f, p.mean)
		if !ok {
			continue
		}
		f.readings[0] = read(key, f.readings[0].unscaled(values[0]))
		d, ok := g.linearise(&f, p.mean)
		if !ok {
			continue
		}
		list = append(list, candidate{FurtherReading{Key: key, Entry: a.entry}, []row{d.row(0)}, []float64{d.sd[0]}})
	}
	return list
}

// Questions are the readings worth taking of a craft, the one that narrows its figures most first, each in the light of
// those before it: of hover throttle, minutes and thrust-to-weight, flown in a way (cruise if it is not known). Left is
// what all up to it leave of the doubt. The log counts as far as it can be learned from; where it cannot, what parts
// alone let one expect. The error is that of parts that make no craft, or the context's.
func Questions(ctx context.Context, d *inventory.Drawer, ways Ways, parts *inventory.Parts, flown string) ([]FurtherReading,
	error) {
	g, p := askedOf(ctx, d, ways)
	a, err := g.aim(parts, flown, 0)
	if err != nil {
		return nil, cmp.Or(ctx.Err(), err)
	}
	p = p.grown(len(g.list))
	forms := a.forms(p.mean)
	open := g.askable(p, a, nil)
	var list []FurtherReading
	all, left := candidate{}, 1.0
	for len(list) < mostQuestions && ctx.Err() == nil {
		best, least := -1, left*usefulReading
		for i := range open {
			tried := candidate{rows: append(append([]row{}, all.rows...), open[i].rows...),
				sds: append(append([]float64{}, all.sds...), open[i].sds...)}
			if x := meanLeft(p, forms, &tried); x < least-1e-9 {
				best, least = i, x
			}
		}
		if best < 0 || forms == nil {
			break
		}
		left = least
		one := open[best]
		one.Left = left
		list = append(list, one.FurtherReading)
		all.rows, all.sds = append(all.rows, one.rows...), append(all.sds, one.sds...)
		open = append(open[:best], open[best+1:]...)
	}
	return list, ctx.Err()
}

// askedOf is a drawer's evidence with what its log leaves of the doubt, or without its log.
func askedOf(ctx context.Context, d *inventory.Drawer, ways Ways) (*evidence, *posterior) {
	if len(d.Log) > 0 {
		if g, err := gather(ctx, d, ways); err == nil {
			if p, err := g.fit(ctx); err == nil {
				return g, p
			}
		}
	}
	bare := *d
	bare.Log = nil
	return newEvidence(&bare, ways), &posterior{covariance: nil}
}

// grown is a posterior with latent numbers more, of which nothing is known but the prior.
func (p *posterior) grown(n int) *posterior {
	q := &posterior{mean: make([]float64, n), covariance: identity(n), linearised: p.linearised}
	copy(q.mean, p.mean)
	for i := range p.mean {
		for j := i; j < len(p.mean); j++ {
			q.covariance.SetSym(i, j, p.covariance.At(i, j))
		}
	}
	return q
}
