package calibration

import (
	"fmt"
	"math"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// LeftLaw is the prop law fitted without a family.
type LeftLaw func(family string) *rotor.Law

// knownProp is a prop known to some degree under a law, with draws.
type knownProp struct {
	p     *props.Prop
	made  *rotor.Propeller
	drawn []rotor.Propeller
	air   rotor.Air
}

// tryProp makes a prop from what is known of it.
func tryProp(law *rotor.Law, p *props.Prop, spec rotor.Spec, air rotor.Air, d *Draws) (*knownProp, error) {
	made, err := law.New(spec, air)
	if err != nil {
		return nil, fmt.Errorf("%v: %w", p, err)
	}
	var b uncertain.Budget
	made.Uncertainty.Put(&b)
	t := &knownProp{p: p, made: made, air: air}
	for _, deviation := range d.Of(&b, map[uncertain.Owner]string{uncertain.OfProp: p.Family + " " + p.ID}) {
		one := *made
		one.Deviate(&deviation)
		t.drawn = append(t.drawn, one)
	}
	return t, nil
}

// coefficients of a prop at rest, as logarithms.
func (t *knownProp) coefficients(made *rotor.Propeller, rpm float64) (ct, cp float64) {
	n := rpm / 60
	force := t.air.DensityKgM3 * n * n * math.Pow(made.DiameterM, 4)
	thrust, torque := made.HoverLoads(rpm * props.RPM)
	return math.Log(thrust / force), math.Log(2 * math.Pi * torque / (force * made.DiameterM))
}

// cases are the mean CT and CP over points, read, predicted and drawn. CP is missing where torque was not read.
func (t *knownProp) cases(points []props.Point) (ct, cp Case, hasPower bool) {
	mean := func(made *rotor.Propeller) (x, y float64) {
		n := 0.0
		for _, pt := range points {
			c, p := t.coefficients(made, pt.RPM)
			x += c / float64(len(points))
			if pt.CP > 0 {
				y += p
				n++
			}
		}
		return x, y / n
	}
	var n float64
	for _, pt := range points {
		ct.Measured += math.Log(pt.CT) / float64(len(points))
		if pt.CP > 0 {
			cp.Measured += math.Log(pt.CP)
			n++
		}
	}
	cp.Measured /= n
	ct.Stand, ct.Motor, ct.Prop, ct.PropClass = t.p.Family, "", t.p.ID, PropClass(t.p.Spec.DiameterM)
	ct.Features = [features]float64{t.p.Spec.DiameterM, t.p.Spec.PitchM, float64(t.p.Spec.Blades)}
	measured := cp.Measured
	ct.Predicted, _ = mean(t.made)
	cp = ct
	cp.Measured = measured
	_, cp.Predicted = mean(t.made)
	cp.Drawn = nil
	for i := range t.drawn {
		x, y := mean(&t.drawn[i])
		ct.Drawn, cp.Drawn = append(ct.Drawn, x), append(cp.Drawn, y)
	}
	return ct, cp, n > 0 && !t.p.Inferred
}

// PropCases are CT and CP of every prop from as much as is known of it, families left out.
type PropCases struct {
	CT, CP, Merit map[string][]Case // by class; Merit is CP/CT^1.5
}

// ClassOf is a prop's kind and size in the words of the tables.
func ClassOf(p *props.Prop) string { return kindOf(p) + ", " + PropClass(p.Spec.DiameterM) }

// kindOf is what a prop was made for in the words of the tables.
func kindOf(p *props.Prop) string {
	if p.Class == props.Racing {
		return "multirotor"
	}
	return "conventional"
}

// TryProps predicts every prop from what k lets be known of it.
func TryProps(ps []props.Prop, left LeftLaw, k props.Knowledge, air rotor.Air, draws int) (*PropCases, error) {
	d := NewDraws(draws)
	out := &PropCases{map[string][]Case{}, map[string][]Case{}, map[string][]Case{}}
	for i := range ps {
		p := &ps[i]
		if p.Twists || k > props.FromLabel && len(p.Spec.Stations) == 0 {
			continue
		}
		t, err := tryProp(left(p.Family), p, p.Known(k), air, d)
		if err != nil {
			return nil, err
		}
		ct, cp, hasPower := t.cases(props.Thinned(t.p.Static, 5))
		class := ClassOf(t.p)
		out.CT[class] = append(out.CT[class], ct)
		if hasPower {
			out.CP[class] = append(out.CP[class], cp)
			merit := cp
			merit.Measured, merit.Predicted = cp.Measured-1.5*ct.Measured, cp.Predicted-1.5*ct.Predicted
			merit.Drawn = make([]float64, len(cp.Drawn))
			for s := range merit.Drawn {
				merit.Drawn[s] = cp.Drawn[s] - 1.5*ct.Drawn[s]
			}
			out.Merit[class] = append(out.Merit[class], merit)
		}
	}
	return out, nil
}

// PropGroups are the groups in which props are compared: those of one stand, and the tunnel's of one class.
func PropGroups(cases map[string][]Case) [][]Case {
	index := map[string]int{}
	var out [][]Case
	for _, class := range sortedKeys(cases) {
		for _, c := range cases[class] {
			key := "tunnel " + class
			if len(class) > 5 && class[:5] == "multi" {
				key = c.Stand
			}
			k, ok := index[key]
			if !ok {
				k = len(out)
				index[key] = k
				out = append(out, nil)
			}
			out[k] = append(out[k], c)
		}
	}
	return out
}

// benchDistances are the least absolute logarithms of the ratio of two speeds from which a class of distance begins.
var benchDistances = [...]struct {
	name string
	from float64
}{{"to 1.15 times the rpm", 0}, {"1.15 to 1.4 times", math.Log(1.15)}, {"over 1.4 times", math.Log(1.4)}}

// Covered is how many intervals held, and errors.
type Covered struct {
	In, N  float64
	Groups int // props, motors or crafts
	Errors []float64
}

// Share of intervals that held.
func (c *Covered) Share() float64 { return c.In / c.N }

// benchRepeat is how far a stand repeats one reading of thrust, of ln (judgement).
const benchRepeat = 0.01

// TryBench gives a prop one bench point, at its slowest, middle and fastest speed in turn, and tries it at its other
// speeds: CT and CP by kind and distance. Every prop counts alike.
func TryBench(ps []props.Prop, left LeftLaw, torque bool, air rotor.Air, draws int) (ct, cp map[string]*Covered,
	err error) {
	d := NewDraws(draws)
	ct, cp = map[string]*Covered{}, map[string]*Covered{}
	for i := range ps {
		p := &ps[i]
		points := props.Thinned(p.Static, 6)
		if p.Twists || len(points) < 3 || torque && (p.Inferred || points[len(points)-1].CP == 0) {
			continue
		}
		inside := map[string][2][]bool{}
		errors := map[string][2][]float64{}
		for _, at := range []int{0, len(points) / 2, len(points) - 1} {
			if torque && points[at].CP == 0 {
				continue
			}
			spec := p.Known(props.FromLabel)
			spec.Bench = []rotor.BenchPoint{benchPoint(spec, points[at], torque, air)}
			t, err := tryProp(left(p.Family), p, spec, air, d)
			if err != nil {
				return nil, nil, err
			}
			for k, pt := range points {
				if k == at {
					continue
				}
				x, y, hasPower := t.cases([]props.Point{pt})
				class := kindOf(p) + ", " + distance(pt.RPM/points[at].RPM)
				in, ln := inside[class], errors[class]
				in[0], ln[0] = append(in[0], x.Inside(benchRepeat)), append(ln[0], x.Error())
				if hasPower {
					in[1], ln[1] = append(in[1], y.Inside(2*benchRepeat)), append(ln[1], y.Error())
				}
				inside[class], errors[class] = in, ln
			}
		}
		for class, in := range inside {
			for k, table := range []map[string]*Covered{ct, cp} {
				if len(in[k]) > 0 {
					if table[class] == nil {
						table[class] = &Covered{}
					}
					table[class].add(in[k], errors[class][k], errors[class][k]...)
				}
			}
		}
	}
	return ct, cp, nil
}

// add counts one prop, motor or craft by the share of its intervals that held, and its errors: as told, or their mean.
func (c *Covered) add(inside []bool, errors []float64, told ...float64) {
	for _, in := range inside {
		if in {
			c.In += 1 / float64(len(inside))
		}
	}
	c.N++
	c.Groups++
	if told == nil {
		told = []float64{robust.Mean(errors)}
	}
	c.Errors = append(c.Errors, told...)
}

func distance(ratio float64) string {
	name := ""
	for _, d := range benchDistances {
		if math.Abs(math.Log(ratio)) >= d.from {
			name = d.name
		}
	}
	return name
}

func benchPoint(spec rotor.Spec, pt props.Point, torque bool, air rotor.Air) rotor.BenchPoint {
	n := pt.RPM / 60
	force := air.DensityKgM3 * n * n * math.Pow(spec.DiameterM, 4)
	b := rotor.BenchPoint{SpeedRadS: pt.RPM * props.RPM, ThrustN: pt.CT * force, DensityKgM3: air.DensityKgM3}
	if torque {
		b.TorqueNm = pt.CP * force * spec.DiameterM / (2 * math.Pi)
	}
	return b
}
