package physics

import (
	"math"

	"partsaloft/physics/rotor"
)

// fedAt is the supply of a craft whose board has a voltage, whatever the pack does to keep it.
func (c *Craft) fedAt(boardV float64) supply {
	s := c.supply(midCharge)
	s.openV, s.resistanceOhm, s.electronicsA = boardV, 0, c.ElectronicsW/boardV
	return s
}

// HoverAt is hover at a voltage over 0 at the board: the duty, and the current from the pack in A. It returns false
// where the craft cannot hover at that voltage.
func (c *Craft) HoverAt(boardV float64) (duty, currentA float64, ok bool) {
	s := c.fedAt(boardV)
	o, ok := c.at(c.MassKg()*GravityMS2/float64(c.Rotors), rotor.Flow{})
	if !ok {
		return 0, 0, false
	}
	duty, ok = s.duty(o)
	return duty, s.currentA(duty, o.currentA), ok
}

// FullThrottleAt is full throttle in still air at a voltage over 0 at the board: rotor speed in rad/s, and the current
// from the pack in A.
func (c *Craft) FullThrottleAt(boardV float64) (speedRadS, currentA float64) {
	s := c.fedAt(boardV)
	o := c.fullThrottle(&s, 1)
	return o.speedRadS, s.currentA(1, o.currentA)
}

// PowerOverHover is the mean electrical power of a way of flying over that of hover, both at the board at half
// charge. The reason is Defined, or says why there is none.
//
//	(Σ share I (E − R I))/(I_h (E − R I_h))
func (c *Craft) PowerOverHover(f *Flying) (float64, Reason) {
	from := still{mid: c.supply(midCharge), weightN: c.MassKg() * GravityMS2}
	var ok bool
	from.hover, ok = c.at(from.weightN/float64(c.Rotors), rotor.Flow{})
	duty, holds := from.mid.duty(from.hover)
	if !ok || !holds {
		return 0, CannotHover
	}
	var l load
	c.load(&l, f.Segments, f.unsteadiness(), &from)
	s := &from.mid
	powerW := func(currentA float64) float64 { return currentA * (s.openV - s.resistanceOhm*currentA) }
	var meanW float64
	for i := range l.count {
		d, _ := s.duty(l.points[i])
		currentA := s.currentA(d, l.points[i].currentA)
		if l.moving[i] {
			currentA = s.electronicsA + (currentA-s.electronicsA)*l.unsteady
		}
		// A pack gives the most power at half its open-circuit voltage.
		meanW += l.share[i] * powerW(math.Min(currentA, 0.5*s.openV/s.resistanceOhm))
	}
	return meanW / powerW(s.currentA(duty, from.hover.currentA)), Defined
}
