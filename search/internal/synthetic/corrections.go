package synthetic

import (
	"math"
	"math/rand/v2"
	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// Correct gives every part of a drawer corrections at random that share a few numbers.
func Correct(d *inventory.Drawer, rng *rand.Rand) {
	const common = 4
	some := func(inputs ...uncertain.Input) inventory.Corrections {
		var list inventory.Corrections
		for _, i := range inputs {
			shared := make([]float64, common)
			length := 0.0
			for j := range shared {
				shared[j] = rng.NormFloat64()
				length += shared[j] * shared[j]
			}
			for j := range shared {
				shared[j] *= (0.5 + 0.5*rng.Float64()) / math.Sqrt(length)
			}
			list = append(list, inventory.Correction{Input: i, LnFactor: 0.15 * rng.NormFloat64(),
				LnSD: 0.02 + 0.1*rng.Float64(), Measured: rng.IntN(2) == 0, Shared: shared})
		}
		return list
	}
	for i := range d.Motors {
		d.Motors[i].Learned = some(uncertain.MotorSpeed, uncertain.MotorResistance, uncertain.MotorLoss,
			uncertain.MotorMass, uncertain.RotorModel)
	}
	for i := range d.Props {
		d.Props[i].Learned = some(uncertain.PropThrust, uncertain.PropPower, uncertain.PropZeroThrust, uncertain.PropMass)
	}
	for i := range d.Packs {
		d.Packs[i].Learned = some(uncertain.PackResistance, uncertain.PackCapacity, uncertain.PackMass)
	}
	for i := range d.Frames {
		d.Frames[i].Learned = some(uncertain.FrameMass, uncertain.DragArea, uncertain.FlyingPower)
	}
	for i := range d.Boards {
		d.Boards[i].Learned = some(uncertain.BoardMass, uncertain.ElectronicsPower, uncertain.PartThrottle,
			uncertain.Ripple)
	}
}
