package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/physics"
)

// motorLaw are the constants of motor and ESC, with m the mass in g and w the speed in rad/s:
//
//	ke = 60/(2 pi SpeedShare kV),  Rw = ke²/(Constant m^ConstantPower)²
//	Re = ESC + Winding Rw (1 + w/ResistanceSpeed),  T_loss = Loss m (w/2000)^LossPower
//	I = (Q + T_loss)/ke,  d V = ke w + Re I,  I_bus = d I (1 + PartLoss (1 − d))
type motorLaw struct {
	SpeedShare, Constant, ConstantPower, ESC, Winding, ResistanceSpeed, Loss, LossPower, PartLoss float64
}

// startLaw is where the fit begins and what its priors hold to.
func startLaw() motorLaw {
	return motorLaw{0.945, 0.66e-3, 0.915, 0.011, 0.935, 3700, 0.165e-3, 0.41, 0.3}
}

// reading is one row of a motor stand.
type reading struct {
	duty                float64 // 1 at full throttle, 0 unknown
	volts, amps         float64
	speedRadS           float64 // 0: not read
	thrustN             float64
	torqueNm            float64 // 0: not read
	prop                string
	diameterIn, pitchIn float64
	blades              int
	source              string
}

// motor is all rows of one motor, the unit that is left out.
type motor struct {
	name     string
	kv       float64
	diameter float64 // stator, m
	height   float64
	massKg   float64 // 0: by law
	rows     []reading
	props    map[string]*physics.Propeller
}

// suspectMotors do not count in fits: outliers under every law, or rpm read by a wrong pole count.
var suspectMotors = []string{"2206-2350", "2305-2450"}

// stator reads diameter and height of a stator from a motor's name.
func stator(name string) (diameterM, heightM float64, err error) {
	size, _, _ := strings.Cut(name, "-")
	size = strings.TrimRight(size, "ab")
	var d, h float64
	if _, err := fmt.Sscanf(size[:2]+" "+size[2:], "%f %f", &d, &h); err != nil {
		return 0, 0, fmt.Errorf("motor %q: its name must begin with the stator, such as 2207: %w", name, err)
	}
	return d / 1000, h / 1000, nil
}

// loadMotors reads the motor stands. Rows of runs whose thrust or rpm is known to be wrong keep
// their volts and amps but count for nothing here, and are left out.
func loadMotors(folder string, law *physics.PropLaw) ([]motor, error) {
	t, err := readTable(folder, "thrust_tables.csv", "motor", "kv_rpm_per_v", "prop", "diameter_in", "pitch_in", "blades",
		"throttle_pct", "thrust_g", "voltage_v", "current_a", "rpm", "torque_nm", "source")
	if err != nil {
		return nil, err
	}
	index := map[string]int{}
	var ms []motor
	for i := range t.rows {
		name := t.text(i, "motor")
		source, test, _ := strings.Cut(t.text(i, "source"), ":")
		if slices.Contains(badRuns, test) || name == "1806-2500" && (t.text(i, "prop") == "5x4x2" || t.text(i, "prop") == "5x4x3b") {
			continue
		}
		volts, okV := t.maybe(i, "voltage_v")
		amps, okA := t.maybe(i, "current_a")
		grams, okT := t.maybe(i, "thrust_g")
		throttle, okD := t.maybe(i, "throttle_pct")
		if !okV || !okA || !okT || !okD || grams <= 0 || amps <= 0 {
			continue
		}
		k, ok := index[name]
		if !ok {
			d, h, err := stator(name)
			if err != nil {
				return nil, err
			}
			k = len(ms)
			index[name] = k
			ms = append(ms, motor{name: name, kv: t.number(i, "kv_rpm_per_v"), diameter: d, height: h, props: map[string]*physics.Propeller{}})
		}
		r := reading{volts: volts, amps: amps, thrustN: grams * newtonPerGram, source: source, prop: t.text(i, "prop"),
			diameterIn: t.number(i, "diameter_in"), blades: int(t.number(i, "blades"))}
		r.pitchIn, _ = t.maybe(i, "pitch_in")
		if strings.HasPrefix(name, "1108") && r.pitchIn == 0 {
			r.pitchIn = 2.4
		}
		speed, _ := t.maybe(i, "rpm")
		r.speedRadS = speed * rpm
		r.torqueNm, _ = t.maybe(i, "torque_nm")
		if throttle >= 99.5 {
			r.duty = 1
		}
		ms[k].rows = append(ms[k].rows, r)
	}
	if err := t.err(); err != nil {
		return nil, err
	}
	air, err := laboratory()
	if err != nil {
		return nil, err
	}
	air.DensityKgM3 = standDensity
	for i := range ms {
		if err := ms[i].makeProps(law, air); err != nil {
			return nil, err
		}
	}
	return ms, nil
}

// makeProps gives every prop of the motor its measured thrust and, where it was read, torque.
func (m *motor) makeProps(law *physics.PropLaw, air physics.Air) error {
	for _, r := range m.rows {
		key := r.source + r.prop
		if m.props[key] != nil || r.pitchIn == 0 {
			continue
		}
		spec := label(r.diameterIn, r.pitchIn, r.blades)
		most := 0.0
		for _, o := range m.rows {
			if o.source+o.prop == key {
				most = math.Max(most, o.thrustN)
			}
		}
		for _, o := range m.rows {
			if o.source+o.prop == key && o.speedRadS > 0 && o.thrustN > 0.5*most {
				spec.Bench = append(spec.Bench, physics.BenchPoint{SpeedRadS: o.speedRadS, ThrustN: o.thrustN, TorqueNm: o.torqueNm, DensityKgM3: standDensity})
			}
		}
		p, err := law.New(spec, air)
		if err != nil {
			return fmt.Errorf("%s with %s: %w", m.name, r.prop, err)
		}
		m.props[key] = p
	}
	return nil
}

// shaft is a motor under a law.
type shaft struct {
	law                *motorLaw
	ke, winding, grams float64
}

func (l *motorLaw) shaft(m *motor) shaft {
	grams := m.massKg * 1000
	if grams == 0 {
		grams = physics.EstimateMotorMass(m.diameter, m.height).Value * 1000
	}
	ke := 60 / (2 * math.Pi * l.SpeedShare * m.kv)
	km := l.Constant * math.Pow(grams, l.ConstantPower)
	return shaft{l, ke, ke * ke / (km * km), grams}
}

// at gives motor current and mean voltage for a torque at a speed.
func (s *shaft) at(torqueNm, speedRadS float64) (volts, amps float64) {
	loss := s.law.Loss * s.grams * math.Pow(speedRadS/2000, s.law.LossPower)
	amps = (torqueNm + loss) / s.ke
	return s.ke*speedRadS + (s.law.ESC+s.law.Winding*s.winding*(1+speedRadS/s.law.ResistanceSpeed))*amps, amps
}

// fullThrottle finds the speed at which the motor turns a prop at a voltage.
func (s *shaft) fullThrottle(p *physics.Propeller, volts float64) (speedRadS, amps float64, err error) {
	low, high := 0.05*volts/s.ke, volts/s.ke
	for range 60 {
		mid := (low + high) / 2
		_, q := p.Loads(mid, physics.Flow{})
		v, i := s.at(q, mid)
		amps = i
		if v < volts {
			low = mid
		} else {
			high = mid
		}
	}
	if high >= volts/s.ke*(1-1e-9) {
		return 0, 0, errors.New("no speed balances the prop")
	}
	return high, amps, nil
}
