package main

import (
	"fmt"
	"io"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
)

// covered is the share of props whose mean error lies inside, or the mean share of their points.
func covered(es []benchErrors, of func(benchErrors) []float64, sd func(rotor.Uncertainty) float64,
	points bool) (share float64, n int) {
	for _, e := range es {
		x := of(e)
		if len(x) == 0 {
			continue
		}
		if !points {
			x = []float64{robust.Mean(x)}
		}
		share += robust.Inside(x, sd(e.said))
		n++
	}
	return share / float64(n), n
}

// printCoverage prints how often 80 % intervals hold props of families left out.
func printCoverage(w io.Writer, s *study) error {
	fmt.Fprintln(w, "80 % intervals on families left out: share inside, props, binomial 95 % band around 80 %")
	thrust := func(u rotor.Uncertainty) float64 { return u.Thrust.LnSD }
	power := func(u rotor.Uncertainty) float64 { return u.Power.LnSD }
	for _, c := range []struct {
		name   string
		k      props.Knowledge
		use    benchUse
		points bool
	}{
		{"label", props.FromLabel, noBench, false},
		{"chord at 75 %", props.FromChord, noBench, false},
		{"chord and angle at 75 %", props.FromStation, noBench, false},
		{"all stations", props.FromStations, noBench, false},
		{"bench, thrust", props.FromLabel, thrustOnly, true},
		{"bench, thrust and torque", props.FromLabel, thrustAndTorque, true},
	} {
		es, err := s.trial(c.k, c.use)
		if err != nil {
			return err
		}
		for _, class := range []props.SizeClass{-1, props.Small, props.Racing, props.Large} {
			name, some := "all", es
			if class >= 0 {
				name, some = class.String(), ofClass(es, class)
			}
			t, n := covered(some, thrustOf, thrust, c.points)
			p, m := covered(some, powerOf, power, c.points)
			if n == 0 {
				continue
			}
			fmt.Fprintf(w, "  %-26s %-9s CT %s   CP %s\n", c.name, name, band(t, n), band(p, m))
		}
	}
	return nil
}

// band writes a share with the band it should lie in.
func band(share float64, n int) string {
	low, high := robust.BinomialBand(n)
	verdict := "in"
	if share < low || share > high {
		verdict = "OUT of"
	}
	return fmt.Sprintf("%5.1f %% of %3d, %s %.0f to %.0f %%", 100*share, n, verdict, 100*low, 100*high)
}
