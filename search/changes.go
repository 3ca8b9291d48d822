package search

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// UsualChanges are the changes that pilots ask about, for one combination. Packs of other size
// keep mass, resistance and safe current in proportion to cells and capacity.
func UsualChanges(c *inventory.Combination) []Change {
	list := []Change{AddMass(0.005), AddMass(-0.005)}
	if structureG(c) < smallStructureG {
		list = append(list, AddMass(0.001), AddMass(-0.001))
	}
	list = append(list, pitchBy(0.1), pitchBy(-0.1),
		Change{Kind: BladesChange, Amount: 1, Prop: func(s *rotor.Spec) { s.Blades++ }}, cellsBy(1))
	if c.Pack.Cells > 1 {
		list = append(list, cellsBy(-1))
	}
	list = append(list, capacityBy(0.3),
		Change{Kind: WornPackChange, Amount: 2, Craft: func(c *physics.Craft) { c.Pack.InternalOhm *= 2 }},
		Change{Kind: CapChange, Amount: 0.8, Craft: capAt80}, Change{Kind: StickChange, Amount: 0.8, Craft: stickTo80})
	for _, place := range [...]struct {
		kind ChangeKind
		mass rotor.MassPlace
		key  inventory.Blade
	}{{RootMassChange, rotor.MassRoot, inventory.BladeRoot}, {TipMassChange, rotor.MassTip, inventory.BladeTip}} {
		if c.Prop.Blade != place.key {
			list = append(list, Change{Kind: place.kind, Prop: func(s *rotor.Spec) { s.MassPlace = place.mass }})
		}
	}
	if slices.ContainsFunc(c.Extras, isCamera) {
		list = append(list, Change{Kind: CameraOffChange, Parts: withoutCamera})
	}
	const windMS = 8
	return append(list, Change{Kind: WindChange, Amount: windMS, Flying: func(f *physics.Flying) { windy(f, windMS) }})
}

// AirChanges are the changes of place and weather that pilots ask about.
func AirChanges(air inventory.Air) ([]Change, error) {
	list := []Change{{Kind: AltitudeChange, Amount: 1500}, {Kind: TemperatureChange, Amount: 0},
		{Kind: TemperatureChange, Amount: 35}}
	for i := range list {
		there, amount := air, list[i].Amount
		if list[i].Kind == AltitudeChange {
			there.AltitudeM, there.PressureHPa = &amount, nil
		} else {
			there.TemperatureC = &amount
		}
		si, err := there.SI()
		if err != nil {
			return nil, err
		}
		list[i].Air = &si
	}
	return list, nil
}

// smallStructureG is what frame and extras together weigh up to which a single gram is asked about too.
const smallStructureG = 20

func structureG(c *inventory.Combination) float64 {
	sum := c.Frame.Mass().Value * 1000
	for _, e := range c.Extras {
		sum += e.MassG
	}
	return sum
}

// AddMass puts mass on board, or takes it off if it is under 0: of the extras first, then of the
// frame. Vary says so where these weigh less than that.
func AddMass(massKg float64) Change {
	return Change{Kind: MassChange, Amount: massKg, Craft: func(c *physics.Craft) {
		extras := math.Max(0, c.ExtrasKg+massKg)
		c.FrameKg += massKg - (extras - c.ExtrasKg)
		c.ExtrasKg = extras
	}}
}

// pitchBy changes the pitch by a share.
func pitchBy(share float64) Change {
	return Change{Kind: PitchChange, Amount: share, Prop: func(s *rotor.Spec) { scalePitch(s, 1+share) }}
}

// scalePitch scales the label's pitch, and with it the tangent of every measured angle.
func scalePitch(s *rotor.Spec, factor float64) {
	s.PitchM *= factor
	for i := range s.Stations {
		if a := &s.Stations[i].AngleRad; *a > 0 {
			*a = math.Atan(factor * math.Tan(*a))
		}
	}
}

func cellsBy(n int) Change {
	return Change{Kind: CellsChange, Amount: float64(n), Parts: func(c *inventory.Combination) {
		ratio := float64(c.Pack.Cells+n) / float64(c.Pack.Cells)
		c.Pack.Cells += n
		c.Pack.MassG = scaled(c.Pack.MassG, ratio)
	}}
}

func capacityBy(share float64) Change {
	factor := 1 + share
	return Change{Kind: CapacityChange, Amount: share, Parts: func(c *inventory.Combination) {
		c.Pack.CapacityMAh *= factor
		c.Pack.MassG = scaled(c.Pack.MassG, factor)
		c.Pack.CellResistanceMohm = scaled(c.Pack.CellResistanceMohm, 1/factor)
	}}
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

// stickTo80 spreads the stick over 80 % of throttle: the same ceiling, and each step of the stick moves the throttle by
// less.
func stickTo80(c *physics.Craft) {
	capAt80(c)
	c.StickTop = 0.8
}

func withoutCamera(c *inventory.Combination) { c.Extras = slices.DeleteFunc(c.Extras, isCamera) }

func isCamera(e *inventory.Extra) bool { return e.Role == inventory.Camera }

// windy flies the same ground speeds in a steady wind: a hover holds its place against it, every
// other segment spends half of its time against it and half with it. Punches stay.
func windy(f *physics.Flying, windMS float64) {
	var segments []physics.Segment
	for _, g := range f.Segments {
		switch {
		case g.Kind == physics.Punch:
			segments = append(segments, g)
		case g.Kind == physics.Hover && g.SpeedPart > 0:
			g.Kind, g.SpeedMS = physics.Cruise, windMS
			segments = append(segments, g)
		case g.Kind == physics.Hover:
			g.Kind, g.SpeedMS = physics.Cruise, math.Max(windMS, g.SpeedMS)
			segments = append(segments, g)
		default:
			against, with := g, g
			against.Share, with.Share = g.Share/2, g.Share/2
			against.SpeedMS, with.SpeedMS = g.SpeedMS+windMS, g.SpeedMS-windMS
			if with.SpeedPart == 0 {
				with.SpeedMS = math.Abs(with.SpeedMS)
			}
			segments = append(segments, against, with)
		}
	}
	f.Indoors = false
	f.Segments = segments
}
