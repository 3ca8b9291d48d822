package props

import (
	"math"
	"runtime"
	"sync"

	"partsaloft/physics/rotor"
)

// Laboratory is the air in which measured coefficients are taken to hold: 98.5 kPa and 24 °C.
func Laboratory() (rotor.Air, error) {
	return rotor.AirOf(98500, rotor.CelsiusToKelvin(24))
}

// Knowledge is what a prediction may use of a prop.
type Knowledge int

const (
	FromLabel    Knowledge = iota // diameter, pitch and blades
	FromChord                     // and the chord at 75 %
	FromStation                   // and the angle there
	FromStations                  // and chord and angle all along
)

func (k Knowledge) String() string {
	return [...]string{"label", "chord at 75 %", "chord and angle at 75 %", "all stations"}[k]
}

// spec is what is known of a prop.
func (p *Prop) Known(k Knowledge) rotor.Spec {
	s := p.Spec
	switch {
	case k == FromLabel:
		s.Stations = nil
	case k < FromStations && len(s.Stations) > 0:
		near := s.Stations[0]
		for _, st := range s.Stations {
			if math.Abs(st.RadiusM-0.375*s.DiameterM) < math.Abs(near.RadiusM-0.375*s.DiameterM) {
				near = st
			}
		}
		if k == FromChord {
			near.AngleRad = 0
		}
		s.Stations = []rotor.Measurement{near}
	}
	return s
}

// Bench is a set of points of one prop, each with a solver that remembers its last solution.
type Bench struct {
	prop    *Prop
	Spec    rotor.Spec
	Points  []Point
	solvers []*rotor.Solver
}

func NewBench(p *Prop, k Knowledge, points []Point) *Bench {
	return &Bench{prop: p, Spec: p.Known(k), Points: points}
}

// Predict fills ct and cp of every point under the law of a class; NaN where there is no solution.
func (b *Bench) Predict(law *rotor.ClassLaw, air rotor.Air, ct, cp []float64) {
	blade, err := law.Blade.Blade(b.Spec.DiameterM, b.Spec.PitchM, b.Spec.Blades)
	if err == nil {
		blade, err = blade.Measured(b.Spec.Stations)
	}
	if err != nil {
		for i := range ct {
			ct[i], cp[i] = math.NaN(), math.NaN()
		}
		return
	}
	thrust, power := law.Factors(b.Spec.DiameterM, b.Spec.PitchM, b.Spec.Blades)
	if len(b.Spec.Stations) > 1 {
		thrust, power = 1, 1
	}
	if b.solvers == nil {
		b.solvers = make([]*rotor.Solver, len(b.Points))
	}
	d := b.Spec.DiameterM
	for i, pt := range b.Points {
		if b.solvers[i] == nil {
			if b.solvers[i], err = rotor.NewSolver(blade, law.Polar, air); err != nil {
				ct[i], cp[i] = math.NaN(), math.NaN()
				continue
			}
		} else {
			b.solvers[i].Replace(blade, law.Polar)
		}
		n := pt.RPM / 60
		t, q, ok := b.solvers[i].Loads(pt.RPM*RPM, pt.Advance*n*d)
		if !ok {
			ct[i], cp[i] = math.NaN(), math.NaN()
			b.solvers[i] = nil
			continue
		}
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		ct[i], cp[i] = thrust*t/force, power*2*math.Pi*q/(force*d)
	}
}

// EachInParallel calls do for every index on all processors; results must go to their own index.
func EachInParallel(n int, do func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
