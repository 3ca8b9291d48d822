package series

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strconv"
	"strings"
	"testing"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// shed is an invented drawer of crafts from a whoop to a 7-inch.
const shed = `
motors:
  - {id: m08, stator: "0802", kv: 19500, mass_g: 2, cells: [1, 1]}
  - {id: m11, stator: "1103", kv: 8000, mass_g: 3.9, cells: [2, 3]}
  - {id: m14, stator: "1404", kv: 4600, mass_g: 9.2, cells: [3, 4]}
  - {id: m20, stator: "2004", kv: 3000, mass_g: 15, cells: [4, 6]}
  - {id: m23, stator: "2306", kv: 1750, mass_g: 32, cells: [4, 6]}
  - {id: m28, stator: "2806.5", kv: 1300, mass_g: 46, cells: [4, 6]}
props:
  - {id: p40, diameter_in: 1.575, pitch_in: 1.2, blades: 3}
  - {id: p20, size: 2x1.4x4}
  - {id: p30, size: 3x2.5x3}
  - {id: p35, size: 3.5x2.2x3}
  - {id: p51, size: 5.1x4.1x3}
  - {id: p70, size: 7x4x2}
packs:
  - {id: k1, size: 1S 450 80C}
  - {id: k2, size: 2S 450 75C}
  - {id: k4, size: 4S 650 95C}
  - {id: k4l, size: 4S 850 75C}
  - {id: k6, size: 6S 1300 120C}
  - {id: k6i, cells: 6, capacity_mah: 3000, discharge_c: 15, chemistry: liion}
frames:
  - {id: f1, mass_g: 6, max_prop_in: 1.6}
  - {id: f2, mass_g: 18, max_prop_in: 2}
  - {id: f3, mass_g: 38, max_prop_in: 3}
  - {id: f4, mass_g: 45, max_prop_in: 3.5}
  - {id: f5, mass_g: 105, max_prop_in: 5.1}
  - {id: f7, mass_g: 160, max_prop_in: 7}
boards:
  - {id: b, esc_current_a: 60, cells: [1, 6], mass_g: 8}
`

var hulls = []inventory.Parts{
	{Motor: "m08", Prop: "p40", Pack: "k1", Frame: "f1", Board: "b"},
	{Motor: "m11", Prop: "p20", Pack: "k2", Frame: "f2", Board: "b"},
	{Motor: "m14", Prop: "p30", Pack: "k4", Frame: "f3", Board: "b"},
	{Motor: "m20", Prop: "p35", Pack: "k4l", Frame: "f4", Board: "b"},
	{Motor: "m23", Prop: "p51", Pack: "k6", Frame: "f5", Board: "b"},
	{Motor: "m28", Prop: "p70", Pack: "k6i", Frame: "f7", Board: "b"},
}

func crafts(t testing.TB) []physics.Craft {
	t.Helper()
	d, err := inventory.Read("shed.yaml", strings.NewReader(shed))
	if err != nil {
		t.Fatal(err)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	var list []physics.Craft
	for i := range hulls {
		c, err := compat.Build(d, &hulls[i])
		if err != nil {
			t.Fatal(err)
		}
		prop, err := rotor.New(c.Prop.Spec(), air)
		if err != nil {
			t.Fatal(err)
		}
		craft, err := c.Craft(prop)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, craft)
	}
	return list
}

// point is one rotor at a thrust.
type point struct{ thrustN, speedRadS, voltageV, currentA float64 }

// simulator flies a craft: rotors in equilibrium with a thrust that is called for, a pack with two branches that relax,
// and sensors that are off. It shares the rotors' and motors' laws with physics and nothing with this room.
type simulator struct {
	craft  *physics.Craft
	table  []point
	rng    *rand.Rand
	stepS  float64
	ohm    float64 // of the pack, leads and plug
	branch [2]struct{ ohm, tauS, volts float64 }
	usedAs float64
	// capacityAs is the pack's true one; a flight starts at a share of it.
	capacityAs, startShare float64

	phases []phase
	now    []sample
	truth  []sample // of hover at each step
}

// phase is a part of a flight.
type phase struct {
	kind    string // ground, idle, hover, cruise, hard, punch, climb, descent
	lastsS  float64
	lift    float64 // thrust over weight
	unrest  float64 // sd of its logarithm
	tauS    float64
	torque  float64 // factor on torque for what speed costs
	speedMS float64
	tiltDeg float64
	climbMS float64
	fromS   float64
}

type sample struct {
	volts, amps, duty, rpm, speed, tilt, height, used float64
	kind                                              string
}

func newSimulator(c *physics.Craft, rng *rand.Rand) *simulator {
	s := &simulator{craft: c, rng: rng, stepS: 0.01}
	// From idle to what full throttle on a full pack gives and a little more.
	weight := c.MassKg() * physics.GravityMS2
	for x := 0.01; ; x *= 1.04 {
		t := x * weight / float64(c.Rotors)
		speed, torque, ok := c.Propeller.SpeedFor(t, rotor.Flow{})
		if !ok {
			break
		}
		v, i := c.Motor.VoltageV(torque, speed)
		s.table = append(s.table, point{t, speed, v, i})
		if v > 1.1*4.2*float64(c.Pack.Cells) || x > 40 {
			break
		}
	}
	ln := func(sd float64) float64 { return math.Exp(sd * rng.NormFloat64()) }
	s.ohm = (c.Pack.InternalOhm + c.Pack.LeadOhm) * ln(0.3)
	s.branch[0].ohm, s.branch[0].tauS = s.ohm*(0.1+0.25*rng.Float64()), 2+4*rng.Float64()
	s.branch[1].ohm, s.branch[1].tauS = s.ohm*(0.1+0.3*rng.Float64()), 15+30*rng.Float64()
	s.capacityAs = c.Pack.CapacityAs * ln(0.04)
	s.startShare = 0.93 + 0.07*rng.Float64()
	return s
}

func (s *simulator) at(thrustN float64) point {
	i := sort.Search(len(s.table), func(i int) bool { return s.table[i].thrustN >= thrustN })
	i = min(max(i, 1), len(s.table)-1)
	a, b := s.table[i-1], s.table[i]
	w := math.Min(math.Max((thrustN-a.thrustN)/(b.thrustN-a.thrustN), 0), 1)
	mix := func(x, y float64) float64 { return x + w*(y-x) }
	return point{thrustN, mix(a.speedRadS, b.speedRadS), mix(a.voltageV, b.voltageV), mix(a.currentA, b.currentA)}
}

// supply solves bus voltage, current and duty for one rotor's voltage and current, by Newton's method from the open
// voltage down: current falls with voltage, the less the higher that is. It returns false if full duty does not reach.
func (s *simulator) supply(openV, motorV, motorA float64) (volts, amps, duty float64, ok bool) {
	n := float64(s.craft.Rotors)
	k := s.craft.Board.PartThrottleLoss
	volts = openV
	for range 60 {
		duty = math.Min(motorV/volts, 1)
		amps = n*duty*motorA*(1+k*(1-duty)) + s.craft.ElectronicsW/volts
		slope := -s.craft.ElectronicsW / volts / volts // of the current
		if duty < 1 {
			slope -= n * duty * motorA * (1 + k - 2*k*duty) / volts
		}
		step := (openV - s.ohm*amps - volts) / (1 + s.ohm*slope)
		if 1+s.ohm*slope <= 0 || !(volts+step > 0.3*openV) {
			return 0, 0, 1, false
		}
		if math.Abs(step) < 1e-7 {
			break
		}
		volts += step
	}
	return volts, amps, duty, motorV <= volts*1.001
}

// run flies the phases.
func (s *simulator) run(phases []phase) {
	s.phases = phases
	weight := s.craft.MassKg() * physics.GravityMS2 / float64(s.craft.Rotors)
	cells := float64(s.craft.Pack.Cells)
	unrest, height, lift, tilt, speed := 0.0, 0.0, 0.02, 0.0, 0.0
	at := 0.0
	for i := range phases {
		p := &s.phases[i]
		p.fromS = at
		for step := 0; float64(step)*s.stepS < p.lastsS; step++ {
			at += s.stepS
			tau := p.tauS
			if tau == 0 {
				tau = 0.6
			}
			unrest += -unrest*s.stepS/tau + p.unrest*math.Sqrt(2*s.stepS/tau)*s.rng.NormFloat64()
			want := p.lift * math.Exp(unrest)
			if p.kind == "ground" || p.kind == "idle" {
				want, unrest = p.lift, 0
			}
			lift += (want - lift) * s.stepS / 0.06
			tilt += (p.tiltDeg - tilt) * s.stepS / 0.4
			speed += (p.speedMS - speed) * s.stepS / 0.8
			height = math.Max(height+p.climbMS*s.stepS, 0)
			share := s.startShare - s.usedAs/s.capacityAs
			open := cells * s.craft.Pack.Chemistry.CellV(share)
			for b := range s.branch {
				open -= s.branch[b].volts
			}
			torque := p.torque
			if torque == 0 {
				torque = 1
			}
			o := s.at(lift * weight)
			v, a, d, ok := s.supply(open, o.voltageV*math.Sqrt(torque), o.currentA*torque)
			if !ok || p.kind == "punch" {
				// Full throttle: the thrust that just takes all the voltage.
				low, high := 0.01*weight, s.table[len(s.table)-1].thrustN
				for range 40 {
					mid := (low + high) / 2
					o = s.at(mid)
					if _, _, _, ok := s.supply(open, o.voltageV, o.currentA); ok {
						low = mid
					} else {
						high = mid
					}
				}
				if lift*weight > low || p.kind == "punch" && lift*weight > 0.97*low {
					lift = low / weight
				} else {
					low = lift * weight
				}
				o = s.at(low)
				v, a, d, _ = s.supply(open, o.voltageV, o.currentA)
				if p.kind == "punch" {
					d = math.Max(d, 1)
				}
			}
			if p.kind == "ground" {
				a, d, o.speedRadS = s.craft.ElectronicsW/open, 0, 0
				v = open - s.ohm*a
			}
			for b := range s.branch {
				s.branch[b].volts += (s.branch[b].ohm*a - s.branch[b].volts) * s.stepS / s.branch[b].tauS
			}
			s.usedAs += a * s.stepS
			s.now = append(s.now, sample{v, a, d, o.speedRadS * 60 / (2 * math.Pi), speed, tilt, height, s.usedAs / 3.6, p.kind})
			h := s.at(weight)
			hv, ha, hd, _ := s.supply(open, h.voltageV, h.currentA)
			s.truth = append(s.truth, sample{volts: hv, amps: ha, duty: hd, rpm: h.speedRadS * 60 / (2 * math.Pi)})
		}
	}
}

// plan invents a flight: at rest, hover, a way of flying, hover in between and before landing.
func plan(rng *rand.Rand, way string, lastsS float64) []phase {
	u := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	// A hand lets the craft rise or sink by some 0.2 m/s and drift, which costs or saves hundredths of its power.
	hover := func(s float64) phase {
		rise := rng.NormFloat64()
		return phase{kind: "hover", lastsS: s, lift: 1 + 0.004*rise, unrest: u(0.015, 0.04), tauS: u(0.3, 0.8),
			torque: math.Exp(0.018 * rise), speedMS: u(0, 0.5), tiltDeg: u(1, 4), climbMS: 0.2 * rise}
	}
	list := []phase{{kind: "ground", lastsS: u(0, 20), lift: 0.01}, {kind: "idle", lastsS: u(0.5, 6), lift: u(0.02, 0.06)},
		{kind: "climb", lastsS: u(0.6, 1.5), lift: 1.15, unrest: 0.05, climbMS: 1.5}, hover(u(4, 15))}
	for s := 0.0; s < lastsS; {
		var p phase
		switch r := rng.Float64(); {
		case r < 0.12:
			p = hover(u(3, 10))
		case way == "hover":
			p = hover(u(5, 20))
		case r < 0.45 || way == "cruise" && r < 0.9:
			p = phase{kind: "cruise", lastsS: u(3, 12), lift: u(1.04, 1.35), unrest: u(0.05, 0.12), tauS: u(0.3, 1),
				torque: u(1, 1.3), speedMS: u(4, 14), tiltDeg: u(12, 40)}
		case r < 0.75 || way == "cruise":
			p = phase{kind: "hard", lastsS: u(2, 8), lift: u(1.2, 2), unrest: u(0.2, 0.4), tauS: u(0.2, 0.6), torque: u(1, 1.2),
				speedMS: u(5, 20), tiltDeg: u(20, 70)}
		case r < 0.9:
			p = phase{kind: "punch", lastsS: u(0.6, 2), lift: 50, speedMS: 8, tiltDeg: 15, climbMS: 8}
		default:
			p = phase{kind: "descent", lastsS: u(0.8, 2.5), lift: u(0.1, 0.5), unrest: 0.1, speedMS: 6, tiltDeg: 10, climbMS: -8}
		}
		list = append(list, p)
		s += p.lastsS
	}
	return append(list, hover(u(2, 6)), phase{kind: "descent", lastsS: u(1, 2), lift: 0.97, unrest: 0.03, climbMS: -0.7},
		phase{kind: "idle", lastsS: u(0.3, 2), lift: 0.03}, phase{kind: "ground", lastsS: u(0, 25), lift: 0.01})
}

// sensors are how a recording shows what happened.
type sensors struct {
	rateHz                     float64
	voltsGain, ampsGain        float64
	ampsOffsetA, ampsNoise     float64
	voltsStep, ampsStep        float64
	ampsLagS, voltsLagS        float64
	throttleStep, rpmNoise     float64
	hasRPM, hasMotion, hasUsed bool
	hasAmps                    bool
}

func inventSensors(rng *rand.Rand) sensors {
	pick := func(x ...float64) float64 { return x[rng.IntN(len(x))] }
	return sensors{rateHz: pick(10, 20, 50, 100, 200), voltsGain: 1 + voltsGainSD*rng.NormFloat64(),
		ampsGain: 1 + ampsGainSD*rng.NormFloat64(), ampsOffsetA: ampsOffsetSDA * rng.NormFloat64(),
		ampsNoise: pick(0.01, 0.03), voltsStep: pick(0.01, 0.01, 0.001, 0.1), ampsStep: pick(0.1, 0.01),
		ampsLagS: pick(0, 0.05, 0.15, 0.3), voltsLagS: pick(0, 0.05), throttleStep: pick(1, 0.1), rpmNoise: 0.01,
		hasRPM: rng.IntN(2) == 0, hasMotion: rng.IntN(2) == 0, hasUsed: rng.IntN(2) == 0, hasAmps: rng.IntN(6) > 0}
}

func round(x, step float64) float64 { return math.Round(x/step) * step }

// shown are the samples as sensors show them, at their rate.
func (s *simulator) shown(o *sensors) (at []float64, list []sample) {
	var amps, volts float64
	next := 0.0
	var used float64
	for i, x := range s.now {
		t := float64(i+1) * s.stepS
		if i == 0 {
			amps, volts = x.amps, x.volts
		}
		amps += (x.amps - amps) * math.Min(s.stepS/(o.ampsLagS+1e-9), 1)
		volts += (x.volts - volts) * math.Min(s.stepS/(o.voltsLagS+1e-9), 1)
		a := amps*o.ampsGain + o.ampsOffsetA
		used += math.Max(a, 0) * s.stepS / 3.6
		for t >= next {
			y := x
			y.volts = round(volts*o.voltsGain+0.005*s.rng.NormFloat64(), o.voltsStep)
			y.amps = round(math.Max(a*(1+o.ampsNoise*s.rng.NormFloat64()), 0), o.ampsStep)
			y.duty = round(100*physics.OutputThrottle.Shown(x.duty), o.throttleStep)
			switch {
			case x.kind == "ground":
				y.duty = 0
			case x.kind == "punch":
				y.duty = 100 // the stick is at its end
			}
			y.rpm = math.Round(x.rpm * (1 + o.rpmNoise*s.rng.NormFloat64()))
			y.speed = math.Abs(x.speed + 0.2*s.rng.NormFloat64())
			y.tilt = math.Abs(x.tilt + s.rng.NormFloat64())
			y.used = math.Floor(used)
			at, list = append(at, next), append(list, y)
			next += 1 / o.rateHz
		}
	}
	return at, list
}

// csv writes samples plainly.
func csv(at []float64, list []sample, o *sensors) string {
	var b strings.Builder
	b.WriteString("time (s),voltage (V)")
	if o.hasAmps {
		b.WriteString(",current (A)")
	}
	b.WriteString(",throttle (%)")
	if o.hasRPM {
		b.WriteString(",rpm 1,rpm 2,rpm 3,rpm 4")
	}
	if o.hasMotion {
		b.WriteString(",ground speed (m/s),tilt (deg)")
	}
	if o.hasUsed && o.hasAmps {
		b.WriteString(",used (mAh)")
	}
	b.WriteByte('\n')
	f := func(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	for i, y := range list {
		b.WriteString(f(at[i], 3) + "," + f(y.volts, 3))
		if o.hasAmps {
			b.WriteString("," + f(y.amps, 2))
		}
		b.WriteString("," + f(y.duty, 1))
		if o.hasRPM {
			for range 4 {
				b.WriteString("," + f(y.rpm, 0))
			}
		}
		if o.hasMotion {
			b.WriteString("," + f(y.speed, 2) + "," + f(y.tilt, 1))
		}
		if o.hasUsed && o.hasAmps {
			b.WriteString("," + fmt.Sprint(y.used))
		}
		b.WriteByte('\n')
	}
	return b.String()
}
