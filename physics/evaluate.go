package physics

import (
	"math"
	"slices"

	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// midCharge is the state of charge at which figures are taken that are of the whole of a flight, topSpeedCharge that
// of a pass at top speed.
const (
	midCharge      = 0.5
	topSpeedCharge = 0.9
)

// Evaluate predicts what a craft does, flown in a given way. Craft and way of flying must pass
// their Check. It allocates nothing.
func (c *Craft) Evaluate(f *Flying) Performance { return c.EvaluateOnly(f, figure.Every) }

// evaluation is what one evaluation has worked out so far.
type evaluation struct {
	craft  *Craft
	flying *Flying
	asked  figure.Set
	still
	duty    float64 // the throttle cap
	highest float64 // static thrust over weight there
	capped  operating
	heated  heat // of one motor there, on a full pack
	double  trim // see turn
	p       Performance
}

// still is a craft in hover with its pack at half charge, which segments and figures start from.
type still struct {
	mid     supply
	weightN float64
	hover   operating
	ref     Standard // worked out when it is first asked for
}

// standard is the craft's Standard.
func (s *still) standard(c *Craft) *Standard {
	if s.ref.ThrustN == 0 {
		s.ref = c.Standard()
	}
	return &s.ref
}

// EvaluateOnly is Evaluate for some quantities: these come out as they do there, others do or are
// undefined as NotAsked. The steady currents and the hardest duty of the style come with its flying
// time.
func (c *Craft) EvaluateOnly(f *Flying, asked figure.Set) Performance {
	e := evaluation{craft: c, flying: f}
	if asked != figure.Every {
		e.p.noneAsked()
	}
	if asked&^ofHover != 0 {
		e.static()
	}
	if e.hovers() {
		e.goOn(asked)
	}
	return e.p
}

// Stepwise is EvaluateOnly in steps, so that the dear quantities of a craft need not be worked out where the cheap ones
// settle the matter.
type Stepwise struct {
	of     evaluation
	done   figure.Set
	hovers bool
}

// Begin works out what every evaluation starts with; the rest is undefined as NotAsked.
func (c *Craft) Begin(f *Flying) Stepwise {
	s := Stepwise{of: evaluation{craft: c, flying: f}}
	s.of.p.noneAsked()
	s.hovers = s.of.begin()
	return s
}

// GoOn works out quantities as EvaluateOnly does.
func (s *Stepwise) GoOn(asked figure.Set) {
	if s.hovers {
		s.of.goOn(asked &^ s.done)
		s.done |= asked
	}
}

// Performance is what is worked out so far.
func (s *Stepwise) Performance() *Performance { return &s.of.p }

func (p *Performance) noneAsked() {
	for q := range p.why {
		p.why[q] = NotAsked
	}
}

// goOn sets the quantities asked for of a craft that hovers.
func (e *evaluation) goOn(asked figure.Set) {
	e.asked = asked
	e.aboutHover()
	e.atSpeed()
	e.inTime()
}

// begin sets what every evaluation starts with: what is known of a craft at once, static thrust and hover. It returns
// false for a craft that cannot hover, of which nothing more is defined.
func (e *evaluation) begin() bool {
	e.static()
	return e.hovers()
}

// ofHover are quantities that hang on hover alone, whatever the throttle cap is.
const ofHover figure.Set = 1<<figure.HoverThrottle | 1<<figure.HoverCurrent | 1<<figure.HoverPower | 1<<figure.HoverSpeed |
	1<<figure.Response | 1<<figure.ThrustStep

// hovers sets what is known of a craft at once, and hover.
func (e *evaluation) hovers() bool {
	c, f, p := e.craft, e.flying, &e.p
	e.weightN = c.MassKg() * GravityMS2
	p.set(figure.AllUpMass, c.MassKg())
	p.set(figure.DiscLoading, e.weightN/(float64(c.Rotors)*c.Propeller.Map.AreaM2))
	p.set(figure.KineticEnergy, 0.5*c.MassKg()*f.SpeedMS*f.SpeedMS)
	p.set(figure.PackSafeCurrent, c.Pack.SafeCurrentA)
	p.set(figure.PackSagCurrent, c.Pack.SagCurrentA())

	e.mid = c.supply(midCharge)
	var ok bool
	e.hover, ok = c.at(e.weightN/float64(c.Rotors), rotor.Flow{})
	hoverDuty, holds := e.mid.duty(e.hover)
	if !ok || !holds {
		p.undefined(CannotHover, figure.HoverThrottle, figure.HoverCurrent, figure.HoverPower, figure.HoverSpeed,
			figure.HoverTime, figure.CruiseTime, figure.HardTime, figure.StyleTime, figure.MeanCurrent,
			figure.UsedCharge, figure.EndThrustToWeight, figure.EndHoverThrottle, figure.Range, figure.TopSpeed,
			figure.BestEnduranceSpeed, figure.BestRangeSpeed, figure.ForwardAcceleration, figure.PullOut,
			figure.Response, figure.Rise, figure.ThrustStep, figure.TurnLoadFactor, figure.TurnThrottle,
			figure.MotorHeat, figure.MotorTemperature, figure.PunchTemperature)
		if ok {
			p.set(figure.HoverThrottle, e.mid.demand(e.hover))
		}
		return false
	}
	p.set(figure.HoverThrottle, hoverDuty)
	return true
}

// aboutHover sets what follows from hover at mid charge.
func (e *evaluation) aboutHover() {
	c, p, mid, hover := e.craft, &e.p, &e.mid, e.hover
	hoverDuty, _ := p.Get(figure.HoverThrottle)
	current := mid.currentA(hoverDuty, hover.currentA)
	p.set(figure.HoverCurrent, current)
	p.set(figure.HoverPower, current*mid.busV(hoverDuty, hover.currentA))
	p.set(figure.HoverSpeed, hover.speedRadS)
	p.set(figure.Response, c.response(hover))

	if e.asked.Has(1 << figure.ThrustStep) {
		p.set(figure.ThrustStep, c.stickTop()*c.thrustStep(mid, hoverDuty, hover))
	}
	if e.asked.Has(1 << figure.Rise) {
		double, ok := c.at(2*e.weightN/float64(c.Rotors), rotor.Flow{})
		if rise, rises := c.rise(mid, e.duty, hover, double); ok && rises {
			p.set(figure.Rise, rise)
		} else {
			p.undefined(NotEnoughThrust, figure.Rise)
		}
	}
}

// ofEconomy are the quantities that economy sets.
const ofEconomy figure.Set = 1<<figure.BestEnduranceSpeed | 1<<figure.BestRangeSpeed | 1<<figure.Range

// atSpeed sets what follows from level flight, turns and pull-outs at mid charge and the cap.
func (e *evaluation) atSpeed() {
	c, f, p, mid, asked := e.craft, e.flying, &e.p, &e.mid, e.asked
	duty, weightN := e.duty, e.weightN
	if asked.Has(1<<figure.TopSpeed | ofEconomy) {
		fresh := c.supply(topSpeedCharge)
		if top, ok := c.topSpeed(&fresh, topSpeedCharge, weightN, e.topGuess(), e.hover); !ok {
			p.undefined(NotEnoughThrust, figure.TopSpeed, figure.BestEnduranceSpeed, figure.BestRangeSpeed, figure.Range)
		} else {
			p.set(figure.TopSpeed, top)
			if asked.Has(ofEconomy) {
				e.economy(top)
			}
		}
	}
	if mid.marginV(duty, e.hover) < 0 {
		p.undefined(NotEnoughThrust, figure.ForwardAcceleration, figure.TurnLoadFactor, figure.TurnThrottle, figure.PullOut)
		e.turnThrottle()
		return
	}
	if f.SpeedMS <= 0 {
		p.undefined(NoStyleSpeed, figure.TurnLoadFactor, figure.TurnThrottle, figure.ForwardAcceleration, figure.PullOut)
		return
	}
	// In flight a rotor gives somewhat more than its static thrust at most.
	most := math.Max(1.5*e.highest, 1.5)
	put := func(q figure.Quantity, value float64, ok bool, why Reason) {
		if ok {
			p.set(q, value)
		} else {
			p.undefined(why, q)
		}
	}
	if asked.Has(1 << figure.TurnLoadFactor) {
		n, ok := c.turnLoad(mid, duty, weightN, f.SpeedMS, most, e.turn())
		put(figure.TurnLoadFactor, n, ok, NotEnoughThrust)
	}
	if asked.Has(1 << figure.TurnThrottle) {
		e.turnThrottle()
	}
	if asked.Has(1 << figure.ForwardAcceleration) {
		a, ok := c.forwardAcceleration(mid, duty, weightN, f.SpeedMS, most)
		put(figure.ForwardAcceleration, a, ok, NotEnoughThrust)
	}
	if asked.Has(1 << figure.PullOut) {
		h, ok := c.pullOut(mid, duty, weightN, f.SpeedMS, c.spun(mid, duty, e.capped)*e.capped.speedRadS)
		put(figure.PullOut, h, ok, NoDescentArrest)
	}
}

// topGuess is about the top speed by the standard's: over some 700 crafts of all sizes it goes with thrust to the power
// of 0.48 and with drag to that of −0.34, within 1 % at the median.
func (e *evaluation) topGuess() float64 {
	ref := e.standard(e.craft)
	stillN, _ := e.p.Get(figure.FullThrottleThrust)
	drag := e.craft.DragAreaM2 / (dragAreaPerM * e.craft.Propeller.DiameterM)
	return topGuessPart * ref.SpeedMS * math.Sqrt(stillN/ref.ThrustN) / math.Cbrt(drag)
}

const topGuessPart = 0.99

// turnThrottle sets the duty of a level turn of load factor 2 at the style's speed.
func (e *evaluation) turnThrottle() {
	p := &e.p
	if e.flying.SpeedMS <= 0 {
		p.undefined(NoStyleSpeed, figure.TurnThrottle)
		return
	}
	if turn := e.turn(); turn.ok {
		p.set(figure.TurnThrottle, e.mid.demand(turn.operating))
		return
	}
	p.undefined(NotEnoughThrust, figure.TurnThrottle)
}

// turn is a level turn of load factor 2 at the style's speed, over 0.
func (e *evaluation) turn() trim {
	if e.double.thrustN == 0 {
		e.double.operating, e.double.ok = e.craft.level(2*e.weightN, e.flying.SpeedMS)
	}
	return e.double
}

// economy sets the speeds of least power and of least power over speed, and the range at the
// latter: the least of a parabola through the three best of equally spaced speeds.
func (e *evaluation) economy(topMS float64) {
	c, p, mid := e.craft, &e.p, &e.mid
	const steps = 6
	var power, perMetre [steps]float64
	power[0], _ = p.Get(figure.HoverPower)
	perMetre[0] = math.Inf(1)
	last := 0
	for i := 1; i < steps; i++ {
		o, ok := c.level(e.weightN, topMS*float64(i)/steps)
		d, holds := mid.duty(o)
		if !ok || !holds {
			break
		}
		last = i
		power[i] = mid.currentA(d, o.currentA) * mid.busV(d, o.currentA)
		perMetre[i] = power[i] / float64(i)
	}
	endurance := leastOf(power[:last+1]) * topMS / steps
	far := leastOf(perMetre[:last+1]) * topMS / steps
	p.set(figure.BestEnduranceSpeed, endurance)
	p.set(figure.BestRangeSpeed, far)
	var l load
	if far <= 0 {
		p.undefined(NotEnoughThrust, figure.Range)
		return
	}
	c.load(&l, []Segment{{Kind: Cruise, Share: 1, SpeedMS: far, LoadFactor: 1}}, e.flying.unsteadiness(), &e.still)
	p.set(figure.Range, far*c.fly(&l, e.flying).durationS)
}

// leastOf is the place of the minimum of equally spaced values, by a parabola through the least
// and its neighbours where it has two finite ones.
func leastOf(y []float64) float64 {
	k := 0
	for i := range y {
		if y[i] < y[k] {
			k = i
		}
	}
	if k == 0 || k == len(y)-1 || math.IsInf(y[k-1], 0) {
		return float64(k)
	}
	a, b, d := y[k-1], y[k], y[k+1]
	return float64(k) + 0.5*(a-d)/(a-2*b+d)
}

// ofStyle are the quantities that the style's flight sets.
const ofStyle figure.Set = 1<<figure.StyleTime | 1<<figure.MeanCurrent | 1<<figure.UsedCharge | 1<<figure.MotorHeat |
	1<<figure.MotorTemperature | 1<<figure.PunchTemperature | ofEnd

// ofEnd are those of the pack as the style's flight leaves it.
const ofEnd figure.Set = 1<<figure.EndThrustToWeight | 1<<figure.EndHoverThrottle

// inTime sets flying times, mean current, heat, and what is left at the end.
func (e *evaluation) inTime() {
	c, f, p, mid, asked := e.craft, e.flying, &e.p, &e.mid, e.asked
	var l load
	// The style last: heat and currents below are those of its segments.
	same := figure.StyleTime
	for _, typical := range typicalFlights {
		switch {
		case !f.Indoors && slices.Equal(typical.segments, f.Segments):
			same = typical.quantity
		case asked.Has(1 << typical.quantity):
			c.load(&l, typical.segments, UnsteadyOutdoors, &e.still)
			p.set(typical.quantity, c.fly(&l, f).durationS)
			p.strain(typical.quantity, &l)
		}
	}
	if !asked.Has(ofStyle | 1<<same) {
		return
	}
	c.load(&l, f.Segments, f.unsteadiness(), &e.still)
	r := c.fly(&l, f)
	p.HardestDuty = l.hardest
	p.strain(figure.StyleTime, &l)
	p.strain(same, &l)
	p.set(figure.StyleTime, r.durationS)
	p.set(same, r.durationS)
	if r.durationS <= 0 {
		p.undefined(CellsCollapse, figure.MeanCurrent, figure.UsedCharge, figure.MotorHeat, figure.MotorTemperature,
			figure.PunchTemperature, figure.EndThrustToWeight, figure.EndHoverThrottle)
		return
	}
	p.Ending = r.ending
	p.set(figure.UsedCharge, r.usedAs)
	p.set(figure.MeanCurrent, r.usedAs/r.durationS)
	var mean, worst, steady float64
	for i := range l.count {
		o := l.points[i]
		at := l.duty[i]
		heatW := c.Motor.heat(c.Board.ESC, o, at, mid.busV(at, o.currentA)).allW
		if l.moving[i] {
			heatW *= l.unsteady
		}
		if l.punch[i] && p.Cap != NoLimit { // a cap spares the windings, whatever the flight is reckoned to take
			heatW = math.Min(heatW, e.heated.allW)
		}
		mean += l.share[i] * heatW
		if !l.punch[i] {
			flown := 1.0
			if l.moving[i] {
				flown = l.unsteady
			}
			steady += l.share[i]
			p.SteadyPackA += l.share[i] * (mid.electronicsA + (mid.drawnA(at, o)-mid.electronicsA)*flown)
			p.SteadyMotorA += l.share[i] * o.currentA * flown
			worst = math.Max(worst, heatW)
		}
	}
	if steady > 0 {
		p.SteadyPackA, p.SteadyMotorA = p.SteadyPackA/steady, p.SteadyMotorA/steady
	}
	p.set(figure.MotorHeat, worst)
	e.warm(c.Propeller.Map.Air.TemperatureK + c.Motor.flightRiseK(mean, r.durationS))
	if asked.Has(ofEnd) {
		e.atEnd(r.endCharge)
	}
}

// strain notes a flying time with a segment for which there is not enough voltage.
func (p *Performance) strain(q figure.Quantity, l *load) {
	if l.hardest > 1 {
		p.Strained |= 1 << q
	}
}

// atEnd sets what the pack still gives when the style's flight ends.
func (e *evaluation) atEnd(charge float64) {
	c := e.craft
	s := c.supply(charge)
	e.p.set(figure.EndThrustToWeight, float64(c.Rotors)*c.fullThrottle(&s, e.duty).thrustN/e.weightN)
	e.p.set(figure.EndHoverThrottle, s.demand(e.hover))
}

// warm sets the windings' temperatures from that at the end of a flight; over BurntWindingK none is given.
func (e *evaluation) warm(landedK float64) {
	p := &e.p
	for _, of := range [...]struct {
		quantity     figure.Quantity
		temperatureK float64
	}{{figure.MotorTemperature, landedK}, {figure.PunchTemperature, landedK + p.punchRiseK}} {
		if of.temperatureK <= BurntWindingK {
			p.set(of.quantity, of.temperatureK)
		} else {
			p.undefined(WindingsBurn, of.quantity)
		}
	}
}
