package main

import (
	"fmt"
	"io"
	"math"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
)

// covered is the share of props whose mean error lies inside the interval at their mean speed, or the mean share of
// their points that lie inside where these lie between two distances of ln of speed.
func covered(es []benchErrors, of func(benchErrors) (errors, off []float64),
	sd func(*rotor.Uncertainty, float64) float64, points bool, near, far float64) (share float64, n int) {
	for _, e := range es {
		x, off := of(e)
		if len(x) > 0 && !points {
			x, off = []float64{robust.Mean(x)}, []float64{robust.Mean(off)}
		}
		var inside, all float64
		for i := range x {
			if d := math.Abs(off[i]); points && (d < near || d >= far) {
				continue
			}
			all++
			inside += robust.Inside(x[i:i+1], sd(&e.said, off[i]))
		}
		if all > 0 {
			share += inside / all
			n++
		}
	}
	return share / float64(n), n
}

// printCoverage prints how often 80 % intervals hold props of families left out.
func printCoverage(w io.Writer, s *study) error {
	fmt.Fprintln(w, "80 % intervals on families left out: share inside, props, binomial 95 % band around 80 %")
	thrust := func(u *rotor.Uncertainty, off float64) float64 { sd, _ := u.LnSDAt(off); return sd }
	power := func(u *rotor.Uncertainty, off float64) float64 { _, sd := u.LnSDAt(off); return sd }
	thrustOff := func(e benchErrors) (x, off []float64) { return e.thrust, e.off }
	powerOff := func(e benchErrors) (x, off []float64) { return e.power, e.offPower }
	all := math.Inf(1)
	for _, c := range []struct {
		name      string
		k         props.Knowledge
		use       benchUse
		points    bool
		near, far float64
	}{
		{"label", props.FromLabel, noBench, false, 0, all},
		{"chord at 75 %", props.FromChord, noBench, false, 0, all},
		{"chord and angle at 75 %", props.FromStation, noBench, false, 0, all},
		{"all stations", props.FromStations, noBench, false, 0, all},
		{"bench, thrust", props.FromLabel, thrustOnly, true, 0, all},
		{"bench, thrust and torque", props.FromLabel, thrustAndTorque, true, 0, all},
		{"the same, under 15 % off", props.FromLabel, thrustAndTorque, true, 0, 0.14},
		{"the same, 15 to 35 %", props.FromLabel, thrustAndTorque, true, 0.14, 0.3},
		{"the same, further", props.FromLabel, thrustAndTorque, true, 0.3, all},
	} {
		es, err := s.trial(c.k, c.use)
		if err != nil {
			return err
		}
		for _, big := range []bool{true, false} {
			some := ofDiameter(es, big)
			if c.k != props.FromLabel || c.use != noBench {
				break
			}
			t, n := covered(some, thrustOff, thrust, c.points, c.near, c.far)
			p, m := covered(some, powerOff, power, c.points, c.near, c.far)
			fmt.Fprintf(w, "  %-26s %-9s CT %s   CP %s\n", c.name, map[bool]string{true: "from 4 in", false: "under 4"}[big],
				band(t, n), band(p, m))
		}
		for _, class := range []props.SizeClass{-1, props.Small, props.Racing, props.Large} {
			name, some := "all", es
			if class >= 0 {
				name, some = class.String(), ofClass(es, class)
			}
			t, n := covered(some, thrustOff, thrust, c.points, c.near, c.far)
			p, m := covered(some, powerOff, power, c.points, c.near, c.far)
			if n == 0 || m == 0 {
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
