package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/internal/residual"
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
	t, err := reference.Read(folder, "packs.csv", "pack", "cells", "chemistry", "capacity_mah", "label_c", "mass_g",
		"cell_resistance_mohm", "kind")
	if err != nil {
		return nil, err
	}
	var out []packSheet
	for i := range t.Rows {
		kind := t.Text(i, "kind")
		p := packSheet{name: t.Text(i, "pack"), cells: int(t.Number(i, "cells")), capacityAh: t.Number(i,
			"capacity_mah") / 1000}
		switch c := strings.ToLower(t.Text(i, "chemistry")); c {
		case "lihv":
			p.chemistry = physics.LiHV
		case "liion":
			p.chemistry = physics.LiIon
		}
		read := func(column string) float64 { x, _ := t.Maybe(i, column); return x / 1000 }
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
	if err := t.Err(); err != nil {
		return nil, err
	}
	t, err = reference.Read(folder, "flown_crafts.csv", "id", "cells", "capacity_mah", "quantity", "value")
	if err != nil {
		return nil, err
	}
	for i := range t.Rows {
		if t.Text(i, "quantity") == "pack_weight" {
			p := packSheet{name: t.Text(i, "id"), source: "weighed", cells: int(t.Number(i, "cells")), capacityAh: t.Number(i,
				"capacity_mah") / 1000, massKg: t.Number(i, "value") / 1000}
			out = append(out, p)
		}
	}
	return out, t.Err()
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

// packMassCases are masses a cell and Ah in g.
func packMassCases(packs []packSheet) lawCases {
	flat, size, rating := lawForm{name: "the same for all"}, lawForm{name: "with a power of capacity"}, lawForm{name: "with a power of label C over 75"}
	var c lawCases
	for _, p := range packs {
		if p.massKg == 0 {
			continue
		}
		c.group, c.y = append(c.group, p.source), append(c.y, math.Log(p.massKg*1000/(float64(p.cells)*p.capacityAh)))
		c.code = append(c.code, math.Log(p.massKg/physics.EstimatePackMass(p.chemistry, p.cells, p.capacityAh).Value))
		labelC := p.labelC
		if labelC == 0 {
			labelC = 75
		}
		flat.x, size.x, rating.x = append(flat.x, []float64{1}), append(size.x, []float64{1,
			math.Log(p.capacityAh)}), append(rating.x, []float64{1, math.Log(labelC / 75)})
	}
	c.forms = []lawForm{flat, size, rating}
	return c
}

// packOhmCases are resistances of a cell times its capacity in milliohm Ah.
func packOhmCases(packs []packSheet) lawCases {
	flat, size := lawForm{name: "the same for all"}, lawForm{name: "with a power of capacity"}
	var c lawCases
	for _, p := range packs {
		if p.cellOhm <= 0 {
			continue
		}
		c.group, c.y = append(c.group, p.source), append(c.y, math.Log(p.cellOhm*1000*p.capacityAh))
		c.code = append(c.code, math.Log(p.cellOhm*float64(p.cells)/physics.EstimatePackResistance(p.chemistry, p.cells,
			p.capacityAh, 0).Value))
		flat.x, size.x = append(flat.x, []float64{1}), append(size.x, []float64{1, math.Log(p.capacityAh)})
	}
	c.forms = []lawForm{flat, size}
	return c
}

// smallPacks are the lithium-polymer packs of this kind of craft.
func smallPacks(packs []packSheet) []packSheet {
	var out []packSheet
	for _, p := range packs {
		if p.chemistry != physics.LiIon && p.capacityAh <= largestPackAh && p.cells <= 8 {
			out = append(out, p)
		}
	}
	return out
}

// printPack prints the laws of packs' mass and resistance.
func printPack(w io.Writer, folder string) error {
	packs, err := loadPacks(folder)
	if err != nil {
		return err
	}
	some := smallPacks(packs)
	mass, ohm := packMassCases(some), packOhmCases(some)
	fmt.Fprintf(w, "// Mass a cell and Ah, %d lithium-polymer packs up to %g Ah, each source counting once and left out "+
		"in turn\n", len(mass.y), largestPackAh)
	if err := mass.print(w, "g"); err != nil {
		return err
	}
	for _, p := range packs {
		if p.chemistry == physics.LiIon {
			perAh := 1000 / (float64(p.cells) * p.capacityAh)
			fmt.Fprintf(w, "  Li-ion %s: %.1f g a cell and Ah, the law %.1f\n", p.name, p.massKg*perAh,
				physics.EstimatePackMass(physics.LiIon, p.cells, p.capacityAh).Value*perAh)
		}
	}
	fmt.Fprintf(w, "// Resistance of a cell times its capacity, %d packs, each source counting once and left out in turn\n", len(ohm.y))
	if err := ohm.print(w, "milliohm Ah"); err != nil {
		return err
	}
	fmt.Fprint(w, "  by source, ln measured over the code's:")
	for _, s := range []string{"measured", "inferred", "whoop", "corpus 75C"} {
		var logs []float64
		for i := range ohm.code {
			if ohm.group[i] == s {
				logs = append(logs, ohm.code[i])
			}
		}
		fmt.Fprintf(w, " %s %+.2f (%d)", s, residual.Median(logs), len(logs))
	}
	fmt.Fprintln(w)
	for _, plug := range []string{"PH 2.0", "BT 2.0", "XT30", "XT60", "XT90"} {
		fmt.Fprintf(w, "  plug and leads of %s: %.1f milliohm\n", plug, 1000*physics.PlugResistance(plug))
	}
	return nil
}
