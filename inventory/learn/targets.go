package learn

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// target is a row that may be exported.
type target struct {
	kind    inventory.Kind
	id      string
	input   uncertain.Input
	row     row
	priorSD float64 // standard deviation without readings
}

// Bounds under which a change is not kept: the shift in standard deviations, and the share of the
// standard deviation taken away.
const (
	leastShift  = 0.05
	leastNarrow = 0.01
	leastDoubt  = 1e-6 // standard deviation of ln under which an input is known: nothing is left to learn
	tellingSDs  = 0.25 // a reading tells of an input that moves it by this many of its own standard deviations
)

// learned turns a posterior into corrections of parts.
func (g *evidence) learned(p *posterior) *Learned {
	list := g.targets
	l := &Learned{Drawer: g.drawer.Name}
	var kept []target
	keep := make([]bool, len(list))
	for i := range list {
		if list[i].priorSD < leastDoubt {
			continue
		}
		mean, sd := p.moments(list[i].row)
		if math.Abs(mean) > leastShift*list[i].priorSD || sd < (1-leastNarrow)*list[i].priorSD {
			keep[i] = true
			for j := range list {
				if list[j].kind == list[i].kind && list[j].id == list[i].id && list[j].priorSD >= leastDoubt &&
					partners(list[i].input, list[j].input) {
					keep[j] = true
				}
			}
		}
	}
	for i := range list {
		if !keep[i] {
			continue
		}
		s := list[i]
		kept = append(kept, s)
		if n := len(l.Parts); n == 0 || l.Parts[n-1].Kind != s.kind || l.Parts[n-1].ID != s.id {
			l.Parts = append(l.Parts, Part{Kind: s.kind, ID: s.id, Figures: g.figures(s.kind, s.id)})
		}
		mean, sd := p.moments(s.row)
		part := &l.Parts[len(l.Parts)-1]
		part.Changes = append(part.Changes, Change{s.input, mean, s.priorSD, sd, g.readingsOn(p, &s)})
	}
	n := len(kept)
	if n > 0 {
		l.Correlation = mat.NewSymDense(n, nil)
		for i := range kept {
			for j := i; j < n; j++ {
				r := 1.0
				if i != j {
					r = p.correlation(kept[i].row, kept[j].row)
				}
				l.Correlation.SetSym(i, j, r)
			}
		}
	}
	for k, s := range g.observations {
		f := From{Date: "", What: g.entries[k].bench.label()}
		if i := g.entries[k].log; i >= 0 {
			f.Entry, f.Date = i+1, g.drawer.Log[i].Date
		}
		for _, r := range s.read() {
			f.Readings = append(f.Readings, r.Key)
		}
		l.From = append(l.From, f)
	}
	return l
}

func (g *evidence) figures(kind inventory.Kind, id string) string {
	if kind == KindFlying {
		f, _ := g.ways.flying(id)
		return flyingFingerprint(&f)
	}
	return fingerprint(g.drawer, kind, id)
}

// readingsOn counts the readings that an input moves by a good part of their own doubt.
func (g *evidence) readingsOn(p *posterior, s *target) int {
	count := 0
	for k := range p.linearised {
		d := &p.linearised[k]
		for i, slope := range d.slopes {
			// How far the reading goes with the input: its covariance with it under the prior.
			var with float64
			for x, latent := range d.touched {
				for _, t := range s.row {
					if t.latent == latent {
						with += slope[x] * t.by
					}
				}
			}
			if math.Abs(with)/s.priorSD > tellingSDs*d.sd[i] {
				count++
			}
		}
	}
	return count
}

// targetRows are the rows of every part that a reading touches and of the props of the series and of the class of such
// props, by kind and id.
func (g *evidence) targetRows() ([]target, error) {
	touched := map[latent]bool{}
	for _, s := range g.observations {
		for _, i := range s.touched() {
			touched[latent{kind: g.list[i].kind, id: g.list[i].id}] = true
		}
	}
	hit := func(kind inventory.Kind, id string) bool { return touched[latent{kind: kind, id: id}] }
	var list []target
	put := func(kind inventory.Kind, id string, r *rows) {
		for _, i := range inputsOf(kind) {
			if v := variance(r[i]); v > 0 {
				list = append(list, target{kind, id, i, r[i], math.Sqrt(v)})
			}
		}
	}
	d := g.drawer
	air, err := d.Air.SI()
	if err != nil {
		return nil, err
	}
	bare := rotor.Propeller{}
	for i := range d.Motors {
		m := &d.Motors[i]
		if !hit(inventory.KindMotor, m.ID) {
			continue
		}
		si := m.SI()
		spread := budgetOf(&bare, &si, &inventory.PackSI{})
		var u unitRows
		g.motor(&u, m)
		r := u.rows(&spread)
		// What is learned of all motors counts with what is learned of this one.
		r[uncertain.MotorSpeed] = r[uncertain.MotorSpeed].plus(r[uncertain.MotorsSpeed])
		r[uncertain.MotorLoss] = r[uncertain.MotorLoss].plus(r[uncertain.MotorsLoss])
		power, esc := si.ResistanceSlopes()
		r[uncertain.MotorResistance] = r[uncertain.MotorResistance].plus(r[uncertain.MotorsPower].scaled(power)).
			plus(r[uncertain.EscResistance].scaled(esc))
		put(inventory.KindMotor, m.ID, &r)
	}
	for i := range d.Props {
		p := &d.Props[i]
		spec := p.Spec()
		if !hit(inventory.KindProp, p.ID) && (p.Series == "" || !hit(KindSeries, p.Series)) &&
			!(hit(kindClass, multirotorClass) && spec.MultirotorShare() > 0) {
			continue
		}
		made, err := g.propeller(p, air)
		if err != nil {
			return nil, err
		}
		spread := budgetOf(made, &inventory.MotorSI{}, &inventory.PackSI{})
		var u unitRows
		g.own(&u, inventory.KindProp, p.ID, propInputs[:])
		r := u.rows(&spread)
		g.prop(&r, inventory.KindProp, p.ID, p.Series, &spread.Prop)
		put(inventory.KindProp, p.ID, &r)
	}
	for i := range d.Packs {
		k := &d.Packs[i]
		if !hit(inventory.KindPack, k.ID) {
			continue
		}
		si := k.SI(air.TemperatureK)
		spread := budgetOf(&bare, &inventory.MotorSI{}, &si)
		var u unitRows
		g.own(&u, inventory.KindPack, k.ID, packInputs[:])
		r := u.rows(&spread)
		put(inventory.KindPack, k.ID, &r)
	}
	g.bodies(hit, put)
	for _, way := range g.ways.names() {
		if hit(KindFlying, way) {
			var r rows
			r[uncertain.FlyingPower] = row{{g.of(KindFlying, way, uncertain.FlyingPower), flyingSpread() * math.Sqrt(wayShare)}}
			put(KindFlying, way, &r)
		}
	}
	return list, nil
}

// budgetOf is the uncertainty of a motor, a prop and a pack on a craft without anything else.
func budgetOf(prop *rotor.Propeller, motor *inventory.MotorSI, pack *inventory.PackSI) uncertain.Budget {
	return inventory.Assemble(1, prop, motor, pack, inventory.StandBody(), physics.Connector{}).Uncertainty
}

// bodies are the rows of frames and boards; the power of a board is that of its craft's electronics.
func (g *evidence) bodies(hit func(inventory.Kind, string) bool, put func(inventory.Kind, string, *rows)) {
	for i := range g.drawer.Frames {
		f := &g.drawer.Frames[i]
		if !hit(inventory.KindFrame, f.ID) {
			continue
		}
		var u unitRows
		g.own(&u, inventory.KindFrame, f.ID, frameInputs[:])
		c := inventory.Combination{Frame: f, Board: &inventory.Board{EscCurrentA: 1}}
		body := c.Body()
		spread := uncertain.Budget{}
		spread.LnSD[uncertain.FrameMass], spread.LnSD[uncertain.DragArea] = body.FrameMass.LnSD, body.DragArea.LnSD
		r := u.rows(&spread)
		if loose, ok := g.looseMass[f.ID]; ok {
			r[uncertain.FrameMass] = r[uncertain.FrameMass].plus(row{{g.of(kindLoose, f.ID, uncertain.FrameMass), loose}})
		}
		own := g.of(inventory.KindFrame, f.ID, uncertain.FlyingPower)
		r[uncertain.FlyingPower] = row{{own, flyingSpread() * math.Sqrt(1-wayShare)}}
		put(inventory.KindFrame, f.ID, &r)
	}
	for i := range g.drawer.Boards {
		b := &g.drawer.Boards[i]
		if !hit(inventory.KindBoard, b.ID) {
			continue
		}
		var u unitRows
		g.own(&u, inventory.KindBoard, b.ID, boardInputs[:])
		c := inventory.Combination{Frame: &inventory.Frame{MassG: new(float64)}, Board: b}
		body := c.Body()
		spread := uncertain.Budget{}
		spread.Set(uncertain.ThrottleScale, b.Throttle.SI().Scale())
		spread.LnSD[uncertain.BoardMass], spread.LnSD[uncertain.ElectronicsPower] = body.BoardMass.LnSD, g.power[b.ID]
		body.ESC.Put(&spread)
		r := u.rows(&spread)
		put(inventory.KindBoard, b.ID, &r)
	}
}

func flyingSpread() float64 {
	var u uncertain.Budget
	physics.ShareSpread(&u)
	return u.LnSD[uncertain.FlyingPower]
}
