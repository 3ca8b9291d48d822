package main

import (
	"math"
	"slices"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/rig"
)

// inferPower gives props whose torque was never read the CP that the currents of several motors
// tell, through the motor law fitted on the first prop law: the drag of multirotor props of 5 inch
// would else rest on one stand. They are fitted to, but no error is measured on them.
func inferPower(folder string, ps []props.Prop) error {
	set, err := rig.Load(folder)
	if err != nil {
		return err
	}
	law := firstLaw()
	f, err := rig.NewFit(set.FullThrottle(), &law, (*rig.Rig).Source)
	if err != nil {
		return err
	}
	s, err := f.Solve(nil)
	if err != nil {
		return err
	}
	air, err := props.Laboratory()
	if err != nil {
		return err
	}
	for i := range ps {
		p := &ps[i]
		at := slices.Index(f.Props, p.ID)
		read := slices.IndexFunc(f.Reads, func(r rig.Read) bool { return r.Prop == at })
		if at < 0 || read < 0 {
			continue
		}
		for j := range p.Static {
			pt := &p.Static[j]
			if pt.CP > 0 {
				continue
			}
			torque := math.Exp(s.Torque[at]) * rig.TorqueOf(f.Reads[read].Propeller, pt.RPM*props.RPM)
			pt.CP = props.Coefficient(p.Spec, pt.RPM, 0, torque, air.DensityKgM3).CP
			p.Inferred = true
		}
	}
	return nil
}
