package rig

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// Read is a run made ready for the fit.
type Read struct {
	Rig, Prop  int
	Propeller  *rotor.Propeller
	Full, Part []Row
	torqueLn   float64 // ln of torque read over torque by label
	hasTorque  bool
}

// Fit is the joint fit of law, motors, ESCs and props: each motor has its own kV, resistance and loss, each kind
// of ESC its own losses at part throttle, each prop its own torque; the law is what is common.
type Fit struct {
	Rigs  []*Rig
	Reads []Read
	Props []string
	Sd    Effect   // of motors about the law
	ESCs  []string // kinds
	esc   []int    // of each rig
	// Start is the law that the fit begins with, and LossesAlone holds all of it but the losses of ESCs.
	Start       physics.MotorLaw
	LossesAlone bool
	// Out reports whether a motor is left out; nil leaves none out.
	Out func(rig int) bool
}

// Standard deviations of readings, of one prop's torque about its label, and of a torque sensor.
const (
	rigSpeedSD    = 0.015
	escLossSD     = 0.22 // of the part-throttle loss from ESC to ESC
	escRippleLnSD = 0.4
	rigCurrentSD  = 0.04
	rigPowerSD    = 0.05
	propTorqueSD  = 0.40
	sensorSD      = 0.10
	rowsPerMotor  = 25 // more rows than these count as so many
)

// NewFit makes rigs ready; esc names the kind of ESC that a rig counts with.
func NewFit(set *Set, law *rotor.Law, esc func(*Rig) string) (*Fit, error) {
	f := &Fit{Rigs: set.Rigs, Sd: Effect{0.04, 0.22, 0.40}, Start: StartRigLaw()}
	air, err := props.Laboratory()
	if err != nil {
		return nil, err
	}
	type size struct {
		diameterM, pitchM float64
		blades            int
	}
	made := map[size]*rotor.Propeller{}
	for k, r := range set.Rigs {
		at := slices.Index(f.ESCs, esc(r))
		if at < 0 {
			at = len(f.ESCs)
			f.ESCs = append(f.ESCs, esc(r))
		}
		f.esc = append(f.esc, at)
		for i := range r.Runs {
			run := &r.Runs[i]
			key := size{run.Spec.DiameterM, run.Spec.PitchM, run.Spec.Blades}
			propeller, ok := made[key]
			if !ok {
				if propeller, err = law.New(run.Spec, air); err != nil {
					return nil, err
				}
				made[key] = propeller
			}
			name := r.source + " " + run.Prop
			at := slices.Index(f.Props, name)
			if at < 0 {
				at = len(f.Props)
				f.Props = append(f.Props, name)
			}
			read := Read{Rig: k, Prop: at, Propeller: propeller}
			read.choose(run)
			if len(read.Full)+len(read.Part) > 0 {
				f.Reads = append(f.Reads, read)
			}
		}
	}
	return f, nil
}

// choose takes the full-throttle rows, two at most, and part-throttle rows from 30 % of the
// fastest speed up, each at most 84 % of the last one's speed.
func (r *Read) choose(run *rigRun) {
	rows := slices.Clone(run.Rows)
	slices.SortStableFunc(rows, func(a, b Row) int { return cmp.Compare(b.SpeedRadS, a.SpeedRadS) })
	last := math.Inf(1)
	trusted := trustedRPM * props.RPM
	if run.Spec.DiameterM < 3*props.MetresPerInch {
		trusted = trustedFewRPM * props.RPM
	}
	var torques []float64
	volts := -1.0
	for _, x := range rows {
		if x.SpeedRadS == 0 {
			continue
		}
		if x.TorqueNm > 0 && x.SpeedRadS > trusted {
			torques = append(torques, math.Log(x.TorqueNm/TorqueOf(r.Propeller, x.SpeedRadS)))
		}
		switch {
		case x.Full:
			if len(r.Full) < 4 && math.Abs(x.VoltageV-volts) > 0.05 {
				r.Full = append(r.Full, x)
				volts = x.VoltageV
			}
		case x.SpeedRadS > 0.3*rows[0].SpeedRadS && x.SpeedRadS > lowestRigRPM*props.RPM && x.SpeedRadS < 0.84*last:
			r.Part = append(r.Part, x)
			last = x.SpeedRadS
		}
	}
	if len(torques) > 0 {
		r.hasTorque, r.torqueLn = true, residual.Median(torques)
		r.torqueLn += run.lowLn
	}
}

// Freedoms are the law's free constants: steps and priors are of the logarithm.
var Freedoms = []struct {
	Name         string
	At           func(*physics.MotorLaw) *float64
	scale, prior float64
	OfESC        bool // not of motors
}{
	{"SpeedShare", func(l *physics.MotorLaw) *float64 { return &l.SpeedShare }, 0.01, 0, false},
	{"EscOhm", func(l *physics.MotorLaw) *float64 { return &l.EscOhm }, 0.3, 0.4, false},
	{"WindingShare", func(l *physics.MotorLaw) *float64 { return &l.WindingShare }, 0.1, 0, false},
	{"ConstantPower", func(l *physics.MotorLaw) *float64 { return &l.ConstantPower }, 0.03, 0.05, false},
	{"DoublingRadS", func(l *physics.MotorLaw) *float64 { return &l.DoublingRadS }, 0.3, 0.3, false},
	{"LossNmPerG", func(l *physics.MotorLaw) *float64 { return &l.LossNmPerG }, 0.1, 0, false},
	{"PartThrottleLoss", func(l *physics.MotorLaw) *float64 { return &l.PartThrottleLoss }, 0.1, 0, true},
	{"RippleW", func(l *physics.MotorLaw) *float64 { return &l.RippleW }, 0.2, 0.2, true},
}

const (
	heldPrior     = 1e-6 // of a constant that is held
	effectsPerRig = 3
	lossesPerESC  = 2
	constantMassG = 30 // a change of ConstantPower turns the law about this mass
)

// Solution is a fit's result.
type Solution struct {
	Law     physics.MotorLaw
	LawLnSD []float64
	Effects []Effect
	spread  []Effect  // standard deviations of effects
	Torque  []float64 // of props, ln about their label
	Losses  []Losses  // of kinds of ESC beside the law's
	X       []float64
}

func (f *Fit) unpack(x []float64) Solution {
	s := Solution{Law: f.Start, X: x}
	for i, free := range Freedoms {
		*free.At(&s.Law) *= math.Exp(x[i])
	}
	s.Law.Constant *= math.Pow(constantMassG, f.Start.ConstantPower-s.Law.ConstantPower)
	at := len(Freedoms)
	s.Torque = x[at : at+len(f.Props)]
	at += len(f.Props)
	for range f.ESCs {
		s.Losses = append(s.Losses, Losses{x[at], x[at+1]})
		at += lossesPerESC
	}
	for k := range f.Rigs {
		e := x[at+effectsPerRig*k:]
		s.Effects = append(s.Effects, Effect{e[0], e[1], e[2]})
	}
	return s
}

// Solve fits everything but the motors left out, from first if it is not nil.
func (f *Fit) Solve(first []float64) (Solution, error) {
	p := robust.Problem{First: first}
	add := func(scale, prior float64) {
		p.Start, p.Scale, p.Prior = append(p.Start, 0), append(p.Scale, scale), append(p.Prior, prior)
	}
	for _, free := range Freedoms {
		prior := free.prior
		if f.LossesAlone && !free.OfESC {
			prior = heldPrior
		}
		add(free.scale, prior)
	}
	for range f.Props {
		add(0.1, propTorqueSD)
	}
	for range f.ESCs {
		add(0.1, escLossSD)
		add(0.1, escRippleLnSD)
	}
	for range f.Rigs {
		add(f.Sd.Speed, f.Sd.Speed)
		add(f.Sd.Resistance, f.Sd.Resistance)
		add(f.Sd.Loss, f.Sd.Loss)
	}
	rows := make([]float64, len(f.Rigs))
	for _, r := range f.Reads {
		rows[r.Rig] += float64(2*len(r.Full) + len(r.Part))
	}
	for _, r := range f.Reads {
		w := math.Min(1, rowsPerMotor/rows[r.Rig])
		for range 2*len(r.Full) + len(r.Part) {
			p.Weights = append(p.Weights, w)
		}
		p.Weights = append(p.Weights, 1)
	}
	p.Residuals = func(x, res []float64) {
		s := f.unpack(x)
		i := 0
		for k := range f.Reads {
			r := &f.Reads[k]
			off := f.Out != nil && f.Out(r.Rig) || f.Rigs[r.Rig].Outlier
			d := Drive{MotorOf(&s.Law, f.Rigs[r.Rig], s.Effects[r.Rig]), ESCOf(&s.Law, s.Losses[f.esc[r.Rig]])}
			e := r.Errors(&d, s.Torque[r.Prop], off)
			for j := range r.Full {
				res[i], res[i+1] = e.Speed[j]/rigSpeedSD, e.Current[j]/rigCurrentSD
				i += 2
			}
			for j := range r.Part {
				res[i] = e.Power[j] / rigPowerSD
				i++
			}
			res[i] = 0
			if r.hasTorque {
				res[i] = (s.Torque[r.Prop] - r.torqueLn) / sensorSD
			}
			i++
		}
	}
	found, err := p.Solve()
	if err != nil {
		return Solution{}, err
	}
	s := f.unpack(found.X)
	s.LawLnSD = found.Sd[:len(Freedoms)]
	at := len(Freedoms) + len(f.Props) + lossesPerESC*len(f.ESCs)
	for k := range f.Rigs {
		e := found.Sd[at+effectsPerRig*k:]
		s.spread = append(s.spread, Effect{e[0], e[1], e[2]})
	}
	return s, nil
}

// Errors are ln of read over predicted.
type Errors struct{ Speed, Current, Power []float64 }

// Errors of a run for a motor on its ESC and ln of its prop's torque about the label; zeroes if it is off.
func (r *Read) Errors(d *Drive, torqueLn float64, off bool) Errors {
	e := Errors{make([]float64, len(r.Full)), make([]float64, len(r.Full)), make([]float64, len(r.Part))}
	if off {
		return e
	}
	for i := range r.Full {
		row := &r.Full[i]
		w, a := Turns(&d.Motor, r.Propeller, torqueLn, row.Duty*row.VoltageV)
		e.Speed[i] = math.Log(row.SpeedRadS / w)
		e.Current[i] = math.Log(row.CurrentA / d.ESC.SuppliedA(&d.Motor, row.Duty, row.VoltageV, a))
	}
	for i := range r.Part {
		row := &r.Part[i]
		torque := math.Exp(torqueLn) * TorqueOf(r.Propeller, row.SpeedRadS)
		e.Power[i] = math.Log(row.VoltageV * row.CurrentA / suppliedW(d, torque, row.SpeedRadS, row.VoltageV))
	}
	return e
}

// LearnSpread fits several times, each time taking the motors' spread about the law from their
// effects and what is not known of those (expectation maximisation).
func (f *Fit) LearnSpread() (Solution, error) {
	var s Solution
	for range 6 {
		var err error
		if s, err = f.Solve(s.X); err != nil {
			return s, err
		}
		var sum Effect
		var n float64
		for k, e := range s.Effects {
			if f.Rigs[k].Outlier || !f.Has(k) {
				continue
			}
			sum.Speed += e.Speed*e.Speed + s.spread[k].Speed*s.spread[k].Speed
			sum.Resistance += e.Resistance*e.Resistance + s.spread[k].Resistance*s.spread[k].Resistance
			sum.Loss += e.Loss*e.Loss + s.spread[k].Loss*s.spread[k].Loss
			n++
		}
		f.Sd = Effect{math.Sqrt(sum.Speed / n), math.Sqrt(sum.Resistance / n), math.Sqrt(sum.Loss / n)}
	}
	return s, nil
}

func (f *Fit) Has(k int) bool {
	return slices.ContainsFunc(f.Reads, func(r Read) bool { return r.Rig == k })
}
