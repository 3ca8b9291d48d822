package search

import (
	"errors"

	"partsaloft/physics"
)

// forest holds the trees of packs and bodies over which a branch and bound search runs, shared by
// all motors and props that the same packs and bodies fit.
type forest struct {
	space  *Space
	packs  []*tree[packRanges]   // by supply and chemistry; nil where there is no pack
	bodies []*tree[bodyRanges]   // every tree of bodies made
	known  map[string][]bodyTree // trees by the frames that motor and prop fit
	roots  []root
}

// bodyTree is a tree of the bodies that take one supply, all with one number of rotors.
type bodyTree struct {
	supply int
	index  int32 // into forest.bodies
}

// root is a motor and a prop with all packs and bodies of one kind that fit them.
type root struct {
	motor, prop   int32
	packs, bodies int32 // trees
}

const chemistries = int(physics.LiIon) + 1

// maxRoots bounds the roots that a proof keeps in memory.
const maxRoots = 8_000_000

var errTooLarge = errors.New("the drawer is too large to prove the best: leave the method to auto, or take genetic")

// plant lays out the roots: between them they hold every candidate that fits, each once.
func (s *Space) plant() (*forest, error) {
	f := &forest{space: s, packs: make([]*tree[packRanges], len(s.supplies)*chemistries), known: map[string][]bodyTree{}}
	groups := make([][]int32, len(f.packs))
	for k, v := range s.supplyOf {
		at := v*chemistries + int(s.si.packs[k].Chemistry)
		groups[at] = append(groups[at], int32(k))
	}
	for at, list := range groups {
		if list != nil {
			f.packs[at] = s.growPacks(list)
		}
	}
	for m := range s.motors {
		for p := range s.props {
			if s.fit.props[m].has(p) {
				f.plantPair(m, p)
			}
		}
		if len(f.roots) > maxRoots {
			return nil, errTooLarge
		}
	}
	return f, nil
}

func (f *forest) plantPair(m, p int) {
	s := f.space
	frames := newSet(len(s.frames))
	for i := range s.frames {
		if s.fit.motors[i].has(m) && s.fit.propsOf[i].has(p) {
			frames.add(i)
		}
	}
	if frames.empty() {
		return
	}
	key := frames.key()
	trees, ok := f.known[key]
	if !ok {
		trees = f.growFor(frames)
		f.known[key] = trees
	}
	for _, t := range trees {
		for chemistry := range chemistries {
			at := t.supply*chemistries + chemistry
			if packs := f.packs[at]; packs != nil && s.fit.packs[m].has(int(packs.items[0])) {
				f.roots = append(f.roots, root{int32(m), int32(p), int32(at), t.index})
			}
		}
	}
}

// growFor makes the trees of the bodies of some frames, one for each supply and number of rotors.
func (f *forest) growFor(frames set) []bodyTree {
	s := f.space
	var trees []bodyTree
	for v := range s.supplies {
		byRotors := map[int][]int32{}
		var order []int
		frames.each(nil, func(frame int) bool {
			for b := s.bodyOf[frame][0]; b < s.bodyOf[frame][1]; b++ {
				if s.bodies[b].with[v] == nil {
					continue
				}
				n := s.si.bodies[b][v].rotors
				if byRotors[n] == nil {
					order = append(order, n)
				}
				byRotors[n] = append(byRotors[n], int32(b))
			}
			return true
		})
		for _, n := range order {
			trees = append(trees, bodyTree{v, int32(len(f.bodies))})
			f.bodies = append(f.bodies, s.growBodies(byRotors[n], v))
		}
	}
	return trees
}

func (f *forest) branch(n *node) branch {
	r := &f.roots[n.root]
	return branch{r.motor, r.prop, &f.packs[r.packs].nodes[n.packs].ranges, &f.bodies[r.bodies].nodes[n.bodies].ranges}
}

// size is the number of candidates under a node.
func (f *forest) size(n *node) int64 {
	r := &f.roots[n.root]
	k, b := &f.packs[r.packs].nodes[n.packs], &f.bodies[r.bodies].nodes[n.bodies]
	return int64(k.end-k.first) * int64(b.end-b.first)
}

// each yields the candidates under a node.
func (f *forest) each(n *node, yield func(candidate)) {
	r := &f.roots[n.root]
	packs, bodies := f.packs[r.packs], f.bodies[r.bodies]
	k, b := &packs.nodes[n.packs], &bodies.nodes[n.bodies]
	for _, pack := range packs.items[k.first:k.end] {
		for _, body := range bodies.items[b.first:b.end] {
			yield(candidate{r.motor, r.prop, pack, body})
		}
	}
}

// split halves a node: its packs first, for one pack has an exact throttle cap, then its bodies.
func (f *forest) split(n *node) [2]node {
	r := &f.roots[n.root]
	k, b := &f.packs[r.packs].nodes[n.packs], &f.bodies[r.bodies].nodes[n.bodies]
	one, two := *n, *n
	if k.left != 0 {
		one.packs, two.packs = k.left, k.right
	} else {
		one.bodies, two.bodies = b.left, b.right
	}
	return [2]node{one, two}
}
