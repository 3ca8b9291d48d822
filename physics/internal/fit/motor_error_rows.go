package main

import (
	"fmt"

	"partsaloft/physics/internal/fit/robust"
)

const (
	standSource = "Cao & Strawson 2018; a public database of thrust tests; public thrust stands"
	sheetSource = "makers' sheets"
	packSource  = "makers' sheets, chargers' readings, packs weighed and loaded by pilots"
	flownSource = "published build write-ups: crafts weighed, flown and timed by their owners"
)

// motorErrorRows are the errors of motors left out of the fit.
func motorErrorRows(folder string) ([]errorRow, error) {
	s, err := newMotorStudy(folder)
	if err != nil {
		return nil, err
	}
	var rows []errorRow
	add := func(figure, known string, of func(*rigTrial) []float64) {
		row := func(name string, trials []rigTrial) {
			if e, n := motorErrors(trials, of); n > 0 {
				rows = append(rows, errorRow{name, known, e.signed(), fmt.Sprintf("%d motors", n), standSource})
			}
		}
		row(figure, s.trials)
		for size := range statorSizes {
			row(figure+", "+statorSizes[size].name, ofSize(s.trials, size))
		}
	}
	const full = "stator, kV and a known prop"
	add("rpm at full throttle", full, fullSpeed)
	add("thrust at full throttle", full, fullThrust)
	add("current at full throttle", full, fullCurrent)
	add("power at the throttle of hover (duty under 0.35)", full, func(t *rigTrial) []float64 { return t.part(0, 0.35) })
	add("power at part throttle (duty 0.35 to 0.6)", full, func(t *rigTrial) []float64 { return t.part(0.35, 0.6) })
	set := append(s.set.Rigs[:len(s.set.Rigs):len(s.set.Rigs)], s.set.LabelOnly...)
	trials, err := fromLabels(set)
	if err != nil {
		return nil, err
	}
	var thrust, current weighted
	thrusts := 0
	for _, t := range trials {
		for _, v := range t.thrust {
			thrust = append(thrust, weightedLog{v, 1 / float64(len(t.thrust))})
		}
		for _, v := range t.current {
			current = append(current, weightedLog{v, 1 / float64(len(t.current))})
		}
		if len(t.thrust) > 0 {
			thrusts++
		}
	}
	rows = append(rows, errorRow{"thrust at full throttle", "stator, kV and the prop's label", thrust.signed(),
		fmt.Sprintf("%d motors", thrusts), standSource + "; " + sheetSource},
		errorRow{"current at full throttle", "stator, kV and the prop's label", current.signed(), fmt.Sprintf("%d motors",
			len(trials)), standSource + "; " + sheetSource})
	return rows, nil
}

// flownErrorRows are the errors of flying times of crafts left out of the fit, and of masses.
func flownErrorRows(folder string) ([]errorRow, error) {
	rows, err := loadFlown(folder)
	if err != nil {
		return nil, err
	}
	b, err := newFlownBuilder(rows)
	if err != nil {
		return nil, err
	}
	flights, err := timedFlights(rows, b)
	if err != nil {
		return nil, err
	}
	logs, says := leaveCrafts(flights)
	var out []errorRow
	for _, class := range append([]string{""}, flownClasses()...) {
		var said []float64
		crafts := map[string]bool{}
		for i := range flights {
			if says[i] && (class == "" || flights[i].class() == class) {
				said = append(said, logs[i])
				crafts[flights[i].row.craftName()] = true
			}
		}
		name := "flying time by way of flying"
		if class != "" {
			name += ", " + class
		}
		out = append(out, errorRow{name, "labels, mass where weighed", robust.Signed(said),
			fmt.Sprintf("%d flights of %d crafts", len(said), len(crafts)), flownSource})
	}
	return out, nil
}

// massErrorRows are the errors of masses and pack resistance, whole sizes or sources left out.
func massErrorRows(folder string) ([]errorRow, error) {
	sheets, err := loadSheets(folder)
	if err != nil {
		return nil, err
	}
	packs, err := loadPacks(folder)
	if err != nil {
		return nil, err
	}
	motors, masses, ohms := motorMassCases(sheets), packMassCases(smallPacks(packs)), packOhmCases(smallPacks(packs))
	var rows []errorRow
	for _, c := range []struct {
		figure, known, what, source string
		cases                       *lawCases
	}{
		{"motor mass", "stator", "motors", sheetSource, &motors},
		{"pack mass", "cells and capacity", "packs", packSource, &masses},
		{"pack resistance", "cells and capacity", "packs", packSource, &ohms},
	} {
		_, left, err := c.cases.try(c.cases.forms[0])
		if err != nil {
			return nil, err
		}
		rows = append(rows, errorRow{c.figure, c.known, robust.Signed(left), fmt.Sprintf("%d %s", len(left), c.what),
			c.source})
	}
	return rows, nil
}
