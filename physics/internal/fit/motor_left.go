package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"partsaloft/physics"
	"slices"
)

// rigTrial is one motor predicted by a law fitted to the others, its props known from torque
// readings or from the other motors of the stand.
type rigTrial struct {
	rig   *rig
	law   physics.MotorLaw
	reads []trialRead
}

type trialRead struct {
	*rigRead
	torqueLn float64
	errors   rigErrors
	duty     []float64 // of part rows, as the law has it
}

// leaveMotors fits the law once for every motor, without it.
func (f *rigFit) leaveMotors(all rigSolution) ([]rigTrial, error) {
	var trials []rigTrial
	for k, r := range f.rigs {
		if !f.has(k) {
			continue
		}
		f.out = k
		s, err := f.solve(all.x)
		f.out = -1
		if err != nil {
			return nil, fmt.Errorf("without %v: %w", r, err)
		}
		t := rigTrial{rig: r, law: s.law}
		m := motorOf(&s.law, r, rigEffect{})
		for i := range f.reads {
			read := &f.reads[i]
			if read.rig != k {
				continue
			}
			one := trialRead{rigRead: read, torqueLn: s.torque[read.prop]}
			one.errors = read.errors(&m, one.torqueLn, false)
			for _, row := range read.part {
				v, _ := m.VoltageV(math.Exp(one.torqueLn)*torqueOf(read.propeller, row.speedRadS), row.speedRadS)
				one.duty = append(one.duty, v/row.voltageV)
			}
			t.reads = append(t.reads, one)
		}
		trials = append(trials, t)
	}
	return trials, nil
}

// full are all full-throttle errors of a motor in speed and current.
func (t *rigTrial) full() (speed, current []float64) {
	for _, r := range t.reads {
		speed, current = append(speed, r.errors.speed...), append(current, r.errors.current...)
	}
	return speed, current
}

// part are the errors in supplied power at duties in [low, high).
func (t *rigTrial) part(low, high float64) (power []float64) {
	for _, r := range t.reads {
		for i, d := range r.duty {
			if d >= low && d < high {
				power = append(power, r.errors.power[i])
			}
		}
	}
	return power
}

// motorErrors gathers one kind of error of every motor, all motors counting alike.
func motorErrors(trials []rigTrial, of func(*rigTrial) []float64) (w weighted, motors int) {
	for i := range trials {
		x := of(&trials[i])
		if len(x) == 0 {
			continue
		}
		motors++
		for _, v := range x {
			w = append(w, weightedLog{v, 1 / float64(len(x))})
		}
	}
	return w, motors
}

// weighted are logarithms of measured over predicted with weights.
type weighted []weightedLog

type weightedLog struct{ ln, weight float64 }

// quantile of the absolute relative errors.
func (w weighted) quantile(q float64) float64 {
	if len(w) == 0 {
		return math.NaN()
	}
	e := make(weighted, len(w))
	var total float64
	for i, x := range w {
		e[i] = weightedLog{math.Abs(math.Exp(-x.ln) - 1), x.weight}
		total += x.weight
	}
	slices.SortFunc(e, func(a, b weightedLog) int {
		if a.ln < b.ln {
			return -1
		}
		if a.ln > b.ln {
			return 1
		}
		return 0
	})
	var sum float64
	for _, x := range e {
		if sum += x.weight; sum >= q*total*(1-1e-12) {
			return x.ln
		}
	}
	return e[len(e)-1].ln
}

func (w weighted) String() string {
	if len(w) == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1f / %.1f %%", 100*w.quantile(0.5), 100*w.quantile(0.9))
}

// doubled are the errors in thrust of a prop whose CT is known: thrust goes with speed squared.
func doubled(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = 2 * v
	}
	return out
}

// coverage of 80 % intervals of full-throttle speed, thrust and current and of part-throttle power
// on left-out motors: the mean over motors of the share of rows inside.
type rigCoverage struct {
	speed, current, power float64
	full, part            int // motors
}

const coverageDraws = 400

// cover draws the motor's kV, resistance, loss and rotor current about the left-out law.
func cover(trials []rigTrial, sd rigEffect, rotorLnSD, speedResistance float64) rigCoverage {
	var c rigCoverage
	random := rand.New(rand.NewPCG(1, 2))
	for i := range trials {
		t := &trials[i]
		type interval struct{ speed, current, power [][]float64 }
		drawn := make([]interval, len(t.reads))
		for j, r := range t.reads {
			drawn[j] = interval{make([][]float64, len(r.full)), make([][]float64, len(r.full)), make([][]float64, len(r.part))}
		}
		for range coverageDraws {
			a, b := random.NormFloat64(), random.NormFloat64()
			e := rigEffect{sd.speed * a, sd.resistance * (speedResistance*a + math.Sqrt(1-speedResistance*speedResistance)*b), sd.loss * random.NormFloat64()}
			m := motorOf(&t.law, t.rig, e)
			own := rotorLnSD * random.NormFloat64()
			for j := range t.reads {
				got := t.reads[j].rigRead.errors(&m, t.reads[j].torqueLn+own, false)
				for k := range got.speed {
					drawn[j].speed[k] = append(drawn[j].speed[k], got.speed[k])
					drawn[j].current[k] = append(drawn[j].current[k], got.current[k])
				}
				for k := range got.power {
					drawn[j].power[k] = append(drawn[j].power[k], got.power[k])
				}
			}
		}
		// A reading lies inside the interval of predictions if zero lies inside that of errors.
		share := func(of func(interval) [][]float64) (inside, n float64) {
			for _, d := range drawn {
				for _, x := range of(d) {
					n++
					if quantile(x, 0.1) <= 0 && quantile(x, 0.9) >= 0 {
						inside++
					}
				}
			}
			return inside, n
		}
		if in, n := share(func(d interval) [][]float64 { return d.speed }); n > 0 {
			c.speed += in / n
			in, n = share(func(d interval) [][]float64 { return d.current })
			c.current += in / n
			c.full++
		}
		if in, n := share(func(d interval) [][]float64 { return d.power }); n > 0 {
			c.power += in / n
			c.part++
		}
	}
	c.speed, c.current, c.power = c.speed/float64(c.full), c.current/float64(c.full), c.power/float64(c.part)
	return c
}

// throttleExponents are ln duty over ln throttle of part-throttle rows near half throttle, one
// median a run, for stands whose throttle reaches full duty at its end.
func throttleExponents(f *rigFit, s rigSolution) (names []string, exponents []float64) {
	for k, r := range f.rigs {
		m := motorOf(&s.law, r, s.effects[k])
		var x []float64
		for i := range f.reads {
			read := &f.reads[i]
			if read.rig != k {
				continue
			}
			for _, row := range read.part {
				if row.throttle < 0.3 || row.throttle > 0.7 {
					continue
				}
				v, _ := m.VoltageV(math.Exp(s.torque[read.prop])*torqueOf(read.propeller, row.speedRadS), row.speedRadS)
				x = append(x, math.Log(v/row.voltageV)/math.Log(row.throttle))
			}
		}
		if len(x) > 0 {
			names, exponents = append(names, r.String()), append(exponents, median(x))
		}
	}
	return names, exponents
}
