package main

import (
	"math"
	"slices"
)

// inferPower gives props whose torque was never read the CP that the currents of several motors
// tell, through the motor law fitted on the first prop law: the drag of multirotor props of 5 inch
// would else rest on one stand. They are fitted to, but no error is measured on them.
func inferPower(folder string, ps []prop) error {
	set, err := loadRigs(folder)
	if err != nil {
		return err
	}
	law := firstLaw()
	f, err := newRigFit(set, &law)
	if err != nil {
		return err
	}
	s, err := f.solve(nil)
	if err != nil {
		return err
	}
	air, err := laboratory()
	if err != nil {
		return err
	}
	for i := range ps {
		p := &ps[i]
		at := slices.Index(f.props, p.id)
		read := slices.IndexFunc(f.reads, func(r rigRead) bool { return r.prop == at })
		if at < 0 || read < 0 {
			continue
		}
		for j := range p.static {
			pt := &p.static[j]
			if pt.cp > 0 {
				continue
			}
			torque := math.Exp(s.torque[at]) * torqueOf(f.reads[read].propeller, pt.rpm*rpm)
			pt.cp = coefficient(p.spec, pt.rpm, 0, torque, air.DensityKgM3).cp
			p.inferred = true
		}
	}
	return nil
}
