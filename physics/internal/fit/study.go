package main

import (
	"fmt"
	"slices"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
)

// study is the prop data with the law fitted to all of it and, for each family, the law fitted
// without that family.
type study struct {
	props                    []props.Prop
	air                      rotor.Air
	law                      rotor.Law
	conventional, multirotor fitted
	left                     map[string]rotor.Law
}

// fitted is the fit of one class with what it found.
type fitted struct {
	fit   *propFit
	found robust.Solution
}

// newStudy fits the prop law.
func newStudy(folder string) (*study, error) {
	ps, err := props.LoadProps(folder)
	if err != nil {
		return nil, err
	}
	if err := inferPower(folder, ps); err != nil {
		return nil, err
	}
	air, err := props.Laboratory()
	if err != nil {
		return nil, err
	}
	s := &study{props: ps, air: air}
	s.law = firstLaw()
	s.conventional.fit, s.multirotor.fit = newConventionalFit(ps, air), newMultirotorFit(ps, air)
	if s.law.Conventional, s.conventional.found, err = s.conventional.fit.solve(nil); err != nil {
		return nil, fmt.Errorf("conventional props: %w", err)
	}
	if s.law.Multirotor, s.multirotor.found, err = s.multirotor.fit.solve(nil); err != nil {
		return nil, fmt.Errorf("multirotor props: %w", err)
	}
	return s, nil
}

// leaveOut fits the law once without each family.
func (s *study) leaveOut() error {
	s.left = map[string]rotor.Law{}
	for _, family := range s.families() {
		law, err := s.without(func(p *props.Prop) bool { return p.Family == family })
		if err != nil {
			return fmt.Errorf("prop law without %s: %w", family, err)
		}
		s.left[family] = law
	}
	return nil
}

// without is the law fitted without some props: classes that hold none of them stay as they are.
func (s *study) without(out func(*props.Prop) bool) (rotor.Law, error) {
	law := s.law
	rest := slices.DeleteFunc(slices.Clone(s.props), func(p props.Prop) bool { return out(&p) })
	var err error
	if len(ofLaw(rest, false)) < len(ofLaw(s.props, false)) {
		if law.Conventional, _, err = newConventionalFit(rest, s.air).solve(s.conventional.found.X); err != nil {
			return law, err
		}
	}
	if len(ofLaw(rest, true)) < len(ofLaw(s.props, true)) {
		law.Multirotor, _, err = newMultirotorFit(rest, s.air).solve(s.multirotor.found.X)
	}
	return law, err
}

func (s *study) families() []string {
	var fs []string
	for _, p := range s.props {
		if !slices.Contains(fs, p.Family) {
			fs = append(fs, p.Family)
		}
	}
	return fs
}

// trial are the left-out errors of every usable prop at one level of knowledge.
func (s *study) trial(k props.Knowledge, use benchUse) ([]benchErrors, error) {
	all := make([]benchErrors, len(s.props))
	errs := make([]error, len(s.props))
	props.EachInParallel(len(s.props), func(i int) {
		p := &s.props[i]
		if p.Twists || k > props.FromLabel && len(p.Spec.Stations) == 0 || use != noBench && !benchable(p, use) {
			return
		}
		law := s.left[p.Family]
		all[i], errs[i] = onBench(&law, p, k, use, s.air)
	})
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("%s, %v: %w", s.props[i].ID, k, err)
		}
	}
	return slices.DeleteFunc(all, func(e benchErrors) bool { return e.prop == nil }), nil
}

// benchable props have other static points left when one is used, and torque where it is wanted.
func benchable(p *props.Prop, use benchUse) bool {
	s := props.Thinned(p.Static, 5)
	return len(s) >= 3 && (use == thrustOnly || s[len(s)/2].CP > 0 && !p.Inferred)
}

// means are one number a prop: the mean over its points.
func means(es []benchErrors, of func(benchErrors) []float64) []float64 {
	var out []float64
	for _, e := range es {
		if x := of(e); len(x) > 0 {
			var sum float64
			for _, v := range x {
				sum += v
			}
			out = append(out, sum/float64(len(x)))
		}
	}
	return out
}

// every point of every prop.
func every(es []benchErrors, of func(benchErrors) []float64) []float64 {
	var out []float64
	for _, e := range es {
		out = append(out, of(e)...)
	}
	return out
}

func thrustOf(e benchErrors) []float64    { return e.thrust }
func powerOf(e benchErrors) []float64     { return e.power }
func advThrustOf(e benchErrors) []float64 { return e.advThrust }
func advPowerOf(e benchErrors) []float64  { return e.advPower }

// meritOf are errors of CP/CT^1.5, the power at a thrust.
func meritOf(e benchErrors) []float64 { return e.merit }

// ofDiameter are multirotor props of 4 inch and more, or under it.
func ofDiameter(es []benchErrors, big bool) []benchErrors {
	return slices.DeleteFunc(slices.Clone(es), func(e benchErrors) bool {
		return !e.prop.Multirotor() || (e.prop.Spec.DiameterM >= 3.9*props.MetresPerInch) != big
	})
}

func ofClass(es []benchErrors, c props.SizeClass) []benchErrors {
	return slices.DeleteFunc(slices.Clone(es), func(e benchErrors) bool { return e.prop.Class != c })
}
