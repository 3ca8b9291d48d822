package predict

import (
	"cmp"
	"context"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/check"
	"partsaloft/objective"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// UncertaintyReduction is how uncertain the scores of combinations are, and which gaps of the drawer cost most of it.
type UncertaintyReduction struct {
	Combinations int     // looked at
	Before       float64 // mean half-width of the score's 80 % interval, in points
	// Steps are the gaps that help most together, each chosen for what it adds to those before it: of those that add at
	// least half as much as the best one, the one of least effort.
	Steps []ReductionStep
}

// ReductionStep is a gap with what closing it, and those before it, leaves.
type ReductionStep struct {
	Gap     check.Gap
	Touches int     // combinations that have the part
	After   float64 // mean half-width of the score's interval over all, in points
	// WithBefore and WithAfter are the mean over those that have the part, before and after this step.
	WithBefore, WithAfter float64
	Halved                int // combinations whose interval is then half as wide or less
}

// leastStep is the share of the mean doubt that a step must take away to be named.
const leastStep = 0.005

// slopeStep is the step of differences in standard deviations: short enough that a segment that cannot
// be flown a whole standard deviation away does not count as a slope.
const slopeStep = 0.2

// scoredWork is the work of the slopes of one score, of two thirds of the inputs, in candidates evaluated.
const scoredWork = 4 * float64(uncertain.InputCount) / 3

// scored is a combination with the slopes of its score.
type scored struct {
	result *Result
	slopes [uncertain.InputCount]float64 // of the score, by the logarithm of each input
	first  float64                       // standard deviation as the drawer is
	now    float64                       // with the gaps closed so far
	filled inventory.Combination         // with the gaps closed so far
}

// ReduceUncertainty ranks what to measure by how much uncertainty it takes away: it finds which few gaps of a drawer,
// closed, would take most of the doubt from the scores of feasible results. The score is taken as linear in the
// logarithms of the uncertain inputs, with its slopes by differences; a closed gap has the doubt that the program
// would reckon with once the key is given. The mean of the intervals' widths is what is made small, one gap after the
// other.
func ReduceUncertainty(ctx context.Context, p *space.Problem, results []Result, most int,
	o Sampling) (UncertaintyReduction, error) {
	progress.Of(ctx).Expect(scoredWork * float64(len(results)))
	list := make([]scored, len(results))
	parallel.For(ctx, parallel.Workers(o.Workers), len(results), 4,
		func(i int) {
			list[i] = scoredOf(&results[i], &p.Style)
			progress.Of(ctx).Add(scoredWork)
		})
	if err := ctx.Err(); err != nil {
		return UncertaintyReduction{}, err
	}
	d := UncertaintyReduction{Combinations: len(list)}
	if len(list) == 0 {
		return d, nil
	}
	var total float64
	for i := range list {
		total += list[i].first
	}
	d.Before = uncertain.HalfWidth() * total / float64(len(list))
	left := check.Gaps(p.Drawer)
	for range most {
		if err := ctx.Err(); err != nil {
			return d, err
		}
		gains := make([]float64, len(left))
		for g := range left {
			for i := range list {
				if has(&list[i].filled, &left[g]) {
					_, sd := list[i].with(&left[g])
					gains[g] += list[i].now - sd
				}
			}
		}
		best := cheapest(left, gains, leastStep*total)
		if best < 0 {
			break
		}
		step := ReductionStep{Gap: left[best]}
		var sum float64
		for i := range list {
			c := &list[i]
			if has(&c.filled, &left[best]) {
				step.Touches++
				step.WithBefore += c.now
				c.filled, c.now = c.with(&left[best])
				step.WithAfter += c.now
			}
			sum += c.now
			if c.now <= c.first/2 {
				step.Halved++
			}
		}
		step.After = uncertain.HalfWidth() * sum / float64(len(list))
		step.WithBefore *= uncertain.HalfWidth() / float64(step.Touches)
		step.WithAfter *= uncertain.HalfWidth() / float64(step.Touches)
		d.Steps = append(d.Steps, step)
		left = slices.Delete(left, best, best+1)
	}
	return d, nil
}

// cheapest is the gap of least effort among those that gain at least worthwhile of the best and over a least gain; of
// one effort the best. It is −1 where there is none.
func cheapest(gaps []check.Gap, gains []float64, least float64) int {
	best := -1
	for g, gain := range gains {
		if gain <= least || gain < worthwhile*slices.Max(gains) {
			continue
		}
		if best < 0 || cmp.Or(cmp.Compare(gaps[g].Effort(), gaps[best].Effort()), cmp.Compare(gains[best], gain)) < 0 {
			best = g
		}
	}
	return best
}

func scoredOf(r *Result, style *objective.Style) scored {
	d := scored{result: r, filled: r.Combination}
	u := &r.Craft.Uncertainty
	asked := style.Questions().Score
	for i := range d.slopes {
		sd := u.LnSD[i]
		if sd == 0 {
			continue
		}
		score := func(by float64) float64 {
			var dev uncertain.Deviation
			dev[i] = by
			craft := r.Craft.Deviate(&dev)
			p := craft.EvaluateOnly(&style.Flying, asked)
			axes := objective.AxesOf(&p)
			return style.Weights.Score(&axes)
		}
		d.slopes[i] = slope(score, r.Evaluation.Score, slopeStep*sd)
	}
	d.first = d.sd(u)
	d.now = d.first
	return d
}

// slope is the slope of a score about its value at 0: by central differences, or from one side where
// the score drops to 0 on the other. That is an edge, such as a turn that can no longer be flown, and
// not how fast the score goes: taken for a slope it would make a doubt of more than a score can be.
func slope(score func(float64) float64, here, step float64) float64 {
	below, above := score(-step), score(step)
	switch {
	case here <= 0 || below <= 0 && above <= 0:
		return 0
	case below <= 0:
		return (above - here) / step
	case above <= 0:
		return (here - below) / step
	}
	return (above - below) / (2 * step)
}

// sd is the standard deviation of the score, to first order.
func (d *scored) sd(u *uncertain.Budget) float64 {
	var variance float64
	part := func(i uncertain.Input) float64 { return d.slopes[i] * u.LnSD[i] }
	for i := range uncertain.InputCount {
		variance += part(i) * part(i)
	}
	variance += 2 * u.ThrustPower * part(uncertain.PropThrust) * part(uncertain.PropPower)
	variance += 2 * u.SpeedSlopes * part(uncertain.PropThrustSpeed) * part(uncertain.PropPowerSpeed)
	variance += 2 * u.SpeedResistance * part(uncertain.MotorSpeed) * part(uncertain.MotorResistance)
	variance += 2 * u.SpeedLoss * part(uncertain.MotorSpeed) * part(uncertain.MotorLoss)
	variance += 2 * u.ResistanceLoss * part(uncertain.MotorResistance) * part(uncertain.MotorLoss)
	return math.Sqrt(math.Max(variance, 0))
}

// with is the combination with one gap more closed and the standard deviation of its score then.
func (d *scored) with(g *check.Gap) (inventory.Combination, float64) {
	c := d.filled
	g.Fill(&c)
	propeller := d.result.Craft.Propeller
	if c.Prop.Learned == nil {
		spec := c.Prop.Spec()
		propeller.Uncertainty = spec.Doubt()
	}
	motor, pack := c.Motor.SI(), c.Pack.SI(propeller.Map.Air.TemperatureK)
	body := c.Body()
	u := inventory.Assemble(c.Rotors(), &propeller, &motor, &pack, &body, c.Connector()).Uncertainty
	return c, d.sd(&u)
}

// has reports whether a combination has the part of a gap.
func has(c *inventory.Combination, g *check.Gap) bool {
	switch g.Kind {
	case inventory.KindMotor:
		return c.Motor.ID == g.ID || c.Motor.Mixed != nil && (c.Motor.Mixed.A.ID == g.ID || c.Motor.Mixed.B.ID == g.ID)
	case inventory.KindProp:
		return c.Prop.ID == g.ID
	case inventory.KindPack:
		return c.Pack.ID == g.ID
	case inventory.KindFrame:
		return c.Frame.ID == g.ID
	case inventory.KindBoard:
		return c.Board.ID == g.ID
	}
	return slices.ContainsFunc(c.Extras, func(e *inventory.Extra) bool { return e.ID == g.ID })
}
