package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/physics"
)

// motorFreedoms are the constants that the motor fit may change: positive ones by their logarithm.
// Winding and Constant act alike, so Winding stays.
var motorFreedoms = []struct {
	name         string
	at           func(*motorLaw) *float64
	log          bool
	scale, prior float64
}{
	{"labelSpeedShare", func(l *motorLaw) *float64 { return &l.SpeedShare }, true, 0.02, 0.05},
	{"motorConstant", func(l *motorLaw) *float64 { return &l.Constant }, true, 0.1, 0.3},
	{"motorConstantPower", func(l *motorLaw) *float64 { return &l.ConstantPower }, false, 0.05, 0.1},
	{"escOhm", func(l *motorLaw) *float64 { return &l.ESC }, true, 0.2, 0.5},
	{"resistanceSpeedRadS", func(l *motorLaw) *float64 { return &l.ResistanceSpeed }, true, 0.3, 0.7},
	{"lossPerGramNm", func(l *motorLaw) *float64 { return &l.Loss }, true, 0.2, 0.5},
	{"lossSpeedPower", func(l *motorLaw) *float64 { return &l.LossPower }, false, 0.2, 0.3},
	{"partThrottleLoss", func(l *motorLaw) *float64 { return &l.PartLoss }, false, 0.1, 0.3},
}

// motorFit is the law with one more unknown a prop: the error in its CP, where torque was not read.
type motorFit struct {
	law     motorLaw
	offsets map[string]float64
	found   solution
}

// torque of a prop at a reading: read where the sensor can be trusted, else the prop's.
func (r *reading) torque(p *physics.Propeller, offset float64) float64 {
	if r.torqueNm > 0 && r.speedRadS > 12000*rpm {
		return r.torqueNm
	}
	_, q := p.Loads(r.speedRadS, physics.Flow{})
	return q * math.Exp(offset)
}

// standResiduals are logarithms of measured over predicted for one motor under a law.
type standResiduals struct {
	speed, current []float64 // at full throttle
	bus            []float64 // current at part throttle, at the speed read
}

func (m *motor) residuals(l *motorLaw, offsets map[string]float64) standResiduals {
	s := l.shaft(m)
	var out standResiduals
	for i := range m.rows {
		r := &m.rows[i]
		p := m.props[r.source+r.prop]
		if p == nil {
			continue
		}
		bent := *p
		bent.PowerFactor *= math.Exp(offsets[r.source] + offsets[r.source+r.prop])
		if r.duty == 1 {
			speed, amps, err := s.fullThrottle(&bent, r.volts)
			if err != nil {
				continue
			}
			if r.speedRadS > 0 {
				out.speed = append(out.speed, math.Log(r.speedRadS/speed))
			}
			out.current = append(out.current, math.Log(r.amps/amps))
			continue
		}
		if r.speedRadS == 0 || r.thrustN < 0.15*m.most(r) {
			continue
		}
		v, amps := s.at(r.torque(p, offsets[r.source]+offsets[r.source+r.prop]), r.speedRadS)
		d := v / r.volts
		out.bus = append(out.bus, math.Log(r.amps/(d*amps*(1+l.PartLoss*(1-d)))))
	}
	return out
}

// most is the largest thrust read with the same prop from the same source.
func (m *motor) most(r *reading) float64 {
	most := 0.0
	for i := range m.rows {
		if o := &m.rows[i]; o.prop == r.prop && o.source == r.source {
			most = math.Max(most, o.thrustN)
		}
	}
	return most
}

const (
	speedSD   = 0.035
	currentSD = 0.10
	busSD     = 0.15
	// Of ln CP where torque was not read: of a source as a whole, and of one prop beyond that.
	powerSD     = 0.15
	propPowerSD = 0.06
)

// fitMotors fits the law to motors, each counting once.
func fitMotors(ms []motor, first []float64) (motorFit, error) {
	props := unknownPower(ms)
	p := robust{first: first}
	start := startLaw()
	for _, f := range motorFreedoms {
		x := *f.at(&start)
		if f.log {
			x = math.Log(x)
		}
		p.start, p.scale, p.prior = append(p.start, x), append(p.scale, f.scale), append(p.prior, f.prior)
	}
	for _, key := range props {
		sd := propPowerSD
		if slices.Contains(sourcesOf(ms), key) {
			sd = powerSD
		}
		p.start, p.scale, p.prior = append(p.start, 0), append(p.scale, 0.1), append(p.prior, sd)
	}
	unpack := func(x []float64) (motorLaw, map[string]float64) {
		l := startLaw()
		for i, f := range motorFreedoms {
			*f.at(&l) = x[i]
			if f.log {
				*f.at(&l) = math.Exp(x[i])
			}
		}
		offsets := map[string]float64{}
		for i, key := range props {
			offsets[key] = x[len(motorFreedoms)+i]
		}
		return l, offsets
	}
	counts := make([]standResiduals, len(ms))
	for i := range ms {
		counts[i] = ms[i].residuals(&start, nil)
		c := counts[i]
		for _, n := range []int{len(c.speed), len(c.current), len(c.bus)} {
			for range n {
				p.weights = append(p.weights, 1/float64(n))
			}
		}
	}
	p.residuals = func(x, r []float64) {
		l, offsets := unpack(x)
		all := make([]standResiduals, len(ms))
		eachInParallel(len(ms), func(i int) { all[i] = ms[i].residuals(&l, offsets) })
		k := 0
		for i, a := range all {
			for _, g := range []struct {
				x  []float64
				n  int
				sd float64
			}{{a.speed, len(counts[i].speed), speedSD}, {a.current, len(counts[i].current), currentSD}, {a.bus, len(counts[i].bus), busSD}} {
				for j := range g.n {
					r[k] = 5
					if j < len(g.x) {
						r[k] = g.x[j] / g.sd
					}
					k++
				}
			}
		}
	}
	s, err := p.solve()
	if err != nil {
		return motorFit{}, fmt.Errorf("motor law: %w", err)
	}
	f := motorFit{found: s}
	f.law, f.offsets = unpack(s.x)
	return f, nil
}

func sourcesOf(ms []motor) []string {
	var out []string
	for i := range ms {
		for _, r := range ms[i].rows {
			if !slices.Contains(out, r.source) {
				out = append(out, r.source)
			}
		}
	}
	return out
}

// unknownPower names the props of which no torque was read, and the sources that have such props.
func unknownPower(ms []motor) []string {
	read := map[string]bool{}
	for i := range ms {
		for _, r := range ms[i].rows {
			key := r.source + r.prop
			read[key] = read[key] || r.torqueNm > 0
		}
	}
	var keys []string
	for _, source := range sourcesOf(ms) {
		some := false
		for k, known := range read {
			if !known && strings.HasPrefix(k, source) {
				keys, some = append(keys, k), true
			}
		}
		if some {
			keys = append(keys, source)
		}
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// trusted leaves suspect motors out.
func trusted(ms []motor) []motor {
	return slices.DeleteFunc(slices.Clone(ms), func(m motor) bool { return slices.Contains(suspectMotors, m.name) })
}
