package objective

import "math"

// Scale turns a response into a desirability from 0 to 1 by the one-sided transformation of
// G. Derringer and R. Suich (Journal of Quality Technology 12, 214, 1980, equation 3),
//
//	d = 0                                  at Worst or beyond
//	d = ((Y − Worst)/(Best − Worst))^R     between
//	d = 1                                  at Best or beyond
//
// A Best under Worst says that less is better. With Log both ends and the response are taken in
// logarithms, so that equal ratios count alike: going from 2 to 4 minutes is worth as much as
// from 4 to 8.
type Scale struct {
	Worst, Best float64
	Log         bool
	Exponent    float64 // R; 0 means 1
}

// Desirability of a response.
func (s *Scale) Desirability(y float64) float64 {
	d := (y - s.Worst) / (s.Best - s.Worst)
	if s.Log {
		if y <= 0 {
			// The logarithm's limit: as far down as can be.
			if s.LessIsBetter() {
				return 1
			}
			return 0
		}
		d = math.Log(y/s.Worst) / math.Log(s.Best/s.Worst)
	}
	switch {
	case !(d > 0):
		return 0
	case d >= 1:
		return 1
	case s.Exponent == 0 || s.Exponent == 1:
		return d
	}
	return math.Pow(d, s.Exponent)
}

// LessIsBetter reports whether the scale prefers small responses.
func (s *Scale) LessIsBetter() bool { return s.Best < s.Worst }
