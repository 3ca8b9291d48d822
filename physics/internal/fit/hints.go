package main

import (
	"fmt"
	"io"
	"math"
	"partsaloft/physics/rotor"
)

// printHints tries two hints that a label leaves out: what the other props of a family show
// (partial pooling by series), and a prop's mass as a sign of its blade's area.
func printHints(w io.Writer, folder string, s *study) error {
	es, err := s.trial(fromLabel, noBench)
	if err != nil {
		return err
	}
	fmt.Fprintln(w, "Hints beyond the label:")
	for _, of := range []struct {
		name string
		of   func(benchErrors) []float64
	}{{"CT", thrustOf}, {"CP", powerOf}} {
		var alone, pooled []float64
		for _, e := range es {
			if len(of.of(e)) == 0 {
				continue
			}
			var sum, n float64
			for _, o := range es {
				if o.prop.family == e.prop.family && o.prop != e.prop && len(of.of(o)) > 0 {
					sum += mean(of.of(o))
					n++
				}
			}
			if n == 0 {
				continue
			}
			own := mean(of.of(e))
			alone = append(alone, own)
			pooled = append(pooled, own-seriesGain(n, seriesShare)*sum/n)
		}
		fmt.Fprintf(w, "  series: %s of %d props with others of their family measured: %s, without that %s\n", of.name, len(alone), errorPair(pooled), errorPair(alone))
	}
	return printMassHint(w, folder, es)
}

// seriesShare is the share of variance that a family has in common, as physics states it for a prop of a
// named series.
const seriesShare = 0.6

// seriesGain is how much of the mean error of n measured props of a family carries over to another
// one: n s/(1 + (n − 1) s) for a common share s of the variance.
func seriesGain(n, share float64) float64 { return n * share / (1 + (n-1)*share) }

// printMassHint matches props of the 5-inch stand with masses of the same, otherwise unambiguous,
// label and prints how the error in CT goes with the mass over the law's.
func printMassHint(w io.Writer, folder string, es []benchErrors) error {
	t, err := readTable(folder, "prop_mass.csv", "diameter_in", "pitch_in", "mass_g")
	if err != nil {
		return err
	}
	type size struct{ d, p float64 }
	masses := map[size][]float64{}
	for i := range t.rows {
		d := t.number(i, "diameter_in")
		p, ok := t.maybe(i, "pitch_in")
		m, known := t.maybe(i, "mass_g")
		if ok && known {
			masses[size{d, p}] = append(masses[size{d, p}], m)
		}
	}
	if err := t.err(); err != nil {
		return err
	}
	var x, y []float64
	for _, e := range es {
		m := masses[size{round2(e.prop.spec.DiameterM / metresPerInch), round2(e.prop.spec.PitchM / metresPerInch)}]
		if e.prop.family != "stand5" || len(m) != 1 {
			continue
		}
		law := rotor.EstimateMass(e.prop.spec.DiameterM, e.prop.spec.PitchM, e.prop.spec.Blades).Value
		x, y = append(x, math.Log(m[0]/1000/law)), append(y, mean(e.thrust))
	}
	if len(x) < 4 {
		fmt.Fprintf(w, "  mass: only %d props can be matched\n", len(x))
		return nil
	}
	mx, my := mean(x), mean(y)
	var xy, xx, rest float64
	for i := range x {
		xy += (x[i] - mx) * (y[i] - my)
		xx += (x[i] - mx) * (x[i] - mx)
	}
	slope := xy / xx
	for i := range x {
		r := y[i] - my - slope*(x[i]-mx)
		rest += r * r
	}
	fmt.Fprintf(w, "  mass: of %d props matched by label, ln CT error goes with ln of mass over the law's by %+.2f ± %.2f\n", len(x), slope, math.Sqrt(rest/float64(len(x)-2)/xx))
	return nil
}

func round2(x float64) float64 { return math.Round(x*100) / 100 }
