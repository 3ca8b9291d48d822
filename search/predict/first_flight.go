package predict

import (
	"cmp"
	"context"
	"math"
	"slices"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
	"partsaloft/search/internal/parallel"
)

// ReadingKind is something that a pilot reads on the first flight.
type ReadingKind uint8

// The readings: on the scale, on the display in a hover at half charge, in a short punch at the
// throttle cap on a full pack, on the stopwatch from a full pack to landing flown as the style
// says, and the cell voltage at which that flight ends. Voltages are those of the display: plug and
// leads take their share.
const (
	ReadMass ReadingKind = iota
	ReadHoverThrottle
	ReadHoverCurrent
	ReadPunchCell
	ReadFlightTime
	ReadAlarmCell
	readingCount
)

var readingKeys = [readingCount]string{"all_up_g", "hover_throttle_pct", "hover_current_a", "punch_cell_v", "style_minutes", "alarm_cell_v"}

// Key is the reading's key in JSON.
func (k ReadingKind) Key() string { return readingKeys[k] }

// Reading is one reading with its interval over the draws and what a deviation from it points to.
type Reading struct {
	Kind   ReadingKind
	Value  Value // SI
	Causes []Cause
}

// Cause is an uncertain input that moves a reading.
type Cause struct {
	Input uncertain.Input
	// Raises says that more of the input raises the reading, else it lowers it.
	Raises bool
	// Share is its share of the reading's variance when each input moves alone.
	Share float64
}

// Bounds of the causes that are named.
const (
	leastCause = 0.10
	mostCauses = 3
)

// FirstFlight predicts what a pilot reads on the first flight of a result, on the draws of the
// options' seed. The throttle cap is the nominal one, as set before the flight.
func FirstFlight(ctx context.Context, style *objective.Style, r *Result, o Sampling) []Reading {
	capDuty, _ := r.Performance.Get(figure.ThrottleCap)
	capped := r.Performance.Cap != physics.NoLimit
	read := func(c *physics.Craft) (out [readingCount]float64, known [readingCount]bool) {
		p := c.Evaluate(&style.Flying)
		for kind, q := range [...]figure.Quantity{figure.AllUpMass, figure.HoverThrottle, figure.HoverCurrent} {
			x, why := p.Get(q)
			out[kind], known[kind] = x, why == physics.Defined
		}
		x, why := p.Get(figure.LoadedCell)
		current, _ := p.Get(figure.FullThrottleCurrent)
		out[ReadPunchCell], known[ReadPunchCell] = c.Pack.DisplayCellV(x, current), why == physics.Defined
		if capped {
			out[ReadPunchCell], known[ReadPunchCell] = punchCellV(c, capDuty)
		}
		if flight, why := c.Fly(&style.Flying, capDuty); why == physics.Defined {
			out[ReadFlightTime], known[ReadFlightTime] = flight.DurationS, true
			out[ReadAlarmCell], known[ReadAlarmCell] = c.Pack.DisplayCellV(flight.LoadedCellV, flight.EndA), true
		}
		return out, known
	}
	nominal, known := read(&r.Craft)
	deviations := NewDraws(o).deviations(&r.Combination, &r.Craft.Uncertainty)
	drawn := make([][readingCount]float64, len(deviations))
	knownDrawn := make([][readingCount]bool, len(deviations))
	done := parallel.For(ctx, o.Workers, len(deviations), 8, func(i int) {
		c := r.Craft.Deviate(&deviations[i])
		drawn[i], knownDrawn[i] = read(&c)
	})
	effects := inputEffects(r, read)
	var readings []Reading
	for kind := range readingCount {
		if !known[kind] {
			continue
		}
		v := Value{Value: nominal[kind], Low: nominal[kind], High: nominal[kind]}
		var values []float64
		for i := range done {
			if knownDrawn[i][kind] {
				values = append(values, drawn[i][kind])
			}
		}
		if len(values) > 0 {
			slices.Sort(values)
			v.Low, v.High = math.Min(v.Value, point(values, lowPoint)), math.Max(v.Value, point(values, highPoint))
		}
		causes, basis := causesOf(effects[kind], &r.Craft.Uncertainty)
		v.Basis = basis
		readings = append(readings, Reading{kind, v, causes})
	}
	return readings
}

// punchCellV is the cell voltage on the display of a full pack at a duty, by proportion between
// duties a twentieth apart.
func punchCellV(c *physics.Craft, duty float64) (float64, bool) {
	const steps = 20
	low := physics.ThrottlePoint{LoadedCellV: c.Pack.Chemistry.FullCellV()}
	for _, high := range c.ThrottleCurve(steps) {
		high.LoadedCellV = c.Pack.DisplayCellV(high.LoadedCellV, high.PackA)
		if high.Duty >= duty {
			t := (duty - low.Duty) / (high.Duty - low.Duty)
			return low.LoadedCellV + t*(high.LoadedCellV-low.LoadedCellV), true
		}
		low = high
	}
	return 0, false
}

// effect is half the change of a reading when one input goes from one standard deviation under
// its nominal value to one over it.
type effect struct {
	input uncertain.Input
	by    float64
}

func inputEffects(r *Result, read func(*physics.Craft) ([readingCount]float64, [readingCount]bool)) [readingCount][]effect {
	var effects [readingCount][]effect
	for i := range uncertain.InputCount {
		var d uncertain.Deviation
		d[i] = r.Craft.Uncertainty.LnSD[i]
		if d[i] == 0 {
			continue
		}
		above := r.Craft.Deviate(&d)
		d[i] = -d[i]
		below := r.Craft.Deviate(&d)
		up, upKnown := read(&above)
		down, downKnown := read(&below)
		for kind := range readingCount {
			if upKnown[kind] && downKnown[kind] {
				effects[kind] = append(effects[kind], effect{i, (up[kind] - down[kind]) / 2})
			}
		}
	}
	return effects
}

// causesOf are the inputs that carry most of a reading's variance, the strongest first, and the
// weakest basis among those that carry a tenth.
func causesOf(effects []effect, u *uncertain.Budget) ([]Cause, uncertain.Basis) {
	var total float64
	for _, e := range effects {
		total += e.by * e.by
	}
	if total == 0 {
		return nil, uncertain.Label
	}
	slices.SortStableFunc(effects, func(a, b effect) int { return cmp.Compare(math.Abs(b.by), math.Abs(a.by)) })
	var causes []Cause
	basis := uncertain.Measured
	for _, e := range effects {
		share := e.by * e.by / total
		if share < leastCause {
			break
		}
		basis = max(basis, u.Basis[e.input])
		if len(causes) < mostCauses {
			causes = append(causes, Cause{e.input, e.by > 0, share})
		}
	}
	return causes, basis
}
