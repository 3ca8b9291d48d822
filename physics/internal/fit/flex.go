package main

import (
	"fmt"
	"io"
	"math"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// flexCase is the softness that makes one measured blade keep the CT it shows over rpm.
type flexCase struct {
	prop     *props.Prop
	soft     float64 // physics.Blade.SoftTwist, 1/Pa
	slope    float64 // d ln CT/d ln rpm that a stiff blade leaves over
	pitch    float64 // share of pitch left at the fastest static point
	residual float64
}

// flexCases fits the softness of every prop with measured shape and a wide rpm range.
func flexCases(s *study) []flexCase {
	out := make([]flexCase, len(s.props))
	props.EachInParallel(len(s.props), func(i int) {
		p := &s.props[i]
		static := props.Thinned(p.Static, 8)
		if len(p.Spec.Stations) == 0 || len(static) < 6 {
			return
		}
		out[i] = fitFlex(p, static, &s.law.Conventional, s.air)
	})
	var cases []flexCase
	for _, c := range out {
		if c.prop != nil {
			cases = append(cases, c)
		}
	}
	return cases
}

// fitFlex finds the softness by a scan: the level of CT is free, only its course over rpm counts.
// A softness under 0 gains pitch with load.
func fitFlex(p *props.Prop, static []props.Point, law *rotor.ClassLaw, air rotor.Air) flexCase {
	blade, err := law.Blade.Blade(p.Spec.DiameterM, p.Spec.PitchM, p.Spec.Blades)
	if err == nil {
		blade, err = blade.Measured(p.Spec.Stations)
	}
	if err != nil {
		return flexCase{}
	}
	course := func(soft float64) (logs []float64) {
		blade.SoftTwist = soft
		solver, err := rotor.NewSolver(blade, law.Polar, air)
		if err != nil {
			return nil
		}
		for _, pt := range static {
			t, _, ok := solver.Loads(pt.RPM*props.RPM, 0)
			if !ok {
				return nil
			}
			n := pt.RPM / 60
			if !(t > 0) {
				return nil
			}
			logs = append(logs, math.Log(pt.CT/(t/(air.DensityKgM3*n*n*math.Pow(p.Spec.DiameterM, 4)))))
		}
		m := robust.Mean(logs)
		for i := range logs {
			logs[i] -= m
		}
		return logs
	}
	best := flexCase{prop: p, residual: math.Inf(1)}
	for _, soft := range softnesses() {
		logs := course(soft)
		if logs == nil {
			continue
		}
		var sum float64
		for _, l := range logs {
			sum += l * l
		}
		if r := math.Sqrt(sum / float64(len(logs))); r < best.residual {
			best.soft, best.residual = soft, r
		}
	}
	stiff := course(0)
	var xy, xx, mx float64
	for _, pt := range static {
		mx += math.Log(pt.RPM) / float64(len(static))
	}
	for i, pt := range static {
		x := math.Log(pt.RPM) - mx
		xy, xx = xy+x*stiff[i], xx+x*x
	}
	best.slope = xy / xx
	chord, _ := blade.At(0.75)
	tip := static[len(static)-1].RPM * props.RPM * p.Spec.DiameterM / 2
	best.pitch = 1 / (1 + best.soft*0.5*air.DensityKgM3*tip*tip/(chord*chord))
	return best
}

func softnesses() []float64 {
	s := []float64{0}
	for k := range 31 {
		x := 1e-8 * math.Pow(10, float64(k)/10)
		s = append(s, x, -x)
	}
	return s
}

// printFlex prints the softness of twisting and other blades.
func printFlex(w io.Writer, s *study) error {
	fmt.Fprintln(w, "Softness from the course of static CT over rpm, blades measured all along (pitch is divided by 1 + "+
		"soft q (R/c)²):")
	var soft, others []float64
	for _, c := range flexCases(s) {
		kind := "        "
		if c.prop.Twists {
			kind, soft = "twisting", append(soft, c.soft)
		} else {
			others = append(others, c.soft)
		}
		fmt.Fprintf(w, "  %s %-28s soft %.2g /Pa, pitch left at top rpm %.3f, slope of ln CT left over by a stiff blade "+
			"%+.3f, rms %.4f\n", kind, c.prop, c.soft, c.pitch, c.slope, c.residual)
	}
	fmt.Fprintf(w, "  median of twisting blades %.2g /Pa, of the others %.2g /Pa (nine in ten under %.2g)\n",
		residual.Median(soft), residual.Median(others), uncertain.Quantile(others, 0.9))
	return nil
}
