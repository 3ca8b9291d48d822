package physics

import "partsaloft/physics/uncertain"

// Standard deviations of the logarithm of what a pilot writes down.
const (
	givenPowerLnSD = 0.15 // of electronics, read from a sheet (common practice, no source)
)

// GivenPackResistance is the internal resistance of all cells in ohm from a charger's reading of
// one cell, worn as the pack is.
func GivenPackResistance(cellOhm float64, cells int) uncertain.Estimate {
	return uncertain.Estimate{Value: cellOhm * float64(cells), LnSD: givenResistanceLnSD, Basis: uncertain.Measured}
}

// LabelCapacity is a pack's capacity in A s as labelled.
func LabelCapacity(capacityAs float64) uncertain.Estimate {
	return uncertain.Estimate{Value: capacityAs, LnSD: capacityLnSD, Basis: uncertain.Label}
}

// GivenPower is the electric power in W of a part as its sheet says.
func GivenPower(powerW float64) uncertain.Estimate {
	return uncertain.Estimate{Value: powerW, LnSD: givenPowerLnSD, Basis: uncertain.Label}
}
