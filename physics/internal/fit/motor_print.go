package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/uncertain"
)

// motorStudy is the fit of the motor law and its trial on motors left out.
type motorStudy struct {
	set      *rig.Set
	fit      *motorFit
	whole    motorSolution
	trials   []rigTrial
	stands   []rigTrial // stands left out whole
	sd       rig.Effect // with the outlier counted in kV
	together uncertain.MotorCorrelation
}

// law is the one fitted.
func (s *motorStudy) law() *physics.MotorLaw { return &s.whole.law }

func newMotorStudy(folder string) (*motorStudy, error) {
	set, err := rig.Load(folder)
	if err != nil {
		return nil, err
	}
	s := &motorStudy{set: set}
	if s.fit, err = motorFitOfStands(set); err != nil {
		return nil, err
	}
	if s.whole, err = s.fit.solve(nil, nil); err != nil {
		return nil, err
	}
	if s.trials, err = leaveMotors(s.fit, &s.whole); err != nil {
		return nil, err
	}
	if s.stands, err = leaveStands(s.fit, &s.whole); err != nil {
		return nil, err
	}
	var speeds, ohms, losses []float64
	for k, e := range s.whole.motors.Effects {
		if s.fit.motors.Has(k) && !s.fit.motors.Rigs[k].Outlier {
			speeds, ohms, losses = append(speeds, e.Speed), append(ohms, e.Resistance), append(losses, e.Loss)
		}
	}
	s.together = uncertain.MotorCorrelation{SpeedResistance: robust.Correlation(speeds, ohms),
		SpeedLoss: robust.Correlation(speeds, losses), ResistanceLoss: robust.Correlation(ohms, losses)}
	s.sd = s.fit.motors.Sd
	sum, n := 0.0, 0.0
	for i := range s.trials {
		if !s.fit.fullThrottle(s.trials[i].rig) {
			continue
		}
		x := s.sd.Speed
		if s.trials[i].rig.Outlier {
			speed, _ := s.trials[i].full()
			x = residual.Median(speed)
		}
		sum, n = sum+x*x, n+1
	}
	s.sd.Speed = math.Sqrt(sum / n)
	return s, nil
}

// printMotor prints the motor law, its spreads, what it does on motors left out, and whole stands
// from labels alone.
func printMotor(w io.Writer, folder string) error {
	s, err := newMotorStudy(folder)
	if err != nil {
		return err
	}
	fmt.Fprintln(w, "// Motor and ESC law, fitted to motor stands; ± is the standard deviation of the logarithm.")
	for i, free := range rig.Freedoms {
		fmt.Fprintf(w, "%s: %.4g, // ± %.2g\n", free.Name, *free.At(s.law()), s.lawLnSD(i))
	}
	fmt.Fprintf(w, "Constant: %.4g, // N m/√W at 1 g\n", s.law().Constant)
	fmt.Fprintf(w, "// Motors about the law, standard deviations of ln; kV of all but the outlier %.3f\n",
		s.fit.motors.Sd.Speed)
	fmt.Fprintf(w, "motorSpeedLnSD = %.3f\nmotorResistanceLnSD = %.3f\nmotorLossLnSD = %.3f\n"+
		"motorSpeedResistance = %.2f\nmotorSpeedLoss = %.2f\nmotorResistanceLoss = %.2f\n",
		s.sd.Speed, s.sd.Resistance, s.sd.Loss, s.together.SpeedResistance, s.together.SpeedLoss, s.together.ResistanceLoss)
	if err := printSheets(w, folder, s); err != nil {
		return err
	}
	if err := printEffective(w, folder, s.law()); err != nil {
		return err
	}
	for _, c := range []struct {
		name string
		fit  *rig.Fit
		s    *rig.Solution
	}{{"stands", s.fit.escs, &s.whole.escs}, {"set-ups", s.fit.kinds, &s.whole.kinds}} {
		fmt.Fprintf(w, "ESCs, %s counting once: part-throttle loss %.2f, ripple %.1f W\n", c.name, c.s.Law.PartThrottleLoss,
			c.s.Law.RippleW)
		var draws []float64
		for k, name := range c.fit.ESCs {
			loss := c.s.Law.PartThrottleLoss + c.s.Losses[k].Part
			draws = append(draws, math.Log(1+loss))
			fmt.Fprintf(w, "  %-32s %.2f, ripple %+.2f of ln\n", name, loss, c.s.Losses[k].Ripple)
		}
		fmt.Fprintf(w, "  partThrottleLnSD, the spread of ln of 1 + k: %.3f\n", stat.StdDev(draws, nil))
	}
	s.printTrials(w)
	s.printThrottle(w)
	fmt.Fprintln(w, "Full throttle from labels alone, stands of the fit; one prop's CT and CP err by 10 to 20 %")
	labels, err := fromLabels(s.set.Rigs)
	if err != nil {
		return err
	}
	printLabelTrials(w, labels)
	fmt.Fprintln(w, "and stands that no fit saw")
	if labels, err = fromLabels(s.set.LabelOnly); err != nil {
		return err
	}
	printLabelTrials(w, labels)
	fmt.Fprintln(w, "Left out of fits")
	for _, line := range s.set.Skipped {
		fmt.Fprintln(w, "  "+line)
	}
	return nil
}

// printSizes prints power at part throttle by the motors' size, by duty.
func (s *motorStudy) printSizes(w io.Writer, name string, trials []rigTrial) {
	fmt.Fprintf(w, "Power at given torque and rpm by size, %s: duty under 0.35; to 0.6; beyond\n", name)
	for k, size := range statorSizes {
		fmt.Fprintf(w, "  %-12s", size.name)
		for _, d := range [][2]float64{{0, 0.35}, {0.35, 0.6}, {0.6, 1.2}} {
			p, n := motorErrors(ofSize(trials, k), func(t *rigTrial) []float64 { return t.part(d[0], d[1]) })
			fmt.Fprintf(w, "  %2d motors %s;", n, p.signed())
		}
		fmt.Fprintln(w)
	}
}

// lawLnSD is how well a constant of the law is known, by the step that fitted it.
func (s *motorStudy) lawLnSD(i int) float64 {
	if rig.Freedoms[i].OfESC {
		return s.whole.escs.LawLnSD[i]
	}
	return s.whole.motors.LawLnSD[i]
}

func fullSpeed(t *rigTrial) []float64   { s, _ := t.full(); return s }
func fullThrust(t *rigTrial) []float64  { s, _ := t.full(); return doubled(s) }
func fullCurrent(t *rigTrial) []float64 { _, c := t.full(); return c }

func (s *motorStudy) printTrials(w io.Writer) {
	good := slices.DeleteFunc(slices.Clone(s.trials), func(t rigTrial) bool { return t.rig.Outlier })
	fmt.Fprintln(w, "Motors left out, median / nine in ten, motors counting alike")
	for _, c := range []struct {
		name   string
		trials []rigTrial
	}{{"full throttle", s.trials}, {"without the outlier", good}} {
		speed, n := motorErrors(c.trials, fullSpeed)
		thrust, _ := motorErrors(c.trials, fullThrust)
		current, _ := motorErrors(c.trials, fullCurrent)
		fmt.Fprintf(w, "  %s, %d motors: rpm %v, thrust with CT known %v, current %v\n", c.name, n, speed, thrust, current)
	}
	for _, d := range [][2]float64{{0, 0.35}, {0.35, 0.6}, {0.6, 1.2}} {
		p, n := motorErrors(s.trials, func(t *rigTrial) []float64 { return t.part(d[0], d[1]) })
		fmt.Fprintf(w, "  power at a duty of %.2f to %.2f, %d motors: %v\n", d[0], d[1], n, p)
	}
	s.printSizes(w, "motors left out", s.trials)
	s.printSizes(w, "stands left out whole", s.stands)
	s.printSizes(w, "the law in the code", tryLaw(s.fit.escs, *rig.MotorLaw(), s.whole.escs))
	s.printSizes(w, "the law fitted here", tryLaw(s.fit.escs, s.whole.law, s.whole.escs))
	without := *rig.MotorLaw()
	without.RippleW, without.PartThrottleLoss = 0, 0.5
	s.printSizes(w, "the law in the code without ripple and half as much again lost at part throttle",
		tryLaw(s.fit.escs, without,
			s.whole.escs))
	for _, rotor := range []float64{0.05, rotorLnSD} {
		c := cover(s.trials, s.sd, rotor, s.together)
		fmt.Fprintf(w, "  80 %% intervals with rotorModelLnSD %.2f: rpm and thrust %s, current %s, part-throttle power %s\n",
			rotor, band(c.speed, c.full), band(c.current, c.full), band(c.power, c.part))
	}
	fmt.Fprintln(w, "Motors, worst first; ln measured/predicted at the median")
	sorted := slices.Clone(s.trials)
	slices.SortStableFunc(sorted, func(a, b rigTrial) int { return cmp.Compare(b.worst(), a.worst()) })
	for _, t := range sorted {
		speed, current := t.full()
		fmt.Fprintf(w, "  %-42s %4.1f g  full rows %2d: rpm %s current %s  part-throttle power: low %s mid %s high %s\n",
			t.rig, t.rig.MassKg*1000, len(speed), signed(speed), signed(current), signed(t.part(0, 0.35)), signed(t.part(0.35,
				0.6)), signed(t.part(0.6, 1.2)))
	}
}

// rotorLnSD is rotorModelLnSD of physics: what a known prop and a known motor leave open together.
const rotorLnSD = 0.08

// regularThrottle tells ESCs whose duty goes with throttle from those that give all early.
const regularThrottle = 0.7

func (s *motorStudy) printThrottle(w io.Writer) {
	names, exponents := throttleExponents(s.fit.motors, s.whole.motors)
	fmt.Fprintf(w, "ln duty over ln throttle about half throttle; under %g the ESC gives all before the end of its "+
		"throttle\n", regularThrottle)
	var regular []float64
	for i, n := range names {
		fmt.Fprintf(w, "  %-42s %.2f\n", n, exponents[i])
		if exponents[i] > regularThrottle {
			regular = append(regular, math.Log(exponents[i]))
		}
	}
	fmt.Fprintf(w, "throttleScaleLnSD = %.3f // about 1, of the regular ones; their mean is %.2f\n", robust.RmsOf(regular),
		math.Exp(robust.Mean(regular)))
}

// worst is the larger of a motor's errors in speed and current, in usual ones.
func (t *rigTrial) worst() float64 {
	s, c := t.full()
	if len(s) == 0 {
		return math.Abs(residual.Median(t.part(0, 1.2))) / 0.3
	}
	return math.Max(math.Abs(residual.Median(s))/0.04, math.Abs(residual.Median(c))/0.1)
}
