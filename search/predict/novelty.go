package predict

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/space"
)

// Flying is a craft of the fleet as it flies: predicted, with what was measured put in its place.
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
		c, err := compat.Build(d, &d.Fleet[i].Parts)
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

// Unlike is the distance of a performance from the nearest craft of the fleet: the root of the
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

// Preferred is a score with the wish for something new: (1 − w) score + 100 w unlike.
func Preferred(score, weight, unlike float64) float64 {
	return (1-weight)*score + 100*weight*unlike
}

// preferred is a score with the wish for something new that a result carries, if any.
func (r *Result) preferred(score float64) float64 {
	if r.Novelty == nil {
		return score
	}
	return Preferred(score, r.Novelty.weight, r.Novelty.Distance)
}

// Novelty is how far a result lies from the craft nearest to it among those that fly already, 0 to 1 over
// all figures, and the figures in which it differs most from that craft, at most two. Nearest is empty
// if nothing flies.
type Novelty struct {
	Distance    float64
	Nearest     string
	Differences []Contrast

	weight float64 // of the wish for something new
}

// Contrast is a quantity of a result beside that of another craft, in SI.
type Contrast struct {
	Quantity      figure.Quantity
	Value, Theirs float64
}

// The most contrasts that are named, and the logarithm of a ratio up to which two figures are as good as
// equal.
const (
	mostContrasts  = 2
	leastLnOfRatio = 0.05
)

// SetNovelty sets how far a result lies from the fleet, with the weight of the wish for something new.
func (r *Result) SetNovelty(fleet []Flying, weight float64) {
	distance, nearest := Unlike(&r.Performance, fleet)
	r.Novelty = &Novelty{Distance: distance, weight: weight}
	if nearest != nil {
		r.Novelty.Nearest, r.Novelty.Differences = nearest.name, nearest.contrasts(&r.Performance)
	}
}

// contrasts are the figures in which a performance differs most from a craft of the fleet.
func (f *Flying) contrasts(p *physics.Performance) []Contrast {
	gap := f.apartBy(p)
	order := make([]int, len(gap))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(gap[b]), math.Abs(gap[a])) })
	var list []Contrast
	for _, i := range order {
		q := figure.AllUpMass
		if i < objective.CriterionCount {
			q = objective.CriterionOf(i).Quantity
		}
		x, why := p.Get(q)
		if why != physics.Defined || !f.known[q] || len(list) == mostContrasts {
			continue
		}
		shown := figure.Of(q)
		if math.Abs(math.Log(shown.FromSI(x)/shown.FromSI(f.values[q]))) > leastLnOfRatio {
			list = append(list, Contrast{q, x, f.values[q]})
		}
	}
	return list
}
