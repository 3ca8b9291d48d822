package physics

import "math"

// Constants of the pack laws; see DEVELOPERS.md, "How the constants were fitted".
const (
	cellOhmAh           = 0.009 // ohm Ah of one LiPo cell
	ionCellOhmAh        = 0.060 // ohm Ah of a cylindrical Li-ion cell (common practice: 20 to 30 milliohm at 2.5 Ah)
	packResistanceLnSD  = 0.35
	givenResistanceLnSD = 0.15
	packLeadOhm         = 0.010
	packMassKgPerCellAh = 0.0307
	ionMassKgPerCellAh  = 0.0190 // cylindrical cells: 46 to 48 g at 2.5 Ah (common practice, no source)
	packMassLnSD        = 0.15
	capacityLnSD        = 0.06
	growthPerCycle      = 0.003 // resistance per cycle (common practice, no source: doubled after some 300)
)

// EstimatePackResistance estimates the internal resistance of all cells in ohm, warm and after a number
// of cycles.
func EstimatePackResistance(chemistry Chemistry, cells int, capacityAh float64, cycles int) Estimate {
	perCell := cellOhmAh
	if chemistry == LiIon {
		perCell = ionCellOhmAh
	}
	aged := 1 + growthPerCycle*float64(cycles)
	return Estimate{float64(cells) * perCell / capacityAh * aged, packResistanceLnSD, Estimated}
}

// EstimatePackMass estimates a pack's mass in kg.
func EstimatePackMass(chemistry Chemistry, cells int, capacityAh float64) Estimate {
	perCellAh := packMassKgPerCellAh
	if chemistry == LiIon {
		perCellAh = ionMassKgPerCellAh
	}
	return Estimate{perCellAh * float64(cells) * capacityAh, packMassLnSD, Estimated}
}

// LeadResistance is the resistance in ohm of a pack's leads and plug: a small plug adds to it.
func LeadResistance() float64 { return packLeadOhm }

// ColdPack returns the factors on internal resistance and on capacity of a pack flown in air of a
// temperature in kelvin; from 15 °C on both are 1. Resistance follows Arrhenius with an activation
// energy of 20 kJ/mol (from memory; lithium cells show 15 to 30), capacity falls by 0.7 % a kelvin
// (common practice, no source). Together they cost the 15 to 30 % of flying time that pilots see
// near freezing. Self-heating in flight is left out.
func ColdPack(temperatureK float64) (resistance, capacity float64) {
	const activationJMol, gasJMolK, capacityPerK = 20e3, 8.314, 0.007
	if temperatureK >= seaLevelTemperatureK {
		return 1, 1
	}
	return math.Exp(activationJMol / gasJMolK * (1/temperatureK - 1/seaLevelTemperatureK)),
		1 - capacityPerK*(seaLevelTemperatureK-temperatureK)
}
