package main

import (
	"fmt"
	"io"
	"slices"

	"partsaloft/physics/internal/fit/calibration"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
)

// errorRow is one line of the table of measured errors.
type errorRow struct {
	figure, known, found, cases, source string
}

// errorTables give the lines of the table, part by part.
var errorTables = []func(folder string) ([]errorRow, error){propErrors, motorErrorRows, massErrorRows, flownErrorRows}

// printErrors prints the table of measured errors in Markdown.
func printErrors(w io.Writer, folder string) error {
	var rows []errorRow
	for _, part := range errorTables {
		r, err := part(folder)
		if err != nil {
			return err
		}
		rows = append(rows, r...)
	}
	fmt.Fprintln(w, "| figure | from | error, median / nine in ten (bias) | cases | measured by |")
	fmt.Fprintln(w, "|---|---|---|---|---|")
	for _, r := range rows {
		fmt.Fprintf(w, "| %s | %s | %s | %s | %s |\n", r.figure, r.known, r.found, r.cases, r.source)
	}
	return nil
}

const (
	tunnelSource = "UIUC Propeller Database, vols 1-3; Cox & Dantsker 2026; public thrust stands"
	shapeSource  = "UIUC Propeller Database, vols 1-3"
	racingSource = "public thrust stands; Cao & Strawson 2018; Cox & Dantsker 2026"
)

// propErrors are the errors of props on families left out of the fit, but for one line of multirotor
// props, each left out alone.
func propErrors(folder string) ([]errorRow, error) {
	s, err := newStudy(folder)
	if err != nil {
		return nil, err
	}
	if err := s.leaveOut(); err != nil {
		return nil, err
	}
	if err := s.learnBench(); err != nil {
		return nil, err
	}
	var rows []errorRow
	add := func(figure, known, source string, logs []float64, props int) {
		rows = append(rows, errorRow{figure, known, robust.Signed(logs), fmt.Sprintf("%d props", props), source})
	}
	for _, c := range []struct {
		known, source string
		k             props.Knowledge
	}{
		{"the label", tunnelSource, props.FromLabel},
		{"label and chord at 75 %", shapeSource, props.FromChord},
		{"label, chord and angle at 75 %", shapeSource, props.FromStation},
		{"chord and angle all along", shapeSource, props.FromStations},
	} {
		es, err := s.trial(c.k, noBench)
		if err != nil {
			return nil, err
		}
		for _, f := range []struct {
			name string
			of   func(benchErrors) []float64
		}{{"static CT", thrustOf}, {"static CP", powerOf}, {"static CP/CT^1.5", meritOf}} {
			x := means(es, f.of)
			add(f.name, c.known, c.source, x, len(x))
			if c.k != props.FromLabel {
				continue
			}
			x = means(ofClass(es, props.Racing), f.of)
			add(f.name+", multirotor props", c.known, racingSource, x, len(x))
			for _, class := range propClasses(es) {
				x = means(slices.DeleteFunc(slices.Clone(es), func(e benchErrors) bool { return calibration.ClassOf(e.prop) != class }), f.of)
				add(f.name+", "+class, c.known, c.source, x, len(x))
			}
		}
		if c.k == props.FromLabel || c.k == props.FromStations {
			moving := slices.DeleteFunc(slices.Clone(es), func(e benchErrors) bool { return len(e.advThrust) == 0 })
			add("CT in climb down to 0.4 of static", c.known, shapeSource, every(moving, advThrustOf), len(moving))
			add("CP in climb down to 0.4 of static CT", c.known, shapeSource, every(moving, advPowerOf), len(moving))
		}
	}
	alone, err := s.leaveRacing()
	if err != nil {
		return nil, err
	}
	t, p := means(alone, thrustOf), means(alone, powerOf)
	add("static CT, multirotor props", "the label, others of its kind fitted", racingSource, t, len(t))
	add("static CP, multirotor props", "the label, others of its kind fitted", racingSource, p, len(p))
	for _, c := range []struct {
		known string
		use   benchUse
	}{{"label and thrust at one speed", thrustOnly}, {"label, thrust and torque at one speed", thrustAndTorque}} {
		es, err := s.trial(props.FromLabel, c.use)
		if err != nil {
			return nil, err
		}
		add("static CT at other speeds", c.known, tunnelSource, every(es, thrustOf), len(es))
		add("static CP at other speeds", c.known, tunnelSource, every(es, powerOf), len(es))
		moving := slices.DeleteFunc(es, func(e benchErrors) bool { return len(e.advThrust) == 0 })
		add("CT in climb down to 0.4 of static", c.known, shapeSource, every(moving, advThrustOf), len(moving))
		add("CP in climb down to 0.4 of static CT", c.known, shapeSource, every(moving, advPowerOf), len(moving))
	}
	return rows, nil
}

// propClasses are the classes of props of which there is an error, in the order of their names.
func propClasses(es []benchErrors) []string {
	var names []string
	for _, e := range es {
		if name := calibration.ClassOf(e.prop); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// leaveRacing are the errors of multirotor props, each left out of the fit alone.
func (s *study) leaveRacing() ([]benchErrors, error) {
	var out []benchErrors
	for i := range s.props {
		if s.props[i].Class != props.Racing {
			continue
		}
		law, err := s.without(func(p *props.Prop) bool { return p.ID == s.props[i].ID })
		if err != nil {
			return nil, err
		}
		e, err := onBench(&law, &s.props[i], props.FromLabel, noBench, s.air)
		if err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, nil
}
