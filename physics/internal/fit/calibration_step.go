package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/calibration"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

const (
	standDraws = 300
	propDraws  = 200
)

// standLaws are the laws fitted without a stand.
type standLaws struct {
	s    *study
	set  *rig.Set
	made map[string]*calibration.Laws
}

// familiesOf are the families of props that were run on a stand: two data sets of one tester are left out together.
func familiesOf(s *study, stand string) []string {
	first, _, _ := strings.Cut(stand, "-")
	out := []string{first}
	switch {
	case first == "tyto":
		out = append(out, "stand5")
	case strings.HasPrefix(stand, "stand-2in"):
		out = append(out, "stand2")
	}
	return slices.DeleteFunc(out, func(f string) bool { return !slices.Contains(s.families(), f) })
}

// without gives the laws fitted without a stand: its motors, its props and its families. Two things still know them a
// little: props' torque in the motors' fit is that of the law of all, and the priors of the props' law are of all too.
func (l *standLaws) without(stand string) (*calibration.Laws, error) {
	stand, _, _ = strings.Cut(stand, " ")
	if laws, ok := l.made[stand]; ok {
		return laws, nil
	}
	laws := &calibration.Laws{Prop: l.s.law, Motor: physics.DefaultMotorLaw()}
	if families := familiesOf(l.s, stand); len(families) > 0 {
		law, err := l.s.without(func(p *props.Prop) bool { return slices.Contains(families, p.Family) })
		if err != nil {
			return nil, fmt.Errorf("prop law without %s: %w", stand, err)
		}
		laws.Prop = law
	}
	others := &rig.Set{}
	for _, r := range l.set.Rigs {
		if r.Source() != stand {
			others.Rigs = append(others.Rigs, r)
		}
	}
	if len(others.Rigs) < len(l.set.Rigs) {
		f, err := motorFitOfStands(others)
		if err != nil {
			return nil, err
		}
		found, err := f.solve(nil, nil)
		if err != nil {
			return nil, fmt.Errorf("motor law without %s: %w", stand, err)
		}
		laws.Motor = found.law
	}
	l.made[stand] = laws
	return laws, nil
}

// calibrated is everything that calibration measures on stands and props.
type calibrated struct {
	study  *study
	left   calibration.LeftLaw
	curves int
	stands *calibration.Stands
	label  *calibration.PropCases
	pairs  calibration.Compared
}

func newCalibration(folder string) (*calibrated, error) {
	s, err := newStudy(folder)
	if err != nil {
		return nil, err
	}
	if err := s.leaveOut(); err != nil {
		return nil, err
	}
	if err := s.learnBench(); err != nil {
		return nil, err
	}
	set, err := rig.Load(folder)
	if err != nil {
		return nil, err
	}
	laws := &standLaws{s, set, map[string]*calibration.Laws{}}
	curves, err := calibration.Load(folder)
	if err != nil {
		return nil, err
	}
	c := &calibrated{study: s, curves: len(curves)}
	c.left = func(family string) *rotor.Law { law := s.left[family]; return &law }
	if c.stands, err = calibration.TryStands(curves, laws.without, s.air, standDraws); err != nil {
		return nil, err
	}
	if c.label, err = calibration.TryProps(s.props, c.left, props.FromLabel, s.air, propDraws); err != nil {
		return nil, err
	}
	c.pairs = c.stands.Pairs()
	c.label.AddPairs(c.pairs)
	return c, nil
}

// printCalibration prints how far physics can tell builds apart and how true its doubts are.
func printCalibration(w io.Writer, folder string) error {
	c, err := newCalibration(folder)
	if err != nil {
		return err
	}
	s, left, stands := c.study, c.left, c.stands
	fmt.Fprintf(w, "Order of pairs on one stand, the stand left out of prop and motor laws whole; %d curves; every "+
		"curve counts alike\n\n",
		c.curves)
	calibration.PrintOrder(w, c.pairs)
	fmt.Fprint(w, "\nShare of draws that a pair keeps its order, and how often it was right\n\n")
	calibration.PrintBands(w, c.pairs)
	fmt.Fprint(w, "\nProps, families left out of the fit; spreads are the code's\n\n")
	calibration.CoverageHead(w)
	calibration.PrintProps(w, "label", c.label)
	for _, k := range []props.Knowledge{props.FromChord, props.FromStation, props.FromStations} {
		known, err := calibration.TryProps(s.props, left, k, s.air, propDraws)
		if err != nil {
			return err
		}
		calibration.PrintProps(w, k.String(), known)
	}
	for _, torque := range []bool{false, true} {
		name := "one bench point, thrust"
		if torque {
			name += " and torque"
		}
		ct, cp, err := calibration.TryBench(s.props, left, torque, s.air, propDraws)
		if err != nil {
			return err
		}
		calibration.PrintCoverage(w, "CT after "+name, ct)
		calibration.PrintCoverage(w, "CP after "+name, cp)
	}
	fmt.Fprint(w, "\nMotor and prop from labels, stands left out whole; motors count alike\n\n")
	calibration.PrintStands(w, stands)
	if err := printMotorCover(w, folder); err != nil {
		return err
	}
	if err := printFlightCover(w, folder); err != nil {
		return err
	}
	fmt.Fprint(w, "\nWhat a reading in hover brings, stands left out whole, on curves with rpm; hover at a quarter of "+
		"full thrust\n\n")
	calibration.PrintReadings(w, stands)
	fmt.Fprint(w, "\nWhat a reading of a prop brings at other speeds than read, families left out\n\n")
	return calibration.PrintPropReadings(w, s.props, left, s.air)
}

// printMotorCover prints coverage of motors left out whose prop is known, by size.
func printMotorCover(w io.Writer, folder string) error {
	s, err := newMotorStudy(folder)
	if err != nil {
		return err
	}
	fmt.Fprint(w, "\nMotors left out one by one, the prop's torque known: errors as median / nine in ten (bias)\n\n")
	fmt.Fprintln(w, "| motors | number | rpm at full throttle | current | power, duty under 0.35 | 0.35 to 0.6 | "+
		"inside 80 %: rpm, current, part-throttle power |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|---|")
	for size := range len(statorSizes) + 1 {
		class, motors := "all", s.trials
		if size < len(statorSizes) {
			class, motors = statorSizes[size].name, ofSize(s.trials, size)
		}
		if len(motors) == 0 {
			continue
		}
		logs := func(of func(*rigTrial) []float64) string {
			var all []float64
			for i := range motors {
				if x := of(&motors[i]); len(x) > 0 {
					all = append(all, robust.Mean(x))
				}
			}
			return robust.Signed(all)
		}
		c := cover(motors, s.sd, rotorLnSD, s.together)
		fmt.Fprintf(w, "| %s | %d | %s | %s | %s | %s | %.0f, %.0f, %.0f %% |\n", class, len(motors), logs(fullSpeed),
			logs(fullCurrent), logs(func(t *rigTrial) []float64 { return t.part(0, 0.35) }),
			logs(func(t *rigTrial) []float64 { return t.part(0.35, 0.6) }),
			100*c.speed, 100*c.current, 100*c.power)
	}
	return nil
}

// printFlightCover prints errors and coverage of timed flights by size, crafts left out of the two constants.
func printFlightCover(w io.Writer, folder string) error {
	rows, err := loadFlown(folder)
	if err != nil {
		return err
	}
	b, err := newFlownBuilder(rows)
	if err != nil {
		return err
	}
	flights, err := timedFlights(rows, b)
	if err != nil {
		return err
	}
	logs, says := leaveCrafts(flights)
	var share uncertain.Budget
	physics.ShareSpread(&share)
	k := fitBoth(flights, "")
	fmt.Fprint(w, "\nTimed flights, crafts left out of the two constants (intervals with those of all)\n\n")
	fmt.Fprintln(w, "| crafts | flights that say something | error, median / nine in ten (bias) | inside the 80 % "+
		"interval, crafts counting alike |")
	fmt.Fprintln(w, "|---|---|---|---|")
	for _, class := range append(flownClasses(), "all") {
		var some []timedFlight
		var errors []float64
		for i := range flights {
			if class != "all" && flights[i].class() != class {
				continue
			}
			some = append(some, flights[i])
			if says[i] {
				errors = append(errors, logs[i])
			}
		}
		in, crafts := coverFlights(some, k, share.LnSD[uncertain.FlyingPower], rand.New(rand.NewPCG(7, 8)))
		fmt.Fprintf(w, "| %s | %d | %s | %.0f %% of %d |\n", class, len(errors), robust.Signed(errors), 100*in, crafts)
	}
	return nil
}
