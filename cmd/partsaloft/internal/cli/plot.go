package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// willPlot says why a plot cannot be drawn into a file; no file is fine.
func (s *commands) willPlot(path string) error {
	switch {
	case path == "":
		return nil
	case formOfPlot(path) != "svg" && formOfPlot(path) != "png":
		return exit.Usagef("--plot: %s must end in .svg or .png", filepath.Base(path))
	}
	return s.WillWrite("--plot", path)
}

func formOfPlot(path string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
}

// plot draws the curves of a combination into a file.
func (s *commands) plot(ctx context.Context, sub *answer.Subject, path string) error {
	sheet, err := curves(sub)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := sheet.Write(&b, formOfPlot(path)); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := s.Write(ctx, "--plot", path, b.Bytes()); err != nil {
		return err
	}
	s.Remark("Curves written to %s.", path)
	return nil
}

const curveSteps = 60

// curves draws power and flying time over speed, the cell's voltage over the flight, and thrust and
// currents over throttle.
func curves(sub *answer.Subject) (*render.Sheet, error) {
	speed, err := speedPanels(sub)
	if err != nil {
		return nil, err
	}
	if flight := flightPanel(sub); flight != nil {
		speed = append(speed, *flight)
	}
	return &render.Sheet{
		Title:   catalogue.BareText(&sub.Result.Combination),
		Columns: [][]render.Panel{speed, throttlePanels(sub.Result)},
	}, nil
}

// speedPanels are power, with its least and the tangent of the best range, and flying time.
func speedPanels(sub *answer.Subject) ([]render.Panel, error) {
	r := sub.Result
	points := r.Craft.SpeedCurve(&sub.Problem.Style.Flying, curveSteps)
	if len(points) < 2 {
		return nil, fmt.Errorf("--plot: the craft cannot fly level, so there is no curve to draw")
	}
	minutes := figure.Of(figure.StyleTime)
	var power, time render.Curve
	for _, p := range points {
		power.X, power.Y = append(power.X, p.SpeedMS), append(power.Y, p.PowerW)
		time.X, time.Y = append(time.X, p.SpeedMS), append(time.Y, minutes.FromSI(p.DurationS))
	}
	panels := []render.Panel{
		{X: "speed, m/s", Y: "power from the pack, W", Curves: []render.Curve{power}},
		{X: "speed, m/s", Y: "flying time, min", Curves: []render.Curve{time}},
	}
	if least := catalogue.ShownOf(r, figure.BestEnduranceSpeed); least.Defined() {
		at := nearest(points, least.Value)
		panels[0].Curves = append(panels[0].Curves, render.Curve{Name: "least power", X: []float64{at.SpeedMS},
			Y: []float64{at.PowerW}})
	}
	if far := catalogue.ShownOf(r, figure.BestRangeSpeed); far.Defined() && far.Value > 0 {
		at, top := nearest(points, far.Value), points[len(points)-1].SpeedMS
		end := min(1.25*at.SpeedMS, top)
		panels[0].Curves = append(panels[0].Curves,
			render.Curve{Name: "best range", X: []float64{0, end}, Y: []float64{0, at.PowerW / at.SpeedMS * end}, Aid: true},
			render.Curve{X: []float64{at.SpeedMS}, Y: []float64{at.PowerW}})
	}
	return panels, nil
}

func nearest(points []physics.SpeedPoint, speedMS float64) physics.SpeedPoint {
	best := points[0]
	for _, p := range points {
		if abs(p.SpeedMS-speedMS) < abs(best.SpeedMS-speedMS) {
			best = p
		}
	}
	return best
}

func abs(x float64) float64 { return max(x, -x) }

// flightPanel is the cell's voltage under load over a flight of the style; nil if there is none.
func flightPanel(sub *answer.Subject) *render.Panel {
	points, why := sub.Result.Craft.Discharge(&sub.Problem.Style.Flying, curveSteps)
	if why != physics.Defined {
		return nil
	}
	minutes := figure.Of(figure.StyleTime)
	var cell render.Curve
	for _, p := range points {
		cell.X, cell.Y = append(cell.X, minutes.FromSI(p.TimeS)), append(cell.Y, p.LoadedCellV)
	}
	landing := sub.Result.Craft.LandingV(&sub.Problem.Style.Flying)
	end := cell.X[len(cell.X)-1]
	limit := render.Curve{Name: "landing voltage", X: []float64{0, end}, Y: []float64{landing, landing}, Aid: true}
	return &render.Panel{X: "time in this style, min", Y: "cell under load, V", Curves: []render.Curve{cell, limit},
		FreeY: true}
}

// throttlePanels are thrust, pack current and motor current with their limits, static on a full pack.
func throttlePanels(r *predict.Result) []render.Panel {
	c := &r.Craft
	thrust := figure.Of(figure.FullThrottleThrust)
	percent := figure.Of(figure.ThrottleCap)
	var force, pack, motor render.Curve
	for _, p := range c.ThrottleCurve(curveSteps) {
		x := percent.FromSI(p.Duty)
		force.X, force.Y = append(force.X, x), append(force.Y, thrust.FromSI(p.ThrustN))
		pack.X, pack.Y = append(pack.X, x), append(pack.Y, p.PackA)
		motor.X, motor.Y = append(motor.X, x), append(motor.Y, p.MotorA)
	}
	const label = "throttle, %"
	panels := []render.Panel{
		{X: label, Y: "thrust, g", Curves: []render.Curve{force}},
		{X: label, Y: "pack current, A", Curves: []render.Curve{pack}},
		{X: label, Y: "current of one motor, A", Curves: []render.Curve{motor}},
	}
	level := func(panel int, name string, y float64) {
		if y > 0 {
			panels[panel].Curves = append(panels[panel].Curves, render.Curve{Name: name, X: []float64{0, 100},
				Y: []float64{y, y}, Aid: true})
		}
	}
	weight := catalogue.ShownOf(r, figure.AllUpMass)
	level(0, "weight", weight.Value)
	level(1, "pack's safe current", c.Pack.SafeCurrentA)
	level(1, "connector's peak", c.Connector.PeakA)
	level(2, "ESC for a punch", c.Board.BurstA)
	level(2, "motor's limit", c.Motor.MaxCurrentA)
	if limit := catalogue.ShownOf(r, figure.ThrottleCap); r.Performance.Cap != physics.NoLimit {
		for i := range panels {
			top := panels[i].Curves[0].Y[len(panels[i].Curves[0].Y)-1]
			panels[i].Curves = append(panels[i].Curves, render.Curve{Name: "cap", X: []float64{limit.Value, limit.Value},
				Y: []float64{0, top}, Aid: true})
		}
	}
	return panels
}
