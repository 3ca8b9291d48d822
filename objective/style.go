package objective

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Weights are the shares of the axes in the score; they add up to 1.
type Weights [AxisCount]float64

// Style is a way of flying and what a pilot wants from it.
type Style struct {
	Name          string
	Weights       Weights
	Limits        []Limit // by quantity, one a quantity
	DuctedLimits  []Limit // in place of Limits of the same quantity where ducts stand around the props
	RequiredRoles []string
	Flying        physics.Flying
}

// preset is a built-in style; segments are those of physics.
type preset struct {
	name     string
	weights  Weights
	limits   []Limit
	ducted   []Limit
	speedMS  float64
	segments func() []physics.Segment
}

// presets in the order in which they are shown. Weights and limits are ours (common practice, no
// source): cruising wants minutes, racing speed and grip, and a heat takes a minute and a half. Racers have a
// thrust-to-weight of 12 and more, but whoops race with 3, and with 2.1 to 3.3 by what their labels predict: more than
// the 2 that every craft must have is asked by grip alone. What flies in a home, among people, must not hit hard:
// with bare props as a 55 g craft does at 3 m/s, with ducts as one of
// 90 g. A hall has room, but not for a heavy craft.
func presets() []preset {
	open := math.Inf(1)
	return []preset{
		{"cruise",
			Weights{1, 5, 3, 1}, []Limit{{figure.HoverThrottle, Range{-open, 65}}}, nil,
			9, physics.EasySegments},
		{"freestyle",
			Weights{4, 2, 3, 1}, []Limit{{figure.ThrustToWeight, Range{2, open}}}, nil,
			12, physics.MixedSegments},
		{"race",
			Weights{4, 1, 1, 4}, []Limit{{figure.ThrustToWeight, Range{2, open}}, {figure.StyleTime, Range{1.5, open}}}, nil,
			16, physics.HardSegments},
		{"indoor",
			Weights{3, 3, 4, 0}, []Limit{{figure.KineticEnergy, Range{-open, 0.25}}},
			[]Limit{{figure.KineticEnergy, Range{-open, 0.4}}},
			3, physics.IndoorSegments},
		{"hall",
			Weights{3, 3, 4, 0}, []Limit{{figure.AllUpMass, Range{-open, 100}}}, nil,
			3, physics.IndoorSegments},
	}
}

// PresetNames lists the built-in styles.
func PresetNames() []string {
	var names []string
	for _, p := range presets() {
		names = append(names, p.name)
	}
	return names
}

// Preset returns a built-in style.
func Preset(name string) (Style, bool) {
	for _, p := range presets() {
		if p.name != name {
			continue
		}
		w, _ := p.weights.Normalised()
		segments := p.segments()
		return Style{Name: p.name, Weights: w, Limits: p.limits, DuctedLimits: p.ducted,
			Flying: physics.Flying{SpeedMS: p.speedMS, Segments: segments, Indoors: !physics.Outdoors(segments)}}, true
	}
	return Style{}, false
}

// highestWeight bounds a weight, so that their sum stays a number.
const highestWeight = 1e6

// Normalised returns the weights divided by their sum. It is a *strict.Problem if one is under 0, too high or no
// number, or if all are 0.
func (w Weights) Normalised() (Weights, error) {
	var sum float64
	for a, x := range w {
		if !(x >= 0 && x <= highestWeight) {
			return w, problem("weight.range", strict.Values{"axis": Axis(a).Key(), "most": strict.Number(highestWeight),
				"got": strict.Number(x)})
		}
		sum += x
	}
	if sum == 0 {
		return w, problem("weight.none", strict.Values{"axes": strict.List(axisKeys[:])})
	}
	for a := range w {
		w[a] /= sum
	}
	return w, nil
}

// ParseWeights reads grip=4,endurance=1; axes not named weigh 0. The result is normalised. The error is or holds
// strict.Faults without a place, one for every weight that is none.
func ParseWeights(text string) (Weights, error) {
	var w Weights
	var given [AxisCount]bool
	var faults strict.Faults
	fault := func(p *strict.Problem) { faults = append(faults, strict.Fault{Problem: *p}) }
	for word := range strings.SplitSeq(text, ",") {
		key, value, ok := strings.Cut(word, "=")
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		axis, known := AxisByKey(key)
		x, err := strconv.ParseFloat(value, 64)
		switch {
		case !ok:
			fault(problem("weight.form", strict.Values{"got": strict.Quoted(strings.TrimSpace(word))}))
		case !known:
			fault(unknownAxis(key))
		case given[axis]:
			fault(problem("weight.twice", strict.Values{"axis": key}))
		case err != nil || !(x >= 0 && x <= highestWeight):
			fault(problem("weight.number", strict.Values{"axis": key, "most": strict.Number(highestWeight),
				"got": strict.Quoted(value)}))
		default:
			w[axis], given[axis] = x, true
		}
	}
	if len(faults) > 0 {
		return Weights{}, faults
	}
	return w.Normalised()
}

func unknownAxis(key string) *strict.Problem {
	return problem("weight.axis", strict.Values{"got": strict.Quoted(key), "axes": strict.List(axisKeys[:])})
}

// With returns the style with a limit added, for crafts with and without ducts; it replaces one of the same figure.
func (s Style) With(l Limit) Style {
	s.DuctedLimits = slices.DeleteFunc(slices.Clone(s.DuctedLimits),
		func(d Limit) bool { return d.Quantity == l.Quantity })
	s.Limits = slices.Clone(s.Limits)
	i, found := slices.BinarySearchFunc(s.Limits, l.Quantity,
		func(l Limit, q figure.Quantity) int { return cmp.Compare(l.Quantity, q) })
	if found {
		s.Limits[i] = l
	} else {
		s.Limits = slices.Insert(s.Limits, i, l)
	}
	return s
}

// Check reports every fault of a style made by hand, as strict.Faults without a place.
func (s *Style) Check() error {
	var faults strict.Faults
	add := func(code strict.Code, values strict.Values) {
		faults = append(faults, strict.Fault{Problem: strict.Problem{Code: code, Values: values}})
	}
	var sum float64
	for _, w := range s.Weights {
		sum += w
	}
	if !(math.Abs(sum-1) < 1e-9) {
		add("style.weights", strict.Values{"sum": sum})
	}
	for _, limits := range [...][]Limit{s.Limits, s.DuctedLimits} {
		for i, l := range limits {
			switch {
			case l.Quantity >= figure.Count:
				add("style.quantity", strict.Values{"n": i + 1, "got": int(l.Quantity), "count": int(figure.Count)})
			case !(l.Range.Low <= l.Range.High):
				add("range.swapped", strict.Values{"range": l.String(), "low": l.Range.Low, "high": l.Range.High})
			case i > 0 && limits[i-1].Quantity >= l.Quantity:
				add("style.order", strict.Values{"limit": l.Key()})
			}
		}
	}
	for _, p := range flyingProblems(s.Flying.Check()) {
		add(p.Code, p.Values)
	}
	if faults == nil {
		return nil
	}
	return faults
}
