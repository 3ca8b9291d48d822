package rotor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/interp"

	"partsaloft/physics/fault"
)

// The grid of a map: inflow ratio in equal steps from upward flow to beyond the zero-thrust
// advance ratio; rotor speed in equal steps of its logarithm.
const (
	mapLowInflow  = -0.6
	mapInflowStep = 0.015
	mapSpeeds     = 8
	mapClimbs     = 15 // solutions from hover to past zero thrust, less one
	mapLowTipMS   = 8.0
	mapHighTipMS  = 320.0
)

// Map is the rotor map: a rotor's blade-element solution over inflow and rotor speed in one state of air,
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
type Map struct {
	Blade       Blade
	Air         Air
	AreaM2      float64
	inflows     int
	logLow      float64                // ln of the lowest rotor speed
	perLog      float64                // nodes per unit of ln
	thrusts     []float64              // t by [speed][inflow], one node added on every side
	torques     []float64              // q likewise
	still       [mapSpeeds + 2]float64 // t without inflow, one node added at both ends
	hover       [mapSpeeds]node        // hover in still air, where most of the work is done
	descentT    []float64              // t by [speed][sink] in axial descent, see fillDescent
	descentQ    []float64              // q likewise
	zeroAdvance float64
	guess       speedGuess
}

type node struct{ t, q float64 }

// NewMap solves the blade in the given air. It fails when a section has no solution, as
// blades do that lift nothing at zero inflow.
func NewMap(blade Blade, polar Polar, air Air) (*Map, error) {
	if len(blade.stations) == 0 || !(blade.RadiusM > 0) {
		return nil, fault.New("blade.none", nil)
	}
	s := &Map{Blade: blade, Air: air, AreaM2: math.Pi * blade.RadiusM * blade.RadiusM}
	s.logLow = math.Log(mapLowTipMS / blade.RadiusM)
	s.perLog = (mapSpeeds - 1) / math.Log(mapHighTipMS/mapLowTipMS)
	_, angle := blade.At(0.75)
	s.zeroAdvance = 0.75 * math.Pi * math.Tan(angle+0.12)
	highInflow := s.zeroAdvance * 1.15 / math.Pi
	s.inflows = int(math.Ceil((highInflow-mapLowInflow)/mapInflowStep)) + 1
	s.thrusts = make([]float64, (mapSpeeds+2)*(s.inflows+2))
	s.torques = make([]float64, (mapSpeeds+2)*(s.inflows+2))
	r := elements{blade: &s.Blade, polar: &polar, start: make([]inflowStart, len(blade.stations))}
	var memory sweep
	for k := range mapSpeeds {
		if err := s.fill(&r, &memory, k, math.Exp(s.logLow+float64(k)/s.perLog)); err != nil {
			return nil, err
		}
	}
	surround(s.thrusts, s.inflows+2)
	surround(s.torques, s.inflows+2)
	s.still[0] = 2*s.still[1] - s.still[2]
	s.still[mapSpeeds+1] = 2*s.still[mapSpeeds] - s.still[mapSpeeds-1]
	s.fillDescent()
	s.guess.fill(s)
	return s, nil
}

// fill tabulates one rotor speed: flow from below at a prescribed inflow, hover with more and
// more air through the disc down to none induced, and climb past zero thrust.
func (s *Map) fill(r *elements, memory *sweep, k int, omega float64) error {
	tip := omega * s.Blade.RadiusM
	force := s.Air.DensityKgM3 * s.AreaM2 * tip * tip
	var xs, ts, qs []float64
	keep := func(inflow, thrustN, torqueNm float64) {
		if len(xs) == 0 || inflow > xs[len(xs)-1]+1e-6 {
			xs, ts, qs = append(xs, inflow), append(ts, thrustN/force), append(qs, torqueNm/(force*s.Blade.RadiusM))
		}
	}
	for x := mapLowInflow - mapInflowStep; x <= 1e-9; x += 2 * mapInflowStep {
		thrust, torque := r.loadsAtInflow(omega, x*tip, s.Air)
		keep(x, thrust, torque)
	}
	still, torque := r.loadsAtInflow(omega, 0, s.Air)
	keep(0, still, torque)
	memory.begin()
	s.still[k+1] = still / force
	for _, share := range [...]float64{0.2, 0.4, 0.6, 0.8} {
		massFlow := 1 / (share * share)
		memory.guess(r.start)
		thrust, torque, ok := r.loads(omega, 0, massFlow, s.Air)
		if !ok {
			return fault.New("blade.no_lift", nil)
		}
		memory.keep(r.start)
		keep(math.Sqrt(math.Max(thrust, 0)/force/(2*massFlow)), thrust, torque)
	}
	for i := range mapClimbs + 1 {
		memory.guess(r.start)
		advance := 1.3 * s.zeroAdvance * float64(i) / mapClimbs
		thrust, torque, ok := r.loads(omega, advance/math.Pi*tip, 1, s.Air)
		if !ok {
			break // far in the windmill state
		}
		memory.keep(r.start)
		if i == 0 {
			s.hover[k] = node{thrust / force, torque / (force * s.Blade.RadiusM)}
		}
		half := advance / math.Pi / 2
		keep(half+math.Sqrt(math.Max(half*half+thrust/force/2, 0)), thrust, torque)
	}
	if len(xs) < 12 {
		return fault.New("blade.unsolved", nil)
	}
	var thrust, power interp.FritschButland
	if err := errors.Join(thrust.Fit(xs, ts), power.Fit(xs, qs)); err != nil {
		return err
	}
	first := (k+1)*(s.inflows+2) + 1
	last := xs[len(xs)-1]
	for i := range s.inflows {
		x := mapLowInflow + float64(i)*mapInflowStep
		beyond := math.Max(x-last, 0) // past the last solution the coefficients go on along their tangent
		x -= beyond
		s.thrusts[first+i], s.torques[first+i] = thrust.Predict(x), power.Predict(x)
		if beyond > 0 {
			s.thrusts[first+i] += beyond * thrust.PredictDerivative(last)
			s.torques[first+i] += beyond * power.PredictDerivative(last)
		}
	}
	return nil
}

// sweep remembers the inflow angles of one sweep from hover to climb, to start the next rotor
// speed's from: the angle there plus what the last two solutions differ by.
type sweep struct {
	solutions [][]inflowStart
	before    []inflowStart // of the last sweep, one solution back
	n         int
}

func (m *sweep) begin() { m.n = 0 }

func (m *sweep) guess(start []inflowStart) {
	if m.n >= len(m.solutions) {
		return
	}
	for i, there := range m.solutions[m.n] {
		last := start[i].phi
		start[i] = there
		if m.n > 0 {
			start[i].phi += last - m.before[i].phi
		}
	}
}

func (m *sweep) keep(start []inflowStart) {
	if m.n >= len(m.solutions) {
		m.solutions = append(m.solutions, make([]inflowStart, len(start)))
		m.before = make([]inflowStart, len(start))
	}
	copy(m.before, m.solutions[m.n])
	copy(m.solutions[m.n], start)
	m.n++
}
