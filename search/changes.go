package search

import (
	"math"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// CappedChange is the name of the change that caps the throttle.
const CappedChange = "throttle capped at 80 %"

// UsualChanges are the changes that pilots ask about, for one combination. Packs of other size
// keep mass, resistance and safe current in proportion to cells and capacity.
func UsualChanges(c *inventory.Combination) []Change {
	list := []Change{AddMass("5 g heavier", 0.005), AddMass("5 g lighter", -0.005)}
	if structureG(c) < smallStructureG {
		list = append(list, AddMass("1 g heavier", 0.001), AddMass("1 g lighter", -0.001))
	}
	list = append(list, []Change{
		{Name: "pitch +10 %", Prop: pitchBy(1.1)},
		{Name: "pitch −10 %", Prop: pitchBy(0.9)},
		{Name: "one blade more", Prop: func(s *rotor.Spec) { s.Blades++ }},
		{Name: "one cell more", Parts: cellsBy(1)},
	}...)
	if c.Pack.Cells > 1 {
		list = append(list, Change{Name: "one cell less", Parts: cellsBy(-1)})
	}
	list = append(list,
		Change{Name: "30 % more capacity", Parts: capacityBy(1.3)},
		Change{Name: "worn pack, twice the resistance", Craft: func(c *physics.Craft) { c.Pack.InternalOhm *= 2 }},
		Change{Name: CappedChange, Craft: capAt80})
	for _, place := range [...]struct {
		name string
		mass rotor.MassPlace
		key  inventory.Blade
	}{{"blade mass at the root", rotor.MassRoot, inventory.BladeRoot}, {"blade mass at the tip", rotor.MassTip, inventory.BladeTip}} {
		if c.Prop.Blade != place.key {
			list = append(list, Change{Name: place.name, Prop: func(s *rotor.Spec) { s.MassPlace = place.mass }})
		}
	}
	for _, e := range c.Extras {
		if e.Role == inventory.Camera {
			list = append(list, Change{Name: "camera off", Parts: withoutCamera})
			break
		}
	}
	return append(list, Change{Name: "in 8 m/s of wind", Flying: func(f *physics.Flying) { windy(f, 8) }})
}

// AirChanges are the changes of place and weather that pilots ask about.
func AirChanges(air inventory.Air) ([]Change, error) {
	var list []Change
	for _, place := range [...]struct {
		name string
		set  func(*inventory.Air)
	}{
		{"at 1500 m", func(a *inventory.Air) { h := 1500.0; a.AltitudeM, a.PressureHPa = &h, nil }},
		{"at 0 °C", func(a *inventory.Air) { t := 0.0; a.TemperatureC = &t }},
		{"at 35 °C", func(a *inventory.Air) { t := 35.0; a.TemperatureC = &t }},
	} {
		there := air
		place.set(&there)
		si, err := there.SI()
		if err != nil {
			return nil, err
		}
		list = append(list, Change{Name: place.name, Air: &si})
	}
	return list, nil
}

// smallStructureG is what frame and extras together weigh up to which a single gram is asked about too.
const smallStructureG = 20

func structureG(c *inventory.Combination) float64 {
	sum := c.Frame.MassG
	for _, e := range c.Extras {
		sum += e.MassG
	}
	return sum
}

// AddMass puts mass on board, or takes it off if it is under 0: of the extras first, then of the
// frame. Vary says so where these weigh less than that.
func AddMass(name string, massKg float64) Change {
	return Change{Name: name, Craft: func(c *physics.Craft) {
		extras := math.Max(0, c.ExtrasKg+massKg)
		c.FrameKg += massKg - (extras - c.ExtrasKg)
		c.ExtrasKg = extras
	}}
}

// pitchBy scales the label's pitch, and with it the tangent of every measured angle.
func pitchBy(factor float64) func(*rotor.Spec) {
	return func(s *rotor.Spec) {
		s.PitchM *= factor
		for i := range s.Stations {
			if a := &s.Stations[i].AngleRad; *a > 0 {
				*a = math.Atan(factor * math.Tan(*a))
			}
		}
	}
}

func cellsBy(n int) func(*inventory.Combination) {
	return func(c *inventory.Combination) {
		ratio := float64(c.Pack.Cells+n) / float64(c.Pack.Cells)
		c.Pack.Cells += n
		c.Pack.MassG = scaled(c.Pack.MassG, ratio)
	}
}

func capacityBy(factor float64) func(*inventory.Combination) {
	return func(c *inventory.Combination) {
		c.Pack.CapacityMAh *= factor
		c.Pack.MassG = scaled(c.Pack.MassG, factor)
		c.Pack.CellResistanceMohm = scaled(c.Pack.CellResistanceMohm, 1/factor)
	}
}

func scaled(x *float64, factor float64) *float64 {
	if x == nil {
		return nil
	}
	y := *x * factor
	return &y
}

// capAt80 holds the throttle at 80 % unless it is held lower already: the motor's limit becomes
// what it takes there, static on a full pack.
func capAt80(c *physics.Craft) {
	const steps, at = 5, 4
	for _, p := range c.ThrottleCurve(steps) {
		if math.Abs(p.Duty-float64(at)/steps) < 1e-9 && (c.Motor.MaxCurrentA == 0 || p.MotorA < c.Motor.MaxCurrentA) {
			c.Motor.MaxCurrentA, c.Motor.LimitEstimated = p.MotorA, false
			c.Uncertainty.LnSD[uncertain.MotorCurrentLimit] = 0
		}
	}
}

func withoutCamera(c *inventory.Combination) {
	kept := c.Extras[:0]
	for _, e := range c.Extras {
		if e.Role != inventory.Camera {
			kept = append(kept, e)
		}
	}
	c.Extras = kept
}

// windy flies the same ground speeds in a steady wind: a hover holds its place against it, every
// other segment spends half of its time against it and half with it. Punches stay.
func windy(f *physics.Flying, windMS float64) {
	var segments []physics.Segment
	for _, g := range f.Segments {
		switch {
		case g.Kind == physics.Punch:
			segments = append(segments, g)
		case g.Kind == physics.Hover:
			g.Kind, g.SpeedMS = physics.Cruise, math.Max(windMS, g.SpeedMS)
			segments = append(segments, g)
		default:
			against, with := g, g
			against.Share, with.Share = g.Share/2, g.Share/2
			against.SpeedMS, with.SpeedMS = g.SpeedMS+windMS, math.Abs(g.SpeedMS-windMS)
			segments = append(segments, against, with)
		}
	}
	f.Segments = segments
}
