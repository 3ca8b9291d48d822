package rotor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"partsaloft/physics/fault"
)

// BenchLaw says how bench points correct a prop; see Law.matchBench.
type BenchLaw struct {
	// ln sJ = ZeroShift + ZeroThrust ln(CT ratio) + ZeroPower ln(CP ratio)
	ZeroShift, ZeroThrust, ZeroPower float64
	// Standard deviations of ln of the whole blade's pitch and chord and of the section's drag.
	PitchLnSD, ChordLnSD, DragLnSD float64
	// Bend is the share of the most likely change that is made, Shift that of ln sJ.
	Bend, Shift float64
}

// benchMatch is a prop brought to its bench points.
type benchMatch struct {
	law                    *BenchLaw
	blade                  Blade
	polar                  Polar
	thrust, power, advance float64 // factors
	torque                 bool    // whether any point has torque
}

// ratio is how one bench point compares with a prediction, as natural logarithms.
type ratio struct {
	thrust, torque, weight float64
	hasTorque, advancing   bool
}

// matchBench brings a blade, with the factors of its label, to bench points by the mean of two corrections, each tried
// on props left out: exact factors on CT and CP with a shift of the zero-thrust advance ratio, and the most
// likely pitch, chord and drag, then exact factors. Each is taken by its share, Shift and Bend.
// Points count by the square of their thrust, because a stand's errors are mostly offsets. Where
// only thrust was measured, CP follows by the class's PowerPerThrust.
func (l *Law) matchBench(spec *Spec, class *ClassLaw, blade Blade, air Air, label *Propeller) (benchMatch, error) {
	m := benchMatch{law: &l.Bench, blade: blade, polar: class.Polar, thrust: label.ThrustFactor, power: label.PowerFactor,
		advance: class.Advance}
	first, err := m.ratios(spec, air)
	if err != nil {
		return m, err
	}
	if err := contradictions(spec, first); err != nil {
		return m, err
	}
	for _, r := range first {
		m.torque = m.torque || r.hasTorque
	}
	thrust, power := meanRatios(first)
	if !m.torque {
		power = class.PowerPerThrust * thrust
	}
	change, err := m.likely(spec, air)
	if err != nil {
		return m, err
	}
	m = m.bent(change.scaled(l.Bench.Bend))
	last, err := m.ratios(spec, air)
	if err != nil {
		return m, err
	}
	t, p := meanRatios(last)
	m.thrust *= math.Exp(t)
	if m.torque {
		m.power *= math.Exp(p)
	} else {
		// What bending the blade did to CP already counts.
		bare, err := m.powerChange(spec, blade, class.Polar, air)
		if err != nil {
			return m, err
		}
		m.power *= math.Exp(power - bare)
	}
	m.advance = class.Advance * math.Exp(l.Bench.Shift*(l.Bench.ZeroShift+l.Bench.ZeroThrust*thrust+l.Bench.ZeroPower*power))
	return m, nil
}

// ratios compares every bench point with the blade as it stands.
func (m *benchMatch) ratios(spec *Spec, air Air) ([]ratio, error) {
	r := elements{blade: &m.blade, polar: &m.polar}
	out := make([]ratio, len(spec.Bench))
	for i, b := range spec.Bench {
		thrust, torque, ok := r.loads(b.SpeedRadS, b.AxialMS/m.advance, 1, b.air(air))
		if !ok || !(thrust > 0 && torque > 0) {
			return nil, fault.New("bench.no_thrust", fault.Values{"n": i + 1,
				"rpm": fault.Digits(b.SpeedRadS*60/(2*math.Pi), 4), "airspeed": fault.Digits(b.AxialMS, 3)})
		}
		out[i] = ratio{thrust: math.Log(b.ThrustN / (m.thrust * thrust)), weight: b.ThrustN * b.ThrustN,
			advancing: b.AxialMS > 0}
		if b.TorqueNm > 0 {
			out[i].torque, out[i].hasTorque = math.Log(b.TorqueNm/(m.power*torque)), true
		}
	}
	return out, nil
}

func (b *BenchPoint) air(air Air) Air {
	if b.DensityKgM3 > 0 {
		air.DensityKgM3 = b.DensityKgM3
	}
	return air
}

// meanRatios are the weighted means over static points, or over all where none is static.
func meanRatios(rs []ratio) (thrust, torque float64) {
	for _, moving := range []bool{false, true} {
		var t, q, wt, wq float64
		for _, r := range rs {
			if r.advancing != moving {
				continue
			}
			t += r.weight * r.thrust
			wt += r.weight
			if r.hasTorque {
				q += r.weight * r.torque
				wq += r.weight
			}
		}
		if wt > 0 {
			if wq > 0 {
				q /= wq
			}
			return t / wt, q
		}
	}
	return 0, 0
}

// contradictions reports bench points that no prop of this label gives, or that cannot all be of
// one prop.
func contradictions(spec *Spec, rs []ratio) error {
	var errs []error
	thrust, torque := meanRatios(rs)
	if math.Abs(thrust) > benchThrustLimit {
		errs = append(errs, fault.New("bench.thrust_far", fault.Values{"times": fault.Digits(math.Exp(thrust), 3)}))
	}
	if math.Abs(torque) > benchTorqueLimit {
		errs = append(errs, fault.New("bench.torque_far", fault.Values{"times": fault.Digits(math.Exp(torque), 3)}))
	}
	area := math.Pi * spec.DiameterM * spec.DiameterM / 4
	most := 0.0
	for _, b := range spec.Bench {
		most = math.Max(most, b.ThrustN)
	}
	for i, b := range spec.Bench {
		density := b.DensityKgM3
		if density == 0 {
			density = 1.225
		}
		ideal := b.ThrustN * math.Sqrt(b.ThrustN/(2*density*area))
		if b.TorqueNm > 0 && b.AxialMS == 0 && ideal > 0.95*b.TorqueNm*b.SpeedRadS {
			errs = append(errs, fault.New("bench.ideal", fault.Values{"n": i + 1, "ideal": fault.Digits(ideal, 3),
				"got": fault.Digits(b.TorqueNm*b.SpeedRadS, 3)}))
		}
		for j := range i {
			other := spec.Bench[j]
			if rs[i].advancing || rs[j].advancing || b.ThrustN < 0.3*most || other.ThrustN < 0.3*most {
				continue
			}
			if d := rs[i].thrust - rs[j].thrust; math.Abs(d) > benchSpreadLimit {
				errs = append(errs, fault.New("bench.contradict", fault.Values{"a": j + 1, "b": i + 1,
					"times": fault.Digits(math.Exp(math.Abs(d)), 3)}))
			}
		}
	}
	return errors.Join(errs...)
}

// change is a logarithmic change of pitch, chord and drag of the whole blade.
type change [3]float64

func (c change) scaled(by float64) change { return change{by * c[0], by * c[1], by * c[2]} }

// bent applies a change.
func (m benchMatch) bent(c change) benchMatch {
	m.blade = m.blade.scaled(math.Exp(c[0]), math.Exp(c[1]))
	m.polar.Drag *= math.Exp(c[2])
	return m
}

// likely is the most probable change given the bench points: Gauss-Newton on the logarithms.
func (m *benchMatch) likely(spec *Spec, air Air) (change, error) {
	sd := change{m.law.PitchLnSD, m.law.ChordLnSD, m.law.DragLnSD}
	if len(spec.Stations) > 0 {
		sd[1] = measuredChordLnSD
		for _, s := range spec.Stations {
			if s.AngleRad > 0 {
				sd[0] = measuredPitchLnSD
			}
		}
	}
	var total float64
	for _, b := range spec.Bench {
		total += b.ThrustN * b.ThrustN
	}
	var x change
	for range 4 {
		here := m.bent(x)
		base, err := here.ratios(spec, air)
		if err != nil {
			return x, err
		}
		const step = 0.02
		var rows [3][]ratio
		for k := range rows {
			moved := x
			moved[k] += step
			there := m.bent(moved)
			if rows[k], err = there.ratios(spec, air); err != nil {
				return x, err
			}
		}
		normal := mat.NewSymDense(3, nil)
		right := mat.NewVecDense(3, nil)
		for k := range sd {
			normal.SetSym(k, k, 1/(sd[k]*sd[k]))
			right.SetVec(k, -x[k]/(sd[k]*sd[k]))
		}
		add := func(residual, lnSD float64, slope change) {
			for i := range slope {
				right.SetVec(i, right.AtVec(i)+slope[i]*residual/(lnSD*lnSD))
				for j := i; j < 3; j++ {
					normal.SetSym(i, j, normal.At(i, j)+slope[i]*slope[j]/(lnSD*lnSD))
				}
			}
		}
		for i, r := range base {
			share := math.Sqrt(total / (r.weight * float64(len(base)))) // 1 for equal points
			var st, sq change
			for k := range rows {
				st[k] = (r.thrust - rows[k][i].thrust) / step
				sq[k] = (r.torque - rows[k][i].torque) / step
			}
			add(r.thrust, benchThrustLnSD*share, st)
			if r.hasTorque {
				add(r.torque, benchTorqueLnSD*share, sq)
			}
		}
		var factor mat.Cholesky
		if !factor.Factorize(normal) {
			return x, fault.New("bench.open", nil)
		}
		var d mat.VecDense
		if err := factor.SolveVecTo(&d, right); err != nil {
			return x, err
		}
		for k := range x {
			x[k] += d.AtVec(k)
		}
		if mat.Norm(&d, 2) < 1e-4 {
			break
		}
	}
	return x, nil
}

// powerChange is the mean ln of CP of the bent blade over CP of the blade before, at the points.
func (m *benchMatch) powerChange(spec *Spec, blade Blade, polar Polar, air Air) (float64, error) {
	before, after := elements{blade: &blade, polar: &polar}, elements{blade: &m.blade, polar: &m.polar}
	var sum, weights float64
	for _, b := range spec.Bench {
		_, q0, ok0 := before.loads(b.SpeedRadS, b.AxialMS, 1, b.air(air))
		_, q1, ok1 := after.loads(b.SpeedRadS, b.AxialMS, 1, b.air(air))
		if !ok0 || !ok1 || !(q0 > 0 && q1 > 0) {
			return 0, fault.New("bench.outside", nil)
		}
		sum += b.ThrustN * b.ThrustN * math.Log(q1/q0)
		weights += b.ThrustN * b.ThrustN
	}
	return sum / weights, nil
}
