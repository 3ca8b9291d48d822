package solve

import (
	"errors"

	"partsaloft/physics"
	"partsaloft/search/space"
)

// rootNodes are the root nodes of a branch and bound search: it holds the trees of packs and bodies over which a
// branch and bound search runs, shared by all motors and props that the same packs and bodies fit.
type rootNodes struct {
	space  *space.Space
	packs  []*kdTree[packRanges]   // by supply and chemistry; nil where there is no pack
	bodies []*kdTree[bodyRanges]   // every tree of bodies made
	known  map[string][]bodyTreeOf // trees by the frames that motor and prop fit
	pairs  []pair                  // with roots, in order
	pairOf []int32                 // into pairs: the pair of every rootStride-th root
	count  int                     // of roots
	motors twins
	props  twins
}

// bodyTreeOf is a tree of the bodies that take one supply, all with one number of rotors.
type bodyTreeOf struct {
	supply int
	index  int32 // into rootNodes.bodies
}

// pair is a motor and a prop, each with its twins, and where its roots are. There may be hundreds of thousands, with some
// twenty roots each: pairs that the same packs and bodies fit share a list of trees.
type pair struct {
	motor, prop int32
	first       int32 // of its roots
	trees       []treesOf
}

// treesOf are a tree of packs and one of bodies that go together.
type treesOf struct{ packs, bodies int32 }

// rootStride is how many roots apart the pairs are noted at which a root's is sought.
const rootStride = 32

// root is a motor and a prop, each with its twins, with all packs and bodies of one kind that fit them.
type root struct {
	motor, prop int32
	treesOf
}

const chemistries = int(physics.LiIon) + 1

// maxRoots bounds the roots of a proof: one looks at each at least once.
const maxRoots = 8_000_000

var errTooLarge = errors.New("the drawer is too large to prove the best: leave the method to auto, or take genetic")

// layRootNodes lays out the roots: between them they hold every candidate that fits, each once.
func layRootNodes(s *space.Space) (*rootNodes, error) {
	f := &rootNodes{space: s, packs: make([]*kdTree[packRanges], len(s.Supplies)*chemistries),
		known: map[string][]bodyTreeOf{}}
	groups := make([][]int32, len(f.packs))
	for k, v := range s.SupplyOf {
		at := v*chemistries + int(s.SI.Packs[k].Chemistry)
		groups[at] = append(groups[at], int32(k))
	}
	for at, list := range groups {
		if list != nil {
			f.packs[at] = packTree(s, list)
		}
	}
	frames := [2][]space.Bitset{framesOf(len(s.Motors), s.Compatible.Motors), framesOf(len(s.Props), s.Compatible.PropsOf)}
	var motors, props []int32
	motors, f.motors = motorTwins(s, frames[0])
	props, f.props = propTwins(s, frames[1])
	lists := map[string][]treesOf{} // by the frames and packs that fit
	for _, m := range motors {
		packs := s.Compatible.Packs[m].Key()
		for _, p := range props {
			if !s.Compatible.Props[m].Has(int(p)) {
				continue
			}
			fit := frames[0][m].Meet(frames[1][p])
			key := fit.Key() + packs
			trees, ok := lists[key]
			if !ok {
				trees = f.treesFor(m, fit)
				lists[key] = trees
			}
			if len(trees) == 0 {
				continue
			}
			f.pairs = append(f.pairs, pair{m, p, int32(f.count), trees})
			if f.count += len(trees); f.count > maxRoots {
				return nil, errTooLarge
			}
		}
	}
	f.pairOf = make([]int32, (f.count+rootStride-1)/rootStride)
	for i, at := 0, 0; i < len(f.pairOf); i++ {
		for f.pairs[at].end() <= int32(i*rootStride) {
			at++
		}
		f.pairOf[i] = int32(at)
	}
	return f, nil
}

// end is one past the last root of a pair.
func (p *pair) end() int32 { return p.first + int32(len(p.trees)) }

// root is the root of an index from 0 to count.
func (f *rootNodes) root(i int32) root {
	at := f.pairOf[i/rootStride]
	for f.pairs[at].end() <= i {
		at++
	}
	p := &f.pairs[at]
	return root{p.motor, p.prop, p.trees[i-p.first]}
}

// treesFor are the trees of packs and bodies that go with a motor and some frames.
func (f *rootNodes) treesFor(m int32, frames space.Bitset) []treesOf {
	if frames.Empty() {
		return nil
	}
	key := frames.Key()
	bodies, ok := f.known[key]
	if !ok {
		bodies = f.bodyTreesFor(frames)
		f.known[key] = bodies
	}
	var list []treesOf
	for _, t := range bodies {
		for chemistry := range chemistries {
			at := t.supply*chemistries + chemistry
			if packs := f.packs[at]; packs != nil && f.space.Compatible.Packs[m].Has(int(packs.items[0])) {
				list = append(list, treesOf{int32(at), t.index})
			}
		}
	}
	return list
}

// bodyTreesFor makes the trees of the bodies of some frames, one for each supply and number of rotors.
func (f *rootNodes) bodyTreesFor(frames space.Bitset) []bodyTreeOf {
	s := f.space
	var trees []bodyTreeOf
	for v := range s.Supplies {
		byRotors := map[int][]int32{}
		var order []int
		frames.Each(nil, func(frame int) bool {
			for b := s.BodyOf[frame][0]; b < s.BodyOf[frame][1]; b++ {
				if s.Bodies[b].With[v] == nil {
					continue
				}
				n := s.SI.Bodies[b][v].Rotors
				if byRotors[n] == nil {
					order = append(order, n)
				}
				byRotors[n] = append(byRotors[n], int32(b))
			}
			return true
		})
		for _, n := range order {
			trees = append(trees, bodyTreeOf{v, int32(len(f.bodies))})
			f.bodies = append(f.bodies, bodyTree(s, byRotors[n], v))
		}
	}
	return trees
}

func (f *rootNodes) branch(n *node) branch {
	r := f.root(n.root)
	return branch{motor: r.motor, prop: r.prop, packs: &f.packs[r.packs].nodes[n.packs].ranges,
		bodies: &f.bodies[r.bodies].nodes[n.bodies].ranges}
}

// size is the number of candidates under a node, looks that of those that differ from one another.
func (f *rootNodes) size(n *node) (candidates, looks int64) {
	r := f.root(n.root)
	k, b := &f.packs[r.packs].nodes[n.packs], &f.bodies[r.bodies].nodes[n.bodies]
	powertrains := int64(f.motors.count(r.motor)) * int64(f.props.count(r.prop))
	return powertrains * int64(k.parts) * int64(b.parts), int64(k.end-k.first) * int64(b.end-b.first)
}

// group is the group of a node that has one motor, prop and pack; false if it has several of one of them, and then that
// of the group is but one.
func (f *rootNodes) group(n *node) (space.Group, bool) {
	r := f.root(n.root)
	packs := f.packs[r.packs]
	k := &packs.nodes[n.packs]
	c := space.Candidate{Motor: r.motor, Prop: r.prop, Pack: packs.items[k.first]}
	return f.space.Group(c), k.parts == 1 && !f.several(&r)
}

// several reports whether a root's motor or prop has twins.
func (f *rootNodes) several(r *root) bool {
	return f.motors.count(r.motor)+f.props.count(r.prop) > 2
}

// each yields the candidates under a node that differ from one another, with how many each stands for.
func (f *rootNodes) each(n *node, yield func(c space.Candidate, of int64)) {
	r := f.root(n.root)
	packs, bodies := f.packs[r.packs], f.bodies[r.bodies]
	k, b := &packs.nodes[n.packs], &bodies.nodes[n.bodies]
	powertrains := f.motors.count(r.motor) * f.props.count(r.prop)
	for _, pack := range packs.items[k.first:k.end] {
		for _, body := range bodies.items[b.first:b.end] {
			yield(space.Candidate{Motor: r.motor, Prop: r.prop, Pack: pack, Body: body},
				int64(powertrains*packs.twins.count(pack)*bodies.twins.count(body)))
		}
	}
}

// twins yields the candidates that an evaluation cannot tell from one that each yields under a node, itself included.
func (f *rootNodes) twins(n *node, c space.Candidate, yield func(space.Candidate)) {
	r := f.root(n.root)
	packs, bodies := f.packs[r.packs].twins.of(c.Pack), f.bodies[r.bodies].twins.of(c.Body)
	for _, motor := range f.motors.of(c.Motor) {
		for _, prop := range f.props.of(c.Prop) {
			for _, pack := range packs {
				for _, body := range bodies {
					yield(space.Candidate{Motor: motor, Prop: prop, Pack: pack, Body: body})
				}
			}
		}
	}
}

// split parts a node in two: its packs first, for one pack has an exact throttle cap, then its bodies.
func (f *rootNodes) split(n *node) [2]node {
	r := f.root(n.root)
	k, b := &f.packs[r.packs].nodes[n.packs], &f.bodies[r.bodies].nodes[n.bodies]
	one, two := *n, *n
	if k.left != 0 {
		one.packs, two.packs = k.left, k.right
	} else {
		one.bodies, two.bodies = b.left, b.right
	}
	halves := [2]node{one, two}
	for i := range halves {
		f.inherit(n, &halves[i])
	}
	return halves
}

// sampledFirst is where the i-th of n stands if every step-th goes first and the rest follows in order.
func sampledFirst(i, n, step int) int {
	if step <= 1 {
		return i
	}
	sample := (n + step - 1) / step
	if i < sample {
		return i * step
	}
	i -= sample
	return i/(step-1)*step + 1 + i%(step-1)
}
