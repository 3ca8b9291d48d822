package main

import (
	"math"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/rotor"
)

// benchErrors are logarithms of measured over predicted coefficients of one prop that was put on
// a bench at one speed: at other speeds, and advancing.
type benchErrors struct {
	prop                *props.Prop
	thrust, power       []float64         // static
	merit               []float64         // static, of CP/CT^1.5
	advThrust, advPower []float64         // advancing, where CT is over flownShare of static
	wrongAdvance        float64           // ln of measured over predicted zero-thrust advance ratio, NaN if unknown
	said                rotor.Uncertainty // what the prop says of its own errors
	off, offPower       []float64         // ln of speed over the prop's reference, of thrust and of power
}

// onBench predicts a prop from its label, k of its shape, and one bench point (none if withTorque
// is noBench).
func onBench(law *rotor.Law, p *props.Prop, k props.Knowledge, use benchUse, air rotor.Air) (benchErrors, error) {
	e := benchErrors{prop: p, wrongAdvance: math.NaN()}
	static := props.Thinned(p.Static, 5)
	spec := p.Known(k)
	d := spec.DiameterM
	at := static[len(static)/2]
	if use != noBench {
		n := at.RPM / 60
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		point := rotor.BenchPoint{SpeedRadS: at.RPM * props.RPM, ThrustN: at.CT * force, DensityKgM3: air.DensityKgM3}
		if use == thrustAndTorque {
			point.TorqueNm = at.CP * force * d / (2 * math.Pi)
		}
		spec.Bench = []rotor.BenchPoint{point}
	}
	prop, err := law.New(spec, air)
	if err != nil {
		return e, err
	}
	e.said = prop.Uncertainty
	predict := func(pt props.Point) (ct, cp float64) {
		n := pt.RPM / 60
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		t, q := prop.Loads(pt.RPM*props.RPM, rotor.Flow{AxialMS: pt.Advance * n * d})
		return t / force, q * 2 * math.Pi / (force * d)
	}
	for _, pt := range static {
		ct, cp := predict(pt)
		off := math.Log(pt.RPM * props.RPM / prop.ReferenceRadS)
		if pt != at || use == noBench {
			e.thrust, e.off = append(e.thrust, math.Log(pt.CT/ct)), append(e.off, off)
		}
		if pt.CP > 0 && !p.Inferred && (pt != at || use != thrustAndTorque) {
			e.power, e.offPower = append(e.power, math.Log(pt.CP/cp)), append(e.offPower, off)
			e.merit = append(e.merit, math.Log(pt.CP/cp)-1.5*math.Log(pt.CT/ct))
		}
	}
	moving := props.Sweeps(p.Moving, 6)
	for _, pt := range moving {
		if pt.CT < flownShare*at.CT {
			continue
		}
		ct, cp := predict(pt)
		e.advThrust = append(e.advThrust, math.Log(pt.CT/math.Max(ct, 1e-3)))
		e.advPower = append(e.advPower, math.Log(pt.CP/math.Max(cp, 1e-3)))
	}
	if measured, ok := zeroAdvance(p.Moving); ok {
		e.wrongAdvance = math.Log(measured / predictedZero(predict, p.Moving[len(p.Moving)-1].RPM, measured))
	}
	return e, nil
}

// flownShare of static CT is the least at which advancing points count: what crafts fly at. Below
// it relative errors only say how near zero thrust is, which has its own column.
const flownShare = 0.4

type benchUse int

const (
	noBench benchUse = iota
	thrustOnly
	thrustAndTorque
)

// zeroAdvance is where measured CT crosses zero, by a line through the last two points of the
// longest sweep; it needs a point under a fifth of the largest CT.
func zeroAdvance(moving []props.Point) (float64, bool) {
	s := props.Sweeps(moving, 8)
	if len(s) == 0 {
		return 0, false
	}
	last, before, most := s[0], s[0], 0.0
	for _, pt := range s {
		most = math.Max(most, pt.CT)
	}
	for _, pt := range s {
		if pt.Advance > last.Advance {
			last = pt
		}
	}
	for _, pt := range s {
		if pt.RPM == last.RPM && pt.Advance < last.Advance-0.03 && (before == last || pt.Advance > before.Advance ||
			before.RPM != last.RPM) {
			before = pt
		}
	}
	if last.CT > 0.2*most || !(before.CT > last.CT) || before.RPM != last.RPM {
		return 0, false
	}
	return last.Advance + last.CT*(last.Advance-before.Advance)/(before.CT-last.CT), true
}

func predictedZero(predict func(props.Point) (ct, cp float64), rpmAt, near float64) float64 {
	low, high := 0.3*near, 2.5*near
	for range 40 {
		mid := (low + high) / 2
		if ct, _ := predict(props.Point{RPM: rpmAt, Advance: mid}); ct > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
