package learn

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

// gathered is a drawer's log and benches as a model.
type gathered struct {
	model
	drawer  *inventory.Drawer
	ways    Ways
	entries []source // by subject
	props   map[propIn]*physics.Propeller
	weighed map[string]bool    // frames of crafts that were weighed
	loose   map[string]float64 // spread of a frame's mass by what its craft weighs beyond its parts
	power   map[string]float64 // spread of the electronics' power with a board, extras included
	shown   []shown            // what may be learned of each part
	before  *posterior
	faults  inventory.Faults
}

// source is where a subject's readings stand.
type source struct {
	log    int // index in the log, −1 for a bench
	origin strict.Origin
	what   string // in words
	way    string // canonical, of a timed flight
	parts  inventory.Parts
}

type propIn struct {
	id  string
	air physics.Air
}

func gather(d *inventory.Drawer, ways Ways) (*gathered, error) {
	g := &gathered{model: model{weight: 1}, drawer: d, ways: ways, props: map[propIn]*physics.Propeller{}, weighed: map[string]bool{}, loose: map[string]float64{}, power: map[string]float64{}}
	for i := range d.Log {
		if d.Log[i].AllUpG != nil {
			g.weighed[d.Log[i].Parts.Frame] = true
		}
	}
	for i := range d.Log {
		g.entry(i)
	}
	g.loosen()
	for i := range d.Motors {
		for j := range d.Motors[i].Bench {
			g.stand(&d.Motors[i], j)
		}
	}
	g.series()
	if len(g.faults) > 0 {
		return nil, g.faults
	}
	if len(g.subjects) == 0 {
		return nil, inventory.Faults{{File: d.Name, Message: "holds no log and no bench readings: there is nothing to learn from; write under log what you weighed, flew and measured"}}
	}
	var err error
	g.shown, err = g.rowsOfParts()
	return g, err
}

func (g *gathered) fault(o strict.Origin, key, format string, args ...any) {
	path := o.Path
	if key != "" {
		path += "." + key
	}
	g.faults = append(g.faults, inventory.Fault{File: g.drawer.Name, Line: o.Line, Column: o.Column, Path: path, Message: fmt.Sprintf(format, args...)})
}

// propeller is a prop in some air, made once.
func (g *gathered) propeller(p *inventory.Prop, air physics.Air) (*physics.Propeller, error) {
	key := propIn{p.ID, air}
	if made, ok := g.props[key]; ok {
		return made, nil
	}
	made, err := physics.NewPropeller(p.Spec(), air)
	if err == nil {
		g.props[key] = made
	}
	return made, err
}

// entry adds an entry of the log, or its faults.
func (g *gathered) entry(i int) {
	e := &g.drawer.Log[i]
	if missing := g.drawer.Missing(&e.Parts); missing != nil {
		for _, m := range missing {
			g.fault(e.Parts.Origin, m.Key, "%s (a part that you no longer have stays in the drawer with count: 0)", m.Error())
		}
		return
	}
	c, err := g.drawer.Combination(&e.Parts)
	if err != nil {
		g.fault(e.Parts.Origin, "", "%v", err)
		return
	}
	before := len(g.faults)
	g.impossible(e, &c)
	where := g.drawer.Air
	if e.Air != nil {
		where = *e.Air
	}
	air, err := where.SI()
	if err != nil {
		g.fault(e.Origin, "air", "gives no air to fly in: %v", err)
	}
	f := &flown{}
	way := ""
	if e.FlightMinutes != nil {
		f.flight, way = g.flight(e)
	}
	if len(g.faults) > before {
		return
	}
	prop, err := g.propeller(c.Prop, air)
	if err != nil {
		g.fault(e.Parts.Origin, "prop", "%v", err)
		return
	}
	if f.craft, err = c.Craft(prop); err != nil {
		g.fault(e.Parts.Origin, "", "%v", err)
		return
	}
	f.all = g.rows(&c, &f.craft, way)
	put := func(key Key, x *float64) {
		if x != nil {
			f.readings = append(f.readings, read(key, *x))
		}
	}
	put(AllUp, e.AllUpG)
	put(HoverThrottle, e.HoverThrottlePct)
	put(HoverCurrent, e.HoverCurrentA)
	put(FullThrottleCurrent, e.FullThrottleCurrentA)
	put(LoadedCell, e.LoadedCellV)
	put(FlightMinutes, e.FlightMinutes)
	if f.flight != nil && f.flight.landingV > 0 {
		put(UsedCharge, e.UsedMAh)
	}
	put(TopSpeed, e.TopSpeedMps)
	f.frame = c.Frame.ID
	f.widen()
	g.subjects = append(g.subjects, f)
	g.entries = append(g.entries, source{log: i, origin: e.Origin, way: way, parts: c.Parts()})
}

// impossible faults readings that no craft of these parts gives, whatever their figures.
func (g *gathered) impossible(e *inventory.LogEntry, c *inventory.Combination) {
	si := c.Pack.SI(physics.CelsiusToKelvin(20))
	full := si.Chemistry.FullCellV()
	for _, v := range [...]struct {
		key string
		x   *float64
	}{{"landing_cell_v", e.LandingCellV}, {"loaded_cell_v", e.LoadedCellV}} {
		if v.x != nil && *v.x >= full {
			g.fault(e.Origin, v.key, "must be under the %.2f V of a full %s cell, got %g; write the voltage of one cell under load", full, si.Chemistry, *v.x)
		}
	}
	if e.UsedMAh != nil && *e.UsedMAh > 1.2*c.Pack.CapacityMAh {
		g.fault(e.Origin, "used_mah", "is %g, but pack %s holds %g; correct one of them, or the pack", *e.UsedMAh, c.Pack.ID, c.Pack.CapacityMAh)
	}
	if e.HoverCurrentA != nil && e.FullThrottleCurrentA != nil && *e.HoverCurrentA >= *e.FullThrottleCurrentA {
		g.fault(e.Origin, "hover_current_a", "contradicts full_throttle_current_a: %g A in hover and %g A at full throttle; correct one of them", *e.HoverCurrentA, *e.FullThrottleCurrentA)
	}
}

func (g *gathered) flight(e *inventory.LogEntry) (*flight, string) {
	flying, way, ok := g.ways.named(e.Flown)
	if !ok {
		g.fault(e.Origin, "flown", "no way of flying is called %s; known are %s, and a style whose file is named by --style", strict.Show(e.Flown), strings.Join(g.ways.names(), ", "))
		return nil, ""
	}
	t := &flight{flying: flying}
	if e.LandingCellV != nil {
		t.landingV = *e.LandingCellV
	}
	if e.UsedMAh != nil {
		t.usedAs, t.fromUsed = *e.UsedMAh*3.6, true
	}
	return t, way
}

// rows are the errors of a craft's inputs. A way of "" leaves the way of flying out.
func (g *gathered) rows(c *inventory.Combination, craft *physics.Craft, way string) rows {
	var u unit
	g.motor(&u, c.Motor)
	g.prop(&u, inventory.KindProp, c.Prop.ID, c.Prop.Series, craft.Uncertainty.SeriesShare)
	g.own(&u, inventory.KindPack, c.Pack.ID, packInputs[:])
	g.own(&u, inventory.KindFrame, c.Frame.ID, frameInputs[:])
	g.own(&u, inventory.KindBoard, c.Board.ID, boardInputs[:])
	g.own(&u, KindExtras, extrasOf(c), []physics.Input{physics.ExtrasMass})
	if way != "" && way != wayHover {
		g.flying(&u, way, c.Frame.ID)
	}
	r := u.spread(&craft.Uncertainty)
	g.power[c.Board.ID] = max(g.power[c.Board.ID], craft.Uncertainty.LnSD[physics.ElectronicsPower])
	return r
}

// loosen adds what crafts weigh beyond their listed parts to the frames of those that were weighed,
// by the mean mass of the log's crafts on that frame, and leaves out of every craft what none of its
// readings tells of.
func (g *gathered) loosen() {
	count := map[string]float64{}
	for _, s := range g.subjects {
		if f := s.(*flown); g.weighed[f.frame] {
			count[f.frame]++
			g.loose[f.frame] += looseShare * f.craft.MassKg() / f.craft.FrameKg
		}
	}
	for frame, n := range count {
		g.loose[frame] /= n
	}
	for _, s := range g.subjects {
		f := s.(*flown)
		if by, ok := g.loose[f.frame]; ok {
			f.all[physics.FrameMass] = f.all[physics.FrameMass].plus(row{{g.of(kindLoose, f.frame, physics.FrameMass), by}})
		}
		f.prune()
	}
}

// extrasOf names the set of extras of a combination.
func extrasOf(c *inventory.Combination) string { return strings.Join(c.Parts().Extras, "+") }

// stand adds a row of a motor's bench. Its thrust counts only without its rpm: with it, the prop
// has it already.
func (g *gathered) stand(m *inventory.Motor, row int) {
	b := &m.Bench[row]
	p := g.drawer.Prop(b.Prop)
	if p == nil {
		g.fault(b.Origin, "prop", "no prop is called %s; add it, or take the row out", strict.Show(b.Prop))
		return
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		g.fault(b.Origin, "", "%v", err)
		return
	}
	prop, err := g.propeller(p, air)
	if err != nil {
		g.fault(b.Origin, "prop", "%v", err)
		return
	}
	motor := m.SI()
	spread := inventory.Assemble(1, prop, &motor, &inventory.PackSI{}, &inventory.BodySI{}, physics.Connector{}).Uncertainty
	var u unit
	g.motor(&u, m)
	g.prop(&u, inventory.KindProp, p.ID, p.Series, spread.SeriesShare)
	g.own(&u, kindStand, m.ID, []physics.Input{physics.ThrottleScale})
	s := &stood{
		stand: physics.Stand{Propeller: *prop, Motor: motor.Motor, ThrottleExponent: 1},
		rows:  u.spread(&spread), voltageV: b.Volts, throttle: b.ThrottlePct / 100,
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
	g.subjects = append(g.subjects, s)
	g.entries = append(g.entries, source{log: -1, origin: b.Origin, what: fmt.Sprintf("bench %s %s, %g V, %g %%", m.ID, p.ID, b.Volts, b.ThrottlePct), parts: inventory.Parts{Motor: m.ID, Prop: p.ID}})
}

// series adds what bench points of a prop say of its label, where sisters can learn from it.
func (g *gathered) series() {
	sisters := map[string]int{}
	for i := range g.drawer.Props {
		sisters[g.drawer.Props[i].Series]++
	}
	air, err := g.drawer.Air.SI()
	if err != nil {
		return
	}
	for i := range g.drawer.Props {
		p := &g.drawer.Props[i]
		spec := p.Spec()
		if p.Series == "" || sisters[p.Series] < 2 || len(spec.Bench) == 0 {
			continue
		}
		m, err := g.match(p, spec, air)
		if err != nil {
			g.fault(p.Origin, "", "%v", err)
			continue
		}
		g.subjects = append(g.subjects, m)
		g.entries = append(g.entries, source{log: -1, origin: p.Origin, what: "bench " + p.ID, parts: inventory.Parts{Prop: p.ID}})
	}
}

func (g *gathered) match(p *inventory.Prop, spec physics.PropSpec, air physics.Air) (*matched, error) {
	benched, err := g.propeller(p, air)
	if err != nil {
		return nil, err
	}
	bare := spec
	bare.Bench = nil
	label, err := physics.NewPropeller(bare, air)
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
	thrustN, torqueNm := benched.Loads(speed, physics.Flow{})
	labelN, labelNm := label.Loads(speed, physics.Flow{})
	if !(thrustN > 0 && labelN > 0 && torqueNm > 0 && labelNm > 0) {
		return nil, fmt.Errorf("prop %s gives no thrust at its bench points' speed", p.ID)
	}
	var spread physics.Uncertainty
	own := &label.Uncertainty
	spread.LnSD[physics.PropThrust], spread.LnSD[physics.PropPower] = own.Thrust.LnSD, own.Power.LnSD
	spread.ThrustPower = own.ThrustPower
	var u unit
	g.prop(&u, kindLabel, p.ID, p.Series, own.SeriesShare)
	r := u.spread(&spread)
	m := &matched{rows: [2]row{r[physics.PropThrust], r[physics.PropPower]}}
	t, q := thrustN/labelN, torqueNm/labelNm
	m.readings = []Reading{{LabelThrust, t, t * benched.Uncertainty.Thrust.LnSD}}
	if torque {
		m.readings = append(m.readings, Reading{LabelTorque, q, q * benched.Uncertainty.Power.LnSD})
	}
	return m, nil
}
