package calibration

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/rotor"
)

// PropReading is what a pilot may read of a prop.
type PropReading struct {
	Name          string
	Known         props.Knowledge
	Bench, Torque bool
	// SpeedLnSD and ThrustLnSD are how well speed and thrust are known.
	SpeedLnSD, ThrustLnSD float64
}

// PropReadings, cheapest first. Speed in hover is read off sound, telemetry or a tachometer, thrust is the weight; a
// stand knows both better.
var PropReadings = [...]PropReading{
	{Name: "label"},
	{Name: "hover rpm at a known weight", Bench: true, SpeedLnSD: 0.02, ThrustLnSD: 0.01},
	{Name: "chord at 75 % by ruler", Known: props.FromChord},
	{Name: "chord and angle at 75 %", Known: props.FromStation},
	{Name: "chord and angle all along", Known: props.FromStations},
	{Name: "one bench point, thrust and torque", Bench: true, Torque: true, SpeedLnSD: 0.005, ThrustLnSD: 0.01},
}

// PrintPropReadings prints what each reading leaves of the errors of CT and CP at rest, at other speeds than were read:
// a hover is taken at the slowest point, a bench point in the middle. Families are left out.
func PrintPropReadings(w io.Writer, ps []props.Prop, left LeftLaw, air rotor.Air) error {
	fmt.Fprintln(w, "| known | CT conventional | CP | CT multirotor | CP | power at a thrust, multirotor |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|")
	for i := range PropReadings {
		r := &PropReadings[i]
		errors := map[string][3][]float64{}
		random := rand.New(rand.NewPCG(11, 12))
		for k := range ps {
			p := &ps[k]
			e, ok, err := r.errors(p, left(p.Family), air, random)
			if err != nil {
				return err
			}
			if !ok {
				continue
			}
			list := errors[kindOf(p)]
			for c := range list {
				list[c] = append(list[c], e[c]...)
			}
			errors[kindOf(p)] = list
		}
		c, m := errors["conventional"], errors["multirotor"]
		fmt.Fprintf(w, "| %s | %s | %s | %s | %s | %s |\n", r.Name, robust.Signed(c[0]), robust.Signed(c[1]),
			robust.Signed(m[0]),
			robust.Signed(m[1]), robust.Signed(m[2]))
	}
	return nil
}

// errors of one prop, the mean over points: of CT, CP and CP/CT^1.5.
func (r *PropReading) errors(p *props.Prop, law *rotor.Law, air rotor.Air, random *rand.Rand) (out [3][]float64,
	ok bool,
	err error) {
	points := props.Thinned(p.Static, 6)
	spec := p.Known(r.Known)
	noise := [2]float64{random.NormFloat64(), random.NormFloat64()} // drawn for every prop, used or not
	if p.Twists || r.Known > props.FromLabel && len(spec.Stations) == 0 || len(points) < 3 {
		return out, false, nil
	}
	if r.Bench {
		at := 0
		if r.Torque {
			at = len(points) / 2
		}
		read := points[at]
		if r.Torque && (read.CP == 0 || p.Inferred) {
			return out, false, nil
		}
		b := benchPoint(spec, read, r.Torque, air)
		b.SpeedRadS *= math.Exp(r.SpeedLnSD * noise[0])
		b.ThrustN *= math.Exp(r.ThrustLnSD * noise[1])
		spec.Bench = []rotor.BenchPoint{b}
		points = append(points[:at:at], points[at+1:]...)
	}
	made, err := law.New(spec, air)
	if err != nil {
		return out, false, fmt.Errorf("%v: %w", p, err)
	}
	t := &knownProp{p: p, made: made, air: air}
	ct, cp, hasPower := t.cases(points)
	out[0] = []float64{ct.Error()}
	if hasPower {
		out[1], out[2] = []float64{cp.Error()}, []float64{cp.Error() - 1.5*ct.Error()}
	}
	return out, true, nil
}
