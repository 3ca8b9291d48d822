package main

import (
	"math"

	"partsaloft/physics"
)

// inferPower gives props whose torque was never read the CP that the currents of their motors
// tell, through the motor law fitted on the first prop law: the drag of multirotor props of 5 inch
// would else rest on one stand.
func inferPower(folder string, ps []prop) error {
	law := firstLaw()
	ms, err := loadMotors(folder, &law)
	if err != nil {
		return err
	}
	ms = trusted(ms)
	f, err := fitMotors(ms, nil)
	if err != nil {
		return err
	}
	props := map[string]*physics.Propeller{}
	for i := range ms {
		for _, r := range ms[i].rows {
			if p := ms[i].props[r.source+r.prop]; p != nil && props[r.source+" "+r.prop] == nil {
				bent := *p
				bent.PowerFactor *= math.Exp(f.offsets[r.source] + f.offsets[r.source+r.prop])
				props[r.source+" "+r.prop] = &bent
			}
		}
	}
	for i := range ps {
		p := props[ps[i].id]
		if p == nil || ps[i].family == "maker" {
			continue // a maker's sheet is no stand
		}
		for j := range ps[i].static {
			pt := &ps[i].static[j]
			if pt.cp > 0 {
				continue
			}
			t, q := p.Loads(pt.rpm*rpm, physics.Flow{})
			pt.cp = pt.ct * q / t * 2 * math.Pi / ps[i].spec.DiameterM
			ps[i].inferred = true
		}
	}
	return nil
}
