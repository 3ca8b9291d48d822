package predict

import (
	"context"
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
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

var readingKeys = [readingCount]string{"all_up_g", "hover_throttle_pct", "hover_current_a", "punch_cell_v",
	"style_minutes", "alarm_cell_v"}

// Key is the reading's key in JSON.
func (k ReadingKind) Key() string { return readingKeys[k] }

// Reading is one reading with its interval over the draws and what a deviation from it points to.
type Reading struct {
	Kind   ReadingKind
	Value  Value // SI
	Causes []uncertain.Cause
}

// mostCauses is how many causes of a deviation are named.
const mostCauses = 3

// throttleScale is the logarithm of the factor on what a display shows: what readings taught of the board, or else 0.
func (r *Result) throttleScale() float64 {
	k, _ := r.Combination.Board.Learned.For(uncertain.ThrottleScale)
	return k.LnFactor
}

// FirstFlight predicts what a pilot reads on the first flight of a result that is judged, on the draws of the
// options' seed; what is a figure of the result has the interval that it has there. The throttle cap is the nominal one,
// as set before the flight.
func FirstFlight(ctx context.Context, style *objective.Style, r *Result, o Sampling) []Reading {
	capDuty, _ := r.Performance.Get(figure.ThrottleCap)
	capped := r.Performance.Cap != physics.NoLimit
	throttle := r.Combination.Board.Throttle.SI()
	scale := r.throttleScale()
	model := func(at *uncertain.Deviation, values []float64) {
		c := r.Craft.Deviate(at)
		p := c.Evaluate(&style.Flying)
		for kind, q := range [...]figure.Quantity{ReadMass: figure.AllUpMass, ReadHoverThrottle: figure.HoverThrottle,
			ReadHoverCurrent: figure.HoverCurrent} {
			if x, why := p.Get(q); why == physics.Defined {
				values[kind] = x
			}
		}
		if duty, why := p.Get(figure.HoverThrottle); why == physics.Defined {
			values[ReadHoverThrottle] = math.Min(throttle.Shown(duty)*math.Exp(scale+at[uncertain.ThrottleScale]), 1)
		}
		if capped {
			values[ReadPunchCell] = punchCellV(&c, capDuty)
		} else if x, why := p.Get(figure.LoadedCell); why == physics.Defined {
			current, _ := p.Get(figure.FullThrottleCurrent)
			values[ReadPunchCell] = c.Pack.DisplayCellV(x, current)
		}
		if flight, why := c.Fly(&style.Flying); why == physics.Defined {
			values[ReadFlightTime] = flight.DurationS
			values[ReadAlarmCell] = c.Pack.DisplayCellV(flight.LoadedCellV, flight.EndA)
		}
	}
	figures := map[ReadingKind]*Value{ReadMass: &r.Figures[figure.AllUpMass], ReadHoverThrottle: &r.Shown,
		ReadHoverCurrent: &r.Figures[figure.HoverCurrent], ReadFlightTime: &r.Figures[figure.StyleTime]}
	draws := NewDraws(o).deviations(&r.Combination, &r.Craft.Uncertainty)
	p := uncertain.Propagate(model, int(readingCount), &r.Craft.Uncertainty, draws, each(ctx, o.Workers))
	var readings []Reading
	for kind := range readingCount {
		if k := int(kind); !math.IsNaN(p.Nominal(k)) {
			causes := p.Causes(k)
			value := valueOf(p, k)
			if of := figures[kind]; of != nil && of.Why == physics.Defined {
				value = *of
			}
			readings = append(readings, Reading{kind, value, causes[:min(len(causes), mostCauses)]})
		}
	}
	return readings
}

// punchCellV is the cell voltage on the display of a full pack at a duty, by proportion between
// duties a twentieth apart; NaN if there is none.
func punchCellV(c *physics.Craft, duty float64) float64 {
	const steps = 20
	low := physics.ThrottlePoint{LoadedCellV: c.Pack.Chemistry.FullCellV()}
	for _, high := range c.ThrottleCurve(steps) {
		high.LoadedCellV = c.Pack.DisplayCellV(high.LoadedCellV, high.PackA)
		if high.Duty >= duty {
			t := (duty - low.Duty) / (high.Duty - low.Duty)
			return low.LoadedCellV + t*(high.LoadedCellV-low.LoadedCellV)
		}
		low = high
	}
	return math.NaN()
}
