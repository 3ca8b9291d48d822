package cli

import (
	"math"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory/series"
)

func figureText(f *answer.Figure) string {
	if f.Value == nil {
		return "–"
	}
	number := catalogue.Number(*f.Value, *f.Low, *f.High)
	if span := catalogue.Interval(*f.Value, *f.Low, *f.High); span != "" {
		number += " (" + span + ")"
	}
	return number
}

// plotPoints is the most points of a curve.
const plotPoints = 1500

// flightSheet draws what was found over time, one quantity a panel: hover is marked on throttle and current, punches on
// current, and the voltage without load on the pack's.
func flightSheet(d *readings.Flown) *render.Sheet {
	const time = "time, s"
	t := d.Traces
	var panels []render.Panel
	add := func(y string, values []float64, free bool, aids ...render.Curve) {
		if curves := pieces(values, t.StepS); curves != nil {
			panels = append(panels, render.Panel{X: time, Y: y, FreeY: free, Curves: append(curves, aids...)})
		}
	}
	hover := func(level float64) []render.Curve {
		if math.IsNaN(level) {
			return nil
		}
		name := "hover"
		var aids []render.Curve
		for i := range d.Hover.Stretches {
			if s := &d.Hover.Stretches[i]; s.Verdict == string(series.Hovers) {
				aids = append(aids, render.Curve{Name: name, X: []float64{s.FromS, s.ToS}, Y: []float64{level, level}, Mark: true})
				name = ""
			}
		}
		return aids
	}
	add("throttle, %", t.Throttle, false, hover(t.LevelThrottle)...)
	add("rpm", t.RPM, false, hover(valueOf(d.Found.Hover.RPM))...)
	current := hover(t.LevelCurrent)
	for i := range d.Punches {
		p := &d.Punches[i]
		name := ""
		if i == 0 {
			name = "punch"
		}
		if p.CurrentA != nil {
			current = append(current, render.Curve{Name: name, X: []float64{(p.FromS + p.ToS) / 2}, Y: []float64{*p.CurrentA}})
		}
	}
	add("current, A", t.Amps, false, current...)
	var open []render.Curve
	if a, b := d.Found.Pack.OpenV, d.Found.Pack.EndOpenV; a != nil && b != nil {
		open = []render.Curve{{Name: "without load", X: []float64{d.Flight.StartS, d.Flight.EndS}, Y: []float64{a.Value, b.Value},
			Aid: true}}
	}
	add("pack, V", t.Volts, true, open...)
	return &render.Sheet{Title: catalogue.FlightPlotTitle(d.File, d.Flight.AirborneS), Columns: [][]render.Panel{panels},
		Wide: true}
}

func valueOf(f *series.Figure) float64 {
	if f == nil {
		return math.NaN()
	}
	return f.Value
}

// pieces are the runs of a quantity over time between what is missing, thinned to the least and the largest value of
// successive frames. nil if there is nothing to draw.
func pieces(values []float64, stepS float64) []render.Curve {
	each := 2*len(values)/plotPoints + 1
	var curves []render.Curve
	var one render.Curve
	flush := func() {
		if len(one.X) > 1 {
			curves = append(curves, one)
		}
		one = render.Curve{}
	}
	for from := 0; from < len(values); from += each {
		low, high := -1, -1
		for k := from; k < min(from+each, len(values)); k++ {
			if math.IsNaN(values[k]) {
				continue
			}
			if low < 0 || values[k] < values[low] {
				low = k
			}
			if high < 0 || values[k] > values[high] {
				high = k
			}
		}
		if low < 0 {
			flush()
			continue
		}
		for i, k := range [...]int{min(low, high), max(low, high)} {
			if i == 0 || low != high {
				one.X, one.Y = append(one.X, (float64(k)+0.5)*stepS), append(one.Y, values[k])
			}
		}
	}
	flush()
	return curves
}
