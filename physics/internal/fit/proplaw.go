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
	at           func(*rotor.ClassLaw) *float64
	scale, prior float64
}

// conventionalFreedoms are the constants of conventional props.
func conventionalFreedoms() []freedom {
	return []freedom{
		{"ZeroLiftRad", func(l *rotor.ClassLaw) *float64 { return &l.Polar.ZeroLiftRad }, 0.01, 0.03},
		{"ZeroLiftLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.ZeroLiftLog }, 0.01, 0.02},
		{"Slope", func(l *rotor.ClassLaw) *float64 { return &l.Polar.Slope }, 0.2, 0.6},
		{"SlopeLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.SlopeLog }, 0.03, 0.06},
		{"LiftMax", func(l *rotor.ClassLaw) *float64 { return &l.Polar.LiftMax }, 0.05, 0.15},
		{"LiftMaxLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.LiftMaxLog }, 0.03, 0.06},
		{"Softness", func(l *rotor.ClassLaw) *float64 { return &l.Polar.Softness }, 0.05, 0.15},
		{"Drag", func(l *rotor.ClassLaw) *float64 { return &l.Polar.Drag }, 0.003, 0.01},
		{"DragLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragLog }, 0.1, 0.2},
		{"DragRise", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragRise }, 0.02, 0.05},
		{"DragLift", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragLift }, 0.1, 0.2},
		{"DragStall", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragStall }, 0.1, 0.3},
		{"Chord", func(l *rotor.ClassLaw) *float64 { return &l.Blade.Chord }, 0.05, 0},
		{"ChordBlades", func(l *rotor.ClassLaw) *float64 { return &l.Blade.ChordBlades }, 0.1, 0.2},
		{"ChordDiameter", func(l *rotor.ClassLaw) *float64 { return &l.Blade.ChordDiameter }, 0.1, 0.2},
		{"ChordPitch", func(l *rotor.ClassLaw) *float64 { return &l.Blade.ChordPitch }, 0.1, 0.2},
		{"PitchShift", func(l *rotor.ClassLaw) *float64 { return &l.Blade.PitchShift }, 0.03, 0.06},
		{"PitchScale", func(l *rotor.ClassLaw) *float64 { return &l.Blade.PitchScale }, 0.05, 0.1},
		{"PitchPower", func(l *rotor.ClassLaw) *float64 { return &l.Blade.PitchPower }, 0.05, 0.1},
		{"Factor.Level", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Level }, 0.05, 0.1},
		{"Factor.Pitch", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Pitch }, 0.05, 0.1},
		{"Factor.Blades", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Blades }, 0.05, 0.1},
		{"Factor.Diameter", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Diameter }, 0.05, 0.1},
	}
}

// multirotorFreedoms are the constants of multirotor props in which these differ from the others. The rest of the
// polar, and the chord, are held where firstLaw has them.
func multirotorFreedoms() []freedom {
	return []freedom{
		{"ZeroLiftLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.ZeroLiftLog }, 0.01, 0.02},
		{"LiftMax", func(l *rotor.ClassLaw) *float64 { return &l.Polar.LiftMax }, 0.05, 0.15},
		{"Drag", func(l *rotor.ClassLaw) *float64 { return &l.Polar.Drag }, 0.005, 0.015},
		{"DragLog", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragLog }, 0.1, 0.2},
		{"DragRise", func(l *rotor.ClassLaw) *float64 { return &l.Polar.DragRise }, 0.02, 0.05},
		{"PitchScale", func(l *rotor.ClassLaw) *float64 { return &l.Blade.PitchScale }, 0.05, 0.1},
		{"PitchPower", func(l *rotor.ClassLaw) *float64 { return &l.Blade.PitchPower }, 0.05, 0.15},
		{"Factor.Level", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Level }, 0.05, 0.2},
		{"Factor.Pitch", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Pitch }, 0.1, 0.3},
		{"Factor.Blades", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Blades }, 0.05, 0.2},
		{"Factor.Diameter", func(l *rotor.ClassLaw) *float64 { return &l.Factor.Diameter }, 0.1, 0.3},
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

	multirotorThrustSD = 0.16
	multirotorMeritSD  = 0.08
)

// firstLaw is where the fits begin and what their priors hold to: earlier fits to the same data sets. It
// does not change with the constants in the code, so that neither do the fits.
func firstLaw() rotor.Law {
	c := rotor.ClassLaw{
		Polar: rotor.Polar{
			ZeroLiftRad: -0.0545, ZeroLiftLog: -0.020, Slope: 5.045, SlopeLog: -0.0425, LiftMax: 1.276, LiftMaxLog: 0.0656,
			LiftMin: -0.6, Softness: 0.43, Drag: 0.0326, DragLog: -0.496, DragRise: 0.110, DragLift: 0.384, DragStall: 0.654,
			StallRad: 0.517, StallWidthRad: 0.2, PlateForce: 1.5, LogLow: -4, LogHigh: 2.2, Zero75Low: -3.5, Zero75High: 2,
		},
		Blade: rotor.BladeLaw{
			Chord: -1.611, ChordBlades: -0.229, ChordDiameter: -0.436, ChordPitch: 0.023,
			PitchShift: 0.0367, PitchScale: 0.7, PitchPower: 0.949,
			ChordShape: [14]float64{.900, 1.01, 1.033, 1.07, 1.11, 1.107, 1.088, 1.042, .974, .892, .808, .690, .555, .273},
			PitchShape: [14]float64{.570, .790, .886, .930, .960, .997, 1, 1, 1, 1, .998, .987, .911, .850},
		},
		Factor:  rotor.LabelFactor{Level: 0.002, Pitch: 0.160, Blades: 0.058, Diameter: 0.139},
		Advance: 1, PowerPerThrust: 0.65,
	}
	m := rotor.ClassLaw{
		Polar: rotor.Polar{
			ZeroLiftRad: -0.04103, ZeroLiftLog: -0.030, Slope: 5.417, SlopeLog: -0.06972, LiftMax: 1.535, LiftMaxLog: 0.04997,
			LiftMin: -0.6, Softness: 0.41, Drag: 0.0627, DragLog: -0.765, DragRise: 0.056, DragLift: 0.3699, DragStall: 0.626,
			StallRad: 0.517, StallWidthRad: 0.2, PlateForce: 1.5, LogLow: -0.69, LogHigh: 2.2, Zero75Low: -3.5, Zero75High: 2,
		},
		Blade: rotor.BladeLaw{
			Chord: -1.738, ChordBlades: -0.2715, ChordDiameter: -0.2844, ChordPitch: -0.03502,
			PitchShift: 0.03945, PitchScale: 0.570, PitchPower: 0.833,
			ChordShape: [14]float64{.888, 1.053, 1.131, 1.172, 1.183, 1.158, 1.112, 1.051, .975, .887, .799, .675, .535, .263},
			PitchShape: [14]float64{.626, .821, .888, .929, .962, .986, .991, .997, 1, 1, .994, .991, .923, .861},
		},
		Factor:      rotor.LabelFactor{Level: 0.056, Pitch: 0.24, Blades: -0.020, Diameter: -0.309},
		FactorPower: 1.5, Advance: 1.07, PowerPerThrust: 1.5,
	}
	return rotor.Law{Conventional: c, Multirotor: m, Bench: rotor.BenchLaw{
		ZeroShift: -0.077, ZeroThrust: -0.138, ZeroPower: 0.478, PitchLnSD: 0.12, ChordLnSD: 0.22, DragLnSD: 0.30,
		Bend: 0.5, Shift: 0.5,
	}}
}

// propFit is the joint fit of polar and label law of one class: props from their label, props from their
// measured shape, and the shapes themselves.
type propFit struct {
	air     rotor.Air
	free    []freedom
	start   rotor.ClassLaw
	merit   bool // residuals are those of CT and of CP/CT^1.5
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

// newConventionalFit fits conventional props to those of the list.
func newConventionalFit(ps []props.Prop, air rotor.Air) *propFit {
	f := &propFit{air: air, free: conventionalFreedoms(), start: firstLaw().Conventional}
	ps = ofLaw(ps, false)
	if chord, pitch, n := props.Shapes(ps, &f.start.Blade); n > 0 {
		copy(f.start.Blade.ChordShape[:], chord)
		copy(f.start.Blade.PitchShape[:], pitch)
	}
	f.gather(ps)
	return f
}

// newMultirotorFit fits multirotor props to those of the list.
func newMultirotorFit(ps []props.Prop, air rotor.Air) *propFit {
	f := &propFit{air: air, free: multirotorFreedoms(), start: firstLaw().Multirotor, merit: true}
	f.gather(ofLaw(ps, true))
	return f
}

// ofLaw are the props of one class.
func ofLaw(ps []props.Prop, multirotor bool) []props.Prop {
	return slices.DeleteFunc(slices.Clone(ps), func(p props.Prop) bool { return p.Multirotor() != multirotor })
}

// gather takes the props that are fitted to.
func (f *propFit) gather(ps []props.Prop) {
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
}

// research families were printed for a laboratory: their sections say as much of the polar as any,
// their labels little of props that are sold.
var research = []string{"da4002", "da4022", "nr640"}

const researchShare = 0.2

const movingShare = 0.5 // weight of all advancing points of a prop over all static ones

func (f *propFit) law(x []float64) rotor.ClassLaw {
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
				if f.merit {
					out[2*j] = math.Log(pt.CT/ct[j]) / multirotorThrustSD
				}
				if f.merit && pt.CP > 0 {
					out[2*j+1] = (math.Log(pt.CP/cp[j]) - 1.5*math.Log(pt.CT/ct[j])) / multirotorMeritSD
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

func (f *propFit) solve(first []float64) (rotor.ClassLaw, robust.Solution, error) {
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
