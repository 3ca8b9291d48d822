package solve

import (
	"cmp"
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/search/space"
)

// span is a range of numbers.
type span struct{ low, high float64 }

func noSpan() span { return span{math.Inf(1), math.Inf(-1)} }

func (s *span) take(x float64) { s.low, s.high = min(s.low, x), max(s.high, x) }

// packRanges is what the packs of a branch range over; they share cells, chemistry and plug.
type packRanges struct {
	internalOhm, leadOhm, massKg span
	capacityAs, safeA            span
	first                        int32 // one of them, for what they share
	larger                       []packStep
}

// packStep is a pack with more capacity than all lighter ones.
type packStep struct{ massKg, lnCapacity float64 }

// lnCapacityUpTo is the logarithm of the largest capacity of a pack up to a mass, or of the lightest.
func (r *packRanges) lnCapacityUpTo(massKg float64) float64 {
	i := len(r.larger) - 1
	for i > 0 && r.larger[i].massKg > massKg*(1+rounding) {
		i--
	}
	return r.larger[i].lnCapacity
}

// packSteps are the packs that have more capacity than all lighter ones, by mass.
func packSteps(s *space.Space, packs []int32) []packStep {
	steps := make([]packStep, len(packs))
	for i, k := range packs {
		steps[i] = packStep{s.SI.Packs[k].MassKg, math.Log(s.SI.Packs[k].CapacityAs)}
	}
	slices.SortFunc(steps, func(a, b packStep) int {
		return cmp.Or(cmp.Compare(a.massKg, b.massKg), cmp.Compare(b.lnCapacity, a.lnCapacity))
	})
	most := math.Inf(-1)
	return slices.DeleteFunc(steps, func(p packStep) bool {
		more := p.lnCapacity > most
		most = max(most, p.lnCapacity)
		return !more
	})
}

func packTree(s *space.Space, packs []int32) *kdTree[packRanges] {
	place := func(k int32) []float64 {
		p := &s.SI.Packs[k]
		return []float64{math.Log(p.CapacityAs), 2 * math.Log(p.MassKg), math.Log(p.InternalOhm),
			0.3 * math.Log(p.SafeCurrentA)}
	}
	ranges := func(list []int32) packRanges {
		r := packRanges{noSpan(), noSpan(), noSpan(), noSpan(), noSpan(), list[0], packSteps(s, list)}
		for _, k := range list {
			p := &s.SI.Packs[k]
			r.internalOhm.take(p.InternalOhm)
			r.leadOhm.take(p.LeadOhm)
			r.massKg.take(p.MassKg)
			r.capacityAs.take(p.CapacityAs)
			r.safeA.take(p.SafeCurrentA)
		}
		return r
	}
	return newKDTree(packs, traits[physics.Pack, packRanges]{func(k int32) physics.Pack { return s.SI.Packs[k] },
		place, ranges})
}

// bodyRanges is what the bodies of a branch range over for one supply; they share the number of
// rotors. An unknown rating of a plug is infinite.
type bodyRanges struct {
	massKg, dragM2, watts, plugOhm span
	burstA, peakA, flying          span    // flying: factor on the power taken in flight
	partLoss, ripple               span    // of the ESCs
	boardA, plugA                  float64 // largest continuous ratings
	rotors                         int
	open, ducted                   bool // whether there are bodies without and with ducts
}

func bodyTree(s *space.Space, bodies []int32, supply int) *kdTree[bodyRanges] {
	place := func(b int32) []float64 {
		f := &s.SI.Bodies[b][supply]
		return []float64{2 * math.Log(f.MassKg()), math.Log(f.DragAreaM2), 3 * math.Log(f.Board.BurstA)}
	}
	ranges := func(list []int32) bodyRanges {
		r := bodyRanges{
			massKg: noSpan(), dragM2: noSpan(), watts: noSpan(), plugOhm: noSpan(), burstA: noSpan(), peakA: noSpan(),
			flying: noSpan(), partLoss: noSpan(), ripple: noSpan(),
			rotors: s.SI.Bodies[list[0]][supply].Rotors,
		}
		for _, b := range list {
			f := &s.SI.Bodies[b][supply]
			r.massKg.take(f.MassKg())
			r.dragM2.take(f.DragAreaM2)
			r.watts.take(f.ElectronicsW)
			r.plugOhm.take(f.PlugOhm)
			r.burstA.take(f.Board.BurstA)
			r.flying.take(f.FlyingFactor)
			r.partLoss.take(f.Board.PartThrottleLoss)
			r.ripple.take(f.Board.RippleFactor)
			r.open, r.ducted = r.open || !f.Ducted, r.ducted || f.Ducted
			r.peakA.take(rated(f.Connector.PeakA))
			r.boardA, r.plugA = max(r.boardA, f.Board.ContinuousA), max(r.plugA, rated(f.Connector.ContinuousA))
		}
		return r
	}
	return newKDTree(bodies, traits[space.BodySI, bodyRanges]{func(b int32) space.BodySI { return s.SI.Bodies[b][supply] },
		place, ranges})
}

// rated is a rating of the plug that holds something back.
func rated(ratingA float64) float64 {
	if ratingA == 0 {
		return math.Inf(1)
	}
	return ratingA
}
