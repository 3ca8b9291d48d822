package predict

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// covariance is that of numbers of variance 1, one an input or one a channel, by both.
type covariance [uncertain.InputCount][uncertain.InputCount]float64

// learnedTogether is the covariance of the numbers behind a combination's deviations (see uncertain.Budget.Deviation) that
// readings leave: those that taught several inputs at once leave errors that go together, across parts too. It is nil
// where there are none, and the numbers are independent.
func learnedTogether(c *inventory.Combination, u *uncertain.Budget) *covariance {
	var all inventory.Corrections
	for _, list := range [...]inventory.Corrections{c.Motor.Learned, c.Prop.Learned, c.Pack.Learned, c.Frame.Learned,
		c.Board.Learned} {
		for _, k := range list {
			if len(k.Shared) > 0 {
				all = append(all, k)
			}
		}
	}
	if all == nil {
		return nil
	}
	of := new(covariance)
	for i := range of {
		of[i][i] = 1
	}
	for i, a := range all {
		for _, b := range all[:i] {
			of.put(a.Input, b.Input, all.Together(a.Input, b.Input))
		}
	}
	of.put(uncertain.PropThrust, uncertain.PropPower, u.ThrustPower)
	of.put(uncertain.PropThrustSpeed, uncertain.PropPowerSpeed, u.SpeedSlopes)
	of.put(uncertain.MotorSpeed, uncertain.MotorResistance, u.SpeedResistance)
	of.put(uncertain.MotorSpeed, uncertain.MotorLoss, u.SpeedLoss)
	of.put(uncertain.MotorResistance, uncertain.MotorLoss, u.ResistanceLoss)
	for range 2 {
		for i := range of {
			of[i] = numbersBehind(&of[i], u)
		}
		of.transpose()
	}
	return of
}

// numbersBehind undoes the correlations of a budget, which Deviation brings in.
func numbersBehind(correlated *[uncertain.InputCount]float64, u *uncertain.Budget) [uncertain.InputCount]float64 {
	z := *correlated
	undo := func(r float64, a, b uncertain.Input) {
		if r*r < 1 {
			z[b] = (z[b] - r*z[a]) / math.Sqrt(1-r*r)
		}
	}
	undo(u.ThrustPower, uncertain.PropThrust, uncertain.PropPower)
	undo(u.SpeedSlopes, uncertain.PropThrustSpeed, uncertain.PropPowerSpeed)
	motor := u.Independent([...]float64{z[uncertain.MotorSpeed], z[uncertain.MotorResistance], z[uncertain.MotorLoss]})
	for i, input := range uncertain.MotorInputs {
		z[input] = motor[i]
	}
	return z
}

func (k *covariance) put(a, b uncertain.Input, with float64) { k[a][b], k[b][a] = with, with }

func (k *covariance) transpose() {
	for i := range k {
		for j := range i {
			k[i][j], k[j][i] = k[j][i], k[i][j]
		}
	}
}

// ofChannels is the covariance of the numbers that move the channels, each the sum of the inputs that it takes over its
// reach.
func (r *reach) ofChannels(of *covariance) *covariance {
	if of == nil {
		return nil
	}
	half := new(covariance) // channels by inputs
	gather := func(from, to *covariance) {
		for i, channel := range channelOf {
			if r.channel[channel] > 0 {
				add(&to[channel], &from[i], r.input[i]/r.channel[channel])
			}
			if r.inertia[i] > 0 {
				add(&to[inertiaChannel], &from[i], r.inertia[i]/r.channel[inertiaChannel])
			}
		}
	}
	gather(of, half)
	half.transpose()
	whole := new(covariance)
	gather(half, whole)
	return whole
}

func add(to, list *[uncertain.InputCount]float64, weight float64) {
	for i, x := range list {
		to[i] += weight * x
	}
}

// term is one of those a z + b z² that a figure is the sum of, with the channel that z moves.
type term struct {
	slope, curve float64
	channel      uncertain.Input
}

// moments are mean, variance and third moment of a sum of terms. Of independent z they are
//
//	Σ b,  Σ (a² + 2 b²),  Σ (6 a² b + 8 b³)
//
// and with a covariance K, u = K a and B the diagonal of the b (the cumulants of a quadratic form in normal numbers, A. M.
// Mathai, S. B. Provost, Quadratic Forms in Random Variables, 1992, section 3.2)
//
//	tr BK,  aᵀu + 2 tr (BK)²,  6 uᵀBu + 8 tr (BK)³
func moments(terms []term, k *covariance) (mean, variance, third float64) {
	if k == nil {
		for _, t := range terms {
			a, b := t.slope, t.curve
			mean += b
			variance += a*a + 2*b*b
			third += 6*a*a*b + 8*b*b*b
		}
		return mean, variance, third
	}
	squares := 0.0
	for _, t := range terms {
		squares += t.slope * t.slope
	}
	// Products of curves count where they matter to the variance; each of the others is under a hundred-thousandth of it.
	curved := slices.DeleteFunc(slices.Clone(terms), func(t term) bool { return 2*t.curve*t.curve < 1e-5*squares })
	for _, t := range terms {
		mean += t.curve * k[t.channel][t.channel]
		u := 0.0
		for _, other := range terms {
			u += k[t.channel][other.channel] * other.slope
		}
		variance += t.slope * u
		third += 6 * u * t.curve * u
	}
	for _, x := range curved {
		for _, y := range curved {
			xy := x.curve * y.curve * k[x.channel][y.channel]
			variance += 2 * xy * k[x.channel][y.channel]
			for _, z := range curved {
				third += 8 * xy * z.curve * k[y.channel][z.channel] * k[z.channel][x.channel]
			}
		}
	}
	return mean, variance, third
}
