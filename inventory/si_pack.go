package inventory

import (
	"partsaloft/physics"
	"partsaloft/physics/uncertain"
)

// PackSI is a pack in SI numbers, each uncertain one with its estimate.
type PackSI struct {
	physics.Pack
	Resistance uncertain.Estimate // all cells, at the pack's temperature, ohm
	Capacity   uncertain.Estimate // A s
	Mass       uncertain.Estimate // kg
}

// SI converts the pack at a temperature in kelvin; what the drawer does not say is estimated from
// chemistry, cells, capacity and cycles. Of two C ratings that contradict each other the lower
// counts.
func (p *Pack) SI(temperatureK float64) PackSI {
	chemistry, capacityAh := p.Chemistry.SI(), p.CapacityMAh/1000
	colder, smaller := physics.ColdPack(temperatureK)
	var s PackSI
	s.Mass = gramsKg(p.MassG, physics.EstimatePackMass(chemistry, p.Cells, capacityAh))
	s.Resistance = physics.EstimatePackResistance(chemistry, p.Cells, capacityAh, p.CycleCount())
	if p.CellResistanceMohm != nil {
		s.Resistance = physics.GivenPackResistance(*p.CellResistanceMohm/1000, p.Cells)
	}
	s.Resistance.Value *= colder
	s.Capacity = physics.LabelCapacity(capacityAh * 3600)
	p.Learned.apply(uncertain.PackMass, &s.Mass)
	p.Learned.apply(uncertain.PackResistance, &s.Resistance)
	p.Learned.apply(uncertain.PackCapacity, &s.Capacity)
	rating := p.DischargeC
	if p.BurstC != nil {
		rating = min(rating, *p.BurstC)
	}
	s.Pack = physics.Pack{
		Chemistry: chemistry, Cells: p.Cells, CapacityAs: s.Capacity.Value, SafeCurrentA: capacityAh * rating,
		InternalOhm: s.Resistance.Value, LeadOhm: p.leadOhm(), MassKg: s.Mass.Value, CapacityFactor: smaller,
	}
	return s
}

// leadOhm is the resistance of the pack's plug with the leads on both its sides, in ohm.
func (p *Pack) leadOhm() float64 {
	if p.Connector == "" {
		return physics.LeadResistance()
	}
	return physics.PlugResistance(string(p.Connector))
}

// plugOhm is what plugs beyond the pack's own add, in ohm: those of an adapter, or of a board whose
// plug differs.
func (c *Combination) plugOhm() float64 {
	var sum float64
	for i, p := range c.Plugs() {
		if i > 0 {
			sum += physics.PlugResistance(string(p))
		}
	}
	return sum
}

// Connector is the rating of the weakest plug between pack and board, adapters included; ratings
// that are not known are 0.
func (c *Combination) Connector() physics.Connector {
	var weakest physics.Connector
	for _, p := range c.Plugs() {
		r, _, ok := p.Rating()
		if !ok {
			continue
		}
		if r.PeakA > 0 && (weakest.PeakA == 0 || r.PeakA < weakest.PeakA) {
			weakest.PeakA, weakest.Advisory = r.PeakA, r.Advisory
		}
		if r.ContinuousA > 0 && (weakest.ContinuousA == 0 || r.ContinuousA < weakest.ContinuousA) {
			weakest.ContinuousA = r.ContinuousA
		}
	}
	return weakest
}

// Plugs are the kinds of plug between pack and board, each once.
func (c *Combination) Plugs() []Plug {
	var list []Plug
	put := func(p Plug) {
		for _, q := range list {
			if q == p {
				return
			}
		}
		if p != "" {
			list = append(list, p)
		}
	}
	if c.Pack != nil {
		put(c.Pack.Connector)
	}
	if c.Board != nil {
		put(c.Board.Connector)
	}
	if c.Pack != nil && c.Board != nil {
		if e := PlugAdapter(c.Pack, c.Board, c.Extras); e != nil {
			put(Plug(e.Bridges.From))
			put(Plug(e.Bridges.To))
		}
	}
	return list
}
