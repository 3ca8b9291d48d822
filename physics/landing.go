package physics

// landing is how a flight usually ends: the share of the charge that is left, and the cell voltage under load under
// which nobody flies on, whichever comes first. Common practice, no source: assumed from what pilots say, not measured.
type landing struct{ reserve, cellV float64 }

var (
	ionLanding   = landing{0.10, 3.0} // Li-ion cells
	whoopLanding = landing{0.12, 3.2} // one cell of LiPo or LiHV
	lightLanding = landing{0.15, 3.4} // under lightCraftKg, with props under smallPropM
	otherLanding = landing{0.20, 3.5}
)

const (
	lightCraftKg = 0.200
	smallPropM   = 4.6 * 0.0254
)

// usualLanding is how flights of a craft of this class end.
func (c *Craft) usualLanding() landing {
	switch {
	case c.Pack.Chemistry == LiIon:
		return ionLanding
	case c.Pack.Cells == 1:
		return whoopLanding
	case c.MassKg() < lightCraftKg && c.Propeller.DiameterM < smallPropM:
		return lightLanding
	}
	return otherLanding
}

// LandingV is the cell voltage under load at which a flight ends: the way of flying's own, or else what is usual for
// the craft, by chemistry, cells, mass and prop size.
func (c *Craft) LandingV(f *Flying) float64 {
	given := f.LandingV
	if c.Pack.Chemistry == LiIon {
		given = f.IonV
	}
	if given == 0 {
		return c.usualLanding().cellV
	}
	return given
}

// Reserve is the share of the charge that is left at landing at the latest, likewise.
func (c *Craft) Reserve(f *Flying) float64 {
	if f.Reserve == 0 {
		return c.usualLanding().reserve
	}
	return f.Reserve
}
