package main

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/uncertain"
)

// rigTrial is one motor predicted by a law fitted to the others, its props known from torque
// readings or from the other motors of the stand.
type rigTrial struct {
	rig   *rig.Rig
	law   physics.MotorLaw
	reads []trialRead
}

type trialRead struct {
	*rig.Read
	torqueLn float64
	errors   rig.Errors
	duty     []float64 // of part rows, as the law has it
}

// leaveMotors fits the law once for every motor, without it.
func leaveMotors(f *motorFit, whole *motorSolution) ([]rigTrial, error) {
	return leaveRigs(f, whole, nil, (*rig.Rig).Twin)
}

// leaveStands fits the law once for every stand, without any of its motors; its props are known from the whole fit.
func leaveStands(f *motorFit, whole *motorSolution) ([]rigTrial, error) {
	return leaveRigs(f, whole, whole.escs.Torque, func(a, b *rig.Rig) bool { return a.Source() == b.Source() })
}

// leaveRigs fits the law once for every class of rigs that go out together; torque is what is known of the props, nil
// what each fit finds.
func leaveRigs(f *motorFit, whole *motorSolution, torque []float64,
	together func(a, b *rig.Rig) bool) ([]rigTrial, error) {
	var trials []rigTrial
	var left motorSolution
	var first *rig.Rig // of the class that is out
	for k, r := range f.escs.Rigs {
		if !f.escs.Has(k) {
			continue
		}
		if first == nil || !together(first, r) {
			first = r
			var err error
			if left, err = f.solve(func(other *rig.Rig) bool { return together(r, other) }, whole); err != nil {
				return nil, fmt.Errorf("without %v: %w", r, err)
			}
		}
		known := torque
		if known == nil {
			known = left.escs.Torque
		}
		trials = append(trials, tryRig(f.escs, k, left.law, known))
	}
	return trials, nil
}

// tryLaw predicts every motor by one law, its props known from a fit.
func tryLaw(f *rig.Fit, law physics.MotorLaw, all rig.Solution) []rigTrial {
	var trials []rigTrial
	for k := range f.Rigs {
		if f.Has(k) {
			trials = append(trials, tryRig(f, k, law, all.Torque))
		}
	}
	return trials
}

// tryRig predicts one motor by a law, on the law's ESC.
func tryRig(f *rig.Fit, k int, law physics.MotorLaw, torque []float64) rigTrial {
	r := f.Rigs[k]
	t := rigTrial{rig: r, law: law}
	d := rig.Drive{Motor: rig.MotorOf(&law, r, rig.Effect{}), ESC: rig.ESCOf(&law, rig.Losses{})}
	for i := range f.Reads {
		read := &f.Reads[i]
		if read.Rig != k {
			continue
		}
		one := trialRead{Read: read, torqueLn: torque[read.Prop]}
		one.errors = read.Errors(&d, one.torqueLn, false)
		for _, row := range read.Part {
			v, _ := d.Motor.VoltageV(math.Exp(one.torqueLn)*rig.TorqueOf(read.Propeller, row.SpeedRadS), row.SpeedRadS)
			one.duty = append(one.duty, v/row.VoltageV)
		}
		t.reads = append(t.reads, one)
	}
	return t
}

// full are all full-throttle errors of a motor in speed and current.
func (t *rigTrial) full() (speed, current []float64) {
	for _, r := range t.reads {
		speed, current = append(speed, r.errors.Speed...), append(current, r.errors.Current...)
	}
	return speed, current
}

// part are the errors in supplied power at duties in [low, high).
func (t *rigTrial) part(low, high float64) (power []float64) {
	for _, r := range t.reads {
		for i, d := range r.duty {
			if d >= low && d < high {
				power = append(power, r.errors.Power[i])
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

// bias is the median of predicted over measured, less one.
func (w weighted) bias() float64 {
	if len(w) == 0 {
		return math.NaN()
	}
	e := slices.Clone(w)
	slices.SortFunc(e, func(a, b weightedLog) int { return cmp.Compare(a.ln, b.ln) })
	var total, sum float64
	for _, x := range e {
		total += x.weight
	}
	for _, x := range e {
		if sum += x.weight; sum >= total/2 {
			return math.Expm1(-x.ln)
		}
	}
	return math.Expm1(-e[len(e)-1].ln)
}

// signed are the errors with their bias, predicted over measured.
func (w weighted) signed() string { return fmt.Sprintf("%v (%+.0f)", w, 100*w.bias()) }

// statorSizes are the classes of motors, by the stator's diameter in mm.
var statorSizes = [...]struct {
	name      string
	low, high float64
}{{"8 to 11 mm", 0, 11.5}, {"12 to 20 mm", 11.5, 20.5}, {"22 to 25 mm", 20.5, 99}}

// ofSize are the trials of motors of a class.
func ofSize(trials []rigTrial, size int) []rigTrial {
	return slices.DeleteFunc(slices.Clone(trials), func(t rigTrial) bool {
		mm := t.rig.StatorM * 1000
		return mm < statorSizes[size].low || mm >= statorSizes[size].high
	})
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

// cover draws the motor's kV, resistance, loss and rotor current and the ESC's losses about the left-out law.
func cover(trials []rigTrial, sd rig.Effect, rotorLnSD float64, together uncertain.MotorCorrelation) rigCoverage {
	budget := uncertain.Budget{MotorCorrelation: together}
	budget.LnSD[uncertain.MotorSpeed], budget.LnSD[uncertain.MotorResistance] = sd.Speed, sd.Resistance
	budget.LnSD[uncertain.MotorLoss], budget.LnSD[uncertain.RotorModel] = sd.Loss, rotorLnSD
	esc := rig.MotorLaw().ESC(0)
	esc.Put(&budget)
	random := rand.New(rand.NewPCG(1, 2))
	var c rigCoverage
	for i := range trials {
		t := &trials[i]
		var kinds []*float64 // of every error, in the order in which the model gives them
		var speeds, powers float64
		for _, r := range t.reads {
			for range r.Full {
				kinds = append(kinds, &c.speed, &c.current)
				speeds++
			}
			for range r.Part {
				kinds = append(kinds, &c.power)
				powers++
			}
		}
		drawn := uncertain.Propagate(func(d *uncertain.Deviation, values []float64) {
			e := rig.Effect{Speed: d[uncertain.MotorSpeed], Resistance: d[uncertain.MotorResistance],
				Loss: d[uncertain.MotorLoss]}
			drive := rig.Drive{Motor: rig.MotorOf(&t.law, t.rig, e), ESC: rig.ESCOf(&t.law, rig.Losses{})}
			drive.ESC.Deviate(d)
			at := 0
			for j := range t.reads {
				got := t.reads[j].Read.Errors(&drive, t.reads[j].torqueLn+d[uncertain.RotorModel], false)
				for k := range got.Speed {
					values[at], values[at+1] = got.Speed[k], got.Current[k]
					at += 2
				}
				at += copy(values[at:], got.Power)
			}
		}, len(kinds), &budget, randomDraws(&budget, random), nil)
		for k, kind := range kinds {
			// A reading lies inside the interval of predictions if zero lies inside that of errors.
			low, high := uncertain.Quantile(drawn.Drawn(k), uncertain.LowShare), uncertain.Quantile(drawn.Drawn(k),
				uncertain.HighShare)
			if low <= 0 && high >= 0 {
				n := speeds
				if kind == &c.power {
					n = powers
				}
				*kind += 1 / n
			}
		}
		if speeds > 0 {
			c.full++
		}
		if powers > 0 {
			c.part++
		}
	}
	c.speed, c.current, c.power = c.speed/float64(c.full), c.current/float64(c.full), c.power/float64(c.part)
	return c
}

// throttleExponents are ln duty over ln throttle of part-throttle rows near half throttle, one
// median a run, for stands whose throttle reaches full duty at its end.
func throttleExponents(f *rig.Fit, s rig.Solution) (names []string, exponents []float64) {
	for k, r := range f.Rigs {
		m := rig.MotorOf(&s.Law, r, s.Effects[k])
		var x []float64
		for i := range f.Reads {
			read := &f.Reads[i]
			if read.Rig != k {
				continue
			}
			for _, row := range read.Part {
				if row.Throttle < 0.3 || row.Throttle > 0.7 {
					continue
				}
				v, _ := m.VoltageV(math.Exp(s.Torque[read.Prop])*rig.TorqueOf(read.Propeller, row.SpeedRadS), row.SpeedRadS)
				x = append(x, math.Log(v/row.VoltageV)/math.Log(row.Throttle))
			}
		}
		if len(x) > 0 {
			names, exponents = append(names, r.String()), append(exponents, residual.Median(x))
		}
	}
	return names, exponents
}
