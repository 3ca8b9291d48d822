package main

import (
	"math"
	"runtime"
	"sync"

	"partsaloft/physics/rotor"
)

// laboratory is the air in which measured coefficients are taken to hold: 98.5 kPa and 24 °C.
func laboratory() (rotor.Air, error) {
	return rotor.AirOf(98500, rotor.CelsiusToKelvin(24))
}

// knowledge is what a prediction may use of a prop.
type knowledge int

const (
	fromLabel    knowledge = iota // diameter, pitch and blades
	fromChord                     // and the chord at 75 %
	fromStation                   // and the angle there
	fromStations                  // and chord and angle all along
)

func (k knowledge) String() string {
	return [...]string{"label", "chord at 75 %", "chord and angle at 75 %", "all stations"}[k]
}

// spec is what is known of a prop.
func (p *prop) known(k knowledge) rotor.Spec {
	s := p.spec
	switch {
	case k == fromLabel:
		s.Stations = nil
	case k < fromStations && len(s.Stations) > 0:
		near := s.Stations[0]
		for _, st := range s.Stations {
			if math.Abs(st.RadiusM-0.375*s.DiameterM) < math.Abs(near.RadiusM-0.375*s.DiameterM) {
				near = st
			}
		}
		if k == fromChord {
			near.AngleRad = 0
		}
		s.Stations = []rotor.Measurement{near}
	}
	return s
}

// bench is a set of points of one prop, each with a solver that remembers its last solution.
type bench struct {
	prop    *prop
	spec    rotor.Spec
	points  []point
	solvers []*rotor.Solver
}

func newBench(p *prop, k knowledge, points []point) *bench {
	return &bench{prop: p, spec: p.known(k), points: points}
}

// predict fills ct and cp of every point under a law; NaN where there is no solution.
func (b *bench) predict(law *rotor.Law, air rotor.Air, ct, cp []float64) {
	blade, err := law.Blade.Blade(b.spec.DiameterM, b.spec.PitchM, b.spec.Blades)
	if err == nil {
		blade, err = blade.Measured(b.spec.Stations)
	}
	if err != nil {
		for i := range ct {
			ct[i], cp[i] = math.NaN(), math.NaN()
		}
		return
	}
	thrust, power := law.Factors(b.spec.DiameterM, b.spec.PitchM, b.spec.Blades)
	if len(b.spec.Stations) > 1 {
		thrust, power = 1, 1
	}
	if b.solvers == nil {
		b.solvers = make([]*rotor.Solver, len(b.points))
	}
	d := b.spec.DiameterM
	for i, pt := range b.points {
		if b.solvers[i] == nil {
			if b.solvers[i], err = rotor.NewSolver(blade, law.Polar, air); err != nil {
				ct[i], cp[i] = math.NaN(), math.NaN()
				continue
			}
		} else {
			b.solvers[i].Replace(blade, law.Polar)
		}
		n := pt.rpm / 60
		t, q, ok := b.solvers[i].Loads(pt.rpm*rpm, pt.advance*n*d)
		if !ok {
			ct[i], cp[i] = math.NaN(), math.NaN()
			b.solvers[i] = nil
			continue
		}
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		ct[i], cp[i] = thrust*t/force, power*2*math.Pi*q/(force*d)
	}
}

// eachInParallel calls do for every index on all processors; results must go to their own index.
func eachInParallel(n int, do func(i int)) {
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
