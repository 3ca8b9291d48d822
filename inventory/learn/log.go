package learn

import (
	"context"
	"errors"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// evidence is a drawer's log and benches as a model.
type evidence struct {
	model
	drawer    *inventory.Drawer
	ways      Ways
	entries   []source // by observation
	props     map[propIn]*rotor.Propeller
	weighed   map[string]bool    // frames of crafts that were weighed
	looseMass map[string]float64 // spread of a frame's mass by what its craft weighs beyond its parts
	power     map[string]float64 // spread of the electronics' power with a board, extras included
	targets   []target           // what may be learned of each part
	crafts    []*aimed           // of the log, each once
	priorOnly *posterior
	faults    inventory.Faults
}

// source is where an observation's readings stand.
type source struct {
	log    int // index in the log, −1 for a bench
	origin strict.Origin
	bench  *BenchRow // nil for an entry of the log
	way    string    // canonical, of a timed flight
	parts  inventory.Parts
}

type propIn struct {
	id  string
	air rotor.Air
}

func newEvidence(d *inventory.Drawer, ways Ways) *evidence {
	return &evidence{
		model: model{precision: 1}, drawer: d, ways: ways, props: map[propIn]*rotor.Propeller{},
		weighed: map[string]bool{}, looseMass: map[string]float64{}, power: map[string]float64{},
	}
}

func gather(ctx context.Context, d *inventory.Drawer, ways Ways) (*evidence, error) {
	g := newEvidence(d, ways)
	d.NoteThrottleKinds()
	for i := range d.Log {
		if d.Log[i].AllUpG != nil {
			g.weighed[d.Log[i].Parts.Frame] = true
		}
	}
	for i := range d.Log {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		g.flight(i)
	}
	g.addLooseMass()
	for i := range d.Motors {
		for j := range d.Motors[i].Bench {
			g.bench(&d.Motors[i], j)
		}
	}
	g.labels()
	if len(g.faults) > 0 {
		return nil, g.faults
	}
	if len(g.observations) == 0 {
		return nil, inventory.Faults{{File: d.Name, Problem: strict.Problem{Code: "learn.nothing"}}}
	}
	g.crafts = g.aimAtLog()
	var err error
	g.targets, err = g.targetRows()
	return g, err
}

func (g *evidence) fault(o strict.Origin, key string, code strict.Code, values strict.Values) {
	g.add(o, key, strict.Problem{Code: code, Values: values})
}

func (g *evidence) add(o strict.Origin, key string, p strict.Problem) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	g.faults = append(g.faults, inventory.Fault{File: g.drawer.Name, Position: o.Position, Path: path, Problem: p})
}

// cannot faults what has no numbers, for a reason that physics gives.
func (g *evidence) cannot(o strict.Origin, key string, err error) {
	var p *strict.Problem
	if errors.As(err, &p) {
		g.add(o, key, *p)
		return
	}
	g.fault(o, key, "learn.cannot", strict.Values{"cause": err})
}

// propeller is a prop in some air, made once.
func (g *evidence) propeller(p *inventory.Prop, air rotor.Air) (*rotor.Propeller, error) {
	key := propIn{p.ID, air}
	if made, ok := g.props[key]; ok {
		return made, nil
	}
	made, err := p.Label(air)
	if err == nil {
		g.props[key] = made
	}
	return made, err
}

// flight adds an entry of the log, or its faults.
func (g *evidence) flight(i int) {
	e := &g.drawer.Log[i]
	if missing := g.drawer.Missing(&e.Parts); missing != nil {
		for _, m := range missing {
			p := m.Problem()
			p.Way += "_log"
			g.add(e.Parts.Origin, m.Key, p)
		}
		return
	}
	c, err := compat.Build(g.drawer, &e.Parts)
	if err != nil {
		g.cannot(e.Parts.Origin, "", err)
		return
	}
	before := len(g.faults)
	g.checkReadings(e, &c)
	where := g.drawer.Air
	if e.Air != nil {
		where = *e.Air
	}
	air, err := where.SI()
	if err != nil {
		g.fault(e.Origin, "air", "air.none", strict.Values{"cause": err})
	}
	f := &flightObservation{}
	way := ""
	if e.FlightMinutes != nil || e.PowerOverHover != nil {
		f.flight, way = g.flown(e, &c)
	}
	if len(g.faults) > before {
		return
	}
	prop, err := g.propeller(c.Prop, air)
	if err != nil {
		g.cannot(e.Parts.Origin, "prop", err)
		return
	}
	if f.craft, err = c.Craft(prop); err != nil {
		g.cannot(e.Parts.Origin, "", err)
		return
	}
	f.all = g.rows(&c, &f.craft, way)
	f.readEntry(e, &c)
	if e.FlightMinutes != nil && e.PowerOverHover != nil && way != wayHover {
		f.oneFlight(g.of(kindFlight, strconv.Itoa(i+1), uncertain.FlyingPower))
	}
	f.frame = c.Frame.ID
	landingSD := landingCellSD
	if _, sd := e.LandingCell(c.Pack.Cells); sd != nil {
		landingSD = *sd
	}
	f.addLandingDoubt(landingSD)
	g.observations = append(g.observations, f)
	g.entries = append(g.entries, source{log: i, origin: e.Origin, way: way, parts: c.Parts()})
}

// rows are the errors of a craft's inputs. A way of "" leaves the way of flying out.
func (g *evidence) rows(c *inventory.Combination, craft *physics.Craft, way string) rows {
	var u unitRows
	g.motor(&u, c.Motor)
	g.own(&u, inventory.KindProp, c.Prop.ID, propInputs[:])
	g.own(&u, inventory.KindPack, c.Pack.ID, packInputs[:])
	g.own(&u, inventory.KindFrame, c.Frame.ID, frameInputs[:])
	g.own(&u, inventory.KindBoard, c.Board.ID, boardInputs[:])
	g.own(&u, KindExtras, extrasOf(c), []uncertain.Input{uncertain.ExtrasMass})
	g.own(&u, kindRotors, "", []uncertain.Input{uncertain.RotorDrag})
	if way != "" && way != wayHover {
		g.flying(&u, way, c.Frame.ID)
	}
	r := u.rows(&craft.Uncertainty)
	g.prop(&r, inventory.KindProp, c.Prop.ID, c.Prop.Series, &craft.Uncertainty.Prop)
	g.power[c.Board.ID] = max(g.power[c.Board.ID], craft.Uncertainty.LnSD[uncertain.ElectronicsPower])
	return r
}

// addLooseMass adds what crafts weigh beyond their listed parts to the frames of those that were weighed,
// by the mean mass of the log's crafts on that frame, and leaves out of every craft what none of its
// readings tells of.
func (g *evidence) addLooseMass() {
	count := map[string]float64{}
	for _, s := range g.observations {
		if f := s.(*flightObservation); g.weighed[f.frame] {
			count[f.frame]++
			g.looseMass[f.frame] += looseShare * f.craft.MassKg() / f.craft.FrameKg
		}
	}
	for frame, n := range count {
		g.looseMass[frame] /= n
	}
	for _, s := range g.observations {
		f := s.(*flightObservation)
		if by, ok := g.looseMass[f.frame]; ok {
			mass := &f.all[uncertain.FrameMass]
			*mass = mass.plus(row{{g.of(kindLoose, f.frame, uncertain.FrameMass), by}})
		}
		f.prune()
	}
}

// extrasOf names the set of extras of a combination.
func extrasOf(c *inventory.Combination) string { return strings.Join(c.Parts().Extras, "+") }
