package learn

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Doubt is two inputs of different parts that the readings cannot tell apart: they know what both
// do together, not which does it.
type Inseparable struct {
	A, B PartInput
	// Correlation between the two once all is read: over 0 both may be higher or both lower, under 0
	// one higher and the other lower.
	Correlation float64
	// Tells is the further reading that would tell best, with the share of the doubt that it would
	// leave; neither Key nor Bench means that none of those tried tells.
	Best FurtherReading
}

// Which names an input of a part.
type PartInput struct {
	Kind  inventory.Kind
	ID    string
	Input uncertain.Input
}

// Further is a reading that was not taken.
type FurtherReading struct {
	Key   Key // of a craft's entry; empty for a bench
	Entry int // number of the entry whose craft to read, from 1
	// Bench is what to put on a bench, NoBench for a reading of a craft, and ID the part.
	Bench Bench
	ID    string
	// Left is the share of the standard deviation of the doubt that would be left.
	Left float64
}

// Bench is a measurement of a part by itself.
type Bench uint8

// The benches.
const (
	NoBench    Bench = iota
	PropBench        // thrust and torque of a prop at a known rpm
	PackBench        // the cell resistance of a pack on a charger
	MotorBench       // the rpm of a motor at a known voltage, prop off
)

// Bounds of a doubt that is worth a sentence.
const (
	leastCorrelation = 0.40
	leastChange      = 0.30 // of the correlation by the readings
	leastLeft        = 0.50 // of each input's own standard deviation
	mostDoubts       = 3
	usefulLeft       = 0.85 // a further reading that leaves more than this does not tell
)

// ambiguities finds what cannot be told apart, the closest pairs first.
func (g *evidence) ambiguities(p *posterior) []Inseparable {
	type pair struct {
		a, b *target
		r    float64
	}
	var pairs []pair
	for i := range g.targets {
		for j := i + 1; j < len(g.targets); j++ {
			a, b := &g.targets[i], &g.targets[j]
			onePart := a.kind == b.kind && (a.id == b.id || a.kind == inventory.KindProp)
			if onePart || isMass(a.input) || isMass(b.input) || a.input == b.input {
				continue
			}
			r := p.correlation(a.row, b.row)
			prior := priorCovariance(a.row, b.row) / (a.priorSD * b.priorSD)
			_, sdA := p.moments(a.row)
			_, sdB := p.moments(b.row)
			tied := math.Abs(r) >= leastCorrelation && math.Abs(r-prior) >= leastChange
			if tied && sdA >= leastLeft*a.priorSD && sdB >= leastLeft*b.priorSD {
				pairs = append(pairs, pair{a, b, r})
			}
		}
	}
	slices.SortStableFunc(pairs, func(x, y pair) int { return cmp.Compare(math.Abs(y.r), math.Abs(x.r)) })
	var further []candidate
	var list []Inseparable
	said := map[latent]bool{}
	for _, q := range pairs {
		// One sentence a part is enough.
		if said[latent{kind: q.a.kind, id: q.a.id}] || said[latent{kind: q.b.kind, id: q.b.id}] {
			continue
		}
		said[latent{kind: q.a.kind, id: q.a.id}], said[latent{kind: q.b.kind, id: q.b.id}] = true, true
		if further == nil {
			further = g.candidates(p)
		}
		list = append(list, Inseparable{
			A: PartInput{q.a.kind, q.a.id, q.a.input}, B: PartInput{q.b.kind, q.b.id, q.b.input},
			Correlation: q.r, Best: bestReading(p, q.a, q.b, q.r, further),
		})
		if len(list) == mostDoubts {
			break
		}
	}
	return list
}

// isMass reports whether an input is a mass: which part of a weighed craft is the heavy one is soon
// found on a scale.
func isMass(i uncertain.Input) bool {
	switch i {
	case uncertain.PropMass, uncertain.MotorMass, uncertain.PackMass, uncertain.FrameMass, uncertain.BoardMass,
		uncertain.ExtrasMass:
		return true
	}
	return false
}

// candidate is a reading that could be taken.
type candidate struct {
	FurtherReading
	rows []row // of the readings it gives
	sds  []float64
}

// candidates lists readings that were not taken of the crafts in the log, and benches of their parts.
func (g *evidence) candidates(p *posterior) []candidate {
	var list []candidate
	seen := map[FurtherReading]bool{}
	for k, s := range g.observations {
		f, ok := s.(*flightObservation)
		if !ok {
			continue
		}
		asked := *f
		asked.readings, asked.flight = nil, nil
		for _, key := range [...]Key{HoverThrottle, HoverCurrent, HoverSpeed, FullThrottleCurrent, LoadedCell, TopSpeed} {
			if !slices.ContainsFunc(f.readings, func(r Reading) bool { return r.Key == key }) {
				asked.readings = append(asked.readings, Reading{Key: key, Measured: 1, SD: 1})
			}
		}
		asked.prune()
		values, ok := predictions(&asked, p.mean)
		if !ok {
			continue
		}
		for i := range asked.readings {
			r := &asked.readings[i]
			*r = read(r.Key, r.unscaled(values[i]))
		}
		d, ok := g.linearise(&asked, p.mean)
		if !ok {
			continue
		}
		for i, r := range asked.readings {
			slope := make(row, len(d.touched))
			for x, latent := range d.touched {
				slope[x] = term{latent, d.slopes[i][x]}
			}
			list = append(list, candidate{FurtherReading{Key: r.Key, Entry: g.entries[k].log + 1}, []row{slope},
				[]float64{d.sd[i]}})
		}
		list = append(list, g.benchCandidates(g.entries[k].parts, seen)...)
	}
	return list
}

// benchCandidates are the benches of a craft's parts, each once: one point of the prop, the pack on a charger that
// reads resistance, the motor's rpm at a known voltage without a prop.
func (g *evidence) benchCandidates(parts inventory.Parts, seen map[FurtherReading]bool) []candidate {
	var list []candidate
	add := func(bench Bench, kind inventory.Kind, id string, leaves map[uncertain.Input]float64) {
		c := candidate{FurtherReading: FurtherReading{Bench: bench, ID: id}}
		if seen[c.FurtherReading] {
			return
		}
		seen[c.FurtherReading] = true
		for i := range g.targets {
			t := &g.targets[i]
			if sd, measured := leaves[t.input]; measured && t.kind == kind && t.id == id {
				c.rows, c.sds = append(c.rows, t.row), append(c.sds, sd)
			}
		}
		if len(c.rows) == len(leaves) {
			list = append(list, c)
		}
	}
	if leaves, ok := g.propBenchLeaves(parts.Prop); ok {
		add(PropBench, inventory.KindProp, parts.Prop, leaves)
	}
	add(PackBench, inventory.KindPack, parts.Pack, map[uncertain.Input]float64{
		uncertain.PackResistance: physics.GivenPackResistance(1, 1).LnSD,
	})
	add(MotorBench, inventory.KindMotor, parts.Motor, map[uncertain.Input]float64{
		uncertain.MotorSpeed: readings[StandSpeed].sd,
	})
	return list
}

// propBenchTipMS is the tip speed of the bench point that is imagined, in m/s: that of a hover, roughly.
const propBenchTipMS = 80

// propBenchLeaves is what physics leaves of the doubt of a prop's thrust and torque with a bench point that reads what
// its figures say.
func (g *evidence) propBenchLeaves(id string) (map[uncertain.Input]float64, bool) {
	p := g.drawer.Prop(id)
	if p == nil {
		return nil, false
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		return nil, false
	}
	made, err := g.propeller(p, air)
	if err != nil {
		return nil, false
	}
	spec := p.Spec()
	speedRadS := 2 * propBenchTipMS / spec.DiameterM
	thrustN, torqueNm := made.Loads(speedRadS, rotor.Flow{})
	point := rotor.BenchPoint{SpeedRadS: speedRadS, ThrustN: thrustN, TorqueNm: torqueNm}
	spec.Bench = append(slices.Clone(spec.Bench), point)
	benched, err := rotor.New(spec, air)
	if err != nil {
		return nil, false
	}
	return map[uncertain.Input]float64{
		uncertain.PropThrust: benched.Uncertainty.Thrust.LnSD, uncertain.PropPower: benched.Uncertainty.Power.LnSD,
	}, true
}

// bestReading finds the candidate that takes most of the doubt between two inputs: of the variance of
// the direction in which they cannot be told apart.
func bestReading(p *posterior, a, b *target, r float64, from []candidate) FurtherReading {
	_, sdA := p.moments(a.row)
	_, sdB := p.moments(b.row)
	sign := 1.0
	if r < 0 {
		sign = -1
	}
	doubt := a.row.scaled(1 / sdA).plus(b.row.scaled(sign / sdB))
	best := FurtherReading{Left: usefulLeft}
	for i := range from {
		if left := shareLeft(p, doubt, &from[i]); left < best.Left-1e-9 {
			best = from[i].FurtherReading
			best.Left = left
		}
	}
	return best
}

// shareLeft is the share of a row's standard deviation that a candidate's readings leave.
//
//	v' = v − cᵀ (S + R)⁻¹ c,  c covariance of the row with the readings, S theirs, R their errors'
func shareLeft(p *posterior, doubt row, c *candidate) float64 {
	n := len(c.rows)
	s := mat.NewSymDense(n, nil)
	cross := mat.NewVecDense(n, nil)
	for i := range n {
		cross.SetVec(i, p.covarianceOf(doubt, c.rows[i]))
		for j := i; j < n; j++ {
			v := p.covarianceOf(c.rows[i], c.rows[j])
			if i == j {
				v += c.sds[i] * c.sds[i]
			}
			s.SetSym(i, j, v)
		}
	}
	x, err := solve(s, cross)
	if err != nil {
		return 1
	}
	before := p.covarianceOf(doubt, doubt)
	taken := 0.0
	for i := range n {
		taken += x[i] * cross.AtVec(i)
	}
	return math.Sqrt(math.Max(1-taken/before, 0))
}
