package calibration

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Laws are the laws of physics as fitted without what they are tried on.
type Laws struct {
	Prop  rotor.Law
	Motor physics.MotorLaw
}

// Draws are common random numbers, one set an owner of inputs, so that two stands with one prop err alike and what no
// part carries errs alike in all.
type Draws struct {
	n     int
	seed  uint64
	cache map[string][]float64
}

// NewDraws makes n draws an owner.
func NewDraws(n int) *Draws { return &Draws{n, 1, map[string][]float64{}} }

func (d *Draws) normals(owner, what string) []float64 {
	key := owner + "\x00" + what
	if z, ok := d.cache[key]; ok {
		return z
	}
	h := fnv.New64a()
	h.Write([]byte(key)) // never fails
	random := rand.New(rand.NewPCG(d.seed, h.Sum64()))
	z := make([]float64, d.n)
	for s := range z {
		z[s] = random.NormFloat64()
	}
	d.cache[key] = z
	return z
}

// Of are the deviations of a budget whose parts are named. A prop's are made of what is its own and what all of its
// class have in common; no prop of the tables belongs to a named series.
func (d *Draws) Of(b *uncertain.Budget, named map[uncertain.Owner]string) []uncertain.Deviation {
	normal := make([][uncertain.InputCount]float64, d.n)
	for i := range uncertain.InputCount {
		if b.LnSD[i] == 0 {
			continue
		}
		for s, z := range d.normals(fmt.Sprint(i.Owner(), named[i.Owner()]), i.String()) {
			normal[s][i] = z
		}
	}
	d.prop(b, named[uncertain.OfProp], normal)
	out := make([]uncertain.Deviation, d.n)
	for s := range out {
		out[s] = b.Deviation(&normal[s])
	}
	return out
}

// prop puts in the numbers of a prop.
func (d *Draws) prop(b *uncertain.Budget, name string, normal [][uncertain.InputCount]float64) {
	if b.LnSD[uncertain.PropThrust] == 0 {
		return
	}
	numbers := make([][uncertain.PropNumbers]float64, d.n)
	for n := range uncertain.PropNumbers {
		owner := "prop " + name
		if n.Owned() == uncertain.ByClass {
			owner = "class"
		}
		for s, z := range d.normals(owner, fmt.Sprint("number ", int(n))) {
			numbers[s][n] = z
		}
	}
	for s := range normal {
		for row, z := range b.Prop.Normals(&numbers[s]) {
			normal[s][uncertain.FormInputs()[row]] = z
		}
	}
}

// Standing is a curve as physics predicts it from labels, with its draws.
type Standing struct {
	*Curve
	stand physics.Stand
	drawn []physics.Stand
}

// Predict makes the stands that laws predict for a curve.
func (c *Curve) Predict(l *Laws, air rotor.Air, d *Draws) (*Standing, error) {
	prop, err := l.Prop.New(c.Spec, air)
	if err != nil {
		return nil, fmt.Errorf("%v: %w", c, err)
	}
	motor := l.Motor.Motor(physics.MotorLabel{StatorM: c.StatorM, StatorHeightM: c.TallM, KV: c.LabelKV})
	esc := l.Motor.ESC(0)
	s := &Standing{Curve: c, stand: physics.Stand{Propeller: *prop, Motor: motor.Motor, ESC: esc.ESC, ThrottleExponent: 1}}
	b := &s.stand.Uncertainty
	physics.ShareSpread(b)
	prop.Uncertainty.Put(b)
	motor.Put(b)
	esc.Put(b)
	board := c.Stand + " " + c.Esc
	if c.Esc == "" && c.Stand != "cao-strawson-2018" { // which had one kind of ESC for all
		board += c.Motor
	}
	named := map[uncertain.Owner]string{uncertain.OfProp: c.Stand + " " + c.Prop,
		uncertain.OfMotor: c.Stand + " " + c.Motor,
		uncertain.OfBoard: board}
	deviations := d.Of(b, named)
	s.drawn = make([]physics.Stand, len(deviations))
	for i := range deviations {
		s.drawn[i] = s.stand.Deviate(&deviations[i])
	}
	return s, nil
}

// each gives a figure nominally and draw by draw, as logarithms; NaN where there is none.
func (s *Standing) each(of func(*physics.Stand) float64) (nominal float64, drawn []float64) {
	drawn = make([]float64, len(s.drawn))
	for i := range s.drawn {
		drawn[i] = math.Log(of(&s.drawn[i]))
	}
	return math.Log(of(&s.stand)), drawn
}

// atThrust is the point at which a stand gives a thrust, at part throttle or, where full throttle does not reach it, at
// the voltage that does. A stand whose thrust no voltage up to twice the supply's reaches gives false.
func atThrust(s *physics.Stand, supplyV, thrustN float64) (physics.StandPoint, bool) {
	straight := *s
	straight.ThrottleExponent = 1
	point := func(x float64) (physics.StandPoint, error) {
		if x <= 1 {
			return straight.Point(supplyV, x)
		}
		return straight.Point(supplyV*x, 1)
	}
	full, err := point(1)
	if err != nil {
		return full, false
	}
	low, high := 1.0, 2.0
	if full.ThrustN > thrustN {
		low, high = 0.01, 1
	}
	x := math.Min(math.Max(math.Pow(thrustN/full.ThrustN, 0.6), low), high)
	var p physics.StandPoint
	for range 40 {
		if p, err = point(x); err != nil {
			return p, false
		}
		off := math.Log(thrustN / p.ThrustN)
		if math.Abs(off) < 1e-4 {
			return p, true
		}
		if off > 0 {
			low = x
		} else {
			high = x
		}
		next := x * math.Exp(0.55*off)
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		x = next
	}
	return p, math.Abs(math.Log(thrustN/p.ThrustN)) < 1e-2
}

// powerAt is the power from the supply at a thrust, NaN where none is reached.
func powerAt(supplyV, thrustN float64) func(*physics.Stand) float64 {
	return func(s *physics.Stand) float64 {
		if p, ok := atThrust(s, supplyV, thrustN); ok {
			return p.PowerW
		}
		return math.NaN()
	}
}

// speedAt is the rotor speed at a thrust.
func speedAt(supplyV, thrustN float64) func(*physics.Stand) float64 {
	return func(s *physics.Stand) float64 {
		if p, ok := atThrust(s, supplyV, thrustN); ok {
			return p.SpeedRadS
		}
		return math.NaN()
	}
}

// pointAt is one figure of the point at a throttle.
func pointAt(supplyV, throttle float64, figure func(*physics.StandPoint) float64) func(*physics.Stand) float64 {
	return func(s *physics.Stand) float64 {
		p, err := s.Point(supplyV, throttle)
		if err != nil {
			return math.NaN()
		}
		return figure(&p)
	}
}

func thrustOf(p *physics.StandPoint) float64  { return p.ThrustN }
func currentOf(p *physics.StandPoint) float64 { return p.CurrentA }
