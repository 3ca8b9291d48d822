package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

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

// motorFit is the law with one more unknown a source: the error in CP of its props, where torque
// was not read.
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
	speed, current, thrust []float64 // at full throttle
	bus                    []float64 // current at part throttle, at the speed read
	duty                   []float64 // of each bus value
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
		bent.PowerFactor *= math.Exp(offsets[r.source])
		if r.duty == 1 {
			speed, amps, thrust, err := s.fullThrottle(&bent, r.volts)
			if err != nil {
				continue
			}
			if r.speedRadS > 0 {
				out.speed = append(out.speed, math.Log(r.speedRadS/speed))
			}
			out.current = append(out.current, math.Log(r.amps/amps))
			out.thrust = append(out.thrust, math.Log(r.thrustN/thrust))
			continue
		}
		if r.speedRadS == 0 || r.thrustN < 0.15*m.most(r) {
			continue
		}
		v, amps := s.at(r.torque(p, offsets[r.source]), r.speedRadS)
		d := v / r.volts
		out.bus = append(out.bus, math.Log(r.amps/(d*amps*(1+l.PartLoss*(1-d)))))
		out.duty = append(out.duty, d)
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
	powerSD   = 0.12 // of a source's props
)

// fitMotors fits the law to motors, each counting once.
func fitMotors(ms []motor, first []float64) (motorFit, error) {
	var sources []string
	for i := range ms {
		for j := range ms[i].rows {
			if s := ms[i].rows[j].source; !slices.Contains(sources, s) {
				sources = append(sources, s)
			}
		}
	}
	slices.Sort(sources)
	p := robust{first: first}
	start := startLaw()
	for _, f := range motorFreedoms {
		x := *f.at(&start)
		if f.log {
			x = math.Log(x)
		}
		p.start, p.scale, p.prior = append(p.start, x), append(p.scale, f.scale), append(p.prior, f.prior)
	}
	for range sources {
		p.start, p.scale, p.prior = append(p.start, 0), append(p.scale, 0.1), append(p.prior, powerSD)
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
		for i, s := range sources {
			offsets[s] = x[len(motorFreedoms)+i]
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

// trusted leaves suspect motors out.
func trusted(ms []motor) []motor {
	return slices.DeleteFunc(slices.Clone(ms), func(m motor) bool { return slices.Contains(suspectMotors, m.name) })
}

// motorTrial is one motor predicted by a law fitted to the others.
type motorTrial struct {
	motor *motor
	standResiduals
}

func leaveMotors(ms []motor, full motorFit) ([]motorTrial, error) {
	var out []motorTrial
	for i := range ms {
		rest := slices.Concat(ms[:i:i], ms[i+1:])
		f, err := fitMotors(rest, nil)
		if err != nil {
			return nil, err
		}
		offsets := f.offsets
		if _, ok := offsets[ms[i].rows[0].source]; !ok {
			offsets = full.offsets // a source of its own: its props' power is not what is on trial
		}
		out = append(out, motorTrial{&ms[i], ms[i].residuals(&f.law, offsets)})
	}
	return out, nil
}

// printMotors prints the motor law, its left-out errors and the worst motors.
func printMotors(w io.Writer, ms []motor) error {
	good := trusted(ms)
	f, err := fitMotors(good, nil)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "// Motor law, fitted to %d motors; ± is the standard deviation, of ln where the constant is positive.\n", len(good))
	for i, m := range motorFreedoms {
		fmt.Fprintf(w, "%s = %.4g // ± %.2g\n", m.name, *m.at(&f.law), f.found.sd[i])
	}
	fmt.Fprintf(w, "// windingShare = %.3g is held; errors in ln CP of props by source: %v\n", f.law.Winding, f.offsets)
	trials, err := leaveMotors(good, f)
	if err != nil {
		return err
	}
	var speed, current, thrust, bus []float64
	for _, t := range trials {
		speed, current, thrust, bus = append(speed, t.speed...), append(current, t.current...), append(thrust, t.thrust...), append(bus, t.bus...)
	}
	fmt.Fprintf(w, "Motors left out, median / nine in ten over rows: full throttle rpm %s, current %s, thrust %s; part-throttle current %s\n",
		errorPair(speed), errorPair(current), errorPair(thrust), errorPair(bus))
	speed, current, thrust, bus = nil, nil, nil, nil
	slices.SortStableFunc(trials, func(a, b motorTrial) int { return cmp.Compare(b.worst(), a.worst()) })
	for _, t := range trials {
		one := func(to *[]float64, x []float64) string {
			if len(x) == 0 {
				return "   –          "
			}
			*to = append(*to, median(x))
			return fmt.Sprintf("%+.3f (%3d)", median(x), len(x))
		}
		fmt.Fprintf(w, "  %-10s ln measured/predicted: rpm %s current %s thrust %s part-throttle current %s\n", t.motor.name,
			one(&speed, t.speed), one(&current, t.current), one(&thrust, t.thrust), one(&bus, t.bus))
	}
	fmt.Fprintf(w, "One number a motor, spread that holds 80 %%: rpm %.3f, current %.3f, thrust %.3f, part-throttle current %.3f\n",
		spread80(speed), spread80(current), spread80(thrust), spread80(bus))
	return nil
}

// worst is the motor's largest median error in standard deviations.
func (t motorTrial) worst() float64 {
	most := 0.0
	for _, g := range []struct {
		x  []float64
		sd float64
	}{{t.speed, speedSD}, {t.current, currentSD}, {t.bus, busSD}} {
		if len(g.x) > 0 {
			most = math.Max(most, math.Abs(median(g.x))/g.sd)
		}
	}
	return most
}
