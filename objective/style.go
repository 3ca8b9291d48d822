package objective

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

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
	RequiredRoles []string
	Flying        physics.Flying
}

// preset is a built-in style; segments are those of physics.
type preset struct {
	name     string
	about    string
	weights  Weights
	limits   []Limit
	speedMS  float64
	landingV float64
	segments func() []physics.Segment
}

// Presets in the order in which they are shown. Weights and limits are ours (common practice, no
// source): cruising wants minutes, racing speed and grip; a hall has no room for a heavy craft.
func presets() []preset {
	open := math.Inf(1)
	return []preset{
		{"cruise", "Gentle flight over a distance: minutes first, then a calm throttle.",
			Weights{1, 5, 3, 1}, []Limit{{figure.HoverThrottle, Range{-open, 65}}},
			9, 3.5, physics.EasySegments},
		{"freestyle", "Figures with turns, dives and pull-outs: grip and a fine throttle.",
			Weights{4, 2, 3, 1}, []Limit{{figure.ThrustToWeight, Range{3, open}}},
			12, 3.5, physics.MixedSegments},
		{"race", "Around gates as fast as it goes, for one heat.",
			Weights{4, 1, 1, 4}, []Limit{{figure.ThrustToWeight, Range{3.5, open}}, {figure.StyleTime, Range{1.5, open}}},
			16, 3.5, physics.HardSegments},
		{"indoor", "Slow flight between obstacles, near people.",
			Weights{3, 3, 4, 0}, []Limit{{figure.AllUpMass, Range{-open, 100}}},
			3, 3.3, physics.IndoorSegments},
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

// AboutPreset says in a sentence what a built-in style is for.
func AboutPreset(name string) string {
	for _, p := range presets() {
		if p.name == name {
			return p.about
		}
	}
	return ""
}

// Preset returns a built-in style.
func Preset(name string) (Style, bool) {
	for _, p := range presets() {
		if p.name != name {
			continue
		}
		w, _ := p.weights.Normalised()
		return Style{Name: p.name, Weights: w, Limits: p.limits,
			Flying: physics.Flying{SpeedMS: p.speedMS, LandingV: p.landingV, Segments: p.segments()}}, true
	}
	return Style{}, false
}

// errNoWeight says how to give weights.
var errNoWeight = errors.New("all weights are 0, so every craft would score the same: give at least one axis a weight, such as grip=1 (axes: grip, endurance, smoothness, top_speed)")

// highestWeight bounds a weight, so that their sum stays a number.
const highestWeight = 1e6

// Normalised returns the weights divided by their sum. It is an error if one is under 0 or not
// finite, or if all are 0.
func (w Weights) Normalised() (Weights, error) {
	var sum float64
	for a, x := range w {
		if !(x >= 0 && x <= highestWeight) {
			return w, fmt.Errorf("weight of %s must be from 0 to %.0f, got %g", Axis(a).Key(), highestWeight, x)
		}
		sum += x
	}
	if sum == 0 {
		return w, errNoWeight
	}
	for a := range w {
		w[a] /= sum
	}
	return w, nil
}

// ParseWeights reads grip=4,endurance=1; axes not named weigh 0. The result is normalised.
func ParseWeights(text string) (Weights, error) {
	var w Weights
	var given [AxisCount]bool
	var errs []error
	for word := range strings.SplitSeq(text, ",") {
		key, value, ok := strings.Cut(word, "=")
		key = strings.TrimSpace(key)
		axis, known := AxisByKey(key)
		x, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
		switch {
		case !ok:
			errs = append(errs, fmt.Errorf("%q is no weight: write AXIS=NUMBER, such as grip=4,endurance=1", strings.TrimSpace(word)))
		case !known:
			errs = append(errs, unknownAxis(key))
		case given[axis]:
			errs = append(errs, fmt.Errorf("%s is given twice; keep one", key))
		case err != nil || !(x >= 0 && x <= highestWeight):
			errs = append(errs, fmt.Errorf("weight of %s must be a number from 0 to %.0f, got %q", key, highestWeight, strings.TrimSpace(value)))
		default:
			w[axis], given[axis] = x, true
		}
	}
	if len(errs) > 0 {
		return Weights{}, errors.Join(errs...)
	}
	return w.Normalised()
}

func unknownAxis(key string) error {
	return fmt.Errorf("%q is no axis: the axes are %s", key, strings.Join(axisKeys[:], ", "))
}

// With returns the style with a limit added; it replaces one of the same figure.
func (s Style) With(l Limit) Style {
	s.Limits = slices.Clone(s.Limits)
	i, found := slices.BinarySearchFunc(s.Limits, l.Quantity, func(l Limit, q figure.Quantity) int { return cmp.Compare(l.Quantity, q) })
	if found {
		s.Limits[i] = l
	} else {
		s.Limits = slices.Insert(s.Limits, i, l)
	}
	return s
}

// Check reports every fault of a style made by hand.
func (s *Style) Check() error {
	var errs []error
	var sum float64
	for _, w := range s.Weights {
		sum += w
	}
	if !(math.Abs(sum-1) < 1e-9) {
		errs = append(errs, fmt.Errorf("weights must add up to 1, got %g", sum))
	}
	for i, l := range s.Limits {
		if l.Quantity >= figure.Count || !(l.Range.Low <= l.Range.High) {
			errs = append(errs, fmt.Errorf("limit %d is none: quantity %d from %g to %g", i+1, l.Quantity, l.Range.Low, l.Range.High))
		} else if i > 0 && s.Limits[i-1].Quantity >= l.Quantity {
			errs = append(errs, fmt.Errorf("limits must be sorted by quantity and unique, %s is not", l.Key()))
		}
	}
	return errors.Join(append(errs, s.Flying.Check())...)
}
