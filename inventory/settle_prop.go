package inventory

import (
	"math"
	"strings"

	"partsaloft/inventory/strict"
)

func (p *Prop) settle(doc *strict.Document) {
	if p.Path == "" {
		return
	}
	size := p.Path + ".size"
	sizeSound := doc.Sound(size)
	if p.Size != "" && sizeSound {
		s, err := parsePropSize(p.Size)
		if err != nil {
			doc.Fault(size, "%v", err)
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
		doc.Fault(p.Path, "pitch %s in is over twice the diameter %s in; write diameter x pitch x blades", number(p.PitchIn), number(p.DiameterIn))
	}
	if r := p.Directions; r != nil && doc.Sound(p.Path+".directions") {
		sum := r.Clockwise + r.Counterclockwise
		switch {
		case p.Count == nil && !doc.Has(p.Path+".count"):
			p.Count = &sum
		case p.Count != nil && *p.Count != sum:
			doc.Fault(p.Path+".directions", "cw %d and ccw %d make %d, but count is %d; correct one of them", r.Clockwise, r.Counterclockwise, sum, *p.Count)
		}
	}
	p.settleStations(doc)
	p.settleBench(doc)
}

func (p *Prop) missing(doc *strict.Document) {
	var keys []string
	for _, k := range []struct {
		key   string
		given bool
	}{{"diameter_in", p.DiameterIn > 0}, {"pitch_in", p.PitchIn > 0}, {"blades", p.Blades > 0}} {
		if !k.given && !doc.Has(p.Path+"."+k.key) {
			keys = append(keys, k.key)
		}
	}
	if keys != nil {
		doc.Fault(p.Path, "%s missing; write a size such as 5.1x4.3x3, or diameter_in, pitch_in and blades", areMissing(keys))
	}
}

func areMissing(keys []string) string {
	if len(keys) == 1 {
		return keys[0] + " is"
	}
	return strings.Join(keys[:len(keys)-1], ", ") + " and " + keys[len(keys)-1] + " are"
}

func (p *Prop) settleStations(doc *strict.Document) {
	radiusMm := p.DiameterIn * mmPerInch / 2
	last := 0.0
	for i := range p.Stations {
		s := &p.Stations[i]
		if s.Path == "" || !doc.Sound(s.Path) || radiusMm == 0 {
			continue
		}
		at := s.Path + ".radius_mm"
		switch {
		case s.RadiusMm > radiusMm*(1+1e-9):
			doc.Fault(at, "must lie on the blade, which ends at %.4g mm, got %s; measure from the axis", radiusMm, number(s.RadiusMm))
		case s.RadiusMm < 0.15*radiusMm:
			doc.Fault(at, "must lie on the blade, which begins at about %.3g mm, got %s; measure from the axis", 0.15*radiusMm, number(s.RadiusMm))
		case s.RadiusMm <= last:
			doc.Fault(at, "must grow from root to tip, got %s after %s; sort the stations", number(s.RadiusMm), number(last))
		case s.ChordMm >= radiusMm:
			doc.Fault(s.Path+".chord_mm", "must be under the radius of %.4g mm, got %s", radiusMm, number(s.ChordMm))
		}
		last = max(last, s.RadiusMm)
	}
}

// settleBench faults readings that no prop of this size can give.
func (p *Prop) settleBench(doc *strict.Document) {
	for i := range p.Bench {
		b := &p.Bench[i]
		if b.Path == "" || !doc.Sound(b.Path) || p.DiameterIn == 0 {
			continue
		}
		tipMps := b.RPM / 60 * math.Pi * p.DiameterIn * mmPerInch / 1000
		switch {
		case tipMps < lowTipMps || tipMps > highTipMps:
			doc.Fault(b.Path+".rpm", "is a tip speed of %.3g m/s on this prop, must be from %g to %g; check the rpm and the pole count it was read with", tipMps, lowTipMps, highTipMps)
		case b.AirspeedMps != nil && *b.AirspeedMps > tipMps/2:
			doc.Fault(b.Path+".airspeed_mps", "must be at most half the tip speed of %.3g m/s, got %s; check rpm and airspeed", tipMps, number(*b.AirspeedMps))
		}
	}
}

// Tip speeds in m/s that the rotor's tables cover; the upper end is close to the speed of sound.
const lowTipMps, highTipMps = 8.0, 320.0
