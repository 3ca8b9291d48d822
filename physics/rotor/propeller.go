package rotor

import (
	"math"

	"partsaloft/physics/internal/numeric"
	"partsaloft/physics/uncertain"
)

// Propeller is one prop in one state of air: the rotor map with the factors that
// bring it to what is known of this prop.
type Propeller struct {
	Map         *Map
	DiameterM   float64
	PitchM      float64
	Blades      int
	MassKg      float64
	InertiaKgM2 float64
	// ThrustFactor and PowerFactor multiply CT and CP; AdvanceFactor stretches the advance ratio
	// at which they hold. All are 1 for the bare map.
	ThrustFactor, PowerFactor, AdvanceFactor float64
	// CT and CP change further with speed, by its ratio to ReferenceRadS to the powers of ThrustSlope and PowerSlope;
	// both are 0 for what the map says.
	ThrustSlope, PowerSlope, ReferenceRadS float64
	Uncertainty                            Uncertainty
}

// Uncertainty is what is not known of a prop: standard deviations of the logarithms of CT,
// CP, zero-thrust advance ratio, mass and inertia.
type Uncertainty struct {
	Thrust, Power, ZeroThrust, Mass, Inertia uncertain.Estimate
	// Forms are the errors of CT, of CP and of their slopes over ln of speed as linear forms of numbers that props
	// have of their own and in common.
	Forms      uncertain.PropForms
	SpeedBasis uncertain.Basis // of the slopes
}

// LnSDAt are the standard deviations of ln CT and ln CP at a speed whose logarithm is off that of
// Propeller.ReferenceRadS.
func (u *Uncertainty) LnSDAt(off float64) (thrust, power float64) {
	thrust = math.Hypot(u.Thrust.LnSD, off*u.Forms.LnSD(2))
	return thrust, math.Hypot(u.Power.LnSD, off*u.Forms.LnSD(3))
}

// Put sets a budget's inputs that a prop carries.
func (u *Uncertainty) Put(b *uncertain.Budget) {
	b.SetProp(&u.Forms, u.Thrust.Basis, u.Power.Basis, u.SpeedBasis)
	b.Set(uncertain.PropZeroThrust, u.ZeroThrust)
	b.Set(uncertain.PropMass, u.Mass)
	b.Set(uncertain.PropInertia, u.Inertia)
}

// Flow is the air that meets a rotor's disc, in m/s: axial positive in climb, in-plane ≥ 0.
type Flow struct {
	AxialMS, InplaneMS float64
}

// profilePowerRise is K in P0(1 + K mu²), the profile power's growth in sideways flight with the
// drag of the blades along the disc included (Leishman 2006, section 5.4.2, after Bennett).
const profilePowerRise = 4.65

// inducedPowerFactor is the part of torque over ideal induced power that does not grow with
// in-plane speed (Leishman 2006, section 3.2: 1.15 is typical).
const inducedPowerFactor = 1.15

// edgewise adds what in-plane flow does at an advance ratio mu: thrust of the untwisted part
// grows by 3/2 mu² (blade-element theory, Leishman 2006, section 3.5.2), profile power by K mu².
func (c coefficients) edgewise(inflow, muSquared float64) (t, q float64) {
	rise := 1.5 * muSquared * c.still
	profile := math.Max(c.q-inducedPowerFactor*inflow*c.t, 0)
	return c.t + rise, c.q + inflow*rise + profilePowerRise*muSquared*profile
}

// Loads returns thrust and torque of one rotor at a speed in rad/s, in climb, hover or sideways
// flight (AxialMS ≥ 0).
func (p *Propeller) Loads(speedRadS float64, flow Flow) (thrustN, torqueNm float64) {
	s := p.Map
	tip := speedRadS * s.Blade.RadiusM
	climb := flow.AxialMS / p.AdvanceFactor / tip
	mu2 := flow.InplaneMS / tip * (flow.InplaneMS / tip)
	// r(lambda) = t − 2 (lambda − climb) sqrt(mu² + lambda²) falls through zero once.
	low, high := mapLowInflow, s.highInflow()
	lambda := math.Min(climb+0.06, high)
	var t, q float64
	for range 60 {
		c := s.lookup(lambda, speedRadS)
		t, q = c.edgewise(lambda, mu2)
		w := math.Sqrt(mu2 + lambda*lambda)
		r := t - 2*(lambda-climb)*w
		if r > 0 {
			low = lambda
		} else {
			high = lambda
		}
		next := lambda - r/(c.slope-2*w-2*(lambda-climb)*lambda/math.Max(w, 1e-9))
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-lambda) < 1e-9 {
			break
		}
		lambda = next
	}
	force := s.Air.DensityKgM3 * s.AreaM2 * tip * tip
	thrust, power := p.factors(speedRadS)
	return thrust * force * t, power * force * s.Blade.RadiusM * q
}

// factors are those on CT and CP at a speed.
func (p *Propeller) factors(speedRadS float64) (thrust, power float64) {
	if p.ThrustSlope == 0 && p.PowerSlope == 0 {
		return p.ThrustFactor, p.PowerFactor
	}
	x := math.Log(speedRadS / p.ReferenceRadS)
	return p.ThrustFactor * math.Exp(p.ThrustSlope*x), p.PowerFactor * math.Exp(p.PowerSlope*x)
}

// HoverLoads is Loads in still air without a search: the map keeps that curve of its own.
func (p *Propeller) HoverLoads(speedRadS float64) (thrustN, torqueNm float64) {
	s := p.Map
	j, part := s.speedPlace(numeric.Log(speedRadS))
	w := catmullRom(part)
	var t, q float64
	for b := range 4 {
		n := &s.hover[min(max(j+b-1, 0), mapSpeeds-1)]
		t += w[b] * n.t
		q += w[b] * n.q
	}
	tip := speedRadS * s.Blade.RadiusM
	force := s.Air.DensityKgM3 * s.AreaM2 * tip * tip
	thrust, power := p.factors(speedRadS)
	return thrust * force * t, power * force * s.Blade.RadiusM * q
}

// HoverPowers are the powers of rotor speed with which thrust and torque grow about a speed in still air, dlnT/dlnw and
// dlnQ/dlnw, both about 2.
func (p *Propeller) HoverPowers(speedRadS float64) (thrust, torque float64) {
	s := p.Map
	j, part := s.speedPlace(numeric.Log(speedRadS))
	w, d := catmullRom(part), catmullRomSlope(part)
	var t, q, byT, byQ float64
	for b := range 4 {
		n := &s.hover[min(max(j+b-1, 0), mapSpeeds-1)]
		t += w[b] * n.t
		q += w[b] * n.q
		byT += d[b] * n.t
		byQ += d[b] * n.q
	}
	return 2 + byT/t*s.perLog + p.ThrustSlope, 2 + byQ/q*s.perLog + p.PowerSlope
}

// HoverTorqueNmS2 is about the torque over the square of the rotor speed in still air, in N m s²: that at a tip speed of
// some 110 m/s.
func (p *Propeller) HoverTorqueNmS2() float64 {
	s := p.Map
	radius := s.Blade.RadiusM
	return p.PowerFactor * s.Air.DensityKgM3 * s.AreaM2 * radius * radius * radius * s.hover[5].q
}

// SpeedFor returns the rotor speed at which one rotor gives a thrust over 0 in climb, hover or
// sideways flight, with its torque. It returns false if no speed up to a tip speed of 320 m/s
// does.
//
// The inflow through the disc follows from thrust alone, so that only
// rho A ((Omega R)² t(lambda, Omega) + 3/2 Vx² t(0, Omega)) = T is left to solve, by Newton's method. With a
// ThrustSlope T is divided by its factor at each speed that is tried.
func (p *Propeller) SpeedFor(thrustN float64, flow Flow) (speedRadS, torqueNm float64, ok bool) {
	s := p.Map
	axial := flow.AxialMS / p.AdvanceFactor
	area := s.Air.DensityKgM3 * s.AreaM2
	radius := s.Blade.RadiusM
	sideways := 1.5 * flow.InplaneMS * flow.InplaneMS
	full := thrustN / (p.ThrustFactor * area)
	raw := full // T over rho A and the factors on CT
	bent := p.ThrustSlope != 0 || p.PowerSlope != 0
	var reference, near float64
	if bent {
		reference = numeric.Log(p.ReferenceRadS)
		near = 0.5*numeric.Log(raw/s.guess.hover) - s.guess.logRadius
		raw = full * expNear(p.ThrustSlope*(reference-near))
	}
	induced := inducedMS(raw/2, axial, flow.InplaneMS)
	tip, log := s.guess.of(s, axial+induced, raw-sideways*s.guess.still)
	if bent {
		change := expNear(p.ThrustSlope*(near-log)) - 1
		induced += inducedSlope(induced, axial, flow.InplaneMS) * raw / 2 * change
		raw += raw * change
	}
	low, high := mapLowTipMS/4, mapHighTipMS
	var still float64
	found := false
	for i := range 60 {
		if bent && i > 0 {
			raw = full * expNear(p.ThrustSlope*(reference-log))
			induced = inducedMS(raw/2, axial, flow.InplaneMS)
		}
		inflow := axial + induced
		t, byInflow, byLog, rest, restByLog := s.thrustAt(inflow/tip, log)
		excess := tip*tip*t + sideways*rest - raw
		slope := tip*tip*(2*t+byLog) - tip*inflow*byInflow + sideways*restByLog + p.ThrustSlope*raw
		if excess > 0 {
			high = tip
		} else {
			low = tip
		}
		step := -excess / slope // relative to tip
		inside := slope > 0 && tip*(1+step) > low && tip*(1+step) < high
		if !inside {
			if high == mapHighTipMS && tip > 0.9*high && excess < 0 {
				break
			}
			step = (low+high)/2/tip - 1
		}
		tip *= 1 + step
		if math.Abs(step) > 0.1 {
			log = numeric.Log(tip / radius)
			continue
		}
		log += logNear(step)
		if math.Abs(step) < speedStep {
			found = inside || excess > 0 || high < mapHighTipMS
			still = rest + step*restByLog
			raw *= 1 - p.ThrustSlope*step
			break
		}
	}
	squared := tip * tip
	inflow := (axial + induced) / tip
	c := coefficients{t: (raw - sideways*still) / squared, still: still}
	c.q = s.torqueAt(inflow, log)
	_, q := c.edgewise(inflow, flow.InplaneMS*flow.InplaneMS/squared)
	power := p.PowerFactor
	if bent {
		power *= expNear(p.PowerSlope * (log - reference))
	}
	return tip / radius, power * area * squared * radius * q, found
}

// speedStep is the step of Newton's method, relative to the speed, after which the error is under 1e-6:
// it goes with the square.
const speedStep = 4e-4

func (s *Map) highInflow() float64 {
	return mapLowInflow + float64(s.inflows-1)*mapInflowStep
}

// Deviate multiplies what is uncertain of the prop by e to the deviation.
func (p *Propeller) Deviate(d *uncertain.Deviation) {
	p.ThrustFactor *= math.Exp(d[uncertain.PropThrust])
	p.PowerFactor *= math.Exp(d[uncertain.PropPower] + d[uncertain.RotorModel])
	p.AdvanceFactor *= math.Exp(d[uncertain.PropZeroThrust])
	p.ThrustSlope += d[uncertain.PropThrustSpeed]
	p.PowerSlope += d[uncertain.PropPowerSpeed]
	p.MassKg *= math.Exp(d[uncertain.PropMass])
	p.InertiaKgM2 *= math.Exp(d[uncertain.PropMass] + d[uncertain.PropInertia])
}
