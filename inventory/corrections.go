package inventory

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Correction is what readings taught of one uncertain input of a part: its factor is e to the
// power of LnFactor on what the part's figures say, known to LnSD.
type Correction struct {
	Input          uncertain.Input
	LnFactor, LnSD float64
	// Measured says that the readings took away so much of the doubt that the figure counts as
	// measured; else its basis stays.
	Measured bool
	// Shared says how the error goes together with those of other corrections: it is the sum of
	// standard normal numbers that all corrections have in common, weighted by Shared, times LnSD,
	// and of a number of its own where Shared is shorter than one.
	Shared []float64
}

// Corrections are those of one part, by input. A part without any has nil.
type Corrections []Correction

// For is the correction of an input.
func (c Corrections) For(input uncertain.Input) (Correction, bool) {
	for i := range c {
		if c[i].Input == input {
			return c[i], true
		}
	}
	return Correction{}, false
}

// Together is the correlation of the errors of two inputs.
func (c Corrections) Together(a, b uncertain.Input) float64 {
	first, _ := c.For(a)
	second, _ := c.For(b)
	var r float64
	for i := range min(len(first.Shared), len(second.Shared)) {
		r += first.Shared[i] * second.Shared[i]
	}
	return r
}

// MotorCorrelation are the correlations of a motor's errors.
func (c Corrections) MotorCorrelation() uncertain.MotorCorrelation {
	return uncertain.MotorCorrelation{
		SpeedResistance: c.Together(uncertain.MotorSpeed, uncertain.MotorResistance),
		SpeedLoss:       c.Together(uncertain.MotorSpeed, uncertain.MotorLoss),
		ResistanceLoss:  c.Together(uncertain.MotorResistance, uncertain.MotorLoss),
	}
}

// Sum is the correction of a sum of errors that have the same input: that of c, times its weight,
// and those of others. An error that was not corrected has no Shared.
func (c Correction) Sum(weight float64, others ...Correction) Correction {
	sum := Correction{Input: c.Input, Measured: true}
	var shared []float64
	var own float64
	put := func(k *Correction, weight float64) {
		sum.LnFactor += weight * k.LnFactor
		sum.Measured = sum.Measured && k.Measured
		if shared == nil && k.Shared != nil {
			shared = make([]float64, len(k.Shared))
		}
		together := 0.0
		for i, s := range k.Shared {
			shared[i] += weight * k.LnSD * s
			together += s * s
		}
		own += weight * k.LnSD * weight * k.LnSD * math.Max(1-together, 0)
	}
	put(&c, weight)
	for i := range others {
		put(&others[i], weight)
	}
	variance := own
	for _, s := range shared {
		variance += s * s
	}
	sum.LnSD = math.Sqrt(variance)
	if sum.LnSD > 0 {
		for i := range shared {
			shared[i] /= sum.LnSD
		}
	}
	sum.Shared = shared
	return sum
}

// mixedCorrections of a set of motors are the mean of its two kinds', where one that was not
// corrected counts with the set's own doubt.
func (m *Motor) mixedCorrections() Corrections {
	a, b := m.Mixed.A.Learned, m.Mixed.B.Learned
	if a == nil && b == nil {
		return nil
	}
	si := m.SI()
	u := Assemble(1, &rotor.Propeller{}, &si, &PackSI{}, StandBody(), physics.Connector{}).Uncertainty
	var list Corrections
	for i := range uncertain.InputCount {
		first, okA := a.For(i)
		second, okB := b.For(i)
		if !okA && !okB {
			continue
		}
		unknown := Correction{Input: i, LnSD: u.LnSD[i]}
		if !okA {
			first = unknown
		}
		if !okB {
			second = unknown
		}
		// The set has half of the variance of any motor to itself.
		apart := unknown
		apart.LnSD *= math.Sqrt2
		list = append(list, first.Sum(0.5, second, apart))
	}
	return list
}

// apply multiplies an estimate by what was learned of an input and narrows it.
func (c Corrections) apply(input uncertain.Input, e *uncertain.Estimate) {
	k, ok := c.For(input)
	if !ok {
		return
	}
	e.Value *= math.Exp(k.LnFactor)
	c.narrow(input, e)
}

// narrow gives an estimate what is left of its doubt, and leaves its value.
func (c Corrections) narrow(input uncertain.Input, e *uncertain.Estimate) {
	k, ok := c.For(input)
	if !ok {
		return
	}
	e.LnSD = k.LnSD
	if k.Measured {
		e.Basis = uncertain.Measured
	}
}

// deviation is the logarithm of the learned factors.
func (c Corrections) deviation() uncertain.Deviation {
	var d uncertain.Deviation
	for i := range c {
		d[c[i].Input] = c[i].LnFactor
	}
	return d
}

// spread sets what is left of the doubt of inputs that no estimate carries.
func (c Corrections) spread(u *uncertain.Budget, inputs ...uncertain.Input) {
	for _, input := range inputs {
		if k, ok := c.For(input); ok {
			u.LnSD[input] = k.LnSD
			if k.Measured {
				u.Basis[input] = uncertain.Measured
			}
		}
	}
}

// Label makes the prop for one state of air without what was learned of it. Props of one drawer share the rotor maps
// that come out the same.
func (p *Prop) Label(air rotor.Air) (*rotor.Propeller, error) { return p.maps.New(p.Spec(), air) }

// Propeller makes the prop for one state of air, with what was learned of it.
func (p *Prop) Propeller(air rotor.Air) (*rotor.Propeller, error) {
	made, err := p.Label(air)
	if err != nil {
		return nil, err
	}
	return p.Corrected(made), nil
}

// Corrected is a propeller made from the prop's Spec, or from a changed one, with what was learned
// of the prop.
func (p *Prop) Corrected(made *rotor.Propeller) *rotor.Propeller {
	if p.Learned == nil {
		return made
	}
	d := p.Learned.deviation()
	corrected := *made
	corrected.Deviate(&d)
	u := &corrected.Uncertainty
	p.Learned.apply(uncertain.PropThrust, &u.Thrust)
	p.Learned.apply(uncertain.PropPower, &u.Power)
	// What props have in common is in Shared.
	for i, pair := range [...][2]uncertain.Input{{uncertain.PropThrust, uncertain.PropPower},
		{uncertain.PropThrustSpeed, uncertain.PropPowerSpeed}} {
		first, ok := p.Learned.For(pair[0])
		second, also := p.Learned.For(pair[1])
		if ok && also {
			u.Forms.SetPair(2*i, first.LnSD, second.LnSD, p.Learned.Together(pair[0], pair[1]))
		}
	}
	p.Learned.apply(uncertain.PropZeroThrust, &u.ZeroThrust)
	p.Learned.apply(uncertain.PropMass, &u.Mass)
	return &corrected
}
