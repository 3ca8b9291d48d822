package learn

import (
	"fmt"
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// bench adds a row of a motor's bench. Its thrust counts only without its rpm: with it, the prop
// has it already.
func (g *evidence) bench(m *inventory.Motor, row int) {
	b := &m.Bench[row]
	p := g.drawer.Prop(b.Prop)
	if p == nil {
		g.fault(b.Origin, "prop", "learn.bench_prop", strict.Values{"id": strict.Raw(b.Prop)})
		return
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		g.cannot(b.Origin, "", err)
		return
	}
	prop, err := g.propeller(p, air)
	if err != nil {
		g.cannot(b.Origin, "prop", err)
		return
	}
	motor := m.SI()
	spread := budgetOf(prop, &motor, &inventory.PackSI{})
	var u unitRows
	g.motor(&u, m)
	g.own(&u, inventory.KindProp, p.ID, propInputs[:])
	g.own(&u, kindStand, m.ID, standInputs[:])
	r := u.rows(&spread)
	g.prop(&r, inventory.KindProp, p.ID, p.Series, &spread.Prop)
	s := &benchObservation{
		stand: physics.Stand{Propeller: *prop, Motor: motor.Motor, ESC: inventory.StandBody().Board.ESC,
			ThrottleExponent: 1},
		rows: r, voltageV: b.Volts, throttle: b.ThrottlePct / 100,
	}
	if b.RPM != nil {
		s.readings = append(s.readings, read(StandSpeed, *b.RPM))
	}
	if b.CurrentA != nil {
		s.readings = append(s.readings, read(StandCurrent, *b.CurrentA))
	}
	if b.ThrustG != nil && b.RPM == nil {
		s.readings = append(s.readings, read(StandThrust, *b.ThrustG))
	}
	if len(s.readings) == 0 {
		return
	}
	g.observations = append(g.observations, s)
	g.entries = append(g.entries, source{
		log: -1, origin: b.Origin, bench: &BenchRow{m.ID, p.ID, b.Volts, b.ThrottlePct},
		parts: inventory.Parts{Motor: m.ID, Prop: p.ID},
	})
}

// labels adds what bench points of a prop say of its label, where others of its series or class can learn from it.
func (g *evidence) labels() {
	sisters, class := map[string]int{}, 0
	for i := range g.drawer.Props {
		p := &g.drawer.Props[i]
		sisters[p.Series]++
		if spec := p.Spec(); spec.MultirotorShare() > 0 {
			class++
		}
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		return
	}
	for i := range g.drawer.Props {
		p := &g.drawer.Props[i]
		spec := p.Spec()
		told := p.Series != "" && sisters[p.Series] > 1 || class > 1 && spec.MultirotorShare() > 0
		if !told || len(spec.Bench) == 0 {
			continue
		}
		m, err := g.label(p, spec, air)
		if err != nil {
			g.cannot(p.Origin, "", err)
			continue
		}
		g.observations = append(g.observations, m)
		g.entries = append(g.entries, source{
			log: -1, origin: p.Origin, bench: &BenchRow{Prop: p.ID}, parts: inventory.Parts{Prop: p.ID},
		})
	}
}

func (g *evidence) label(p *inventory.Prop, spec rotor.Spec, air rotor.Air) (*labelObservation, error) {
	benched, err := g.propeller(p, air)
	if err != nil {
		return nil, err
	}
	bare := spec
	bare.Bench = nil
	label, err := rotor.New(bare, air)
	if err != nil {
		return nil, err
	}
	var logSpeed float64
	torque := false
	for _, b := range spec.Bench {
		logSpeed += math.Log(b.SpeedRadS) / float64(len(spec.Bench))
		torque = torque || b.TorqueNm > 0
	}
	speed := math.Exp(logSpeed)
	thrustN, torqueNm := benched.Loads(speed, rotor.Flow{})
	labelN, labelNm := label.Loads(speed, rotor.Flow{})
	if !(thrustN > 0 && labelN > 0 && torqueNm > 0 && labelNm > 0) {
		return nil, &strict.Problem{Code: "learn.no_thrust", Values: strict.Values{"prop": p.ID}}
	}
	var r rows
	g.prop(&r, kindLabel, p.ID, p.Series, &label.Uncertainty.Forms)
	off := logSpeed - math.Log(label.ReferenceRadS)
	m := &labelObservation{rows: [2]row{r[uncertain.PropThrust].plus(r[uncertain.PropThrustSpeed].scaled(off)),
		r[uncertain.PropPower].plus(r[uncertain.PropPowerSpeed].scaled(off))}}
	t, q := thrustN/labelN, torqueNm/labelNm
	m.readings = []Reading{{LabelThrust, t, t * benched.Uncertainty.Thrust.LnSD}}
	if torque {
		m.readings = append(m.readings, Reading{LabelTorque, q, q * benched.Uncertainty.Power.LnSD})
	}
	return m, nil
}

// BenchRow is a row of a motor's bench, or the bench points of a prop by itself, whose Motor is empty.
type BenchRow struct {
	Motor, Prop           string
	VoltageV, ThrottlePct float64
}

// label names the row in learned files; that of nil is empty.
func (b *BenchRow) label() string {
	switch {
	case b == nil:
		return ""
	case b.Motor == "":
		return "bench " + b.Prop
	}
	return fmt.Sprintf("bench %s %s, %g V, %g %%", b.Motor, b.Prop, b.VoltageV, b.ThrottlePct)
}

// benchObservation is one row of a motor's bench: a motor with a prop on a stand.
type benchObservation struct {
	stand              physics.Stand
	rows               rows
	readings           []Reading
	voltageV, throttle float64
}

func (s *benchObservation) touched() []int { return s.rows.touched() }

func (s *benchObservation) read() []Reading { return s.readings }

func (s *benchObservation) predict(z []float64, into []float64) bool {
	d := s.rows.deviation(z)
	stand := s.stand.Deviate(&d)
	p, err := stand.Point(s.voltageV, s.throttle)
	if err != nil {
		return false
	}
	for i := range s.readings {
		switch s.readings[i].Key {
		case StandSpeed:
			into[i] = p.SpeedRadS * 60 / (2 * math.Pi)
		case StandCurrent:
			into[i] = p.CurrentA
		case StandThrust:
			into[i] = p.ThrustN / physics.GravityMS2 * 1e3
		}
		if !(into[i] > 0) {
			return false
		}
	}
	return true
}

// labelObservation is what bench points of a prop say of its label: the logarithms of measured over
// labelled CT and CP. The prop itself has them already; its sisters learn from them.
type labelObservation struct {
	rows     [2]row // errors of the label in CT and CP
	readings []Reading
}

func (m *labelObservation) touched() []int {
	r := rows{m.rows[0], m.rows[1]}
	return r.touched()
}

func (m *labelObservation) read() []Reading { return m.readings }

func (m *labelObservation) predict(z []float64, into []float64) bool {
	for i := range m.readings {
		into[i] = math.Exp(m.rows[i].at(z))
	}
	return true
}
