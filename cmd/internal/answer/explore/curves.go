package explore

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// Points of the curves that the page holds; it draws smooth lines through them.
const (
	throttleSteps = 8
	speedSteps    = 8
	flightSteps   = 6
)

// lowestCellV and cellSpanV are the range of cell voltages in a byte.
const (
	lowestCellV = 2.0
	cellSpanV   = 2.55
)

// curves are the curves of all results in detail, one after the other: thrust and current in shares
// of those at full throttle, power in shares of the largest, time in shares of the flight.
type curves struct {
	ThrottleSteps int     `json:"throttleSteps"`
	SpeedSteps    int     `json:"speedSteps"`
	FlightSteps   int     `json:"flightSteps"`
	LowestCellV   float64 `json:"lowestCellV"`
	CellSpanV     float64 `json:"cellSpanV"`

	Thrust  column `json:"thrust"`
	Current column `json:"current"`
	Power   column `json:"power"` // 0 where the speed cannot be held
	PowerW  column `json:"powerW"`
	TopMps  column `json:"topMps"`
	Time    column `json:"time"`
	CellV   column `json:"cellV"` // shares of the range of cell voltages
	// PunchV is the cell voltage on the display of a full pack at the throttle cap; LimitA the lowest
	// limit on the pack's current and Limit its name's index.
	PunchV column   `json:"punchV"`
	LimitA column   `json:"limitA"`
	Limit  column   `json:"limit"`
	Limits []string `json:"limits"`
}

var limitNames = [...]string{"pack", "cell voltage", "ESCs", "plug", "motors"}

func curvesOf(results []*predict.Result, flying *physics.Flying) curves {
	c := curves{ThrottleSteps: throttleSteps, SpeedSteps: speedSteps, FlightSteps: flightSteps,
		LowestCellV: lowestCellV, CellSpanV: cellSpanV, Limits: limitNames[:]}
	var thrust, current, power, powerW, top, time, cell, punch, limitA []float64
	var limit []int32
	for _, r := range results {
		duty, _ := r.Performance.Get(figure.ThrottleCap)
		force, amps, punchV := throttle(r, duty)
		thrust, current, punch = append(thrust, force...), append(current, amps...), append(punch, cellShare(punchV))

		watts, most, topMS := level(r, flying)
		power, powerW, top = append(power, watts...), append(powerW, most), append(top, topMS)

		elapsed, volts := flight(r, flying)
		time, cell = append(time, elapsed...), append(cell, volts...)

		a, which := tightest(r)
		limitA, limit = append(limitA, a), append(limit, which)
	}
	c.Thrust, c.Current, c.Power, c.PowerW, c.TopMps = shares(thrust), shares(current), shares(power), measured(powerW),
		measured(top)
	c.Time, c.CellV, c.PunchV, c.LimitA, c.Limit = shares(time), shares(cell), shares(punch), measured(limitA),
		whole(limit)
	return c
}

func cellShare(v float64) float64 { return (v - lowestCellV) / cellSpanV }

// throttle is thrust and pack current at equal steps of throttle, in shares of those at full, and
// the cell voltage on the display at a duty, which falls with the current in a straight line.
func throttle(r *predict.Result, duty float64) (thrust, current []float64, punchV float64) {
	thrust, current = make([]float64, throttleSteps), make([]float64, throttleSteps)
	points := r.Craft.ThrottleCurve(throttleSteps)
	if len(points) == 0 {
		return thrust, current, math.NaN()
	}
	full := points[len(points)-1]
	before := physics.ThrottlePoint{LoadedCellV: r.Craft.Pack.Chemistry.FullCellV()}
	punchV = r.Craft.Pack.DisplayCellV(full.LoadedCellV, full.PackA)
	for _, p := range points {
		i := int(math.Round(p.Duty*throttleSteps)) - 1
		thrust[i], current[i] = p.ThrustN/full.ThrustN, p.PackA/full.PackA
		p.LoadedCellV = r.Craft.Pack.DisplayCellV(p.LoadedCellV, p.PackA)
		if before.Duty < duty && duty <= p.Duty {
			t := (duty - before.Duty) / (p.Duty - before.Duty)
			punchV = before.LoadedCellV + t*(p.LoadedCellV-before.LoadedCellV)
		}
		before = p
	}
	return thrust, current, punchV
}

// level is the power in level flight at equal steps of speed, in shares of the largest.
func level(r *predict.Result, flying *physics.Flying) (power []float64, mostW, topMps float64) {
	power = make([]float64, speedSteps+1)
	points := r.Craft.SpeedCurve(flying, speedSteps)
	if len(points) < 2 {
		return power, math.NaN(), math.NaN()
	}
	for _, p := range points {
		mostW = max(mostW, p.PowerW)
	}
	for i, p := range points {
		power[i] = p.PowerW / mostW
	}
	return power, mostW, figure.Of(figure.TopSpeed).FromSI(points[1].SpeedMS * speedSteps)
}

// flight is the time and the cell voltage on the display at equal steps of charge.
func flight(r *predict.Result, flying *physics.Flying) (time, cell []float64) {
	time, cell = make([]float64, flightSteps+1), make([]float64, flightSteps+1)
	points, why := r.Craft.Discharge(flying, flightSteps)
	if why != physics.Defined {
		return time, cell
	}
	whole := points[flightSteps].TimeS
	for i, p := range points {
		time[i], cell[i] = p.TimeS/whole, cellShare(r.Craft.Pack.DisplayCellV(p.LoadedCellV, p.CurrentA))
	}
	return time, cell
}

// tightest is the limit on the pack's current that full throttle comes nearest to, or exceeds most.
func tightest(r *predict.Result) (limitA float64, which int32) {
	full, _ := r.Performance.Get(figure.FullThrottleCurrent)
	loaded, _ := r.Performance.Get(figure.LoadedCell)
	chemistry := r.Craft.Pack.Chemistry
	sag := (chemistry.FullCellV() - loaded) / (chemistry.FullCellV() - chemistry.LowestCellV())
	uses := [len(limitNames)]float64{1: sag}
	for i, q := range [...]figure.Quantity{figure.PackCurrentUse, 0, figure.BoardCurrentUse, figure.ConnectorCurrentUse,
		figure.MotorCurrentUse} {
		if q != 0 {
			uses[i], _ = r.Performance.Get(q)
		}
	}
	for i, use := range uses {
		if use > uses[which] {
			which = int32(i)
		}
	}
	return full / uses[which], which
}
