package inventory

import (
	"math"

	"partsaloft/inventory/strict"
	"partsaloft/physics/rotor"
)

func (p *Prop) validate(doc *strict.Document) {
	size := p.Path + ".size"
	sizeSound := doc.Sound(size)
	if p.Size != "" && sizeSound {
		s, problem := parsePropSize(p.Size)
		if problem != nil {
			doc.Add(size, *problem)
			sizeSound = false
		} else {
			agree(doc, p.Path+".diameter_in", &p.DiameterIn, s.diameterIn, size, p.Size)
			agree(doc, p.Path+".pitch_in", &p.PitchIn, s.pitchIn, size, p.Size)
			agree(doc, p.Path+".blades", &p.Blades, s.blades, size, p.Size)
		}
	}
	if sizeSound {
		p.missing(doc)
	}
	if p.DiameterIn > 0 && p.PitchIn > 2*p.DiameterIn {
		doc.Fault(p.Path, "prop.pitch", strict.Values{"pitch": strict.Number(p.PitchIn),
			"diameter": strict.Number(p.DiameterIn)})
	}
	if r := p.Directions; r != nil && doc.Sound(p.Path+".directions") {
		sum := r.Clockwise + r.Counterclockwise
		switch {
		case p.Count == nil && !doc.Has(p.Path+".count"):
			p.Count = &sum
		case p.Count != nil && *p.Count != sum:
			doc.Fault(p.Path+".directions", "prop.directions", strict.Values{"cw": strict.Number(r.Clockwise),
				"ccw": strict.Number(r.Counterclockwise), "sum": strict.Number(sum), "count": strict.Number(*p.Count)})
		}
	}
	p.validateStations(doc)
	p.validateBench(doc)
}

func (p *Prop) missing(doc *strict.Document) {
	var keys []string
	for _, k := range []struct {
		key   string
		given bool
	}{{"diameter_in", p.DiameterIn > 0}, {"pitch_in", p.PitchIn > 0 || p.labelledWithoutPitch()},
		{"blades", p.Blades > 0}} {
		if !k.given && !doc.Has(p.Path+"."+k.key) {
			keys = append(keys, k.key)
		}
	}
	if keys != nil {
		doc.Fault(p.Path, missingCode("prop.missing", keys), strict.Values{"keys": keys})
		return
	}
	if p.PitchIn == 0 && !doc.Has(p.Path+".pitch_in") {
		p.PitchIn, p.PitchEstimated = rotor.UnknownPitchRatio*p.DiameterIn, true
	}
}

// noPitchIn is the diameter in inches under which props are sold without a pitch, by mm and blades: those of whoops
// (common practice, no source). On larger ones it stands on the hub.
const noPitchIn = 2.5

// labelledWithoutPitch reports whether a prop is of those that are sold without a pitch.
func (p *Prop) labelledWithoutPitch() bool { return p.DiameterIn > 0 && p.DiameterIn < noPitchIn }

// missingCode is a code, or the one for a single key.
func missingCode(code strict.Code, keys []string) strict.Code {
	if len(keys) == 1 {
		return code + "_one"
	}
	return code
}

func (p *Prop) validateStations(doc *strict.Document) {
	radiusMm := p.DiameterIn * MmPerInch / 2
	last := 0.0
	for i := range p.Stations {
		s := &p.Stations[i]
		if s.Path == "" || !doc.Sound(s.Path) || radiusMm == 0 {
			continue
		}
		at := s.Path + ".radius_mm"
		switch {
		case s.RadiusMm > radiusMm*(1+rotor.StationTolerance):
			doc.Fault(at, "station.beyond_tip", strict.Values{"tip": strict.Digits(radiusMm, 4),
				"got": strict.Number(s.RadiusMm)})
		case s.RadiusMm < rotor.LeastStation*(1-rotor.StationTolerance)*radiusMm:
			doc.Fault(at, "station.before_root", strict.Values{"root": strict.Digits(rotor.LeastStation*radiusMm, 3),
				"got": strict.Number(s.RadiusMm)})
		case s.RadiusMm <= last:
			doc.Fault(at, "station.order", strict.Values{"got": strict.Number(s.RadiusMm), "last": strict.Number(last)})
		case s.ChordMm >= radiusMm:
			doc.Fault(s.Path+".chord_mm", "station.chord", strict.Values{"radius": strict.Digits(radiusMm, 4),
				"got": strict.Number(s.ChordMm)})
		}
		last = max(last, s.RadiusMm)
	}
}

// validateBench faults readings that no prop of this size can give.
func (p *Prop) validateBench(doc *strict.Document) {
	for i := range p.Bench {
		b := &p.Bench[i]
		if b.Path == "" || !doc.Sound(b.Path) || p.DiameterIn == 0 {
			continue
		}
		tipMps := b.RPM / 60 * math.Pi * p.DiameterIn * MmPerInch / 1000
		switch {
		case tipMps < lowTipMps || tipMps > highTipMps:
			doc.Fault(b.Path+".rpm", "bench.tip_speed", strict.Values{"tip": strict.Digits(tipMps, 3),
				"low": strict.Number(lowTipMps), "high": strict.Number(highTipMps)})
		case b.AirspeedMps != nil && *b.AirspeedMps > tipMps/2:
			doc.Fault(b.Path+".airspeed_mps", "bench.airspeed", strict.Values{"tip": strict.Digits(tipMps, 3),
				"got": strict.Number(*b.AirspeedMps)})
		}
	}
}

// Tip speeds in m/s that the rotor's tables cover; the upper end is close to the speed of sound.
const lowTipMps, highTipMps = 8.0, 320.0

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
	maps := new(rotor.Maps)
	for i := range d.Props {
		p := &d.Props[i]
		p.maps = maps
		if p.Path == "" || !doc.Sound(p.Path) {
			continue
		}
		p.benchDensityKgM3 = air.DensityKgM3
		if len(p.Bench)+len(p.Stations) > 0 {
			if _, err := maps.New(p.ownSpec(), air); err != nil {
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
	if _, err := p.maps.New(p.Spec(), air); err != nil {
		p.stand = nil
		d.remark(last.Origin, "", "check.benches_unused", strict.Values{"id": p.ID, "cause": err})
	}
}

// HasBench reports whether any thrust was read with the prop.
func (p *Prop) HasBench() bool { return len(p.Bench)+len(p.stand) > 0 }
