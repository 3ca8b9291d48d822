package main

import (
	"math"

	"partsaloft/physics/rotor"
)

// benchErrors are logarithms of measured over predicted coefficients of one prop that was put on
// a bench at one speed: at other speeds, and advancing.
type benchErrors struct {
	prop                *prop
	thrust, power       []float64         // static
	advThrust, advPower []float64         // advancing, where CT is over flownShare of static
	wrongAdvance        float64           // ln of measured over predicted zero-thrust advance ratio, NaN if unknown
	said                rotor.Uncertainty // what the prop says of its own errors
}

// onBench predicts a prop from its label, k of its shape, and one bench point (none if withTorque
// is noBench).
func onBench(law *rotor.Law, p *prop, k knowledge, use benchUse, air rotor.Air) (benchErrors, error) {
	e := benchErrors{prop: p, wrongAdvance: math.NaN()}
	static := thinned(p.static, 5)
	spec := p.known(k)
	d := spec.DiameterM
	at := static[len(static)/2]
	if use != noBench {
		n := at.rpm / 60
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		point := rotor.BenchPoint{SpeedRadS: at.rpm * rpm, ThrustN: at.ct * force, DensityKgM3: air.DensityKgM3}
		if use == thrustAndTorque {
			point.TorqueNm = at.cp * force * d / (2 * math.Pi)
		}
		spec.Bench = []rotor.BenchPoint{point}
	}
	prop, err := law.New(spec, air)
	if err != nil {
		return e, err
	}
	e.said = prop.Uncertainty
	predict := func(pt point) (ct, cp float64) {
		n := pt.rpm / 60
		force := air.DensityKgM3 * n * n * math.Pow(d, 4)
		t, q := prop.Loads(pt.rpm*rpm, rotor.Flow{AxialMS: pt.advance * n * d})
		return t / force, q * 2 * math.Pi / (force * d)
	}
	for _, pt := range static {
		ct, cp := predict(pt)
		if pt != at || use == noBench {
			e.thrust = append(e.thrust, math.Log(pt.ct/ct))
		}
		if pt.cp > 0 && !p.inferred && (pt != at || use != thrustAndTorque) {
			e.power = append(e.power, math.Log(pt.cp/cp))
		}
	}
	moving := sweeps(p.moving, 6)
	for _, pt := range moving {
		if pt.ct < flownShare*at.ct {
			continue
		}
		ct, cp := predict(pt)
		e.advThrust = append(e.advThrust, math.Log(pt.ct/math.Max(ct, 1e-3)))
		e.advPower = append(e.advPower, math.Log(pt.cp/math.Max(cp, 1e-3)))
	}
	if measured, ok := zeroAdvance(p.moving); ok {
		e.wrongAdvance = math.Log(measured / predictedZero(predict, p.moving[len(p.moving)-1].rpm, measured))
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
func zeroAdvance(moving []point) (float64, bool) {
	s := sweeps(moving, 8)
	if len(s) == 0 {
		return 0, false
	}
	last, before, most := s[0], s[0], 0.0
	for _, pt := range s {
		most = math.Max(most, pt.ct)
	}
	for _, pt := range s {
		if pt.advance > last.advance {
			last = pt
		}
	}
	for _, pt := range s {
		if pt.rpm == last.rpm && pt.advance < last.advance-0.03 && (before == last || pt.advance > before.advance ||
			before.rpm != last.rpm) {
			before = pt
		}
	}
	if last.ct > 0.2*most || !(before.ct > last.ct) || before.rpm != last.rpm {
		return 0, false
	}
	return last.advance + last.ct*(last.advance-before.advance)/(before.ct-last.ct), true
}

func predictedZero(predict func(point) (ct, cp float64), rpmAt, near float64) float64 {
	low, high := 0.3*near, 2.5*near
	for range 40 {
		mid := (low + high) / 2
		if ct, _ := predict(point{rpm: rpmAt, advance: mid}); ct > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
