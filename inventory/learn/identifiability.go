package learn

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// Doubt is two inputs of different parts that the readings cannot tell apart: they know what both
// do together, not which does it.
type Doubt struct {
	A, B Which
	// Correlation between the two once all is read: over 0 both may be higher or both lower, under 0
	// one higher and the other lower.
	Correlation float64
	// Tells is the further reading that would tell best, with the share of the doubt that it would
	// leave; an empty Key or Bench means that none of those tried tells.
	Tells Further
}

// Which names an input of a part.
type Which struct {
	Kind  inventory.Kind
	ID    string
	Input uncertain.Input
}

// Further is a reading that was not taken.
type Further struct {
	Key   Key    // of a craft's entry; empty for a bench
	Entry int    // number of the entry whose craft to read, from 1
	Bench string // what to put on the bench, in words
	// Left is the share of the standard deviation of the doubt that would be left.
	Left float64
}

// Bounds of a doubt that is worth a sentence.
const (
	leastCorrelation = 0.40
	leastChange      = 0.30 // of the correlation by the readings
	leastLeft        = 0.50 // of each input's own standard deviation
	mostDoubts       = 3
	usefulLeft       = 0.85 // a further reading that leaves more than this does not tell
)

// ambiguities finds what cannot be told apart, the closest pairs first.
func (g *evidence) ambiguities(p *posterior) []Doubt {
	type pair struct {
		a, b *target
		r    float64
	}
	var pairs []pair
	for i := range g.targets {
		for j := i + 1; j < len(g.targets); j++ {
			a, b := &g.targets[i], &g.targets[j]
			if a.kind == b.kind && (a.id == b.id || a.kind == inventory.KindProp) || isMass(a.input) || isMass(b.input) || a.input == b.input {
				continue
			}
			r := p.correlation(a.row, b.row)
			prior := priorCovariance(a.row, b.row) / (a.priorSD * b.priorSD)
			_, sdA := p.moments(a.row)
			_, sdB := p.moments(b.row)
			if math.Abs(r) >= leastCorrelation && math.Abs(r-prior) >= leastChange && sdA >= leastLeft*a.priorSD && sdB >= leastLeft*b.priorSD {
				pairs = append(pairs, pair{a, b, r})
			}
		}
	}
	slices.SortStableFunc(pairs, func(x, y pair) int { return cmp.Compare(math.Abs(y.r), math.Abs(x.r)) })
	var further []candidate
	var list []Doubt
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
		list = append(list, Doubt{
			A: Which{q.a.kind, q.a.id, q.a.input}, B: Which{q.b.kind, q.b.id, q.b.input},
			Correlation: q.r, Tells: bestReading(p, q.a, q.b, q.r, further),
		})
		if len(list) == mostDoubts {
			break
		}
	}
	return list
}

// isMass says whether an input is a mass: which part of a weighed craft is the heavy one is soon
// found on a scale.
func isMass(i uncertain.Input) bool {
	switch i {
	case uncertain.PropMass, uncertain.MotorMass, uncertain.PackMass, uncertain.FrameMass, uncertain.BoardMass, uncertain.ExtrasMass:
		return true
	}
	return false
}

// candidate is a reading that could be taken.
type candidate struct {
	Further
	rows []row // of the readings it gives
	sds  []float64
}

// candidates lists readings that were not taken of the crafts in the log, and benches of their parts.
func (g *evidence) candidates(p *posterior) []candidate {
	var list []candidate
	seen := map[string]bool{}
	for k, s := range g.observations {
		f, ok := s.(*flightObservation)
		if !ok {
			continue
		}
		asked := *f
		asked.readings, asked.flight = nil, nil
		for _, key := range [...]Key{HoverThrottle, HoverCurrent, FullThrottleCurrent, LoadedCell, TopSpeed} {
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
			list = append(list, candidate{Further{Key: r.Key, Entry: g.entries[k].log + 1}, []row{slope}, []float64{d.sd[i]}})
		}
		list = append(list, g.benchCandidates(g.entries[k].parts, seen)...)
	}
	return list
}

// What benches leave open of what they measure, standard deviations of logarithms: thrust and
// torque of a prop by one bench point (left-out errors of the prop law), a pack's resistance by a
// charger that reads it (common practice, no source).
const (
	benchThrustSD     = 0.025
	benchTorqueSD     = 0.035
	packResistanceSD  = 0.10
	motorSpeedBenchSD = 0.015 // kV by rpm and volts without a prop (common practice, no source)
)

func (g *evidence) benchCandidates(parts inventory.Parts, seen map[string]bool) []candidate {
	var list []candidate
	add := func(kind inventory.Kind, id, what string, inputs []uncertain.Input, sds []float64) {
		if seen[what] {
			return
		}
		seen[what] = true
		c := candidate{Further: Further{Bench: what}, sds: sds}
		for _, input := range inputs {
			for i := range g.targets {
				if s := &g.targets[i]; s.kind == kind && s.id == id && s.input == input {
					c.rows = append(c.rows, s.row)
				}
			}
		}
		if len(c.rows) == len(inputs) {
			list = append(list, c)
		}
	}
	add(inventory.KindProp, parts.Prop, "thrust and torque of prop "+parts.Prop+" at a known rpm", []uncertain.Input{uncertain.PropThrust, uncertain.PropPower}, []float64{benchThrustSD, benchTorqueSD})
	add(inventory.KindPack, parts.Pack, "the cell resistance of pack "+parts.Pack+" on a charger", []uncertain.Input{uncertain.PackResistance}, []float64{packResistanceSD})
	add(inventory.KindMotor, parts.Motor, "the rpm of motor "+parts.Motor+" at a known voltage, prop off", []uncertain.Input{uncertain.MotorSpeed}, []float64{motorSpeedBenchSD})
	return list
}

// bestReading finds the candidate that takes most of the doubt between two inputs: of the variance of
// the direction in which they cannot be told apart.
func bestReading(p *posterior, a, b *target, r float64, from []candidate) Further {
	_, sdA := p.moments(a.row)
	_, sdB := p.moments(b.row)
	sign := 1.0
	if r < 0 {
		sign = -1
	}
	doubt := a.row.scaled(1 / sdA).plus(b.row.scaled(sign / sdB))
	best := Further{Left: usefulLeft}
	for i := range from {
		if left := shareLeft(p, doubt, &from[i]); left < best.Left-1e-9 {
			best = from[i].Further
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
