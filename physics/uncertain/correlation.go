package uncertain

import "math"

// MotorInputs are those whose errors go together in a motor: what raises kV on a stand hides torque and resistance.
var MotorInputs = [...]Input{MotorSpeed, MotorResistance, MotorLoss}

// MotorCorrelation are the correlations of the errors of MotorInputs.
type MotorCorrelation struct{ SpeedResistance, SpeedLoss, ResistanceLoss float64 }

// Factor is the Cholesky factor of the correlation matrix: row i times independent standard normal numbers is that of
// the i-th of MotorInputs. Correlations that no three numbers can have end at those that they can.
func (c MotorCorrelation) Factor() [3][3]float64 {
	second := math.Sqrt(math.Max(1-c.SpeedResistance*c.SpeedResistance, 0))
	var both float64
	if second > 0 {
		both = (c.ResistanceLoss - c.SpeedResistance*c.SpeedLoss) / second
	}
	own := math.Sqrt(math.Max(1-c.SpeedLoss*c.SpeedLoss-both*both, 0))
	return [3][3]float64{{1}, {c.SpeedResistance, second}, {c.SpeedLoss, both, own}}
}

// Independent undoes Factor: it turns correlated numbers into the independent ones behind them, 0 where there is none
// of its own.
func (c MotorCorrelation) Independent(correlated [3]float64) [3]float64 {
	factor := c.Factor()
	var z [3]float64
	for i, row := range factor {
		x := correlated[i]
		for j := range i {
			x -= row[j] * z[j]
		}
		if row[i] > leastOwn {
			z[i] = x / row[i]
		}
	}
	return z
}

// leastOwn is the part of an error of its own under which it counts as following from the others.
const leastOwn = 1e-6
