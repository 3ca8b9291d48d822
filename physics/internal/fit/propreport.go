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

// printProps prints the fitted prop law as Go source, then the left-out errors.
func printProps(w io.Writer, s *study) error {
	for _, of := range []struct {
		name string
		fitted
		law *rotor.ClassLaw
	}{{"Conventional", s.conventional, &s.law.Conventional}, {"Multirotor", s.multirotor, &s.law.Multirotor}} {
		fmt.Fprintf(w, "// %s props, fitted to %d residuals, standard deviation from the curvature behind each.\n", of.name,
			len(of.fit.weights))
		for i, f := range of.fit.free {
			fmt.Fprintf(w, "%s: %.4g, // ± %.2g\n", f.name, *f.at(of.law), of.found.Sd[i])
		}
		fmt.Fprintf(w, "ChordShape: {%s},\nPitchShape: {%s},\n", list(of.law.Blade.ChordShape[:]),
			list(of.law.Blade.PitchShape[:]))
	}
	if err := s.leaveOut(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nLeft-out families, median / nine in ten of absolute errors, one number a prop; bias of ln; "+
		"spread that holds 80 %:")
	for _, k := range []props.Knowledge{props.FromLabel, props.FromChord, props.FromStation, props.FromStations} {
		es, err := s.trial(k, noBench)
		if err != nil {
			return err
		}
		row := func(name string, es []benchErrors) {
			t, p := means(es, thrustOf), means(es, powerOf)
			if len(t) == 0 {
				return
			}
			fmt.Fprintf(w, "  %-24s %-9s %3d props  CT %s (bias %+.3f, spread %.3f)  CP %s (bias %+.3f, spread %.3f)  "+
				"correlation %.2f\n",
				k, name, len(t), robust.ErrorPair(t), residual.Median(t), residual.Spread(t), robust.ErrorPair(p), residual.Median(p), residual.Spread(p), togetherness(es))
			if at := every(es, advThrustOf); len(at) > 0 {
				fmt.Fprintf(w, "  %-24s %-9s advancing  CT %s (bias %+.3f)  CP %s (bias %+.3f)  zero-thrust J spread %.3f\n", "",
					"",
					robust.ErrorPair(at), residual.Median(at), robust.ErrorPair(every(es, advPowerOf)), residual.Median(every(es,
						advPowerOf)), residual.Spread(zeroErrors(es)))
			}
		}
		row("all", es)
		for _, c := range []props.SizeClass{props.Small, props.Racing, props.Large} {
			row(c.String(), ofClass(es, c))
		}
		if k == props.FromLabel {
			for _, big := range []bool{true, false} {
				some := ofDiameter(es, big)
				name := "multirotor props under 4 inch"
				if big {
					name = "multirotor props from 4 inch"
				}
				t, p, m := means(some, thrustOf), means(some, powerOf), means(some, meritOf)
				fmt.Fprintf(w, "  %s: %d, CT %s (bias %+.3f); of %d CP %s, CP/CT^1.5 %s (bias %+.3f, spread %.3f)\n", name, len(t),
					robust.ErrorPair(t), residual.Median(t), len(p), robust.ErrorPair(p), robust.ErrorPair(m), residual.Median(m),
					residual.Spread(m))
			}
			for i := range es {
				if e := &es[i]; e.prop.Multirotor() {
					m := math.NaN()
					if len(e.merit) > 0 {
						m = robust.Mean(e.merit)
					}
					fmt.Fprintf(w, "    %-40s ln CT %+.3f, ln CP/CT^1.5 %+.3f\n", e.prop, robust.Mean(e.thrust), m)
				}
			}
			printFamilies(w, es)
		}
	}
	return nil
}

// togetherness is the correlation of the errors in CT and CP, one pair a prop.
func togetherness(es []benchErrors) float64 {
	var t, p []float64
	for _, e := range es {
		if len(e.thrust) > 0 && len(e.power) > 0 {
			t = append(t, means([]benchErrors{e}, thrustOf)[0])
			p = append(p, means([]benchErrors{e}, powerOf)[0])
		}
	}
	return robust.Correlation(t, p)
}

func zeroErrors(es []benchErrors) []float64 {
	var out []float64
	for _, e := range es {
		if !math.IsNaN(e.wrongAdvance) {
			out = append(out, e.wrongAdvance)
		}
	}
	return out
}

// printFamilies prints the mean error of every family, and how much of the variance lies between
// families: what a series shares.
func printFamilies(w io.Writer, es []benchErrors) {
	by := map[string][]benchErrors{}
	var names []string
	for _, e := range es {
		if by[e.prop.Family] == nil {
			names = append(names, e.prop.Family)
		}
		by[e.prop.Family] = append(by[e.prop.Family], e)
	}
	for _, of := range []func(benchErrors) []float64{thrustOf, powerOf} {
		between, within, nb, nw := 0.0, 0.0, 0, 0
		for _, f := range names {
			x := means(by[f], of)
			if len(x) == 0 {
				continue
			}
			m := robust.Mean(x)
			between += m * m
			nb++
			for _, v := range x {
				within += (v - m) * (v - m)
			}
			nw += len(x) - 1
		}
		b, in := between/float64(nb), within/float64(max(nw, 1))
		fmt.Fprintf(w, "    families differ by %.3f, props within one by %.3f: share %.2f\n", math.Sqrt(b), math.Sqrt(in),
			b/(b+in))
	}
	for _, f := range names {
		t, p := means(by[f], thrustOf), means(by[f], powerOf)
		fmt.Fprintf(w, "    family %-8s %2d props, mean ln CT %+.3f, ln CP %+.3f\n", f, len(t), robust.Mean(t),
			robust.Mean(p))
	}
}

func list(x []float64) string {
	out := ""
	for i, v := range x {
		if i > 0 {
			out += ", "
		}
		out += fmt.Sprintf("%.3f", v)
	}
	return out
}
