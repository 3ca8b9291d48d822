package physics

import (
	"math"

	"partsaloft/physics/uncertain"
)

// Constants of the pack laws; see DEVELOPERS.md, "How the constants were fitted". Each source counts
// once: a maker's series, other sheets, chargers' readings, whoop packs under load, what pilots
// weighed. Sources left out: mass within 19 % at the median and 28 % nine times in ten (48 packs up
// to 6 Ah), resistance 33 and 79 % (36 packs). Neither a power of capacity nor label C did better.
const (
	cellOhmAh           = 0.0075 // ohm Ah of one cell, whoop packs' plugs taken off
	ionCellOhmAh        = 0.060  // ohm Ah of a cylindrical Li-ion cell (common practice: 20 to 30 milliohm at 2.5 Ah)
	packResistanceLnSD  = 0.40
	givenResistanceLnSD = 0.15
	packLeadOhm         = 0.005
	packMassKgPerCellAh = 0.0285
	ionMassKgPerCellAh  = 0.0170 // cylindrical cells: 46 to 48 g at 2.5 to 3 Ah (common practice, no source); large packs 15 g an Ah
	packMassLnSD        = 0.20
	capacityLnSD        = 0.06
	growthPerCycle      = 0.003 // resistance per cycle (common practice, no source: doubled after some 300)
)

// EstimatePackResistance estimates the internal resistance of all cells in ohm, warm and after a number
// of cycles.
func EstimatePackResistance(chemistry Chemistry, cells int, capacityAh float64, cycles int) uncertain.Estimate {
	perCell := cellOhmAh
	if chemistry == LiIon {
		perCell = ionCellOhmAh
	}
	aged := 1 + growthPerCycle*float64(cycles)
	return uncertain.Estimate{Value: float64(cells) * perCell / capacityAh * aged, LnSD: packResistanceLnSD,
		Basis: uncertain.Estimated}
}

// EstimatePackMass estimates a pack's mass in kg.
func EstimatePackMass(chemistry Chemistry, cells int, capacityAh float64) uncertain.Estimate {
	perCellAh := packMassKgPerCellAh
	if chemistry == LiIon {
		perCellAh = ionMassKgPerCellAh
	}
	return uncertain.Estimate{Value: perCellAh * float64(cells) * capacityAh, LnSD: packMassLnSD,
		Basis: uncertain.Estimated}
}

// plugs are wire and contacts between cells and board by type of plug: ohm a metre of the usual
// wire (copper of its gauge at 20 °C), metres of it one way, and ohm of one contact.
var plugs = [...]struct {
	name                           string
	wireOhmPerM, wireM, contactOhm float64
}{
	// Contacts of PH 2.0: datasheet, 10 milliohm new and 20 worn; BT 2.0 22 milliohm less on both
	// poles (0.2 V at 9 A, a hobby measurement); XT types from memory of their datasheets; lengths
	// and gauges common practice, no source.
	{"PH 2.0", 0.0842, 0.08, 0.012}, // AWG 24
	{"BT 2.0", 0.0842, 0.08, 0.001},
	{"XH 2.5", 0.0530, 0.10, 0.010}, // AWG 22
	{"RCY", 0.0530, 0.10, 0.010},
	{"A30", 0.0333, 0.08, 0.001},    // AWG 20
	{"XT30", 0.0210, 0.13, 0.0007},  // AWG 18
	{"XT60", 0.00829, 0.18, 0.0005}, // AWG 14
	{"XT90", 0.00328, 0.25, 0.0003}, // AWG 10
	{"EC3", 0.01317, 0.16, 0.0006},  // AWG 16
	{"EC5", 0.00521, 0.20, 0.0004},  // AWG 12
	{"T plug", 0.00829, 0.18, 0.0006},
}

// PlugResistance is the resistance in ohm of a plug with the leads on both its sides, both poles,
// by the name of its type; that of a type it does not know is LeadResistance. It is good to a
// third: wire lengths differ.
func PlugResistance(name string) float64 {
	for _, p := range plugs {
		if p.name == name {
			return 2 * (p.wireOhmPerM*p.wireM + p.contactOhm)
		}
	}
	return packLeadOhm
}

// LeadResistance is the resistance in ohm of a pack's leads and plug of unknown type, between XT30
// and XT60.
func LeadResistance() float64 { return packLeadOhm }

// ColdPack returns the factors on internal resistance and on capacity of a pack flown in air of a
// temperature in kelvin; from 15 °C on both are 1. Resistance follows Arrhenius with an activation
// energy of 20 kJ/mol (from memory; lithium cells show 15 to 30), capacity falls by 0.7 % a kelvin
// (common practice, no source). Together they cost the 15 to 30 % of flying time that pilots see
// near freezing. Self-heating in flight is left out.
func ColdPack(temperatureK float64) (resistance, capacity float64) {
	const activationJMol, gasJMolK, capacityPerK, warmK = 20e3, 8.314, 0.007, 288.15
	if temperatureK >= warmK {
		return 1, 1
	}
	return math.Exp(activationJMol / gasJMolK * (1/temperatureK - 1/warmK)),
		1 - capacityPerK*(warmK-temperatureK)
}

// GivenPackResistance is the internal resistance of all cells in ohm from a charger's reading of
// one cell, worn as the pack is.
func GivenPackResistance(cellOhm float64, cells int) uncertain.Estimate {
	return uncertain.Estimate{Value: cellOhm * float64(cells), LnSD: givenResistanceLnSD, Basis: uncertain.Measured}
}

// LabelCapacity is a pack's capacity in A s as labelled.
func LabelCapacity(capacityAs float64) uncertain.Estimate {
	return uncertain.Estimate{Value: capacityAs, LnSD: capacityLnSD, Basis: uncertain.Label}
}
