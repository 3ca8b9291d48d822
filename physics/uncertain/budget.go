package uncertain

import "math"

// Budget is the uncertainty budget of a craft: the standard deviation of the natural logarithm of each
// input, with its basis, and the correlations that the residuals of the laws show. An input of standard
// deviation 0 is certain.
type Budget struct {
	LnSD  [InputCount]float64
	Basis [InputCount]Basis
	// ThrustPower is the correlation between PropThrust and PropPower.
	ThrustPower float64
	MotorCorrelation
	// SeriesShare is the share of the prop's variances in CT and CP that it has in common with
	// the other props of its series, 0 to 1.
	SeriesShare float64
}

// Set takes standard deviation and basis of an input from an estimate.
func (b *Budget) Set(i Input, e Estimate) { b.LnSD[i], b.Basis[i] = e.LnSD, e.Basis }

// Deviation is the natural logarithm of the factor on each input; the zero value changes nothing.
type Deviation [InputCount]float64

// Deviation turns independent standard normal numbers, one an input, into a deviation with this
// budget's standard deviations and correlations.
func (b *Budget) Deviation(normal *[InputCount]float64) Deviation {
	var d Deviation
	for i := range d {
		d[i] = b.LnSD[i] * normal[i]
	}
	d[PropPower] = b.LnSD[PropPower] * correlate(b.ThrustPower, normal[PropThrust], normal[PropPower])
	for i, row := range b.Factor() {
		input := MotorInputs[i]
		d[input] = b.LnSD[input] * (row[0]*normal[MotorSpeed] + row[1]*normal[MotorResistance] + row[2]*normal[MotorLoss])
	}
	return d
}

// correlate returns a standard normal number of correlation r to a, made of the independent a and b.
func correlate(r, a, b float64) float64 { return r*a + math.Sqrt(1-r*r)*b }
