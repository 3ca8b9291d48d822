package predict

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// MeasurementKind is one thing that a pilot can measure.
type MeasurementKind uint8

// The measurements: a part on the scale; a pack's resistance with a meter; the charge that a pack
// takes; a prop's thrust and torque at one speed; its chord and angle with a caliper; one point of a
// motor on a stand, with a known prop; all parts of both combinations on the scale; and with the first of them
// built, rotor speed, throttle and current in hover, and a flight by the stopwatch.
const (
	Weigh MeasurementKind = iota
	MeasureResistance
	MeasureCapacity
	BenchProp
	CaliperProp
	BenchMotor
	WeighAll
	ReadHoverSpeed
	ReadHoverDuty
	ReadHoverAmps
	TimeFlight
	MeasurementKinds // one past the last
)

// efforts are what measurements take, from a scale to a thrust stand.
var efforts = [MeasurementKinds]int{Weigh: 0, WeighAll: 0, MeasureResistance: 1, ReadHoverSpeed: 2, ReadHoverDuty: 2,
	ReadHoverAmps: 2, TimeFlight: 2, MeasureCapacity: 2, CaliperProp: 3, BenchProp: 4, BenchMotor: 4}

// OnStand reports whether a measurement takes a thrust stand.
func (k MeasurementKind) OnStand() bool { return efforts[k] == efforts[BenchProp] }

// Of what is worth measuring (judgement): worthwhile is the share of what the best measurement brings that makes a
// cheaper one the better advice, and settling the chance of the right choice under which nothing is settled.
const (
	worthwhile = 0.5
	settling   = 0.6
)

// Cheapest is the measurement of least effort that brings at least half of what the best in a list brings, and the
// right choice in at least 60 of 100 cases; nil if none does. Of one effort it is the best.
func Cheapest(list []Measurement) *Measurement {
	var best, cheapest *Measurement
	for i := range list {
		if best == nil || list[i].Right > best.Right {
			best = &list[i]
		}
	}
	for i := range list {
		m := &list[i]
		if m.Right < settling || m.Right-m.RightNow < worthwhile*(best.Right-best.RightNow) {
			continue
		}
		if cheapest == nil || efforts[m.Kind] < efforts[cheapest.Kind] ||
			efforts[m.Kind] == efforts[cheapest.Kind] && m.Right > cheapest.Right {
			cheapest = m
		}
	}
	return cheapest
}

// Measurement is a measurement of one part, or of whole crafts where ID is empty, and what it would be worth.
type Measurement struct {
	Kind MeasurementKind
	Part inventory.Kind
	ID   string
	// Right is the chance that the better of two combinations is chosen once this is measured; without
	// it the chance is RightNow.
	Right, RightNow float64
}

// measurable is a measurement with the inputs that it tells of and the share of their variance
// that it takes away.
type measurable struct {
	Measurement
	normals  []float64 // of the part, draw by draw
	width    int
	columns  []int
	resolves float64
}

// Shares of variance that a measurement takes away. A prop's bench point leaves 1.6 to 2 % of 12
// to 16 %, chord and angle by ruler leave 8 % of 12 % (left-out errors of the prop law, see
// DEVELOPERS.md); a scale leaves nothing that matters; meters and stands leave a third of the
// standard deviation (common practice, no source).
const (
	scaleResolves   = 1.0
	meterResolves   = 1 - 1.0/9
	benchResolves   = 0.98
	caliperResolves = 1 - 8.0*8/(12.0*12)
)

// How well readings of whole crafts are known, as standard deviations: a rotor's speed from the ESC, throttle and
// current in hover, a flight's time (judgement, as inventory/learn takes them).
const (
	hoverSpeedError = 0.02 // relative
	hoverDutyError  = 0.02 // duty
	hoverAmpsError  = 0.05 // relative
	flightTimeError = 0.10 // relative
)

// ValueOfInformation says which single measurement would settle best which of two results scores more, the best
// first: the expected value of partial information, with the difference of the two scores taken as
// normal and linear in the inputs,
//
//	right = E Φ(|m + √v_e ξ| / √(v − v_e)),  ξ standard normal,
//
// with v the variance of the difference over the common draws, m such that Φ(m/√v) is the share of
// draws in which the first is ahead, v_e the part of v that the measurement explains (least squares on its inputs,
// times the share of their variance that it resolves). See J. E. Oakley, "Decision-theoretic sensitivity analysis for
// complex computer models", Technometrics 51, 121, 2009. Measurements that add under one per cent are left out.
func ValueOfInformation(ctx context.Context, style *objective.Style, a, b *Result, o Sampling) []Measurement {
	d := NewDraws(o)
	var drawn [2]*uncertain.Propagation
	var scores [2][]float64
	results := [2]*Result{a, b}
	for i, r := range results {
		drawn[i] = r.Propagate(ctx, style, d, o.Workers)
		scores[i] = drawn[i].Drawn(scoreFigure)
	}
	if ctx.Err() != nil {
		return nil
	}
	difference := make([]float64, len(scores[0]))
	for s := range difference {
		difference[s] = scores[0][s] - scores[1][s]
	}
	average, variance := stat.MeanVariance(difference, nil)
	if !(variance > 0) {
		return nil
	}
	mean := math.Sqrt(variance) * distuv.UnitNormal.Quantile(shareOver(difference))
	now := rightChance(mean, variance, 0)
	var list []Measurement
	for _, m := range append(measurables(d, a, b), craftMeasurables(d, a, drawn)...) {
		explained := math.Min(m.explains(difference, average)*m.resolves, 1) * variance
		m.RightNow, m.Right = now, rightChance(mean, variance, explained)
		if m.Right-m.RightNow >= 0.01 {
			list = append(list, m.Measurement)
		}
	}
	slices.SortStableFunc(list, func(x, y Measurement) int {
		return cmp.Or(cmp.Compare(y.Right, x.Right), cmp.Compare(x.Kind, y.Kind), strings.Compare(x.ID, y.ID))
	})
	return list
}

// rightChance is the expected chance of choosing the better one when explained of the variance of
// the difference becomes known, by the midpoints of equally likely slices of ξ.
func rightChance(mean, variance, explained float64) float64 {
	left := math.Sqrt(math.Max(variance-explained, 1e-12*variance))
	known := math.Sqrt(explained)
	const slicesOfXi = 400
	var sum float64
	for i := range slicesOfXi {
		xi := distuv.UnitNormal.Quantile((float64(i) + 0.5) / slicesOfXi)
		sum += distuv.UnitNormal.CDF(math.Abs(mean+known*xi) / left)
	}
	return sum / slicesOfXi
}

// shareOver is the share of numbers over 0, held off 0 and 1 by half a draw.
func shareOver(list []float64) float64 {
	over := 0.0
	for _, x := range list {
		switch {
		case x > 0:
			over++
		case x == 0:
			over += 0.5
		}
	}
	half := 0.5 / float64(len(list))
	return math.Min(math.Max(over/float64(len(list)), half), 1-half)
}

// partDraws are the standard normal numbers of a part, one an input and draw.
type partDraws struct {
	kind    inventory.Kind
	id      string
	normals []float64
	inputs  []uncertain.Input
}

// measurables lists what could be measured of the parts of two combinations, each part once.
func measurables(d *Draws, a, b *Result) []measurable {
	var list []measurable
	seen := map[string]bool{}
	for _, r := range []*Result{a, b} {
		c, sd := &r.Combination, &r.Craft.Uncertainty.LnSD
		add := func(kind MeasurementKind, of *partDraws, resolves float64, told ...uncertain.Input) {
			key := string(rune(kind)) + string(of.kind) + " " + of.id
			m := measurable{Measurement{Kind: kind, Part: of.kind, ID: of.id}, of.normals, len(of.inputs), nil, resolves}
			for i, input := range of.inputs {
				if slices.Contains(told, input) && sd[input] > 0 {
					m.columns = append(m.columns, i)
				}
			}
			if !seen[key] && len(m.columns) > 0 {
				seen[key] = true
				list = append(list, m)
			}
		}
		prop := partDraws{inventory.KindProp, c.Prop.ID, d.propNormals(c.Prop, &r.Craft.Uncertainty.Prop), propInputs[:]}
		add(Weigh, &prop, scaleResolves, uncertain.PropMass)
		add(BenchProp, &prop, benchResolves, uncertain.PropThrust, uncertain.PropPower)
		add(CaliperProp, &prop, caliperResolves, uncertain.PropThrust, uncertain.PropPower)
		motor := partDraws{inventory.KindMotor, c.Motor.ID, d.motorNormals(c.Motor), motorInputs[:]}
		add(Weigh, &motor, scaleResolves, uncertain.MotorMass)
		add(BenchMotor, &motor, meterResolves,
			uncertain.MotorSpeed, uncertain.MotorResistance, uncertain.MotorLoss, uncertain.RotorModel)
		pack := partDraws{inventory.KindPack, c.Pack.ID, d.packNormals(c.Pack), packInputs[:]}
		add(Weigh, &pack, scaleResolves, uncertain.PackMass)
		add(MeasureResistance, &pack, meterResolves, uncertain.PackResistance)
		add(MeasureCapacity, &pack, meterResolves, uncertain.PackCapacity)
		frame := partDraws{inventory.KindFrame, c.Frame.ID, d.frameNormals(c.Frame), frameInputs[:]}
		add(Weigh, &frame, scaleResolves, uncertain.FrameMass)
		board := partDraws{inventory.KindBoard, c.Board.ID, d.boardNormals(c.Board), boardInputs[:]}
		add(Weigh, &board, scaleResolves, uncertain.BoardMass)
	}
	return list
}

// craftMeasurables lists what could be read of the crafts as a whole: the masses of both, and of the first in the air.
func craftMeasurables(d *Draws, first *Result, drawn [2]*uncertain.Propagation) []measurable {
	of := func(k int, q figure.Quantity) []float64 { return drawn[k].Drawn(int(q)) }
	masses := slices.Clone(of(0, figure.AllUpMass))
	for s, kg := range of(1, figure.AllUpMass) {
		masses[s] -= kg
	}
	var speeds []float64
	for _, at := range d.deviations(&first.Combination, &first.Craft.Uncertainty) {
		c := first.Craft.Deviate(&at)
		speed, _, ok := c.Propeller.SpeedFor(c.MassKg()*figure.StandardGravityMS2/float64(c.Rotors), rotor.Flow{})
		if !ok {
			speed = math.NaN()
		}
		speeds = append(speeds, speed)
	}
	var list []measurable
	add := func(kind MeasurementKind, values []float64, errorSD func(mean float64) float64) {
		known := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
		if len(known) < 2 {
			return
		}
		mean, variance := stat.MeanVariance(known, nil)
		sd := errorSD(mean)
		if !(variance > 0) {
			return
		}
		normals := make([]float64, len(values))
		for s, x := range values {
			if !math.IsNaN(x) {
				normals[s] = (x - mean) / math.Sqrt(variance)
			}
		}
		list = append(list, measurable{Measurement{Kind: kind}, normals, 1, []int{0}, variance / (variance + sd*sd)})
	}
	relative := func(share float64) func(float64) float64 { return func(mean float64) float64 { return share * mean } }
	add(WeighAll, masses, func(float64) float64 { return 0 })
	add(ReadHoverSpeed, speeds, relative(hoverSpeedError))
	add(ReadHoverDuty, of(0, figure.HoverThrottle), func(float64) float64 { return hoverDutyError })
	add(ReadHoverAmps, of(0, figure.HoverCurrent), relative(hoverAmpsError))
	add(TimeFlight, of(0, figure.StyleTime), relative(flightTimeError))
	return list
}

// explains is the share of a difference's variance that the measurement's inputs explain, by least
// squares, corrected for the number of inputs (adjusted R²).
func (m *measurable) explains(difference []float64, mean float64) float64 {
	n, k := len(difference), len(m.columns)
	if n <= k+1 {
		return 0
	}
	x := mat.NewDense(n, k+1, nil)
	y := mat.NewVecDense(n, nil)
	for s := range n {
		x.Set(s, 0, 1)
		for j, column := range m.columns {
			x.Set(s, j+1, m.normals[s*m.width+column])
		}
		y.SetVec(s, difference[s]-mean)
	}
	var beta, fitted mat.VecDense
	if err := beta.SolveVec(x, y); err != nil {
		return 0
	}
	fitted.MulVec(x, &beta)
	var total, rest float64
	for s := range n {
		total += y.AtVec(s) * y.AtVec(s)
		left := y.AtVec(s) - fitted.AtVec(s)
		rest += left * left
	}
	return math.Max(1-rest/total*float64(n-1)/float64(n-k-1), 0)
}
