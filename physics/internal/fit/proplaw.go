package main

import (
	"math"
	"slices"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
)

// freedom is one constant that a fit may change.
type freedom struct {
	name         string
	at           func(*rotor.Law) *float64
	scale, prior float64
}

func propFreedoms() []freedom {
	return []freedom{
		{"ZeroLiftRad", func(l *rotor.Law) *float64 { return &l.Polar.ZeroLiftRad }, 0.01, 0.03},
		{"ZeroLiftLog", func(l *rotor.Law) *float64 { return &l.Polar.ZeroLiftLog }, 0.01, 0.02},
		{"Slope", func(l *rotor.Law) *float64 { return &l.Polar.Slope }, 0.2, 0.6},
		{"SlopeLog", func(l *rotor.Law) *float64 { return &l.Polar.SlopeLog }, 0.03, 0.06},
		{"LiftMax", func(l *rotor.Law) *float64 { return &l.Polar.LiftMax }, 0.05, 0.15},
		{"LiftMaxLog", func(l *rotor.Law) *float64 { return &l.Polar.LiftMaxLog }, 0.03, 0.06},
		{"Softness", func(l *rotor.Law) *float64 { return &l.Polar.Softness }, 0.05, 0.15},
		{"Drag", func(l *rotor.Law) *float64 { return &l.Polar.Drag }, 0.003, 0.01},
		{"DragLog", func(l *rotor.Law) *float64 { return &l.Polar.DragLog }, 0.1, 0.2},
		{"DragRise", func(l *rotor.Law) *float64 { return &l.Polar.DragRise }, 0.02, 0.05},
		{"DragLift", func(l *rotor.Law) *float64 { return &l.Polar.DragLift }, 0.1, 0.2},
		{"DragStall", func(l *rotor.Law) *float64 { return &l.Polar.DragStall }, 0.1, 0.3},
		{"Chord", func(l *rotor.Law) *float64 { return &l.Blade.Chord }, 0.05, 0},
		{"ChordBlades", func(l *rotor.Law) *float64 { return &l.Blade.ChordBlades }, 0.1, 0.2},
		{"ChordDiameter", func(l *rotor.Law) *float64 { return &l.Blade.ChordDiameter }, 0.1, 0.2},
		{"ChordPitch", func(l *rotor.Law) *float64 { return &l.Blade.ChordPitch }, 0.1, 0.2},
		{"PitchShift", func(l *rotor.Law) *float64 { return &l.Blade.PitchShift }, 0.03, 0.06},
		{"PitchScale", func(l *rotor.Law) *float64 { return &l.Blade.PitchScale }, 0.05, 0.1},
		{"PitchPower", func(l *rotor.Law) *float64 { return &l.Blade.PitchPower }, 0.05, 0.1},
		{"Thrust.Level", func(l *rotor.Law) *float64 { return &l.Thrust.Level }, 0.05, 0.1},
		{"Thrust.Pitch", func(l *rotor.Law) *float64 { return &l.Thrust.Pitch }, 0.05, 0.1},
		{"Thrust.Blades", func(l *rotor.Law) *float64 { return &l.Thrust.Blades }, 0.05, 0.1},
		{"Thrust.Diameter", func(l *rotor.Law) *float64 { return &l.Thrust.Diameter }, 0.05, 0.1},
		{"MultirotorThrust.Level", func(l *rotor.Law) *float64 { return &l.MultirotorThrust.Level }, 0.05, 0.1},
		{"MultirotorThrust.Diameter", func(l *rotor.Law) *float64 { return &l.MultirotorThrust.Diameter }, 0.1, 0.4},
		{"MultirotorPower.Level", func(l *rotor.Law) *float64 { return &l.MultirotorPower.Level }, 0.05, 0.1},
		{"MultirotorPower.Diameter", func(l *rotor.Law) *float64 { return &l.MultirotorPower.Diameter }, 0.1, 0.4},
	}
}

// Standard deviations that make residuals comparable: what families scatter by.
const (
	labelThrustSD = 0.18
	labelPowerSD  = 0.22
	shapeThrustSD = 0.08
	shapePowerSD  = 0.12
	chordSD       = 0.20
	pitchSD       = 0.15
)

// firstLaw is where the fit begins and what its priors hold to: an earlier fit to the same data sets. It
// does not change with the constants in the code, so that neither does the fit.
func firstLaw() rotor.Law {
	l := rotor.Law{
		Polar: rotor.Polar{
			ZeroLiftRad: -0.0545, ZeroLiftLog: -0.020, Slope: 5.045, SlopeLog: -0.0425, LiftMax: 1.276, LiftMaxLog: 0.0656,
			LiftMin: -0.6, Softness: 0.43, Drag: 0.0326, DragLog: -0.496, DragRise: 0.110, DragLift: 0.384, DragStall: 0.654,
			StallRad: 0.517, StallWidthRad: 0.2, PlateForce: 1.5, LogLow: -4, LogHigh: 2.2, Zero75Low: -3.5, Zero75High: 2,
		},
		Blade: rotor.BladeLaw{
			ChordShape: [14]float64{.900, 1.01, 1.033, 1.07, 1.11, 1.107, 1.088, 1.042, .974, .892, .808, .690, .555, .273},
			PitchShape: [14]float64{.570, .790, .886, .930, .960, .997, 1, 1, 1, 1, .998, .987, .911, .850},
		},
		Thrust: rotor.LabelFactor{Level: 0.002, Pitch: 0.160, Blades: 0.058, Diameter: 0.139},
		Bench: rotor.BenchLaw{
			ZeroShift: -0.077, ZeroThrust: -0.138, ZeroPower: 0.478, PitchLnSD: 0.12, ChordLnSD: 0.22, DragLnSD: 0.30,
			Bend: 0.5, Shift: 0.5, PowerPerThrust: 0.97,
		},
	}
	l.Blade.Chord, l.Blade.ChordBlades, l.Blade.ChordDiameter, l.Blade.ChordPitch = -1.611, -0.229, -0.436, 0.023
	l.Blade.PitchShift, l.Blade.PitchScale, l.Blade.PitchPower = 0.0367, 0.7, 0.949
	return l
}

// propFit is the joint fit of polar and label law: props from their label, props from their
// measured shape, and the shapes themselves.
type propFit struct {
	air     rotor.Air
	free    []freedom
	start   rotor.Law
	benches []*props.Bench
	offset  []int     // of each bench's residuals
	weights []float64 // of every residual
	shapes  []shape
}

// shape is the measured chord and pitch of one prop at 75 % of its radius.
type shape struct {
	spec         rotor.Spec
	chord, pitch float64
}

func newPropFit(ps []props.Prop, air rotor.Air) *propFit {
	f := &propFit{air: air, free: propFreedoms(), start: firstLaw()}
	if chord, pitch, n := props.Shapes(ps, &f.start.Blade); n > 0 {
		copy(f.start.Blade.ChordShape[:], chord)
		copy(f.start.Blade.PitchShape[:], pitch)
	}
	size, halved := map[string]float64{}, map[string]bool{}
	for i := range ps {
		size[ps[i].Family]++
	}
	for i := range ps {
		if p := &ps[i]; p.Class == props.Racing && size[p.Family] > 1 && !halved[p.Family] {
			// A stand's props come from several makers: they count by the root of their number.
			size[p.Family], halved[p.Family] = math.Sqrt(size[p.Family]), true
		}
	}
	add := func(p *props.Prop, k props.Knowledge, share float64) {
		static, moving := props.Thinned(p.Static, 3), props.Sweeps(p.Moving, 4)
		f.offset = append(f.offset, len(f.weights))
		f.benches = append(f.benches, props.NewBench(p, k, append(static, moving...)))
		w := share / size[p.Family]
		for range static {
			f.weights = append(f.weights, w/float64(len(static)), w/float64(len(static)))
		}
		for range moving {
			f.weights = append(f.weights, movingShare*w/float64(len(moving)), movingShare*w/float64(len(moving)))
		}
	}
	for i := range ps {
		p := &ps[i]
		if p.Twists {
			continue
		}
		share := 1.0
		if slices.Contains(research, p.Family) {
			share = researchShare
		}
		add(p, props.FromLabel, share)
		if len(p.Spec.Stations) > 0 {
			add(p, props.FromStations, 1)
		}
	}
	for i := range ps {
		p := &ps[i]
		if len(p.Spec.Stations) == 0 || p.Twists {
			continue
		}
		near := p.Known(props.FromStation)
		st := near.Stations[0]
		x := st.RadiusM / (p.Spec.DiameterM / 2)
		f.shapes = append(f.shapes, shape{p.Known(props.FromLabel), st.ChordM / (p.Spec.DiameterM / 2),
			math.Tan(st.AngleRad) * math.Pi * x})
		w := 1 / size[p.Family]
		f.weights = append(f.weights, w, w)
	}
	return f
}

// research families were printed for a laboratory: their sections say as much of the polar as any,
// their labels little of props that are sold.
var research = []string{"da4002", "da4022", "nr640"}

const researchShare = 0.2

const movingShare = 0.5 // weight of all advancing points of a prop over all static ones

func (f *propFit) law(x []float64) rotor.Law {
	l := f.start
	for i := range f.free {
		*f.free[i].at(&l) = x[i]
	}
	return l
}

func (f *propFit) residuals(x, r []float64) {
	law := f.law(x)
	props.EachInParallel(len(f.benches), func(i int) {
		b := f.benches[i]
		ct, cp := make([]float64, len(b.Points)), make([]float64, len(b.Points))
		b.Predict(&law, f.air, ct, cp)
		st, sp := labelThrustSD, labelPowerSD
		if len(b.Spec.Stations) > 0 {
			st, sp = shapeThrustSD, shapePowerSD
		}
		out := r[f.offset[i]:]
		var still, n float64
		for _, pt := range b.Points {
			if pt.Advance == 0 {
				still += pt.CT
				n++
			}
		}
		still /= n
		for j, pt := range b.Points {
			out[2*j], out[2*j+1] = 0, 0
			if pt.Advance == 0 {
				out[2*j] = math.Log(pt.CT/ct[j]) / st
				if pt.CP > 0 {
					out[2*j+1] = math.Log(pt.CP/cp[j]) / sp
				}
				continue
			}
			out[2*j] = (pt.CT - ct[j]) / math.Max(pt.CT, 0.4*still) / st
			out[2*j+1] = (pt.CP - cp[j]) / math.Max(pt.CP, 0.2*still) / sp
		}
	})
	out := r[len(r)-2*len(f.shapes):]
	for i, s := range f.shapes {
		blade, err := law.Blade.Blade(s.spec.DiameterM, s.spec.PitchM, s.spec.Blades)
		if err != nil {
			out[2*i] = math.NaN()
			continue
		}
		chord, angle := blade.At(0.75)
		out[2*i] = math.Log(s.chord/chord) / chordSD
		out[2*i+1] = math.Log(s.pitch/(math.Pi*0.75*math.Tan(angle))) / pitchSD
	}
}

func (f *propFit) solve(first []float64) (rotor.Law, robust.Solution, error) {
	p := robust.Problem{First: first, Weights: f.weights, Residuals: f.residuals}
	for i := range f.free {
		p.Start = append(p.Start, *f.free[i].at(&f.start))
		p.Scale = append(p.Scale, f.free[i].scale)
		p.Prior = append(p.Prior, f.free[i].prior)
	}
	s, err := p.Solve()
	if err != nil {
		return f.start, s, err
	}
	return f.law(s.X), s, nil
}
