package main

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// rigRead is a run made ready for the fit.
type rigRead struct {
	rig, prop  int
	propeller  *rotor.Propeller
	full, part []rigRow
	torqueLn   float64 // ln of torque read over torque by label
	hasTorque  bool
}

// rigFit is the joint fit of law, motors and props: each motor has its own kV, resistance and
// loss, each prop its own torque; the law is what is common.
type rigFit struct {
	rigs  []*rig
	reads []rigRead
	props []string
	sd    rigEffect // of motors about the law
	out   int       // motor left out, −1: none
}

// Standard deviations of readings, of one prop's torque about its label, and of a torque sensor.
const (
	rigSpeedSD   = 0.015
	rigCurrentSD = 0.04
	rigPowerSD   = 0.05
	propTorqueSD = 0.40
	sensorSD     = 0.10
	rowsPerMotor = 25 // more rows than these count as so many
)

func newRigFit(set *rigSet, law *rotor.Law) (*rigFit, error) {
	f := &rigFit{rigs: set.rigs, sd: rigEffect{0.04, 0.22, 0.40}, out: -1}
	air, err := laboratory()
	if err != nil {
		return nil, err
	}
	type size struct {
		diameterM, pitchM float64
		blades            int
	}
	made := map[size]*rotor.Propeller{}
	for k, r := range set.rigs {
		for i := range r.runs {
			run := &r.runs[i]
			key := size{run.spec.DiameterM, run.spec.PitchM, run.spec.Blades}
			propeller, ok := made[key]
			if !ok {
				if propeller, err = law.New(run.spec, air); err != nil {
					return nil, err
				}
				made[key] = propeller
			}
			name := r.source + " " + run.prop
			at := slices.Index(f.props, name)
			if at < 0 {
				at = len(f.props)
				f.props = append(f.props, name)
			}
			read := rigRead{rig: k, prop: at, propeller: propeller}
			read.choose(run)
			if len(read.full)+len(read.part) > 0 {
				f.reads = append(f.reads, read)
			}
		}
	}
	return f, nil
}

// choose takes the full-throttle rows, two at most, and part-throttle rows from 30 % of the
// fastest speed up, each at most 84 % of the last one's speed.
func (r *rigRead) choose(run *rigRun) {
	rows := slices.Clone(run.rows)
	slices.SortStableFunc(rows, func(a, b rigRow) int { return cmp.Compare(b.speedRadS, a.speedRadS) })
	last := math.Inf(1)
	trusted := trustedRPM * rpm
	if run.spec.DiameterM < 3*metresPerInch {
		trusted = trustedFewRPM * rpm
	}
	var torques []float64
	volts := -1.0
	for _, x := range rows {
		if x.speedRadS == 0 {
			continue
		}
		if x.torqueNm > 0 && x.speedRadS > trusted {
			torques = append(torques, math.Log(x.torqueNm/torqueOf(r.propeller, x.speedRadS)))
		}
		switch {
		case x.full:
			if len(r.full) < 4 && math.Abs(x.voltageV-volts) > 0.05 {
				r.full = append(r.full, x)
				volts = x.voltageV
			}
		case x.speedRadS > 0.3*rows[0].speedRadS && x.speedRadS > lowestRigRPM*rpm && x.speedRadS < 0.84*last:
			r.part = append(r.part, x)
			last = x.speedRadS
		}
	}
	if len(torques) > 0 {
		r.hasTorque, r.torqueLn = true, residual.Median(torques)
		if run.lowReading {
			r.torqueLn += lowTorqueLn
		}
	}
}

// rigFreedoms are the law's free constants: steps and priors are of the logarithm.
var rigFreedoms = []struct {
	name         string
	at           func(*physics.MotorLaw) *float64
	scale, prior float64
}{
	{"SpeedShare", func(l *physics.MotorLaw) *float64 { return &l.SpeedShare }, 0.01, 0},
	{"EscOhm", func(l *physics.MotorLaw) *float64 { return &l.EscOhm }, 0.3, 0.4},
	{"WindingShare", func(l *physics.MotorLaw) *float64 { return &l.WindingShare }, 0.1, 0},
	{"ConstantPower", func(l *physics.MotorLaw) *float64 { return &l.ConstantPower }, 0.03, 0.05},
	{"DoublingRadS", func(l *physics.MotorLaw) *float64 { return &l.DoublingRadS }, 0.3, 0.3},
	{"LossNmPerG", func(l *physics.MotorLaw) *float64 { return &l.LossNmPerG }, 0.1, 0},
	{"PartThrottleLoss", func(l *physics.MotorLaw) *float64 { return &l.PartThrottleLoss }, 0.1, 0},
}

const (
	effectsPerRig = 3
	constantMassG = 30 // a change of ConstantPower turns the law about this mass
)

// rigSolution is a fit's result.
type rigSolution struct {
	law     physics.MotorLaw
	lawLnSD []float64
	effects []rigEffect
	spread  []rigEffect // standard deviations of effects
	torque  []float64   // of props, ln about their label
	x       []float64
}

func (f *rigFit) unpack(x []float64) rigSolution {
	s := rigSolution{law: startRigLaw(), x: x}
	for i, free := range rigFreedoms {
		*free.at(&s.law) *= math.Exp(x[i])
	}
	s.law.Constant *= math.Pow(constantMassG, startRigLaw().ConstantPower-s.law.ConstantPower)
	at := len(rigFreedoms)
	s.torque = x[at : at+len(f.props)]
	at += len(f.props)
	for k := range f.rigs {
		e := x[at+effectsPerRig*k:]
		s.effects = append(s.effects, rigEffect{e[0], e[1], e[2]})
	}
	return s
}

// solve fits everything but the motor left out, from first if it is not nil.
func (f *rigFit) solve(first []float64) (rigSolution, error) {
	p := robust{first: first}
	add := func(scale, prior float64) {
		p.start, p.scale, p.prior = append(p.start, 0), append(p.scale, scale), append(p.prior, prior)
	}
	for _, free := range rigFreedoms {
		add(free.scale, free.prior)
	}
	for range f.props {
		add(0.1, propTorqueSD)
	}
	for range f.rigs {
		add(f.sd.speed, f.sd.speed)
		add(f.sd.resistance, f.sd.resistance)
		add(f.sd.loss, f.sd.loss)
	}
	rows := make([]float64, len(f.rigs))
	for _, r := range f.reads {
		rows[r.rig] += float64(2*len(r.full) + len(r.part))
	}
	for _, r := range f.reads {
		w := math.Min(1, rowsPerMotor/rows[r.rig])
		for range 2*len(r.full) + len(r.part) {
			p.weights = append(p.weights, w)
		}
		p.weights = append(p.weights, 1)
	}
	p.residuals = func(x, res []float64) {
		s := f.unpack(x)
		i := 0
		for k := range f.reads {
			r := &f.reads[k]
			off := r.rig == f.out || f.rigs[r.rig].outlier
			m := motorOf(&s.law, f.rigs[r.rig], s.effects[r.rig])
			e := r.errors(&m, s.torque[r.prop], off)
			for j := range r.full {
				res[i], res[i+1] = e.speed[j]/rigSpeedSD, e.current[j]/rigCurrentSD
				i += 2
			}
			for j := range r.part {
				res[i] = e.power[j] / rigPowerSD
				i++
			}
			res[i] = 0
			if r.hasTorque {
				res[i] = (s.torque[r.prop] - r.torqueLn) / sensorSD
			}
			i++
		}
	}
	found, err := p.solve()
	if err != nil {
		return rigSolution{}, err
	}
	s := f.unpack(found.x)
	s.lawLnSD = found.sd[:len(rigFreedoms)]
	at := len(rigFreedoms) + len(f.props)
	for k := range f.rigs {
		e := found.sd[at+effectsPerRig*k:]
		s.spread = append(s.spread, rigEffect{e[0], e[1], e[2]})
	}
	return s, nil
}

// rigErrors are ln of read over predicted.
type rigErrors struct{ speed, current, power []float64 }

// errors of a run for a motor and ln of its prop's torque about the label; zeroes if it is off.
func (r *rigRead) errors(m *physics.Motor, torqueLn float64, off bool) rigErrors {
	e := rigErrors{make([]float64, len(r.full)), make([]float64, len(r.full)), make([]float64, len(r.part))}
	if off {
		return e
	}
	for i := range r.full {
		row := &r.full[i]
		w, a := turns(m, r.propeller, torqueLn, row.duty*row.voltageV)
		e.speed[i], e.current[i] = math.Log(row.speedRadS/w), math.Log(row.currentA/m.BusCurrentA(row.duty, a))
	}
	for i := range r.part {
		row := &r.part[i]
		torque := math.Exp(torqueLn) * torqueOf(r.propeller, row.speedRadS)
		e.power[i] = math.Log(row.voltageV * row.currentA / suppliedW(m, torque, row.speedRadS, row.voltageV))
	}
	return e
}

// learnSpread fits several times, each time taking the motors' spread about the law from their
// effects and what is not known of those (expectation maximisation).
func (f *rigFit) learnSpread() (rigSolution, error) {
	var s rigSolution
	for range 6 {
		var err error
		if s, err = f.solve(s.x); err != nil {
			return s, err
		}
		var sum rigEffect
		var n float64
		for k, e := range s.effects {
			if f.rigs[k].outlier || !f.has(k) {
				continue
			}
			sum.speed += e.speed*e.speed + s.spread[k].speed*s.spread[k].speed
			sum.resistance += e.resistance*e.resistance + s.spread[k].resistance*s.spread[k].resistance
			sum.loss += e.loss*e.loss + s.spread[k].loss*s.spread[k].loss
			n++
		}
		f.sd = rigEffect{math.Sqrt(sum.speed / n), math.Sqrt(sum.resistance / n), math.Sqrt(sum.loss / n)}
	}
	return s, nil
}

func (f *rigFit) has(k int) bool {
	return slices.ContainsFunc(f.reads, func(r rigRead) bool { return r.rig == k })
}
