package solve

import (
	"math"

	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/space"
)

// How a bound comes about. All candidates of a branch share motor, prop, number of rotors, cells,
// chemistry and plug; they differ in the pack's resistance, capacity, rating and mass, and in the
// body's mass, drag, power and ratings. Three crafts stand at the ends of these ranges:
//
//   - the light one has the least mass, drag, power and resistance, the largest capacity and
//     ratings;
//   - the heavy one has the most mass, power and resistance;
//   - the broad one is the light one with the most drag.
//
// Where a figure can only get worse from one of them on, its value there bounds the branch: load
// factor in a turn (which is exactly inverse to mass), throttle in a turn and top speed over drag,
// power and resistance, flying time over all of these: segments and punches are the same for all of the branch, as they
// are measured by what motor, prop and cells reach (physics.Standard), so that neither throttle cap nor ratings
// change it. The thrust step falls with mass, power and
// resistance, so the heavy craft bounds it; the pull-out grows with mass and shrinks with drag, so
// the broad one does; the time constant of response is least at one of the two masses, for the
// motor's damping kt²/Re + 2Q/Omega is convex in speed.
//
// Mass is not worse for every figure. A heavier craft tilts less against the same drag, so that
// less air meets the disc from above; with thrust falling in a straight line over axial speed,
// level flight gives
//
//	d ln v/d ln m ≤ cos² a/(1 + 2 cos² a) ≤ 1/3          top speed
//	d ln Omega/d ln m ≥ −cos² a (r − 1)/(r + 2)          speed in a turn, r = T0/T − 1
//
// (a the tilt, T0 the thrust at that speed standing still). Where a heavier craft is the faster one, its drag D is no
// less than the light one's, so that cos² a ≤ W²/(W² + D²), and from the weight W to W'
//
//	v'/v ≤ ((3 W'² + D²)/(3 W² + D²))^(1/6)              see topSpeedGain
//
// Slower rotors turn with less profile drag, so that a craft in fast flight may draw less the heavier it is, by up to
// m^0.3 in pack current over some thousand random crafts, where drag is over 0.4 of the lift; under that it draws more.
// Flying time is not bounded by a power of mass, for it goes to nothing where a pack is down to its landing voltage at
// once: the light craft is taken to draw less instead (see heavierSaves).
//
// The elasticities below leave room over what ten thousand random crafts show, and the bounds are held against plain
// enumeration in tests.
const (
	topSpeedOverMass     = 0.35
	turnThrottleOverMass = 0.4
	// A turn takes the more throttle the heavier a craft is, unless drag is much of the lift (see turnThrottleRise).
	turnThrottleStill, turnThrottleOverDrag = 0.42, 1.6
	timeOverMass                            = 0.05
	currentOverMass                         = 0.45
	steepDrag                               = 0.35 // drag over lift under which no craft draws less the heavier it is
	responseOverMass                        = 0.5
	stepOverMass                            = 2.5
	stepOverOhm                             = 1.0
	// What mass does at least to figures that go one way with it: the pull-out grows, for its height is that of a speed
	// lost by the thrust over the weight (less than in proportion, as it holds the time in which rotors spin up), and the
	// thrust step falls, for a rotor's thrust goes at most with the square of duty.
	pullOutOverMass   = 0.33
	leastStepOverMass = 0.45

	// boundSlack is what the solvers' tolerances may be off, pullOutSlack the same for the steps of
	// the pull-out.
	boundSlack   = 0.002
	pullOutSlack = 0.03
	// limitSlack widens current limits where resistances differ: a cap found on a full pack leaves a pack that sags more
	// somewhat more at half charge. With x the sag on a full pack over its voltage E, the motors' voltage V there and V'
	// at half charge, and current that goes with the square of voltage,
	//
	//	V'/V = (E'/E − x (V'/V)²)/(1 − x)
	//
	// which for E'/E = 0.905 rises from 0.905 to 0.931 at x = 0.4, next to in a straight line: 6 % of current. Of packs whose
	// resistances differ by a ratio r, x differs by no more than 0.4 (1 − 1/r): limits are widened by limitSlack (1 − 1/r).
	limitSlack = 0.1
	// tightRange is the ratio of ranges under which another craft adds little to the light one.
	tightRange = 1.01
)

// branch is what is left to decide: some packs and some bodies for a motor and a prop.
type branch struct {
	motor, prop int32
	packs       *packRanges
	bodies      *bodyRanges
	standard    *physics.Standard // of all its crafts; nil where it is not known
}

// bound is the best that a branch can hold: no candidate in it has a desirability, an axis or a score over these.
type bound struct {
	desirable [objective.CriterionCount]float64 // of each criterion
	axes      objective.Axes
	score     float64
	// pieces are the axes at most of the candidates in each piece of its range of masses; cut is how many there are,
	// 0 if the range is not cut.
	pieces [massPieces]objective.Axes
	cut    int
	within uint8 // points within which the front is known to cover all of it; see node
	none   bool  // no candidate in it is feasible
	partly bool  // not every figure was worked out
	// worked reports whether it was worked out for the node, rather than taken over from the one above it.
	worked bool
}

// bounder bounds branches of a space, each by its relaxation.
type bounder struct {
	space  *space.Space
	limits [2][]objective.Limit // that crafts without and with ducts must keep
	scales [objective.CriterionCount]logScale
	rules  figure.Set // what rules ask of the light craft
	score  figure.Set // what the score asks
	poor   figure.Set // what may be asked of the poor one
}

// stages are the figures behind the score in the order in which they are worked out, what settles most for the least
// first; the pull-out is the broad craft's.
var stages = [...]figure.Set{
	figure.SetOf(figure.StyleTime, figure.TurnThrottle, figure.Response, figure.ThrustStep),
	figure.SetOf(figure.PullOut), figure.SetOf(figure.TurnLoadFactor), figure.SetOf(figure.TopSpeed),
}

func newBounder(s *space.Space) *bounder {
	style := &s.Problem.Style
	asks := style.Questions()
	return &bounder{s, [2][]objective.Limit{style.Effective(false), style.Effective(true)}, logScales(),
		asks.Rules, asks.Score, poorAsks(style, nil)}
}

// bound bounds a branch by what is known of it already and by its relaxation. It works figures out, and looks at further
// crafts, only while the bound found so far calls for it.
func (x *bounder) bound(b *branch, known *bound, goOn func(*bound) bool) bound {
	style := &x.space.Problem.Style
	light := x.corner(b, lightEnd)
	b.standard = light.Known
	r := relaxation{of: x, branch: b, known: known, ohm: x.ohmRatio(b), spareA: x.spareA(b), motorMeanA: math.Inf(1)}
	if meanA := x.space.SI.Motors[b.motor].MeanLimitA(); meanA > 0 {
		r.motorMeanA = meanA
	}
	massKg := light.MassKg()
	r.mass = 1 + b.massRangeKg()/massKg
	if x.partsBreak(b, massKg, massKg*r.mass) {
		return bound{none: true}
	}
	steps := light.Begin(&style.Flying)
	p := steps.Performance()
	r.light, r.lightKg = p, massKg
	r.turnRise = x.turnThrottleRise(b, massKg)
	const ofDrag = figure.Set(1 << figure.PullOut)
	if r.infeasible() { // by what every evaluation begins with
		return bound{none: true}
	}
	steps.GoOn(x.rules &^ ofDrag)
	goOnWithDrag(&light, &steps, x.rules&ofDrag, b.bodies.dragM2.high)
	if r.infeasible() || r.overdrawn(b) {
		return bound{none: true}
	}
	if asked := x.poorAsked(p); asked != 0 {
		poor := x.corner(b, poorEnd)
		worst := poor.Begin(&style.Flying)
		worst.GoOn(asked &^ ofDrag)
		goOnWithDrag(&poor, &worst, asked&ofDrag, b.bodies.dragM2.low)
		if r.poor = worst.Performance(); r.infeasible() {
			return bound{none: true}
		}
	}
	found := r.begin()
	for _, stage := range stages {
		asked := stage & x.score
		if asked == 0 {
			continue
		}
		if stage.Has(1 << figure.PullOut) {
			goOnWithDrag(&light, &steps, asked, b.bodies.dragM2.high)
		}
		steps.GoOn(asked)
		r.settle(asked)
		if found = r.bound(); !goOn(&found) {
			found.partly = true
			return found
		}
	}
	if r.mass < tightRange && r.ohm < tightRange {
		return found
	}
	if found = r.coupled(found); !goOn(&found) {
		found.partly = true
		return found
	}
	heavy := x.corner(b, heavyEnd)
	asked := figure.SetOf(figure.Response, figure.ThrustStep)
	if n, why := p.Get(figure.TurnLoadFactor); why != physics.Defined || n < 1 {
		asked |= figure.SetOf(figure.TurnLoadFactor)
	}
	if r.tooFast(p) {
		asked |= figure.SetOf(figure.ElectricalSpeed)
	}
	h := heavy.EvaluateOnly(&style.Flying, asked)
	r.heavy = &h
	if r.tooFast(r.heavy) {
		return bound{none: true}
	}
	r.settle(asked)
	return r.coupled(r.bound())
}

// poorAsked are the figures that limits ask of the poor craft beside the light one.
func (x *bounder) poorAsked(light *physics.Performance) figure.Set {
	if x.poor == 0 {
		return 0
	}
	return poorAsks(&x.space.Problem.Style, light)
}

// goOnWithDrag works quantities out of a craft with another drag, the broad craft's or that of a poor one that is not: what
// was worked out before does not change, and what is after has the craft's own.
func goOnWithDrag(c *physics.Craft, steps *physics.Stepwise, asked figure.Set, dragM2 float64) {
	if asked == 0 {
		return
	}
	own := c.DragAreaM2
	c.DragAreaM2 = dragM2
	steps.GoOn(asked)
	c.DragAreaM2 = own
}

// ohmRatio is the ratio of what makes a pack sag over a branch: resistance, what ESCs draw at part throttle, and what
// electronics draw.
func (x *bounder) ohmRatio(b *branch) float64 {
	low := b.packs.internalOhm.low + b.packs.leadOhm.low + b.bodies.plugOhm.low
	high := b.packs.internalOhm.high + b.packs.leadOhm.high + b.bodies.plugOhm.high
	escs := (1 + b.bodies.partLoss.high + b.bodies.ripple.high) / (1 + b.bodies.partLoss.low + b.bodies.ripple.low)
	sag := high * x.spareA(b) / (leastCellV * float64(x.space.SI.Packs[b.packs.first].Cells))
	return high / low * escs / (1 - min(sag, 0.5))
}

// end says which craft at the ends of a branch's ranges is meant.
type end uint8

const (
	lightEnd end = iota
	heavyEnd
	broadEnd
	poorEnd // see monotone
)

// corner is a craft at the ends of a branch's ranges.
func (x *bounder) corner(b *branch, e end) physics.Craft {
	k, f := b.packs, b.bodies
	limits := 1 + limitSlack*(1-1/x.ohmRatio(b))
	at := func(r span, high bool) float64 {
		if high {
			return r.high
		}
		return r.low
	}
	poor := e == poorEnd
	heavy := e == heavyEnd || poor
	c := physics.Craft{
		Rotors: f.rotors, Propeller: *x.space.SI.Propellers[b.prop], Motor: x.space.SI.Motors[b.motor],
		Pack: x.space.SI.Packs[k.first],
		Board: physics.Board{ESC: physics.ESC{PartThrottleLoss: at(f.partLoss, heavy), RippleFactor: at(f.ripple, heavy)},
			ContinuousA: f.burstA.high, BurstA: f.burstA.high * limits},
		FrameKg: at(f.massKg, heavy), DragAreaM2: at(f.dragM2, e == broadEnd || poor),
		ElectronicsW: at(f.watts, heavy), RotorDragFactor: 1, FlyingFactor: at(f.flying, poor),
	}
	c.Propeller.PowerFactor *= x.space.SI.Powers[b.motor]
	if !math.IsInf(f.peakA.high, 1) {
		c.Connector.PeakA = f.peakA.high * limits
	}
	c.Motor.MaxCurrentA *= limits
	c.Pack.InternalOhm = at(k.internalOhm, heavy)
	c.Pack.LeadOhm = at(k.leadOhm, heavy) + at(f.plugOhm, heavy)
	c.Pack.MassKg = at(k.massKg, heavy)
	c.Pack.CapacityAs, c.Pack.SafeCurrentA = k.capacityAs.high, k.safeA.high*limits
	if poor {
		c.Board.ContinuousA, c.Board.BurstA = f.burstA.low, f.burstA.low/limits
		c.Connector.PeakA = 0
		if !math.IsInf(f.peakA.low, 1) {
			c.Connector.PeakA = f.peakA.low / limits
		}
		c.Motor.MaxCurrentA = x.space.SI.Motors[b.motor].MaxCurrentA / limits
		c.Pack.CapacityAs, c.Pack.SafeCurrentA = k.capacityAs.low, k.safeA.low/limits
	}
	if c.Known = b.standard; c.Known == nil {
		x.space.SI.KnowStandard(&c, b.motor, b.prop)
	}
	switch e {
	case lightEnd:
		c.FlyingFactor /= x.heavierSaves(b, &c, c.MassKg())
	case poorEnd:
		c.FlyingFactor *= x.heavierSaves(b, &c, c.MassKg()-b.massRangeKg())
	}
	return c
}

// massRangeKg is what the heaviest craft of a branch weighs over the lightest.
func (b *branch) massRangeKg() float64 {
	return b.packs.massKg.high - b.packs.massKg.low + b.bodies.massKg.high - b.bodies.massKg.low
}

// turnThrottleRise is the least elasticity over mass of the throttle that a turn takes, for crafts of a branch from a mass
// lightKg on: a straight line over what drag is of the lift, down to −turnThrottleOverMass. Of 20 000 random crafts the
// least are 0.47 without drag, 0.26 at 0.15 of the lift, 0.06 at 0.25 and −0.30 where drag is more than the lift.
func (x *bounder) turnThrottleRise(b *branch, lightKg float64) float64 {
	v := x.space.Problem.Style.Flying.SpeedMS
	air := &x.space.SI.Propellers[b.prop].Map.Air
	drag := 0.5 * air.DensityKgM3 * b.bodies.dragM2.low * v * v / (2 * lightKg * physics.GravityMS2)
	return max(turnThrottleStill-turnThrottleOverDrag*drag, -turnThrottleOverMass)
}

// heavierSaves is by what factor at most the lightest craft of a branch, of a mass lightKg, draws more in flight than a
// heavier one: the heavier one saves up to where its weight leaves drag no more than steepDrag of the lift.
func (x *bounder) heavierSaves(b *branch, c *physics.Craft, lightKg float64) float64 {
	ref, air := c.Standard(), &c.Propeller.Map.Air
	steepest := 0.0
	for i := range x.space.Problem.Style.Flying.Segments {
		g := &x.space.Problem.Style.Flying.Segments[i]
		v := g.SpeedMS + g.SpeedPart*ref.SpeedMS
		steepest = max(steepest, v*v/max(g.LoadFactor, 1))
	}
	drag := 0.5 * air.DensityKgM3 * b.bodies.dragM2.high * steepest / (lightKg * physics.GravityMS2)
	saving := min(1+b.massRangeKg()/lightKg, drag/steepDrag)
	return math.Pow(max(saving, 1), currentOverMass)
}
