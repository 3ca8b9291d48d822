package uncertain

import "math"

// PropNumber counts the independent standard normal numbers that the errors of a prop are made of.
type PropNumber uint8

// The numbers: those of the prop itself, those that the props of a series have in common, and those that all props of
// a class have in common. Merit stands for CP over what goes with CT.
const (
	OwnThrust PropNumber = iota
	OwnMerit
	OwnThrustSpeed
	OwnMeritSpeed
	SeriesThrust
	SeriesMerit
	ClassThrust // level
	ClassThrustPitch
	ClassThrustBlades
	ClassThrustDiameter
	ClassThrustSpeed
	ClassMerit // level
	ClassMeritPitch
	ClassMeritBlades
	ClassMeritDiameter
	ClassMeritSpeed
	PropNumbers // one past the last
)

// Owned is the owner of a number within props: the prop, its series, or its class.
type Owned uint8

// The owners.
const (
	ByProp Owned = iota
	BySeries
	ByClass
)

// Owned is with whom a number goes.
func (n PropNumber) Owned() Owned {
	switch {
	case n >= ClassThrust:
		return ByClass
	case n >= SeriesThrust:
		return BySeries
	}
	return ByProp
}

// FormInputs are the inputs of a prop that PropForms make: PropThrust, PropPower, PropThrustSpeed, PropPowerSpeed.
func FormInputs() [4]Input { return [4]Input{PropThrust, PropPower, PropThrustSpeed, PropPowerSpeed} }

// PropForms are the errors of a prop as linear forms of the numbers, one row for each of FormInputs.
type PropForms [4][PropNumbers]float64

// LnSD is the standard deviation of a row.
func (f *PropForms) LnSD(row int) float64 { return math.Sqrt(f.dot(row, row)) }

// Correlation of two rows, 0 where one is certain.
func (f *PropForms) Correlation(a, b int) float64 {
	aa, bb := f.dot(a, a), f.dot(b, b)
	if aa == 0 || bb == 0 {
		return 0
	}
	return math.Max(-1, math.Min(1, f.dot(a, b)/math.Sqrt(aa*bb)))
}

func (f *PropForms) dot(a, b int) float64 { return f.covariance(f, a, b, ByProp) }

func (f *PropForms) covariance(other *PropForms, a, b int, from Owned) float64 {
	var sum float64
	for i, x := range f[a] {
		if PropNumber(i).Owned() >= from {
			sum += x * other[b][i]
		}
	}
	return sum
}

// Covariance of a row with a row of another prop, by the numbers that the two have in common: those of their class, and
// those of their series if they are of one.
func (f *PropForms) Covariance(other *PropForms, a, b int, oneSeries bool) float64 {
	if oneSeries {
		return f.covariance(other, a, b, BySeries)
	}
	return f.covariance(other, a, b, ByClass)
}

// SetPair replaces a pair of rows, 0 and 1 or 2 and 3, by numbers of the prop's own with standard deviations and a
// correlation.
func (f *PropForms) SetPair(first int, firstSD, secondSD, correlation float64) {
	own := OwnThrust
	if first > 0 {
		own = OwnThrustSpeed
	}
	f[first], f[first+1] = [PropNumbers]float64{}, [PropNumbers]float64{}
	f[first][own], f[first+1][own] = firstSD, correlation*secondSD
	f[first+1][own+1] = math.Sqrt(1-correlation*correlation) * secondSD
}

// Normals are what Budget.Deviation wants for FormInputs so that the rows come out of it: standard normal numbers, of
// each pair the second independent of the first.
func (f *PropForms) Normals(numbers *[PropNumbers]float64) [4]float64 {
	var out [4]float64
	for row := range f {
		sd := f.LnSD(row)
		if sd == 0 {
			continue
		}
		for i, x := range f[row] {
			out[row] += x * numbers[i] / sd
		}
	}
	for _, first := range [...]int{0, 2} {
		r := f.Correlation(first, first+1)
		if rest := 1 - r*r; rest > 1e-12 {
			out[first+1] = (out[first+1] - r*out[first]) / math.Sqrt(rest)
		} else {
			out[first+1] = 0
		}
	}
	return out
}
