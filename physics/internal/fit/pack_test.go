package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/physics"
)

func TestSpreadOver(t *testing.T) {
	w := spreadOver([]string{"a", "b", "a", "a"})
	if w[1] != 1 || math.Abs(w[0]+w[2]+w[3]-1) > 1e-12 {
		t.Errorf("weights %v: each source must count once", w)
	}
}

// The reader takes plugs off loads, knows chemistries, and leaves resistances that a sheet repeats.
func TestLoadPacks(t *testing.T) {
	folder := t.TempDir()
	files := map[string]string{
		"packs.csv": "pack,cells,chemistry,capacity_mah,label_c,mass_g,cell_resistance_mohm,kind\n" +
			"a,4,LiPo,1500,75,190,6,corpus\nb,6,LiIon,20000,5,1800,2,corpus\nc,1,LiHV,300,,,37,measured under load (x)\n",
		"flown_crafts.csv": "id,cells,capacity_mah,quantity,value\nw,2,350,pack_weight,20.9\n",
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	packs, err := loadPacks(folder)
	if err != nil || len(packs) != 4 {
		t.Fatal(packs, err)
	}
	if a := packs[0]; a.source != "corpus 75C" || math.Abs(a.cellOhm-0.006) > 1e-12 || math.Abs(a.massKg-0.19) > 1e-12 {
		t.Errorf("%+v", a)
	}
	if b := packs[1]; b.chemistry != physics.LiIon || b.cellOhm != 0 {
		t.Errorf("%+v", b)
	}
	if c := packs[2]; c.source != "whoop" || math.Abs(c.cellOhm-(0.037-physics.PlugResistance("BT 2.0"))) > 1e-3 {
		t.Errorf("%+v", c)
	}
	if w := packs[3]; w.source != "weighed" || math.Abs(w.massKg-0.0209) > 1e-12 {
		t.Errorf("%+v", w)
	}
	if err := os.WriteFile(filepath.Join(folder, "packs.csv"), []byte("pack,cells\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := loadPacks(folder); err == nil || !strings.Contains(err.Error(), "packs.csv:1") {
		t.Errorf("a file without its columns gives %v", err)
	}
}
