package predict

import (
	"math"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// shifts are what figures are moved by, NaN where they are undefined then; behind the quantities stands the throttle in
// hover that a display shows.
type shifts [shownFigure + 1]float64

// channelOf is the channel of each input: inputs that act on a craft as one, such as the masses of its parts, share
// the channel of one of them, and what they do is worked out once.
var channelOf = func() (of [uncertain.InputCount]uncertain.Input) {
	for i := range of {
		of[i] = uncertain.Input(i)
	}
	for _, i := range [...]uncertain.Input{uncertain.PropMass, uncertain.MotorMass, uncertain.PackMass,
		uncertain.FrameMass, uncertain.BoardMass} {
		of[i] = massChannel
	}
	of[uncertain.PropInertia] = inertiaChannel
	of[uncertain.PropPower] = uncertain.RotorModel
	of[uncertain.MotorLoss] = uncertain.MotorsLoss
	return of
}()

// The channels of the craft's mass and of a rotor's moment of inertia.
const (
	massChannel    = uncertain.ExtrasMass
	inertiaChannel = uncertain.MotorInertia
)

// reach is how far the inputs of a craft reach: what one standard deviation of each does to what it acts through, and
// for each channel the root of the sum of their squares, for they are independent. It is the logarithm of the all-up
// mass, of a rotor's inertia, of any other factor; W of electronics; the share of the motors' power that ESCs draw
// towards no duty; and the ripple's factor.
type reach struct {
	input   [uncertain.InputCount]float64
	inertia [uncertain.InputCount]float64 // of masses that turn, beside what they weigh
	channel [uncertain.InputCount]float64
}

func reachOf(c *physics.Craft) reach {
	u := &c.Uncertainty
	r := reach{input: u.LnSD}
	mass, rotors := c.MassKg(), float64(c.Rotors)
	prop, bell := c.Propeller.InertiaKgM2/c.InertiaKgM2(), c.Motor.BellInertiaKgM2/c.InertiaKgM2()
	r.inertia[uncertain.PropMass] = u.LnSD[uncertain.PropMass] * prop
	r.inertia[uncertain.MotorMass] = u.LnSD[uncertain.MotorMass] * bell
	for _, part := range [...]struct {
		input uncertain.Input
		by    float64
	}{
		{uncertain.PropMass, rotors * c.Propeller.MassKg / mass}, {uncertain.MotorMass, rotors * c.Motor.MassKg / mass},
		{uncertain.PackMass, c.Pack.MassKg / mass}, {uncertain.FrameMass, c.FrameKg / mass},
		{uncertain.BoardMass, c.Board.MassKg / mass}, {uncertain.ExtrasMass, c.ExtrasKg / mass},
		{uncertain.PropInertia, prop}, {uncertain.MotorInertia, bell},
		{uncertain.PropPower, math.Sqrt(1 - u.ThrustPower*u.ThrustPower)}, {uncertain.MotorLoss, u.Factor()[2][2]},
		{uncertain.ElectronicsPower, c.ElectronicsW}, {uncertain.PartThrottle, 1 + c.Board.PartThrottleLoss},
		{uncertain.Ripple, c.Board.RippleFactor},
	} {
		r.input[part.input] *= part.by
	}
	for i, of := range channelOf {
		r.channel[of] = math.Hypot(r.channel[of], r.input[i])
		r.channel[inertiaChannel] = math.Hypot(r.channel[inertiaChannel], r.inertia[i])
	}
	return r
}

// sensitivities say how the figures of a craft follow its uncertain inputs, channel by channel: on the figure's scale
//
//	y(z) = y(0) + slope z + curve z²
//
// with z a standard normal number that moves the channel by one reach of the craft.
type sensitivities struct {
	reach        reach
	slope, curve [uncertain.InputCount]shifts
	// linear are the figures that some move takes to where their scale has no logarithm: their scale is their own.
	linear figure.Set
	// doubtful are the figures that the expansion may not hold: some move leaves them undefined or takes them to where
	// their scale ends, or curves carry more than mostCurved of their variance.
	doubtful figure.Set
}

// mostCurved is the share of a figure's variance in the curves from which on its expansion is doubtful: what is left out
// of it, products and kinks, grows with them. One figure in twelve has more (5 200 of crafts in four styles on three
// drawers).
const mostCurved = 0.03

// scale is where a figure's logarithm is taken from: of most the figure itself, of temperatures what they are over the
// air's, of the cell's voltage under load what it is under the full cell's.
type scale struct {
	from float64
	sign float64
}

func scaleOf(c *physics.Craft, q figure.Quantity) scale {
	switch q {
	case figure.MotorTemperature, figure.PunchTemperature:
		return scale{c.Propeller.Map.Air.TemperatureK, 1}
	case figure.LoadedCell:
		return scale{c.Pack.Chemistry.FullCellV(), -1}
	}
	return scale{0, 1}
}

// off is a figure's distance from where its scale begins.
func (s scale) off(x float64) float64 { return s.sign * (x - s.from) }

// at is the figure at a distance.
func (s scale) at(off float64) float64 { return s.from + s.sign*off }

// spreading moves the inputs of a result.
type spreading struct {
	result *Result
	flying *physics.Flying
	craft  physics.Craft // with its Standard known
	reach  reach
}

// moved is the craft with a channel moved by so many reaches.
func (s *spreading) moved(channel uncertain.Input, by float64) physics.Craft {
	var d uncertain.Deviation
	switch channel {
	case massChannel:
		craft := s.craft
		craft.ExtrasKg += craft.MassKg() * math.Expm1(by*s.reach.channel[channel])
		return craft
	case inertiaChannel:
		d[uncertain.PropInertia] = by * s.reach.channel[channel]
		d[uncertain.MotorInertia] = d[uncertain.PropInertia]
	case uncertain.RotorModel, uncertain.MotorsLoss:
		d[channel] = by * s.reach.channel[channel]
	default:
		var normal [uncertain.InputCount]float64
		normal[channel] = by
		d = s.craft.Uncertainty.Deviation(&normal)
	}
	return s.craft.Deviate(&d)
}

// moves are the figures that can change with an input, the throttle that a display shows among them.
func moves(i uncertain.Input) figure.Set {
	set := physics.Moves(i)
	if set.Has(1<<figure.HoverThrottle) || i == uncertain.ThrottleScale {
		set |= 1 << shownFigure
	}
	return set
}

// figures are those asked for of the craft with a channel moved, NaN where they are undefined.
func (s *spreading) figures(channel uncertain.Input, by float64, asked figure.Set) shifts {
	var out shifts
	if channel == uncertain.ThrottleScale {
		out[shownFigure] = s.result.shown(&s.result.Performance, by*s.reach.channel[channel])
		return out
	}
	craft := s.moved(channel, by)
	p := craft.EvaluateOnly(s.flying, asked)
	for q := range figure.Count {
		out[q] = math.NaN()
		if asked.Has(1 << q) {
			if x, ok := drawn(&p, q); ok {
				out[q] = x
			}
		}
	}
	out[shownFigure] = s.result.shown(&p, 0)
	return out
}

// sensitivitiesOf moves each channel by itself to the 90 % point of what acts through it, and to its 10 % point. With
// the sensitivities of a craft in one family (see Spread) the curves are those, as far as the inputs reach.
func sensitivitiesOf(r *Result, flying *physics.Flying, like *sensitivities) *sensitivities {
	s := spreading{result: r, flying: flying, craft: r.Craft, reach: reachOf(&r.Craft)}
	known := s.craft.Standard()
	s.craft.Known = &known
	out := &sensitivities{reach: s.reach}
	half := uncertain.HalfWidth()
	var up, down [uncertain.InputCount]shifts
	var asked [uncertain.InputCount]figure.Set
	for c := range asked {
		channel := uncertain.Input(c)
		if asked[c] = moves(channel); s.reach.channel[c] == 0 {
			asked[c] = 0
		}
		if asked[c] == 0 {
			continue
		}
		up[c] = s.figures(channel, half, asked[c])
		if like == nil {
			down[c] = s.figures(channel, -half, asked[c])
		}
	}
	for q := range shownFigure + 1 {
		if r.value(q).Why != physics.Defined {
			continue
		}
		of := scaleOf(&r.Craft, figure.Quantity(q))
		was := of.off(r.value(q).Value)
		linear, lost, straight, curved := !(was > 0), false, 0.0, 0.0
		for c := range asked {
			if !asked[c].Has(1 << q) {
				continue
			}
			linear = linear || of.off(up[c][q]) <= 0 || like == nil && of.off(down[c][q]) <= 0
			lost = lost || math.IsNaN(up[c][q]) || like == nil && math.IsNaN(down[c][q])
		}
		y := func(x float64) float64 { // over the nominal value
			if linear {
				return of.off(x) - was
			}
			return math.Log(of.off(x) / was)
		}
		if linear {
			out.linear |= 1 << q
		}
		for c := range asked {
			if !asked[c].Has(1 << q) {
				continue
			}
			over := y(up[c][q])
			under := -over
			switch {
			case like == nil:
				under = y(down[c][q])
			case linear == like.linear.Has(1<<q):
				under += 2 * like.curve[c][q] * math.Pow(half*s.reach.channel[c]/like.reach.channel[c], 2)
			}
			out.slope[c][q], out.curve[c][q] = throughBoth(over, under, half)
			straight += out.slope[c][q] * out.slope[c][q]
			curved += 2 * out.curve[c][q] * out.curve[c][q]
		}
		if lost || linear && was > 0 || curved > mostCurved*(straight+curved) {
			out.doubtful |= 1 << q
		}
	}
	return out
}

// throughBoth are slope and curve of a parabola through 0 at 0 and two values to either side. What is undefined to one
// side is taken to be as far off as to the other.
func throughBoth(over, under, half float64) (slope, curve float64) {
	switch {
	case math.IsNaN(over) && math.IsNaN(under):
		return 0, 0
	case math.IsNaN(over):
		over = -under
	case math.IsNaN(under):
		under = -over
	}
	return (over - under) / (2 * half), (over + under) / (2 * half * half)
}

// spread sets a result's intervals and bases by sensitivities of its own craft or of one in its family, whose effects
// go with what the inputs reach. On its scale a figure is a sum of terms, whose moments give the interval. It is widened to
// hold the nominal value, as one of draws is.
func (r *Result) spread(by *sensitivities) {
	u, own := &r.Craft.Uncertainty, reachOf(&r.Craft)
	together := own.ofChannels(learnedTogether(&r.Combination, u))
	var terms []term
	for q := range shownFigure + 1 {
		v := r.value(q)
		if v.Why != physics.Defined {
			continue
		}
		var squares float64
		var share [uncertain.InputCount]float64
		terms = terms[:0]
		for c := range by.slope {
			a, b := by.slope[c][q], by.curve[c][q]
			if a == 0 && b == 0 {
				continue
			}
			f := own.channel[c] / by.reach.channel[c]
			a, b = a*f, b*f*f
			terms = append(terms, term{a, b, uncertain.Input(c)})
			squares += a * a
			share[c] = a * a
		}
		mean, variance, third := moments(terms, together)
		low, high := ofMoments(mean, variance, third)
		s := scaleOf(&r.Craft, figure.Quantity(q))
		off := s.off(v.Value)
		if by.linear.Has(1 << q) {
			low, high = s.at(off+low), s.at(off+high)
		} else {
			low, high = s.at(off*math.Exp(low)), s.at(off*math.Exp(high))
		}
		v.Low, v.High = math.Min(v.Value, math.Min(low, high)), math.Max(v.Value, math.Max(low, high))
		if q == int(figure.ThrottleCap) || q == shownFigure {
			v.High = math.Min(v.High, 1) // there is no more than full throttle
		}
		v.Basis = uncertain.Label
		if squares > 0 {
			v.Basis = uncertain.Measured
		}
		for i, of := range channelOf {
			part := 0.0
			if share[of] > 0 {
				part = share[of] * math.Pow(own.input[i]/own.channel[of], 2)
			}
			if share[inertiaChannel] > 0 {
				part += share[inertiaChannel] * math.Pow(own.inertia[i]/own.channel[inertiaChannel], 2)
			}
			if part > 0 && part >= uncertain.CauseShare*squares {
				v.Basis = max(v.Basis, u.Basis[i])
			}
		}
	}
}

// ofMoments are the 10 % and 90 % points of a distribution near to normal with a mean, a variance and a third moment,
// to the first order in the skewness (E. A. Cornish, R. A. Fisher, Revue de l'Institut International de Statistique 5,
// 307, 1938).
func ofMoments(mean, variance, third float64) (low, high float64) {
	if variance == 0 {
		return mean, mean
	}
	half := uncertain.HalfWidth()
	width, lean := half*math.Sqrt(variance), (half*half-1)/6*third/variance
	return mean - width + lean, mean + width + lean
}
