package space

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// Group is what a row of a ranking stands for: candidates with the same motor, prop and class of pack. Boards,
// frames, extras and packs of the class make its variants.
type Group struct{ Motor, Prop, Pack int32 } // Pack is the first of its class by id

// Group is the group that holds a candidate.
func (s *Space) Group(c Candidate) Group { return Group{c.Motor, c.Prop, s.classOf[c.Pack]} }

// Similar reports whether two groups share two of motor, prop and pack: then they are one craft with a part
// changed, and a spread list holds only the better one.
func (g Group) Similar(h Group) bool {
	same := 0
	for _, equal := range [...]bool{g.Motor == h.Motor, g.Prop == h.Prop, g.Pack == h.Pack} {
		if equal {
			same++
		}
	}
	return same >= 2
}

// Twins are the packs of the class of a group, by id.
func (s *Space) Twins(g Group) []*inventory.Pack {
	var list []*inventory.Pack
	for k, class := range s.classOf {
		if class == g.Pack {
			list = append(list, s.Packs[k])
		}
	}
	return list
}

// Members yields the candidates of a group that fit, by pack and body.
func (s *Space) Members(g Group) iter.Seq[Candidate] {
	return func(yield func(Candidate) bool) {
		for k, class := range s.classOf {
			if class != g.Pack {
				continue
			}
			for b := range s.Bodies {
				c := Candidate{g.Motor, g.Prop, int32(k), int32(b)}
				if s.FitsTogether(c) && !yield(c) {
					return
				}
			}
		}
	}
}

// Changes counts in how many of pack, frame and board two members of a group differ; extras count where frame and
// board are the same.
func (s *Space) Changes(c, d Candidate) int {
	a, b := &s.Bodies[c.Body], &s.Bodies[d.Body]
	n := 0
	for _, other := range [...]bool{c.Pack != d.Pack, a.Frame != b.Frame, a.Board != b.Board} {
		if other {
			n++
		}
	}
	if c.Body != d.Body && a.Frame == b.Frame && a.Board == b.Board {
		n++
	}
	return n
}

// likelyRange is how many standard deviations the 10 % and 90 % points of a normal number lie from its mean.
const likelyRange = 1.2816

// labelCLnSD is the standard deviation of the logarithm of a printed C rating among packs that are otherwise alike
// (judgement: labels of one make and capacity run from 75 to 120 C).
const labelCLnSD = 0.20

// packTraits are what packs of one class agree in within their doubt.
type packTraits struct {
	massKg, resistanceOhm, safeCurrentA uncertain.Estimate
}

// twin reports whether two packs cannot be told apart by mass, resistance and label C: each is as far from the
// other as the likely range of both allows.
func (t *packTraits) twin(u *packTraits) bool {
	alike := func(a, b uncertain.Estimate) bool {
		return math.Abs(math.Log(a.Value/b.Value)) <= likelyRange*math.Hypot(a.LnSD, b.LnSD)/math.Sqrt2
	}
	return alike(t.massKg, u.massKg) && alike(t.resistanceOhm, u.resistanceOhm) && alike(t.safeCurrentA, u.safeCurrentA)
}

// compare orders by the values, the lighter, then the better pack first.
func (t *packTraits) compare(u *packTraits) int {
	return cmp.Or(cmp.Compare(t.massKg.Value, u.massKg.Value),
		cmp.Compare(t.resistanceOhm.Value, u.resistanceOhm.Value),
		cmp.Compare(u.safeCurrentA.Value, t.safeCurrentA.Value),
		cmp.Compare(t.massKg.LnSD, u.massKg.LnSD), cmp.Compare(t.resistanceOhm.LnSD, u.resistanceOhm.LnSD))
}

// packClasses puts packs of the same cells, chemistry, capacity, plug and state that cannot be told apart into one
// class, and returns the first pack of each pack's class by id. Being in one class is an equivalence: classes are
// made once, by complete linkage: packs are taken in the order of their traits, and each joins the first class of
// whose every pack it is a twin. Ids and order in the drawer do not matter.
func (s *Space) packClasses() []int32 {
	type kind struct {
		supply     int
		chemistry  inventory.Chemistry
		capacityAs float64
	}
	traits := make([]packTraits, len(s.Packs))
	order := make([]int, len(s.Packs))
	for k, p := range s.Packs {
		si := p.SI(s.Problem.Air.TemperatureK)
		traits[k] = packTraits{si.Mass, si.Resistance, uncertain.Estimate{Value: si.SafeCurrentA, LnSD: labelCLnSD}}
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return traits[a].compare(&traits[b]) })
	made := map[kind][][]int{}
	of := make([]int32, len(s.Packs))
	for _, k := range order {
		p := s.Packs[k]
		key := kind{s.SupplyOf[k], cmp.Or(p.Chemistry, inventory.LiPo), p.CapacityMAh}
		list := made[key]
		i := slices.IndexFunc(list, func(class []int) bool {
			return !slices.ContainsFunc(class, func(j int) bool { return !traits[k].twin(&traits[j]) })
		})
		if i < 0 {
			i = len(list)
			list = append(list, nil)
		}
		list[i] = append(list[i], k)
		made[key] = list
	}
	for _, list := range made {
		for _, class := range list {
			first := int32(slices.Min(class))
			for _, k := range class {
				of[k] = first
			}
		}
	}
	return of
}
