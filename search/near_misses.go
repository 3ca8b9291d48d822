package search

import (
	"context"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/search/predict"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

// nearMisses works out what comes nearest to being feasible, with what would mend it: of what fits, that
// which breaks its rules least; if nothing fits, that with the fewest misfits.
func nearMisses(ctx context.Context, s *space.Space, t *solve.Incumbents, d *predict.Draws, workers int) []NearMiss {
	var list []predict.Result
	for i := range t.NearMisses {
		list = append(list, resultOf(s, &t.NearMisses[i]))
	}
	if s.Fitted == 0 {
		list = nearestFits(s)
	}
	predict.Judge(ctx, list, &s.Problem.Style, d, workers)
	out := make([]NearMiss, len(list))
	for i := range list {
		r := &list[i]
		out[i].Result = *r
		if s.Fitted == 0 {
			noteRoles(s, &out[i])
		}
		for k := range r.Violations {
			if way, ok := remedy(&r.Violations[k], r, &s.Problem.Style); ok {
				out[i].Remedies = withRemedy(out[i].Remedies, way)
			}
		}
	}
	return out
}

// nearestFits are what comes nearest to fitting; of what fits equally well, what breaks the rules of flight least, then
// what scores best.
func nearestFits(s *space.Space) []predict.Result {
	propellers := map[*inventory.Prop]*rotor.Propeller{}
	propeller := func(p *inventory.Prop) *rotor.Propeller {
		if _, made := propellers[p]; !made {
			propellers[p], _ = p.Propeller(s.Problem.Air) // nil where there is no such prop
		}
		return propellers[p]
	}
	style := &s.Problem.Style
	rate := func(c *inventory.Combination) float64 {
		craft, err := c.Craft(propeller(c.Prop))
		if err != nil {
			return math.Inf(1)
		}
		p := craft.Evaluate(&style.Flying)
		v := style.Evaluate(&craft, &p)
		if v.Feasible() {
			return -v.Score
		}
		return v.Excess
	}
	var list []predict.Result
	for _, c := range s.NearestFits(solve.NearMissCount, rate) {
		if prop := propeller(c.Prop); prop != nil {
			list = append(list, predict.Predict(c, prop, style))
		}
	}
	return list
}

// withRemedy adds a remedy to a list; of a stronger pack, board or plug for several rules the strongest is kept.
func withRemedy(list []Remedy, way Remedy) []Remedy {
	for i := range list {
		if have := &list[i]; have.Kind == way.Kind && have.Loose == nil && way.Loose == nil && have.Has == way.Has {
			have.Needs = math.Max(have.Needs, way.Needs)
			return list
		}
	}
	return append(list, way)
}

// noteRoles adds to the misfits the roles that it must carry an extra of and does not.
func noteRoles(s *space.Space, r *NearMiss) {
	var lacks []inventory.Role
	for _, role := range s.Roles {
		if !slices.ContainsFunc(r.Combination.Extras, func(e *inventory.Extra) bool { return e.Role == role }) {
			lacks = append(lacks, role)
		}
	}
	if len(lacks) > 0 {
		r.Misfits = append(r.Misfits, predict.Misfit{Kind: predict.LacksRoles, Roles: lacks})
		r.Remedies = append(r.Remedies, Remedy{Kind: ListRole})
	}
}

// RemedyKind is a kind of way to bring a broken rule in order.
type RemedyKind uint8

// The kinds of remedies, with the values that they need and have, in SI.
const (
	ListRole             RemedyKind = iota // list an extra of the role
	StrongerPack                           // Needs and Has in A
	LowerResistance                        // Has in ohm
	StrongerBoard                          // Needs and Has in A, for a punch
	StrongerPlug                           // Needs and Has in A, for a punch
	StrongerMotors                         // or fewer cells
	StrongerBoardSteady                    // Needs and Has in A, all along
	StrongerPlugSteady                     // Needs and Has in A, all along
	StrongerMotorsSteady                   // Needs and Has in A, all along
	SlowerMotors                           // or fewer cells
	CoolerMotors                           // heavier ones, fewer cells, a smaller prop
	LessMassOrThrust                       // Needs: kg less; Has: factor on the thrust
	CannotLift                             // Needs: the weight in kg; Has: what full throttle lifts in kg
	MoreThrust                             // or less weight
	LessMass                               // Needs: kg less
	OtherParts
	RemedyKinds // one past the last
)

// Remedy is a way to bring a broken rule in order.
type Remedy struct {
	Kind       RemedyKind
	Needs, Has float64
	// BySag is what a pack whose label holds the throttle back would give by its resistance, in A; else 0.
	BySag float64
	// Loose is the limit of the style that would hold the value, Now that limit as it is; nil where no limit
	// can be loosened so far.
	Loose, Now *objective.Limit
}

// remedy is what would bring a broken rule in order; false if nothing is known.
func remedy(b *objective.Violation, r *predict.Result, style *objective.Style) (Remedy, bool) {
	massKg := r.Craft.MassKg()
	figureOf := func(q figure.Quantity) float64 { x, _ := r.Performance.Get(q); return x }
	if b.Cap != physics.NoLimit {
		return uncapped(b, r, style), true
	}
	switch b.Key {
	case objective.BoardMeanKey:
		return Remedy{Kind: StrongerBoardSteady, Needs: r.Performance.SteadyMotorA, Has: r.Craft.Board.ContinuousA}, true
	case objective.ConnectorMeanKey:
		return Remedy{Kind: StrongerPlugSteady, Needs: r.Performance.SteadyPackA, Has: r.Craft.Connector.ContinuousA}, true
	case objective.MotorMeanKey:
		return Remedy{Kind: StrongerMotorsSteady, Needs: r.Performance.SteadyMotorA, Has: r.Craft.Motor.MeanLimitA()}, true
	case figure.ElectricalSpeed.Key():
		return Remedy{Kind: SlowerMotors}, true
	case figure.MotorTemperature.Key(), figure.PunchTemperature.Key():
		return Remedy{Kind: CoolerMotors}, true
	case figure.ThrustToWeight.Key():
		if b.Why == physics.Defined && b.Value < b.Bound {
			return loosened(Remedy{Kind: LessMassOrThrust, Needs: massKg * (1 - b.Value/b.Bound), Has: b.Bound / b.Value},
				b), true
		}
	case figure.HoverThrottle.Key():
		if b.Why != physics.Defined || b.Value > 100 {
			return Remedy{Kind: CannotLift, Needs: massKg, Has: figureOf(figure.FullThrottleThrust) / physics.GravityMS2}, true
		}
		return loosened(Remedy{Kind: MoreThrust}, b), true
	case figure.KineticEnergy.Key():
		if b.Over() { // what keeps people unhurt is not to be loosened
			return Remedy{Kind: LessMass, Needs: massKg * (1 - b.Bound/b.Value)}, true
		}
	case objective.SegmentThrottleKey:
		return Remedy{Kind: MoreThrust}, true
	case figure.AllUpMass.Key():
		if b.Over() {
			return loosened(Remedy{Kind: LessMass, Needs: figure.Of(figure.AllUpMass).ToSI(b.Value - b.Bound)}, b), true
		}
	}
	if b.Why != physics.Defined || math.IsInf(b.Bound, 0) {
		return Remedy{}, false
	}
	return loosened(Remedy{Kind: OtherParts}, b), true
}

// uncapped is what would lift the throttle cap of a craft so far that it keeps a rule.
func uncapped(b *objective.Violation, r *predict.Result, style *objective.Style) Remedy {
	limits := map[physics.Limit]struct {
		kind RemedyKind
		use  figure.Quantity
		of   func(*physics.Craft) *float64
	}{
		physics.PackLimit: {StrongerPack, figure.PackCurrentUse,
			func(c *physics.Craft) *float64 { return &c.Pack.SafeCurrentA }},
		physics.BoardLimit: {StrongerBoard, figure.BoardCurrentUse,
			func(c *physics.Craft) *float64 { return &c.Board.BurstA }},
		physics.ConnectorLimit: {StrongerPlug, figure.ConnectorCurrentUse,
			func(c *physics.Craft) *float64 { return &c.Connector.PeakA }},
	}
	limit, ok := limits[b.Cap]
	switch {
	case b.Cap == physics.CellLimit:
		return Remedy{Kind: LowerResistance, Has: r.Craft.Pack.InternalOhm}
	case !ok:
		return Remedy{Kind: StrongerMotors}
	}
	way := Remedy{Kind: limit.kind, Has: *limit.of(&r.Craft)}
	if b.Cap == physics.PackLimit {
		way.BySag = r.Craft.Pack.SagCurrentA()
	}
	// The least rating that keeps the rule, by halving; full throttle takes the highest.
	use, _ := r.Performance.Get(limit.use)
	low, high := way.Has, way.Has*math.Max(use, 1)
	for range 20 {
		craft := r.Craft
		way.Needs = (low + high) / 2
		*limit.of(&craft) = way.Needs
		p := craft.Evaluate(&style.Flying)
		if slices.ContainsFunc(style.Violations(&craft, &p), func(v objective.Violation) bool { return v.Key == b.Key }) {
			low = way.Needs
		} else {
			high = way.Needs
		}
	}
	way.Needs = high
	return way
}

// loosened adds the limit that would hold the value, where the broken rule is a limit of the style that
// may be loosened so far. It is rounded to the side that holds.
func loosened(way Remedy, b *objective.Violation) Remedy {
	f, ok := figure.ByKey(b.Key)
	if !ok || b.Why != physics.Defined {
		return way
	}
	for _, common := range (&objective.Style{}).Effective(false) {
		if common.Quantity == f.Quantity && !common.Range.Holds(b.Value) {
			return way
		}
	}
	step := math.Pow10(min(f.Decimals, 2-int(math.Floor(math.Log10(math.Max(math.Abs(b.Value), 1e-9))))))
	now, loose := objective.Limit{Quantity: f.Quantity}, objective.Limit{Quantity: f.Quantity}
	if b.Over() {
		now.Range = objective.Range{Low: math.Inf(-1), High: b.Bound}
		loose.Range = objective.Range{Low: math.Inf(-1), High: math.Ceil(b.Value*step) / step}
	} else {
		now.Range = objective.Range{Low: b.Bound, High: math.Inf(1)}
		loose.Range = objective.Range{Low: math.Floor(b.Value*step) / step, High: math.Inf(1)}
	}
	way.Now, way.Loose = &now, &loose
	return way
}
