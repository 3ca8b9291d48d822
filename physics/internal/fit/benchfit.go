package main

import (
	"fmt"
	"io"
	"math"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// zeroCase is how one prop's zero-thrust advance ratio and coefficients differ from its label's.
type zeroCase struct {
	family              string
	multirotor          bool
	zero, thrust, power float64 // ln of measured over predicted; zero is NaN where unknown
}

// benchLaw fits, without one family,
//
//	ln sJ = ZeroShift + ZeroThrust ln(CT ratio) + ZeroPower ln(CP ratio),  ln(CP ratio) = PowerPerThrust ln(CT ratio)
//
// to the errors of labels, each family counting once; the last for each class of props.
func benchLaw(cases []zeroCase, without string, from rotor.Law) (rotor.Law, error) {
	size := map[string]float64{}
	var use []zeroCase
	for _, c := range cases {
		if c.family != without {
			size[c.family]++
			use = append(use, c)
		}
	}
	p := robust.Problem{Start: []float64{0, 0, 0, 1, 1.5}, Scale: []float64{0.1, 0.3, 0.3, 0.3, 0.3},
		Prior: []float64{0, 1, 1, 1, 1}}
	for _, c := range use {
		w := 1 / size[c.family]
		p.Weights = append(p.Weights, w, w)
	}
	p.Residuals = func(x, r []float64) {
		for i, c := range use {
			r[2*i], r[2*i+1] = 0, 0
			if !math.IsNaN(c.zero) {
				r[2*i] = (c.zero - x[0] - x[1]*c.thrust - x[2]*c.power) / 0.08
			}
			if !math.IsNaN(c.power) {
				slope := x[3]
				if c.multirotor {
					slope = x[4]
				}
				r[2*i+1] = (c.power - slope*c.thrust) / 0.15
			}
		}
	}
	s, err := p.Solve()
	if err != nil {
		return from, fmt.Errorf("bench law: %w", err)
	}
	from.Bench.ZeroShift, from.Bench.ZeroThrust, from.Bench.ZeroPower = s.X[0], s.X[1], s.X[2]
	from.Conventional.PowerPerThrust, from.Multirotor.PowerPerThrust = s.X[3], s.X[4]
	return from, nil
}

// learnBench fits the bench law on all families and gives every left-out prop law its own.
func (s *study) learnBench() error {
	es, err := s.trial(props.FromLabel, noBench)
	if err != nil {
		return err
	}
	var cases []zeroCase
	for _, e := range es {
		if e.prop.Spec.MultirotorShare() > 0 && !e.prop.Multirotor() {
			continue // three blades of a laboratory: the label's class is not theirs
		}
		c := zeroCase{family: e.prop.Family, multirotor: e.prop.Multirotor(), zero: e.wrongAdvance,
			thrust: robust.Mean(e.thrust), power: math.NaN()}
		if len(e.power) > 0 {
			c.power = robust.Mean(e.power)
		} else {
			c.zero = math.NaN()
		}
		cases = append(cases, c)
	}
	if s.law, err = benchLaw(cases, "", s.law); err != nil {
		return err
	}
	for _, f := range s.families() {
		if s.left[f], err = benchLaw(cases, f, s.left[f]); err != nil {
			return err
		}
	}
	return nil
}

// printBench prints the bench law and how well one bench point serves.
func printBench(w io.Writer, s *study) error {
	if err := s.learnBench(); err != nil {
		return err
	}
	b := s.law.Bench
	fmt.Fprintf(w, "ZeroShift: %.3f, ZeroThrust: %.3f, ZeroPower: %.3f, PowerPerThrust: conventional %.2f, multirotor "+
		"%.2f\n",
		b.ZeroShift, b.ZeroThrust, b.ZeroPower, s.law.Conventional.PowerPerThrust, s.law.Multirotor.PowerPerThrust)
	fmt.Fprintln(w, "One bench point, families left out, median / nine in ten over all other points:")
	row := func(name string, k props.Knowledge, use benchUse) error {
		es, err := s.trial(k, use)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "  %-42s %3d props  CT %s  CP %s  advancing CT %s (bias %+.3f)  CP %s (bias %+.3f)  zero-thrust J "+
			"%s spread %.3f\n", name, len(es),
			robust.ErrorPair(every(es, thrustOf)), robust.ErrorPair(every(es, powerOf)), robust.ErrorPair(every(es,
				advThrustOf)), residual.Median(every(es, advThrustOf)),
			robust.ErrorPair(every(es, advPowerOf)), residual.Median(every(es,
				advPowerOf)), robust.ErrorPair(zeroErrors(es)), residual.Spread(zeroErrors(es)))
		return nil
	}
	if err := row("thrust and torque", props.FromLabel, thrustAndTorque); err != nil {
		return err
	}
	if err := row("no bench", props.FromLabel, noBench); err != nil {
		return err
	}
	if err := row("thrust alone", props.FromLabel, thrustOnly); err != nil {
		return err
	}
	return row("thrust and torque, all stations", props.FromStations, thrustAndTorque)
}
