package predict

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/space"
)

// flying is a craft of the fleet as it flies: predicted, with what was measured put in its place.
type Flying struct {
	name   string
	values [figure.Count]float64 // SI
	known  [figure.Count]bool
}

// Fleet predicts the crafts of a drawer's fleet. One that cannot be put in numbers is left out.
func Fleet(p *space.Problem) []Flying {
	var fleet []Flying
	d := p.Drawer
	for i := range d.Fleet {
		f := Flying{name: d.Fleet[i].Name}
		c, err := d.Built(&d.Fleet[i].Parts)
		if err != nil || c.Prop == nil {
			continue
		}
		prop, err := c.Prop.Propeller(p.Air)
		if err != nil {
			continue
		}
		craft, err := c.Craft(prop)
		if err != nil {
			continue
		}
		flown := craft.Evaluate(&p.Style.Flying)
		for q := range f.values {
			x, why := flown.Get(figure.Quantity(q))
			f.values[q], f.known[q] = x, why == physics.Defined
		}
		for key, value := range d.Fleet[i].Measured {
			if known, ok := figure.ByKey(key); ok {
				f.values[known.Quantity], f.known[known.Quantity] = known.ToSI(value), true
			}
		}
		fleet = append(fleet, f)
	}
	return fleet
}

// massSpan is the ratio of all-up masses that counts as wholly unlike.
const massSpan = 8

// apartBy is how far a performance lies from a craft of the fleet on each criterion of an
// axis, and on mass, in shares of the figure's whole range.
func (f *Flying) apartBy(p *physics.Performance) [objective.CriterionCount + 1]float64 {
	var gap [objective.CriterionCount + 1]float64
	for i := range objective.CriterionCount {
		criterion := objective.CriterionOf(i)
		var mine, theirs float64
		if x, why := p.Get(criterion.Quantity); why == physics.Defined {
			mine = criterion.Desirability(x)
		}
		if f.known[criterion.Quantity] {
			theirs = criterion.Desirability(f.values[criterion.Quantity])
		}
		gap[i] = mine - theirs
	}
	if mass, _ := p.Get(figure.AllUpMass); f.known[figure.AllUpMass] && mass > 0 {
		gap[objective.CriterionCount] = math.Log(f.values[figure.AllUpMass]/mass) / math.Log(massSpan)
	}
	return gap
}

// unlike is the distance of a performance from the nearest craft of the fleet: the root of the
// summed squares of its gaps, at most 1; 1 with no fleet. It comes with the nearest craft.
func Unlike(p *physics.Performance, fleet []Flying) (float64, *Flying) {
	least, nearest := 1.0, (*Flying)(nil)
	for i := range fleet {
		var sum float64
		for _, g := range fleet[i].apartBy(p) {
			sum += g * g
		}
		if d := math.Sqrt(sum); nearest == nil || d < least {
			least, nearest = min(d, 1), &fleet[i]
		}
	}
	return least, nearest
}

// preferred is a score with the wish for something new: (1 − w) score + 100 w unlike.
func Preferred(score, weight, unlike float64) float64 {
	return (1-weight)*score + 100*weight*unlike
}

// setUnlike notes how far a result lies from the fleet, in a number and in words.
func (r *Result) SetUnlike(fleet []Flying, weight float64) {
	u, nearest := Unlike(&r.Performance, fleet)
	r.Unlike, r.novelty = u, weight
	if nearest == nil {
		r.UnlikeText = "nothing flies yet that it could be like"
		return
	}
	r.UnlikeText = nearest.words(&r.Performance)
}

// words says in which two figures a performance differs most from a craft of the fleet.
func (f *Flying) words(p *physics.Performance) string {
	gap := f.apartBy(p)
	order := make([]int, len(gap))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(gap[b]), math.Abs(gap[a])) })
	var parts []string
	for _, i := range order {
		q := figure.AllUpMass
		if i < objective.CriterionCount {
			q = objective.CriterionOf(i).Quantity
		}
		x, why := p.Get(q)
		if why != physics.Defined || !f.known[q] {
			continue
		}
		if text := difference(q, x, f.values[q]); text != "" && len(parts) < 2 {
			parts = append(parts, text)
		}
	}
	if len(parts) == 0 {
		return "much like your " + f.name
	}
	return strings.Join(parts, " and ") + ", against your " + f.name
}

// difference compares a quantity with that of another craft in words; empty if they are as good
// as equal.
func difference(q figure.Quantity, x, theirs float64) string {
	shown := figure.Of(q)
	a, b := shown.FromSI(x), shown.FromSI(theirs)
	if !(math.Abs(math.Log(a/b)) > 0.05) {
		return ""
	}
	amount := math.Abs(a - b)
	side := func(more, less string) string {
		if a > b {
			return more
		}
		return less
	}
	switch q {
	case figure.AllUpMass:
		return fmt.Sprintf("%.0f g %s", amount, side("heavier", "lighter"))
	case figure.TopSpeed:
		return fmt.Sprintf("%.0f m/s %s", amount, side("faster", "slower"))
	case figure.Response:
		return fmt.Sprintf("%.0f ms %s to answer", amount, side("slower", "quicker"))
	case figure.TurnThrottle:
		return fmt.Sprintf("%.0f %% %s throttle in a turn", amount, side("more", "less"))
	case figure.PullOut:
		return fmt.Sprintf("%.1f m %s to pull out", amount, side("more", "less"))
	case figure.StyleTime:
		return times(a/b) + " the flying time"
	case figure.TurnLoadFactor:
		return times(a/b) + " the load factor in turns"
	case figure.ThrustStep:
		return times(a/b) + " the thrust step"
	}
	return ""
}

// times writes a ratio: twice, 1.4 times, half, 60 % of.
func times(ratio float64) string {
	switch {
	case math.Abs(ratio-2) < 0.1:
		return "twice"
	case math.Abs(ratio-0.5) < 0.025:
		return "half"
	case ratio < 1:
		return fmt.Sprintf("%.0f %% of", 100*ratio)
	}
	return fmt.Sprintf("%.1f times", ratio)
}
