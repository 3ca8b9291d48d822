package main

import (
	"fmt"
	"io"
	"math"

	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// inside is the share of logarithms within the 80 % interval of a standard deviation.
func inside(logs []float64, sd float64) float64 {
	var n float64
	for _, l := range logs {
		if math.Abs(l) <= uncertain.HalfWidth()*sd {
			n++
		}
	}
	return n / float64(len(logs))
}

// covered is the share of props whose mean error lies inside, or the mean share of their points.
func covered(es []benchErrors, of func(benchErrors) []float64, sd func(rotor.Uncertainty) float64,
	points bool) (share float64, n int) {
	for _, e := range es {
		x := of(e)
		if len(x) == 0 {
			continue
		}
		if !points {
			x = []float64{mean(x)}
		}
		share += inside(x, sd(e.said))
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
		k      knowledge
		use    benchUse
		points bool
	}{
		{"label", fromLabel, noBench, false},
		{"chord at 75 %", fromChord, noBench, false},
		{"chord and angle at 75 %", fromStation, noBench, false},
		{"all stations", fromStations, noBench, false},
		{"bench, thrust", fromLabel, thrustOnly, true},
		{"bench, thrust and torque", fromLabel, thrustAndTorque, true},
	} {
		es, err := s.trial(c.k, c.use)
		if err != nil {
			return err
		}
		for _, class := range []sizeClass{-1, small, racing, large} {
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
	low, high := binomialBand(n)
	verdict := "in"
	if share < low || share > high {
		verdict = "OUT of"
	}
	return fmt.Sprintf("%5.1f %% of %3d, %s %.0f to %.0f %%", 100*share, n, verdict, 100*low, 100*high)
}
