package physics

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// uses are currents and voltages over their limits: over 1 breaks the limit, 0 is unknown.
type uses [MotorLimit + 1]float64

// uses at a duty and an operating point, for seconds, with the pack at a state of charge.
func (c *Craft) uses(s *supply, charge, duty float64, o operating) uses {
	var u uses
	pack := s.currentA(duty, o.currentA)
	u[PackLimit] = pack / c.Pack.SafeCurrentA
	full := c.Pack.Chemistry.FullCellV()
	u[CellLimit] = (full - c.Pack.cellUnderLoadV(charge, pack)) / (full - c.Pack.Chemistry.LowestCellV())
	u[BoardLimit] = o.currentA / c.Board.BurstA
	if c.Connector.PeakA > 0 {
		u[ConnectorLimit] = pack / c.Connector.PeakA
	}
	if c.Motor.MaxCurrentA > 0 {
		u[MotorLimit] = o.currentA / c.Motor.MaxCurrentA
	}
	return u
}

// binding is the limit used most.
func (c *Craft) binding(u *uses) (Limit, float64) {
	most, which := 0.0, NoLimit
	for l := PackLimit; l <= MotorLimit; l++ {
		if u[l] > most {
			most, which = u[l], l
		}
	}
	return which, most
}

// throttleCap is the largest duty whose static operating point breaks no limit, with what binds
// it; full is the operating point at full throttle.
func (c *Craft) throttleCap(s *supply, full operating) (duty float64, capped operating, which Limit) {
	u := c.uses(s, 1, 1, full)
	which, most := c.binding(&u)
	if most <= 1 {
		return 1, full, NoLimit
	}
	excess := func(speed float64) float64 {
		o := c.turning(speed)
		d, _ := s.duty(o)
		u := c.uses(s, 1, d, o)
		_, most := c.binding(&u)
		return most - 1
	}
	low := 0.05 * full.speedRadS
	fl := excess(low)
	if fl > 0 {
		return 0, c.turning(low), which
	}
	speed, _ := numeric.Root(excess, numeric.Bracket{Low: low, AtLow: fl, High: full.speedRadS, AtHigh: most - 1},
		1e-7*full.speedRadS)
	capped = c.turning(speed)
	duty, _ = s.duty(capped)
	u = c.uses(s, 1, duty, capped)
	which, _ = c.binding(&u)
	return math.Min(duty, 1), capped, which
}
