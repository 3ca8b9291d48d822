package main

import (
	"fmt"
	"io"

	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// printFlownChecks compares single figures of flown crafts that no fit saw: currents, throttles and
// full-throttle rows of single rotors.
func printFlownChecks(w io.Writer, rows []flownRow, b *flownBuilder) error {
	fmt.Fprintln(w, "Figures that no fit saw, measured and predicted")
	for i := range rows {
		r := &rows[i]
		known := r.motor != "" && r.diameterIn > 0 && r.cells > 0 && r.capacityAh > 0
		if !known {
			continue
		}
		var predicted float64
		unit := ""
		switch r.quantity {
		case "avg_current", "cruise_throttle", "peak_current_total":
			c, _, err := b.craft(r)
			if err != nil {
				return fmt.Errorf("%s: %w", r.id, err)
			}
			way := r.way()
			if r.quantity == "peak_current_total" {
				way.Segments = physics.MixedSegments()
			}
			p := c.Evaluate(&way)
			q, scale := figure.MeanCurrent, 1.0
			unit = "A"
			switch r.quantity {
			case "cruise_throttle":
				q, scale, unit = figure.HoverThrottle, 100, "% (hover)"
			case "peak_current_total":
				q = figure.FullThrottleCurrent
			}
			v, _ := p.Get(q)
			predicted = v * scale
		default:
			continue
		}
		fmt.Fprintf(w, "  %s %-22s %-20s %s %.3g", r.id, r.craftName(), r.quantity, r.bound, r.value)
		if r.high > 0 {
			fmt.Fprintf(w, " to %.3g", r.high)
		}
		fmt.Fprintf(w, ": %.3g %s\n", predicted, unit)
	}
	return printBenchRows(w, rows, b)
}

// printBenchRows predicts single rotors at full throttle at the voltage that was read with them.
func printBenchRows(w io.Writer, rows []flownRow, b *flownBuilder) error {
	type bench struct {
		row                               *flownRow
		volts, thrustN, currentA, rpmRead float64
	}
	var all []bench
	for i := range rows {
		r := &rows[i]
		if r.style != "bench full throttle" || r.motor == "" {
			continue
		}
		k := len(all) - 1
		if k < 0 || all[k].row.craftName() != r.craftName() || all[k].row.capacityAh != r.capacityAh {
			all = append(all, bench{row: r})
			k++
		}
		switch r.quantity {
		case "thrust":
			all[k].thrustN = r.value * newtonPerGram
		case "current_motor":
			all[k].currentA = r.value
		case "pack_voltage_under_load":
			all[k].volts = r.value
		case "rpm":
			all[k].rpmRead = r.value
		}
	}
	for _, x := range all {
		if x.volts == 0 {
			x.volts = 3.6 * float64(x.row.cells) // not read: a usual one under load
		}
		d, h, err := statorOf(x.row.motor)
		if err != nil {
			return err
		}
		r := rig{name: x.row.motor, statorM: d, tallM: h, labelKV: x.row.kv}
		pitch := x.row.pitchIn
		if pitch == 0 {
			pitch = guessedPitch(x.row.diameterIn)
		}
		blades := x.row.blades
		if blades == 0 {
			blades = 3
		}
		stand, err := labelStand(&r, label(x.row.diameterIn, pitch, blades), b.air)
		if err != nil {
			return err
		}
		p, err := stand.Point(x.volts, 1)
		if err != nil {
			return fmt.Errorf("%s: %w", x.row.id, err)
		}
		fmt.Fprintf(w, "  %s %-22s full throttle at %.2f V: thrust %.0f g, %.0f predicted; current %.2f A, %.2f; rpm %.0f, %.0f\n", x.row.id, x.row.craftName(), x.volts,
			x.thrustN/newtonPerGram, p.ThrustN/newtonPerGram, x.currentA, p.CurrentA, x.rpmRead, p.SpeedRadS/rpm)
	}
	if len(all) == 0 {
		return nil
	}
	return nil
}
