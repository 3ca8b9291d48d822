package physics

// LandingClass is a class of crafts whose flights usually end alike.
type LandingClass uint8

// The classes, in the order in which they are tried.
const (
	IonLanding   LandingClass = iota // Li-ion cells
	WhoopLanding                     // one cell of LiPo or LiHV
	LightLanding                     // under LightCraftKg, with props under SmallPropM
	OtherLanding
	LandingClassEnd // one past the last
)

// Bounds of LightLanding.
const (
	LightCraftKg = 0.200
	SmallPropM   = 4.6 * 0.0254
)

// landings are the share of the charge that is left when a flight of a class ends, and the cell voltage under load
// under which nobody flies on, whichever comes first. Common practice, no source: assumed from what pilots say, not
// measured.
var landings = [LandingClassEnd]struct{ reserve, cellV float64 }{
	IonLanding:   {0.10, 3.0},
	WhoopLanding: {0.12, 3.2},
	LightLanding: {0.15, 3.4},
	OtherLanding: {0.20, 3.5},
}

// Usual is how flights of a class usually end: the share of the charge that is left, and the cell voltage under load.
func (k LandingClass) Usual() (reserve, cellV float64) { return landings[k].reserve, landings[k].cellV }

// landingClass is the craft's class.
func (c *Craft) landingClass() LandingClass {
	switch {
	case c.Pack.Chemistry == LiIon:
		return IonLanding
	case c.Pack.Cells == 1:
		return WhoopLanding
	case c.MassKg() < LightCraftKg && c.Propeller.DiameterM < SmallPropM:
		return LightLanding
	}
	return OtherLanding
}

// LandingV is the cell voltage under load at which a flight ends: the way of flying's own, or else what is usual for
// the craft, by chemistry, cells, mass and prop size.
func (c *Craft) LandingV(f *Flying) float64 {
	given := f.LandingV
	if c.Pack.Chemistry == LiIon {
		given = f.IonV
	}
	if given == 0 {
		return landings[c.landingClass()].cellV
	}
	return given
}

// Reserve is the share of the charge that is left at landing at the latest, likewise.
func (c *Craft) Reserve(f *Flying) float64 {
	if f.Reserve == 0 {
		return landings[c.landingClass()].reserve
	}
	return f.Reserve
}
