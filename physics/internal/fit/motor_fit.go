package main

import (
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/rotor"
)

// motorFit fits the law in two steps: the motors' constants to the stands that give full throttle, then, with these
// held, the losses of ESCs to all stands. Those are known by the number of kinds of ESC, not of motors, and whether the
// five set-ups of one stand are five kinds or one nobody knows: it is done both ways, stands counting once (escs) or
// set-ups (kinds), and the law takes the middle of the two.
type motorFit struct{ motors, escs, kinds *rig.Fit }

// newMotorFit fits motors with the torques of one prop law and ESCs with those of another.
func newMotorFit(set *rig.Set, motorLaw, escLaw *rotor.Law) (*motorFit, error) {
	motors, err := rig.NewFit(set.FullThrottle(), motorLaw, (*rig.Rig).Source)
	if err != nil {
		return nil, err
	}
	escs, err := rig.NewFit(set, escLaw, (*rig.Rig).Source)
	if err != nil {
		return nil, err
	}
	kinds, err := rig.NewFit(set, escLaw, (*rig.Rig).Stand)
	if err != nil {
		return nil, err
	}
	escs.LossesAlone, kinds.LossesAlone = true, true
	return &motorFit{motors, escs, kinds}, nil
}

// motorFitOfStands fits motors with the torque of conventional props and ESCs with that of each prop's own class. What
// a motor's constants rest on are full throttles over a factor of two in rpm; with multirotor props, whose torque goes
// less than with the square, rpm and current at full throttle come out a little worse on motors left out (7.1 for 6.5
// and 18.7 for 17.5 % nine times in ten), and kV 2 % further from those fitted elsewhere.
func motorFitOfStands(set *rig.Set) (*motorFit, error) {
	law := rotor.DefaultLaw()
	conventional := law
	conventional.Multirotor = conventional.Conventional
	return newMotorFit(set, &conventional, &law)
}

// motorSolution are the results of both steps and the law that they give.
type motorSolution struct {
	motors, escs, kinds rig.Solution
	law                 physics.MotorLaw
}

// solve fits both steps but the motors that are out; whole is the same with none out, nil if this is it.
func (f *motorFit) solve(out func(*rig.Rig) bool, whole *motorSolution) (motorSolution, error) {
	var s motorSolution
	var err error
	if whole == nil {
		if s.motors, err = f.motors.LearnSpread(); err != nil {
			return s, err
		}
		f.escs.Sd, f.kinds.Sd = f.motors.Sd, f.motors.Sd
	} else {
		f.motors.Out = func(k int) bool { return out(f.motors.Rigs[k]) }
		f.escs.Out = func(k int) bool { return out(f.escs.Rigs[k]) }
		f.kinds.Out = f.escs.Out
		defer func() { f.motors.Out, f.escs.Out, f.kinds.Out = nil, nil, nil }()
		if s.motors, err = f.motors.Solve(whole.motors.X); err != nil {
			return s, err
		}
		s.escs.X, s.kinds.X = whole.escs.X, whole.kinds.X
	}
	f.escs.Start, f.kinds.Start = s.motors.Law, s.motors.Law
	if s.escs, err = f.escs.Solve(s.escs.X); err != nil {
		return s, err
	}
	if s.kinds, err = f.kinds.Solve(s.kinds.X); err != nil {
		return s, err
	}
	s.law = s.escs.Law
	s.law.PartThrottleLoss = (s.escs.Law.PartThrottleLoss + s.kinds.Law.PartThrottleLoss) / 2
	s.law.RippleW = math.Sqrt(s.escs.Law.RippleW * s.kinds.Law.RippleW)
	return s, nil
}

// fullThrottle reports whether a motor stood on a stand that gives full throttle.
func (f *motorFit) fullThrottle(r *rig.Rig) bool { return slices.Contains(f.motors.Rigs, r) }
