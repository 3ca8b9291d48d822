package physics

import (
	"math"
	"testing"

	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// Published, in the fit: resistances in milliohm of one cell, by source: readings of a charger,
// whoop packs under load (16 milliohm of plug and leads taken off), a flight log's slope of voltage
// over current, a maker's series. The law's level is their middle, each source counting once.
func TestPublishedCellResistance(t *testing.T) {
	var levels, all []float64
	for _, source := range [][][2]float64{ // Ah, milliohm
		{{1.5, 6.75}, {1.55, 6.525}, {1.5, 4.975}, {1.3, 6.85}, {1.3, 5.575}},
		{{0.3, 21}, {0.3, 44}, {0.32, 13}},
		{{1.5, 4.5}},
		{{1, 5.5}, {1, 4.33}, {1.3, 4.33}, {2.2, 3.33}, {3, 4.33}, {5, 3}, {1.3, 3}, {1.6, 3.5}, {1.5, 4.25}, {5, 2.75}, {1,
			3.17}, {5, 2.5}, {6, 2.17}},
	} {
		var logs []float64
		for _, p := range source {
			logs = append(logs, math.Log(p[1]/1000/EstimatePackResistance(LiPo, 1, p[0], 0).Value))
		}
		levels, all = append(levels, residual.Median(logs)), append(all, logs...)
	}
	var mean float64
	for _, l := range levels {
		mean += l / float64(len(levels))
	}
	if math.Abs(mean) > 0.25 {
		t.Errorf("ln of measured over predicted is %+.3f over the sources %.3f", mean, levels)
	}
	if err := residual.Agree(all, packResistanceLnSD); err != nil {
		t.Errorf("pack resistance: %v", err)
	}
}

// Published, in the fit: masses of packs in grams from makers' sheets and scales.
func TestPublishedPackMass(t *testing.T) {
	var logs []float64
	for _, p := range []struct{ cells, ah, grams float64 }{
		{1, 0.3, 8.3}, {3, 0.55, 43.2}, {3, 0.58, 42}, {4, 0.85, 73}, {4, 0.85, 88}, {4, 1.3, 154}, {4, 1.3, 166}, {4, 1.5,
			157}, {4, 1.5, 189}, {4, 1.55, 254}, {4, 1.55, 178},
		{6, 1.3, 203}, {8, 1.3, 260}, {6, 5, 683}, {2, 1, 84}, {3, 1.3, 137}, {3, 2.2, 230}, {4, 1, 148}, {4, 3, 405}, {6,
			1.2, 232}, {6, 5, 920},
	} {
		logs = append(logs, math.Log(p.grams/1000/EstimatePackMass(LiPo, int(p.cells), p.ah).Value))
	}
	if m := residual.Median(logs); math.Abs(m) > 0.15 {
		t.Errorf("ln of weighed over predicted is %+.3f at the median", m)
	}
	if err := residual.Agree(logs, packMassLnSD); err != nil {
		t.Errorf("pack mass: %v", err)
	}
}

// Common practice, no source: cylindrical Li-ion cells of 18 by 65 mm weigh 45 to 48 g at 2.5 to 3 Ah
// and show 15 to 32 milliohm.
func TestTradeLiIonCell(t *testing.T) {
	if m := EstimatePackMass(LiIon, 1, 2.75).Value * 1000; m < 42 || m > 51 {
		t.Errorf("a cell of 2.75 Ah weighs %.1f g", m)
	}
	if r := EstimatePackResistance(LiIon, 1, 2.75, 0).Value * 1000; r < 15 || r > 32 {
		t.Errorf("a cell of 2.75 Ah has %.1f milliohm", r)
	}
}

// Common practice, no source: a pack is worn out after some 300 flights, its resistance about doubled.
func TestTradeWornPack(t *testing.T) {
	young, old := EstimatePackResistance(LiPo, 4, 1.3, 0).Value, EstimatePackResistance(LiPo, 4, 1.3, 300).Value
	if r := old / young; r < 1.6 || r > 2.6 {
		t.Errorf("after 300 cycles resistance is %.2f times the new one", r)
	}
}

// Published (cells' data sheets, from memory): against 20 °C a lithium cell shows 1.3 to 2 times the
// resistance at freezing and 1.7 to 3.2 times at −10 °C, and gives 85 to 95 and 75 to 90 % of its
// charge.
func TestColdPack(t *testing.T) {
	for _, c := range []struct{ celsius, lowOhm, highOhm, lowAs, highAs float64 }{{0, 1.3, 2, 0.85, 0.95}, {-10, 1.7,
		3.2, 0.75, 0.90}} {
		r, capacity := ColdPack(rotor.CelsiusToKelvin(c.celsius))
		if r < c.lowOhm || r > c.highOhm || capacity < c.lowAs || capacity > c.highAs {
			t.Errorf("at %g °C: resistance %.2f times, charge %.2f of a warm pack's", c.celsius, r, capacity)
		}
	}
	if r, capacity := ColdPack(rotor.CelsiusToKelvin(35)); r != 1 || capacity != 1 {
		t.Error("a warm pack must keep its resistance and capacity")
	}
}

// Common practice, no source: cells rest at their storage voltage at about half charge, LiPo 3.80 to
// 3.87 V, LiHV 3.80 to 3.92 V, Li-ion 3.6 to 3.72 V; and published: their mean over the whole charge lies 0.03 to
// 0.17 V over the nominal 3.7, 3.8 and 3.6 V (IEC 61960), which are under load.
func TestRestingVoltage(t *testing.T) {
	for c, want := range map[Chemistry][3]float64{LiPo: {3.80, 3.87, 3.7}, LiHV: {3.80, 3.92, 3.8}, LiIon: {3.6, 3.72,
		3.6}} {
		if v := c.CellV(0.5); v < want[0] || v > want[1] {
			t.Errorf("%v rests at %.3f V at half charge", c, v)
		}
		var mean float64
		for i := range 1000 {
			mean += c.CellV((float64(i)+0.5)/1000) / 1000
		}
		if over := mean - want[2]; over < 0.03 || over > 0.17 {
			t.Errorf("%v rests %.3f V over its nominal voltage on average", c, over)
		}
	}
	// Sheets of cells: charged to and discharged down to at the lowest, under load.
	for c, want := range map[Chemistry][2]float64{LiPo: {4.2, 3.0}, LiHV: {4.35, 3.0}, LiIon: {4.2, 2.5}} {
		if c.FullCellV() != want[0] || c.LowestCellV() != want[1] {
			t.Errorf("%v works from %g down to %g V, sheets say %g and %g", c, c.FullCellV(), c.LowestCellV(), want[0], want[1])
		}
	}
}
