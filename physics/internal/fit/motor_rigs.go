package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"partsaloft/physics/rotor"
)

// rigRow is one reading of a stand. Zero fields were not read.
type rigRow struct {
	throttle           float64 // 0 to 1
	voltageV, currentA float64 // at the ESC, from the supply
	speedRadS          float64
	thrustN, torqueNm  float64
	full               bool
	duty               float64 // of a full row
}

// rigRun are the readings of one motor with one prop.
type rigRun struct {
	prop, test string
	spec       rotor.Spec
	pitchKnown bool
	rows       []rigRow
	lowReading bool // thrust and torque of this run read low
}

// rig is one motor on one stand.
type rig struct {
	name, source    string
	statorM, tallM  float64
	labelKV, massKg float64 // mass by law
	runs            []rigRun
	outlier         bool
}

func (r *rig) String() string { return r.source + " " + r.name }

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

// rigSet is every motor stand, with what was left out of fits and why.
type rigSet struct {
	rigs, labelOnly []*rig
	skipped         []string
}

func loadRigs(folder string) (*rigSet, error) {
	t, err := readTable(folder, "thrust_tables.csv", "motor", "kv_rpm_per_v", "prop", "diameter_in", "pitch_in", "blades",
		"throttle_pct", "thrust_g", "voltage_v", "current_a", "rpm", "torque_nm", "source")
	if err != nil {
		return nil, err
	}
	s := &rigSet{}
	var sweep int
	var lastThrottle float64
	var lastMotor string
	for i := range t.rows {
		source, test, _ := strings.Cut(t.text(i, "source"), ":")
		motor, prop := t.text(i, "motor"), t.text(i, "prop")
		volts, okV := t.maybe(i, "voltage_v")
		amps, okA := t.maybe(i, "current_a")
		if !okV || !okA || amps <= 0 {
			continue
		}
		to := &s.rigs
		if why := skipRun(source, motor, prop, test); why != "" {
			line := fmt.Sprintf("%s %s %s %s: %s", source, motor, prop, test, why)
			if !slices.Contains(s.skipped, line) {
				s.skipped = append(s.skipped, line)
			}
			if !strings.HasPrefix(why, "torque or rpm") {
				continue
			}
			to = &s.labelOnly
		}
		r, err := rigOf(to, source, motor, t.number(i, "kv_rpm_per_v"))
		if err != nil {
			return nil, err
		}
		diameter, _ := t.maybe(i, "diameter_in")
		pitch, known := t.maybe(i, "pitch_in")
		blades, _ := t.maybe(i, "blades")
		if !known {
			pitch = guessedPitch(diameter)
		}
		throttle, _ := t.maybe(i, "throttle_pct")
		if source == "cao-strawson-2018" {
			if throttle < lastThrottle || motor != lastMotor {
				sweep++ // each prop was run on two supplies
			}
			test, lastThrottle, lastMotor = strconv.Itoa(sweep), throttle, motor
		}
		run := r.run(prop, test, label(diameter, pitch, int(blades)), known)
		run.lowReading = slices.Contains(badRuns, test)
		row := rigRow{voltageV: volts, currentA: amps, duty: 1}
		read := func(column string, scale float64) float64 { x, _ := t.maybe(i, column); return x * scale }
		row.throttle, row.speedRadS = throttle/100, read("rpm", rpm)
		row.thrustN, row.torqueNm = read("thrust_g", newtonPerGram), read("torque_nm", 1)
		row.full = row.throttle > 0.99
		switch {
		case source == "tyto-public-test-database" && motor == "2207-2600":
			row.full, row.duty = row.throttle > 0.96, lateFullDuty
		case volts > 14.6 && volts < 14.8 && run.lowReading:
			row.full = row.throttle >= earlyFull
		case source == "stand-2in-2020":
			row.full, row.duty = row.throttle > 0.95, row.throttle
		}
		run.rows = append(run.rows, row)
	}
	if err := t.err(); err != nil {
		return nil, err
	}
	return s, s.addSmallStand(folder)
}

// addSmallStand adds the motor of the 2-inch stand that the thrust tables leave out; its throttle
// was not recorded.
func (s *rigSet) addSmallStand(folder string) error {
	t, err := readTable(folder, "stand_2in_static.csv", "rpm", "thrust_n", "torque_nm", "voltage_v", "current_a", "motor")
	if err != nil {
		return err
	}
	r, err := rigOf(&s.rigs, "stand-2in-2020", "1105-6000", 6000)
	if err != nil {
		return err
	}
	run := r.run("2in x4 blades", "", label(2, guessedPitch(2), 4), false)
	for i := range t.rows {
		if strings.HasPrefix(t.text(i, "motor"), "1105-6000") {
			run.rows = append(run.rows, rigRow{voltageV: t.number(i, "voltage_v"), currentA: t.number(i, "current_a"),
				speedRadS: t.number(i, "rpm") * rpm, thrustN: t.number(i, "thrust_n"), torqueNm: t.number(i, "torque_nm"), duty: 1})
		}
	}
	return t.err()
}

// guessedPitch in inches stands in where a sheet does not say it: four-blade 2-inch props 2.4
// (as the prop fit takes it), others 0.85 of the diameter from 4.5 inch up and 0.62 below (common
// practice, no source).
func guessedPitch(diameterIn float64) float64 {
	switch {
	case diameterIn == 2:
		return 2.4
	case diameterIn >= 4.5:
		return 0.85 * diameterIn
	}
	return 0.62 * diameterIn
}

// rigOf finds or makes the rig of a motor on a stand.
func rigOf(list *[]*rig, source, motor string, kv float64) (*rig, error) {
	for _, r := range *list {
		if r.source == source && r.name == motor {
			return r, nil
		}
	}
	d, h, err := statorOf(motor)
	if err != nil {
		return nil, err
	}
	r := &rig{name: motor, source: source, statorM: d, tallM: h, labelKV: kv, massKg: motorLaw().Mass(d, h).Value,
		outlier: source == "cao-strawson-2018" && motor == "2206-2350"}
	*list = append(*list, r)
	return r, nil
}

// statorOf reads diameter and height in m from the four digits, and a fraction, that a motor's
// name begins with.
func statorOf(name string) (diameterM, heightM float64, err error) {
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

// run finds or makes the run of a prop in a test.
func (r *rig) run(prop, test string, spec rotor.Spec, pitchKnown bool) *rigRun {
	for i := range r.runs {
		if r.runs[i].prop == prop && r.runs[i].test == test {
			return &r.runs[i]
		}
	}
	r.runs = append(r.runs, rigRun{prop: prop, test: test, spec: spec, pitchKnown: pitchKnown})
	return &r.runs[len(r.runs)-1]
}
