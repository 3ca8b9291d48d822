package inventory

import (
	"partsaloft/inventory/strict"
	"partsaloft/physics/rotor"
)

// validateBenches hands readings of motors on a stand to the props that they were taken with, and
// faults readings that no prop of that label can have given.
func (d *Drawer) validateBenches(doc *strict.Document) {
	air, err := d.Air.SI()
	if err != nil {
		if doc.Sound("air") {
			doc.Fault("air", "air.none", strict.Values{"cause": err})
		}
		return
	}
	for i := range d.Props {
		p := &d.Props[i]
		if p.Path == "" || !doc.Sound(p.Path) {
			continue
		}
		p.benchDensityKgM3 = air.DensityKgM3
		if len(p.Bench)+len(p.Stations) > 0 {
			if _, err := rotor.New(p.ownSpec(), air); err != nil {
				key := "bench"
				if len(p.Bench) == 0 {
					key = "blade_stations"
				}
				doc.Fault(p.Path+"."+key, "prop.no_blade", strict.Values{"cause": err})
				continue
			}
		}
		d.addStands(p, air)
	}
}

// addStands gives a prop the thrusts that it gave on motors; together they must be of one prop,
// else none counts and a remark says so.
func (d *Drawer) addStands(p *Prop, air rotor.Air) {
	var last *MotorBench
	for i := range d.Motors {
		for j := range d.Motors[i].Bench {
			b := &d.Motors[i].Bench[j]
			if b.Prop == p.ID && b.RPM != nil && b.ThrustG != nil {
				p.stand = append(p.stand, benchPoint(*b.RPM, *b.ThrustG, air.DensityKgM3))
				last = b
			}
		}
	}
	if last == nil {
		return
	}
	if _, err := rotor.New(p.Spec(), air); err != nil {
		p.stand = nil
		d.remark(last.Origin, "", "check.benches_unused", strict.Values{"id": p.ID, "cause": err})
	}
}

// HasBench reports whether any thrust was read with the prop.
func (p *Prop) HasBench() bool { return len(p.Bench)+len(p.stand) > 0 }
