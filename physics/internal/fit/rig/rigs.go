// Package rig holds the motors of the thrust stands and the joint fit of the motor law to them.
package rig

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/rotor"
)

// Row is one reading of a stand. Zero fields were not read.
type Row struct {
	Throttle           float64 // 0 to 1
	VoltageV, CurrentA float64 // at the ESC, from the supply
	SpeedRadS          float64
	ThrustN, TorqueNm  float64
	Full               bool
	Duty               float64 // of a full row
}

// rigRun are the readings of one motor with one prop.
type rigRun struct {
	Prop, test string
	Spec       rotor.Spec
	pitchKnown bool
	Rows       []Row
	LowReading bool    // thrust and torque of this run read low
	lowLn      float64 // ln of true over read torque
}

// Rig is one motor on one stand.
type Rig struct {
	Name, source    string
	esc             string // kind of ESC where a stand had several
	StatorM, TallM  float64
	LabelKV, MassKg float64 // mass by law
	Runs            []rigRun
	Outlier         bool
}

func (r *Rig) String() string { return strings.TrimSpace(r.source + " " + r.Name + " " + r.esc) }

// Twin reports whether two rigs are the same motor on one stand.
func (r *Rig) Twin(other *Rig) bool { return r.source == other.source && r.Name == other.Name }

// Stand names the stand with its kind of ESC.
func (r *Rig) Stand() string { return strings.TrimSpace(r.source + " " + r.esc) }

// Source names the stand.
func (r *Rig) Source() string { return r.source }

// Known faults of the stands, see the notes of the reference figures.
const (
	lateFullDuty  = 0.90 // of the 2207-2600 at the end of its throttle
	lowTorqueLn   = 0.13 // what the torque of the low runs lacks
	earlyFull     = 0.84 // throttle at which the ESCs of the 14.7 V runs give all they have
	lowestRigRPM  = 4000.0
	trustedRPM    = 12000.0 // torque below is sensor offset on 5-inch stands,
	trustedFewRPM = 25000.0 // and below this on 2-inch ones
)

// skipRun says why a run does not count, "" if it does.
func skipRun(source, motor, prop, test string) string {
	switch {
	case source == "cao-strawson-2018" && motor == "1806-2500" && (prop == "5x4x2" || prop == "5x4x3b"):
		return "the two props look exchanged"
	case strings.HasPrefix(motor, "2305-2450"):
		return "rpm is wrong by a pole count"
	case test == "dk4":
		return "thrust and torque over rpm squared are 1.4 times those of like props: rpm reads low"
	case source == "maker-sheet" || source == "hobby-stand" || source == "mendeley-zgsvdtxnfh" ||
		source == "mini-quad-stand-tests":
		return "torque or rpm of the prop is not known: used as a check from labels"
	}
	return ""
}

// Set is every motor stand, with what was left out of fits and why.
type Set struct {
	Rigs, LabelOnly []*Rig
	Skipped         []string
}

// FullThrottle are the stands that give full throttle.
func (s *Set) FullThrottle() *Set {
	return &Set{Rigs: slices.DeleteFunc(slices.Clone(s.Rigs), func(r *Rig) bool { return r.source == largeStand })}
}

func Load(folder string) (*Set, error) {
	t, err := reference.Read(folder, "thrust_tables.csv", "motor", "kv_rpm_per_v", "prop", "diameter_in", "pitch_in",
		"blades",
		"throttle_pct", "thrust_g", "voltage_v", "current_a", "rpm", "torque_nm", "source")
	if err != nil {
		return nil, err
	}
	s := &Set{}
	var sweep int
	var lastThrottle float64
	var lastMotor string
	for i := range t.Rows {
		source, test, _ := strings.Cut(t.Text(i, "source"), ":")
		motor, prop := t.Text(i, "motor"), t.Text(i, "prop")
		volts, okV := t.Maybe(i, "voltage_v")
		amps, okA := t.Maybe(i, "current_a")
		if !okV || !okA || amps <= 0 {
			continue
		}
		to := &s.Rigs
		if why := skipRun(source, motor, prop, test); why != "" {
			line := fmt.Sprintf("%s %s %s %s: %s", source, motor, prop, test, why)
			if !slices.Contains(s.Skipped, line) {
				s.Skipped = append(s.Skipped, line)
			}
			if !strings.HasPrefix(why, "torque or rpm") {
				continue
			}
			to = &s.LabelOnly
		}
		r, err := RigOf(to, source, motor, t.Number(i, "kv_rpm_per_v"))
		if err != nil {
			return nil, err
		}
		diameter, _ := t.Maybe(i, "diameter_in")
		pitch, known := t.Maybe(i, "pitch_in")
		blades, _ := t.Maybe(i, "blades")
		if !known {
			pitch = GuessedPitch(diameter)
		}
		throttle, _ := t.Maybe(i, "throttle_pct")
		if source == "cao-strawson-2018" {
			if throttle < lastThrottle || motor != lastMotor {
				sweep++ // each prop was run on two supplies
			}
			test, lastThrottle, lastMotor = strconv.Itoa(sweep), throttle, motor
		}
		run := r.Run(prop, test, props.Label(diameter, pitch, int(blades)), known)
		if slices.Contains(props.BadRuns, test) {
			run.LowReading, run.lowLn = true, lowTorqueLn
		}
		row := Row{VoltageV: volts, CurrentA: amps, Duty: 1}
		read := func(column string, scale float64) float64 { x, _ := t.Maybe(i, column); return x * scale }
		row.Throttle, row.SpeedRadS = throttle/100, read("rpm", props.RPM)
		row.ThrustN, row.TorqueNm = read("thrust_g", props.NewtonPerGram), read("torque_nm", 1)
		row.Full = row.Throttle > 0.99
		switch {
		case source == "tyto-public-test-database" && motor == "2207-2600":
			row.Full, row.Duty = row.Throttle > 0.96, lateFullDuty
		case volts > 14.6 && volts < 14.8 && run.LowReading:
			row.Full = row.Throttle >= earlyFull
		case source == "stand-2in-2020":
			row.Full, row.Duty = row.Throttle > 0.95, row.Throttle
		}
		run.Rows = append(run.Rows, row)
	}
	if err := t.Err(); err != nil {
		return nil, err
	}
	if err := s.addSmallStand(folder); err != nil {
		return nil, err
	}
	return s, s.addlargeStand(folder)
}

// addSmallStand adds the motor of the 2-inch stand that the thrust tables leave out; its throttle
// was not recorded.
func (s *Set) addSmallStand(folder string) error {
	t, err := reference.Read(folder, "stand_2in_static.csv", "rpm", "thrust_n", "torque_nm", "voltage_v", "current_a",
		"motor")
	if err != nil {
		return err
	}
	r, err := RigOf(&s.Rigs, "stand-2in-2020", "1105-6000", 6000)
	if err != nil {
		return err
	}
	run := r.Run("2in x4 blades", "", props.Label(2, GuessedPitch(2), 4), false)
	for i := range t.Rows {
		if strings.HasPrefix(t.Text(i, "motor"), "1105-6000") {
			run.Rows = append(run.Rows, Row{VoltageV: t.Number(i, "voltage_v"), CurrentA: t.Number(i, "current_a"),
				SpeedRadS: t.Number(i, "rpm") * props.RPM, ThrustN: t.Number(i, "thrust_n"), TorqueNm: t.Number(i,
					"torque_nm"), Duty: 1})
		}
	}
	return t.Err()
}

// largeStand is the 7-inch stand: ESCs at part throttle, no row at full throttle.
const largeStand = "stand-7in"

// Notes of the 7-inch stand: leads between its voltmeter and the ESC, what its torque lacks, and where the idle current
// of one ESC and the error of another's meter no longer count.
const (
	largeLeadsOhm = 0.037
	largeTorqueLn = 0.063
	largeLowRPM   = 6000.0
)

// addlargeStand adds the 7-inch stand: three motors on five set-ups of ESCs, at part throttle up to nearly full.
func (s *Set) addlargeStand(folder string) error {
	t, err := reference.Read(folder, "stand_7in.csv", "motor", "kv_rpm_per_v", "esc", "prop", "diameter_in", "pitch_in",
		"blades",
		"rpm", "thrust_g", "torque_nm", "voltage_v", "current_a")
	if err != nil {
		return err
	}
	var r *Rig
	for i := range t.Rows {
		motor, esc, rpm := t.Text(i, "motor"), t.Text(i, "esc"), t.Number(i, "rpm")
		if r == nil || r.Name != motor || r.esc != esc {
			var alone []*Rig
			if r, err = RigOf(&alone, largeStand, motor, t.Number(i, "kv_rpm_per_v")); err != nil {
				return err
			}
			r.esc = esc
			s.Rigs = append(s.Rigs, r)
		}
		run := r.Run(t.Text(i, "prop"), "", props.Label(t.Number(i, "diameter_in"), t.Number(i, "pitch_in"),
			int(t.Number(i, "blades"))), true)
		run.lowLn = largeTorqueLn
		if amps := t.Number(i, "current_a"); rpm > largeLowRPM {
			run.Rows = append(run.Rows, Row{VoltageV: t.Number(i, "voltage_v") - largeLeadsOhm*amps, CurrentA: amps,
				SpeedRadS: rpm * props.RPM, ThrustN: t.Number(i, "thrust_g") * props.NewtonPerGram,
				TorqueNm: t.Number(i, "torque_nm"), Duty: 1})
		}
	}
	return t.Err()
}

// GuessedPitch in inches stands in where a sheet does not say it: four-blade 2-inch props 2.4
// (as the prop fit takes it), others 0.85 of the diameter from 4.5 inch up and 0.62 below (common
// practice, no source).
func GuessedPitch(diameterIn float64) float64 {
	switch {
	case diameterIn == 2:
		return 2.4
	case diameterIn >= 4.5:
		return 0.85 * diameterIn
	}
	return 0.62 * diameterIn
}

// RigOf finds or makes the rig of a motor on a stand.
func RigOf(list *[]*Rig, source, motor string, kv float64) (*Rig, error) {
	for _, r := range *list {
		if r.source == source && r.Name == motor {
			return r, nil
		}
	}
	d, h, err := StatorOf(motor)
	if err != nil {
		return nil, err
	}
	r := &Rig{Name: motor, source: source, StatorM: d, TallM: h, LabelKV: kv, MassKg: MotorLaw().Mass(d, h).Value,
		Outlier: source == "cao-strawson-2018" && motor == "2206-2350"}
	*list = append(*list, r)
	return r, nil
}

// StatorOf reads diameter and height in m from the four digits, and a fraction, that a motor's
// name begins with.
func StatorOf(name string) (diameterM, heightM float64, err error) {
	size, _, _ := strings.Cut(name, "-")
	size = strings.TrimRight(size, "abcdefghijklmnopqrstuvwxyz")
	if len(size) >= 4 {
		d, errD := strconv.ParseFloat(size[:2], 64)
		h, errH := strconv.ParseFloat(size[2:], 64)
		if errD == nil && errH == nil && d > 0 && h > 0 {
			return d / 1000, h / 1000, nil
		}
	}
	return 0, 0, fmt.Errorf("motor %q: its name must begin with the stator in mm, such as 2207 or 1303.5", name)
}

// Run finds or makes the run of a prop in a test.
func (r *Rig) Run(prop, test string, spec rotor.Spec, pitchKnown bool) *rigRun {
	for i := range r.Runs {
		if r.Runs[i].Prop == prop && r.Runs[i].test == test {
			return &r.Runs[i]
		}
	}
	r.Runs = append(r.Runs, rigRun{Prop: prop, test: test, Spec: spec, pitchKnown: pitchKnown})
	return &r.Runs[len(r.Runs)-1]
}
