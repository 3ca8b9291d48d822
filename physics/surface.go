package physics

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// The grid of a surface: inflow ratio in equal steps from upward flow to beyond the zero-thrust
// advance ratio; rotor speed in equal steps of its logarithm.
const (
	surfaceLowInflow  = -0.6
	surfaceInflowStep = 0.02
	surfaceSpeeds     = 8
	surfaceLowTipMS   = 8.0
	surfaceHighTipMS  = 320.0
)

// Surface is a rotor's blade-element solution over inflow and rotor speed in one state of air,
// computed once and then interpolated (bicubic, Catmull-Rom).
//
// It is tabulated over the inflow ratio lambda = U/(Omega R), where U is the mean flow through
// the disc that momentum theory gives for the thrust, T = 2 rho A (U − V) U; in that variable
// thrust is close to a straight line, and hover, climb, sideways flight and descent share one
// table: only the momentum balance that leads to U differs. The stored coefficients are
// t = T/(rho A (Omega R)²) and q = Q/(rho A (Omega R)² R).
//
// Beyond its range in speed (tip at 8 to 320 m/s) the coefficients are those of the border; below
// an inflow of −0.6 as well, which only the first instants of a pull-out reach.
type Surface struct {
	Blade       Blade
	Air         Air
	AreaM2      float64
	inflows     int
	logLow      float64                // ln of the lowest rotor speed
	perLog      float64                // nodes per unit of ln
	nodes       []node                 // [speed][inflow]
	still       [surfaceSpeeds]float64 // t without inflow
	hover       [surfaceSpeeds]node    // hover in still air, where most of the work is done
	zeroAdvance float64
}

type node struct{ t, q float64 }

// NewSurface solves the blade in the given air. It fails when a section has no solution, as
// blades do that lift nothing at zero inflow.
func NewSurface(blade Blade, polar Polar, air Air) (*Surface, error) {
	if len(blade.stations) == 0 || !(blade.RadiusM > 0) {
		return nil, errors.New("blade has no stations")
	}
	s := &Surface{Blade: blade, Air: air, AreaM2: math.Pi * blade.RadiusM * blade.RadiusM}
	s.logLow = math.Log(surfaceLowTipMS / blade.RadiusM)
	s.perLog = (surfaceSpeeds - 1) / math.Log(surfaceHighTipMS/surfaceLowTipMS)
	_, angle := blade.at(0.75)
	s.zeroAdvance = 0.75 * math.Pi * math.Tan(angle+0.12)
	highInflow := s.zeroAdvance * 1.15 / math.Pi
	s.inflows = int(math.Ceil((highInflow-surfaceLowInflow)/surfaceInflowStep)) + 1
	s.nodes = make([]node, surfaceSpeeds*s.inflows)
	for k := range surfaceSpeeds {
		omega := math.Exp(s.logLow + float64(k)/s.perLog)
		tipMS := omega * blade.RadiusM
		loaded := blade.loaded(0.5 * air.DensityKgM3 * tipMS * tipMS)
		r := rotor{blade: &loaded, polar: &polar}
		if err := s.fill(&r, k, omega); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// fill tabulates one rotor speed: flow from below at a prescribed inflow, hover with more and
// more air through the disc down to none induced, and climb past zero thrust.
func (s *Surface) fill(r *rotor, k int, omega float64) error {
	tip := omega * s.Blade.RadiusM
	force := s.Air.DensityKgM3 * s.AreaM2 * tip * tip
	var xs, ts, qs []float64
	keep := func(inflow, thrustN, torqueNm float64) {
		if len(xs) == 0 || inflow > xs[len(xs)-1]+1e-6 {
			xs, ts, qs = append(xs, inflow), append(ts, thrustN/force), append(qs, torqueNm/(force*s.Blade.RadiusM))
		}
	}
	for x := surfaceLowInflow - surfaceInflowStep; x <= 1e-9; x += 1.5 * surfaceInflowStep {
		thrust, torque := r.loadsAtInflow(omega, x*tip, s.Air)
		keep(x, thrust, torque)
	}
	still, torque := r.loadsAtInflow(omega, 0, s.Air)
	keep(0, still, torque)
	s.still[k] = still / force
	for _, share := range [...]float64{0.2, 0.4, 0.6, 0.8} {
		massFlow := 1 / (share * share)
		thrust, torque, ok := r.loads(omega, 0, massFlow, s.Air)
		if !ok {
			return fmt.Errorf("the blade lifts nothing at hover: pitch is too small for its section")
		}
		keep(math.Sqrt(math.Max(thrust, 0)/force/(2*massFlow)), thrust, torque)
	}
	const climbs = 18
	for i := range climbs + 1 {
		advance := 1.3 * s.zeroAdvance * float64(i) / climbs
		thrust, torque, ok := r.loads(omega, advance/math.Pi*tip, 1, s.Air)
		if !ok {
			break // far in the windmill state
		}
		if i == 0 {
			s.hover[k] = node{thrust / force, torque / (force * s.Blade.RadiusM)}
		}
		half := advance / math.Pi / 2
		keep(half+math.Sqrt(math.Max(half*half+thrust/force/2, 0)), thrust, torque)
	}
	if len(xs) < 12 {
		return errors.New("the blade-element solution does not reach from hover to zero thrust")
	}
	var thrust, power interp.FritschButland
	if err := errors.Join(thrust.Fit(xs, ts), power.Fit(xs, qs)); err != nil {
		return err
	}
	row := s.nodes[k*s.inflows : (k+1)*s.inflows]
	last := xs[len(xs)-1]
	for i := range row {
		x := surfaceLowInflow + float64(i)*surfaceInflowStep
		if x <= last {
			row[i] = node{thrust.Predict(x), power.Predict(x)}
			continue
		}
		// Past the last solution the coefficients go on along their tangent.
		row[i] = node{thrust.Predict(last) + (x-last)*thrust.PredictDerivative(last),
			power.Predict(last) + (x-last)*power.PredictDerivative(last)}
	}
	return nil
}

// coefficients are the interpolated table values at one inflow and speed.
type coefficients struct {
	t, q, slope, still float64 // slope is dt/dlambda; still is t without inflow
}

func (s *Surface) lookup(inflow, speedRadS float64) coefficients {
	u := clampTo((math.Log(speedRadS)-s.logLow)*s.perLog, 0, surfaceSpeeds-1)
	x := clampTo((inflow-surfaceLowInflow)/surfaceInflowStep, 0, float64(s.inflows-1))
	j := min(int(u), surfaceSpeeds-2)
	i := min(int(x), s.inflows-2)
	wu := catmullRom(u - float64(j))
	fx := x - float64(i)
	wx, dx := catmullRom(fx), catmullRomSlope(fx)
	var c coefficients
	if i >= 1 && i+2 < s.inflows {
		for b := range 4 {
			k := min(max(j+b-1, 0), surfaceSpeeds-1)
			row := s.nodes[k*s.inflows+i-1:][:4]
			c.t += wu[b] * (wx[0]*row[0].t + wx[1]*row[1].t + wx[2]*row[2].t + wx[3]*row[3].t)
			c.q += wu[b] * (wx[0]*row[0].q + wx[1]*row[1].q + wx[2]*row[2].q + wx[3]*row[3].q)
			c.slope += wu[b] * (dx[0]*row[0].t + dx[1]*row[1].t + dx[2]*row[2].t + dx[3]*row[3].t)
			c.still += wu[b] * s.still[k]
		}
		c.slope /= surfaceInflowStep
		return c
	}
	for b := range 4 {
		k := min(max(j+b-1, 0), surfaceSpeeds-1)
		row := s.nodes[k*s.inflows:][:s.inflows]
		for a := range 4 {
			n := row[min(max(i+a-1, 0), s.inflows-1)]
			c.t += wu[b] * wx[a] * n.t
			c.q += wu[b] * wx[a] * n.q
			c.slope += wu[b] * dx[a] * n.t
		}
		c.still += wu[b] * s.still[k]
	}
	c.slope /= surfaceInflowStep
	return c
}

func catmullRom(f float64) [4]float64 {
	f2 := f * f
	f3 := f2 * f
	return [4]float64{-0.5*f3 + f2 - 0.5*f, 1.5*f3 - 2.5*f2 + 1, -1.5*f3 + 2*f2 + 0.5*f, 0.5*f3 - 0.5*f2}
}

func catmullRomSlope(f float64) [4]float64 {
	f2 := f * f
	return [4]float64{-1.5*f2 + 2*f - 0.5, 4.5*f2 - 5*f, -4.5*f2 + 4*f + 0.5, 1.5*f2 - f}
}
