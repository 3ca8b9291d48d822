package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// readingOf is what a flown row of another quantity than a time reads, predicted; false if it is no such row.
func readingOf(r *flownRow, c *physics.Craft, p *physics.Performance) (predicted float64, ok bool) {
	get := func(q figure.Quantity) float64 { x, _ := p.Figure(q); return x }
	switch r.quantity {
	case "top_speed":
		return get(figure.TopSpeed), true
	case "hover_throttle", "hover_motor_output": // sticks and outputs above idle
		return 100 * physics.OutputThrottle.Shown(get(figure.HoverThrottle)/100), true
	case "avg_current":
		return get(figure.MeanCurrent), true
	case "hover_rpm":
		speed, _, turns := c.Propeller.SpeedFor(c.MassKg()*physics.GravityMS2/float64(c.Rotors), rotor.Flow{})
		return speed * 60 / (2 * math.Pi), turns
	}
	return 0, false
}

// drawnReading are the ends of a reading's 80 % interval, all uncertain inputs drawn.
func drawnReading(r *flownRow, c *physics.Craft, random *rand.Rand) (low, high float64) {
	way := r.way()
	p := uncertain.Propagate(func(d *uncertain.Deviation, values []float64) {
		drawn := c.Deviate(d)
		p := drawn.Evaluate(&way)
		values[0], _ = readingOf(r, &drawn, &p)
		if r.quantity == "hover_throttle" || r.quantity == "hover_motor_output" {
			values[0] *= math.Exp(d[uncertain.ThrottleScale])
		}
	}, 1, &c.Uncertainty, randomDraws(&c.Uncertainty, random), nil)
	return uncertain.Quantile(p.Drawn(0), uncertain.LowShare), uncertain.Quantile(p.Drawn(0), uncertain.HighShare)
}

// printReadings prints top speeds, throttles on displays, currents and rotor speeds that were read on crafts whose
// parts are known, beside what is predicted. None of them was fitted.
func printReadings(w io.Writer, rows []flownRow, b *flownBuilder) error {
	fmt.Fprintln(w, "Other readings, none of them fitted; ln read/predicted")
	logs := map[string][]float64{}
	for i := range rows {
		r := &rows[i]
		if r.motor == "" || r.diameterIn == 0 || r.cells == 0 || r.capacityAh == 0 {
			continue
		}
		c, _, err := b.craft(r)
		if err != nil {
			return fmt.Errorf("%s: %w", r.id, err)
		}
		way := r.way()
		p := c.Evaluate(&way)
		predicted, ok := readingOf(r, &c, &p)
		if !ok || predicted == 0 {
			continue
		}
		ln := math.Log(r.middle() / predicted)
		low, high := drawnReading(r, &c, rand.New(rand.NewPCG(9, 10)))
		fmt.Fprintf(w, "  %s %-18s %5.0f g %-20s %2s %7.1f  %7.1f (80 %% %.1f to %.1f)  %+.2f\n", r.id, r.quantity,
			1000*c.MassKg(), r.style,
			r.bound, r.middle(), predicted, low, high, ln)
		if r.bound != "ge" && r.bound != "le" {
			logs[r.quantity] = append(logs[r.quantity], ln)
		}
	}
	for _, q := range []string{"top_speed", "hover_throttle", "hover_motor_output", "avg_current", "hover_rpm"} {
		if x := logs[q]; len(x) > 0 {
			fmt.Fprintf(w, "  %s: median error %.0f %% of %d\n", q, 100*residual.Median(residual.Relative(x)), len(x))
		}
	}
	return nil
}
