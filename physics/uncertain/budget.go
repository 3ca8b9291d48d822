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
	// SpeedSlopes is the correlation between PropThrustSpeed and PropPowerSpeed.
	SpeedSlopes float64
	// Prop says of these four what the prop has in common with others; it has the same standard deviations and
	// correlations.
	Prop PropForms
}

// SetProp takes the prop's forms, with their standard deviations and correlations and the bases of CT, CP and of
// their slopes.
func (b *Budget) SetProp(f *PropForms, thrust, power, slopes Basis) {
	b.Prop = *f
	for row, i := range FormInputs() {
		b.LnSD[i], b.Basis[i] = f.LnSD(row), [...]Basis{thrust, power, slopes, slopes}[row]
	}
	b.ThrustPower, b.SpeedSlopes = f.Correlation(0, 1), f.Correlation(2, 3)
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
	d[PropPowerSpeed] = b.LnSD[PropPowerSpeed] * correlate(b.SpeedSlopes, normal[PropThrustSpeed], normal[PropPowerSpeed])
	return d
}

// correlate returns a standard normal number of correlation r to a, made of the independent a and b.
func correlate(r, a, b float64) float64 { return r*a + math.Sqrt(1-r*r)*b }
