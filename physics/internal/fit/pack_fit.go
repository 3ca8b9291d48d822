package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"partsaloft/physics"
)

// packSheet is one pack's data; zero is not known.
type packSheet struct {
	name, source       string
	chemistry          physics.Chemistry
	cells              int
	capacityAh, labelC float64
	massKg, cellOhm    float64
}

const (
	largestPackAh  = 6.0   // beyond it packs are not of this kind
	whoopPlugOhm   = 0.016 // of plug and leads in the whoop packs' effective resistance: BT 2.0, see physics.PlugResistance
	flightLeadsOhm = 0.004
)

// loadPacks reads the packs, and what pilots weighed of theirs.
func loadPacks(folder string) ([]packSheet, error) {
	t, err := readTable(folder, "packs.csv", "pack", "cells", "chemistry", "capacity_mah", "label_c", "mass_g", "cell_resistance_mohm", "kind")
	if err != nil {
		return nil, err
	}
	var out []packSheet
	for i := range t.rows {
		kind := t.text(i, "kind")
		p := packSheet{name: t.text(i, "pack"), cells: int(t.number(i, "cells")), capacityAh: t.number(i, "capacity_mah") / 1000}
		switch c := strings.ToLower(t.text(i, "chemistry")); c {
		case "lihv":
			p.chemistry = physics.LiHV
		case "liion":
			p.chemistry = physics.LiIon
		}
		read := func(column string) float64 { x, _ := t.maybe(i, column); return x / 1000 }
		p.massKg, p.cellOhm, p.labelC = read("mass_g"), read("cell_resistance_mohm"), read("label_c")*1000
		p.source, _, _ = strings.Cut(kind, " ")
		switch {
		case kind == "corpus" && p.labelC == 75:
			p.source = "corpus 75C"
		case kind == "corpus":
			p.source, p.cellOhm = "corpus", 0 // prints 12 milliohm for packs of every size
		case strings.HasPrefix(kind, "measured under load"):
			p.cellOhm -= whoopPlugOhm
			p.source = "whoop"
		case strings.HasPrefix(kind, "inferred"):
			p.cellOhm -= flightLeadsOhm / float64(p.cells)
		}
		out = append(out, p)
	}
	if err := t.err(); err != nil {
		return nil, err
	}
	t, err = readTable(folder, "flown_crafts.csv", "id", "cells", "capacity_mah", "quantity", "value")
	if err != nil {
		return nil, err
	}
	for i := range t.rows {
		if t.text(i, "quantity") == "pack_weight" {
			p := packSheet{name: t.text(i, "id"), source: "weighed", cells: int(t.number(i, "cells")), capacityAh: t.number(i, "capacity_mah") / 1000, massKg: t.number(i, "value") / 1000}
			out = append(out, p)
		}
	}
	return out, t.err()
}

// printPack prints the laws of packs' mass and resistance and the resistance of plugs.
func printPack(w io.Writer, folder string) error {
	packs, err := loadPacks(folder)
	if err != nil {
		return err
	}
	var all []packSheet
	for _, p := range packs {
		if p.chemistry != physics.LiIon && p.capacityAh <= largestPackAh && p.cells <= 8 {
			all = append(all, p)
		}
	}
	if err := printPackMass(w, all); err != nil {
		return err
	}
	for _, p := range packs {
		if p.chemistry == physics.LiIon {
			fmt.Fprintf(w, "  Li-ion %s: %.1f g a cell and Ah, the law %.1f\n", p.name, p.massKg*1000/float64(p.cells)/p.capacityAh, physics.EstimatePackMass(physics.LiIon, p.cells, p.capacityAh).Value*1000/float64(p.cells)/p.capacityAh)
		}
	}
	return printPackResistance(w, all)
}

// spreadOver gives every source the same weight.
func spreadOver(sources []string) []float64 {
	w := make([]float64, len(sources))
	for i, s := range sources {
		n := 0.0
		for _, o := range sources {
			if s == o {
				n++
			}
		}
		w[i] = 1 / n
	}
	return w
}

func printPackMass(w io.Writer, packs []packSheet) error {
	var x, flat, withC [][]float64
	var y, code, yC []float64
	var source, sourceC []string
	for _, p := range packs {
		if p.massKg == 0 {
			continue
		}
		per := math.Log(p.massKg * 1000 / (float64(p.cells) * p.capacityAh))
		y, x, flat = append(y, per), append(x, []float64{1, math.Log(p.capacityAh)}), append(flat, []float64{1})
		source = append(source, p.source)
		code = append(code, math.Log(p.massKg/physics.EstimatePackMass(p.chemistry, p.cells, p.capacityAh).Value))
		if p.labelC > 0 {
			yC, withC, sourceC = append(yC, per), append(withC, []float64{1, math.Log(p.labelC / 75)}), append(sourceC, p.source)
		}
	}
	fmt.Fprintf(w, "// Pack mass a cell and Ah, %d lithium-polymer packs up to %g Ah, each source counting once and left out in turn\n", len(y), largestPackAh)
	for _, form := range []struct {
		name   string
		x      [][]float64
		y      []float64
		source []string
	}{{"the same for all", flat, y, source}, {"with a power of capacity", x, y, source}, {"with a power of label C", withC, yC, sourceC}} {
		weight := spreadOver(form.source)
		p, err := fitPower(form.x, form.y, weight)
		if err != nil {
			return err
		}
		left, err := leaveGroups(form.x, form.y, weight, form.source)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "  %-26s %.1f g", form.name, math.Exp(p.c[0]))
		if len(p.c) > 1 {
			fmt.Fprintf(w, ", power %.3f ± %.2g", p.c[1], p.sd[1])
		}
		fmt.Fprintf(w, ": left out %s, rms of ln %.3f\n", errorPair(left), rmsOf(left))
	}
	fmt.Fprintf(w, "  constants in the code: %s, rms of ln %.3f\n", errorPair(code), rmsOf(code))
	return nil
}

func printPackResistance(w io.Writer, packs []packSheet) error {
	var x, flat [][]float64
	var y, code []float64
	var source []string
	for _, p := range packs {
		if p.cellOhm <= 0 {
			continue
		}
		y, flat = append(y, math.Log(p.cellOhm*1000*p.capacityAh)), append(flat, []float64{1})
		x, source = append(x, []float64{1, math.Log(p.capacityAh)}), append(source, p.source)
		code = append(code, math.Log(p.cellOhm*float64(p.cells)/physics.EstimatePackResistance(p.chemistry, p.cells, p.capacityAh, 0).Value))
	}
	fmt.Fprintf(w, "// Resistance of a cell times its capacity, %d packs, each source counting once and left out in turn\n", len(y))
	for _, form := range []struct {
		name string
		x    [][]float64
	}{{"the same for all", flat}, {"with a power of capacity", x}} {
		weight := spreadOver(source)
		p, err := fitPower(form.x, y, weight)
		if err != nil {
			return err
		}
		left, err := leaveGroups(form.x, y, weight, source)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "  %-26s %.2f milliohm Ah", form.name, math.Exp(p.c[0]))
		if len(p.c) > 1 {
			fmt.Fprintf(w, ", power %.3f ± %.2g", p.c[1], p.sd[1])
		}
		fmt.Fprintf(w, ": left out %s, rms of ln %.3f\n", errorPair(left), rmsOf(left))
	}
	fmt.Fprintf(w, "  constants in the code: %s, rms of ln %.3f; by source, ln measured/law:", errorPair(code), rmsOf(code))
	for _, s := range []string{"measured", "inferred", "whoop", "corpus 75C"} {
		var logs []float64
		for i := range code {
			if source[i] == s {
				logs = append(logs, code[i])
			}
		}
		fmt.Fprintf(w, " %s %+.2f (%d)", s, median(logs), len(logs))
	}
	fmt.Fprintln(w)
	return nil
}
