package solve

import (
	"reflect"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/search/space"
)

// twins are the parts that a search cannot tell from one, itself included and first, in order; none for most.
type twins map[int32][]int32

// of are a part and its twins.
func (t twins) of(part int32) []int32 {
	if list, ok := t[part]; ok {
		return list
	}
	return []int32{part}
}

// count is the number of them.
func (t twins) count(part int32) int { return max(1, len(t[part])) }

// sortTwins finds the twins among parts that are listed in order, by a key that holds all that a search looks at, and
// lists the first of each set.
func sortTwins[K comparable](parts []int32, key func(int32) K) ([]int32, twins) {
	var firsts []int32
	found := twins{}
	known := map[K]int32{}
	for _, part := range parts {
		k := key(part)
		one, ok := known[k]
		if !ok {
			known[k] = part
			firsts = append(firsts, part)
			continue
		}
		if found[one] == nil {
			found[one] = []int32{one}
		}
		found[one] = append(found[one], part)
	}
	return firsts, found
}

func indices(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i)
	}
	return list
}

// motorTwins are motors of the same numbers that go with the same frames, props and packs.
func motorTwins(s *space.Space, frames []space.Bitset) ([]int32, twins) {
	type key struct {
		motor                physics.Motor
		power                float64
		frames, props, packs string
	}
	return sortTwins(indices(len(s.Motors)), func(m int32) key {
		return key{s.SI.Motors[m], s.SI.Powers[m], frames[m].Key(), s.Compatible.Props[m].Key(), s.Compatible.Packs[m].Key()}
	})
}

// propTwins are props of the same numbers that go with the same frames and motors.
func propTwins(s *space.Space, frames []space.Bitset) ([]int32, twins) {
	motors := make([]space.Bitset, len(s.Props))
	for p := range motors {
		motors[p] = space.NewBitset(len(s.Motors))
		for m := range s.Motors {
			if s.Compatible.Props[m].Has(p) {
				motors[p].Add(m)
			}
		}
	}
	type key struct {
		prop           rotor.Propeller // its map that of the first prop with an equal one
		frames, motors string
	}
	alike := map[rotor.Propeller][]*rotor.Map{} // by all but their maps
	return sortTwins(indices(len(s.Props)), func(p int32) key {
		if s.SI.Propellers[p] == nil { // it fits nowhere
			return key{frames: frames[p].Key(), motors: motors[p].Key()}
		}
		bare := *s.SI.Propellers[p]
		own := bare.Map
		bare.Map, bare.Uncertainty = nil, rotor.Uncertainty{}
		same := own
		for _, known := range alike[bare] {
			if reflect.DeepEqual(known, own) {
				same = known
				break
			}
		}
		if same == own {
			alike[bare] = append(alike[bare], own)
		}
		bare.Map = same
		return key{bare, frames[p].Key(), motors[p].Key()}
	})
}

// framesOf are the frames that each part of a kind fits.
func framesOf(parts int, fits []space.Bitset) []space.Bitset {
	frames := make([]space.Bitset, parts)
	for i := range frames {
		frames[i] = space.NewBitset(len(fits))
		for f := range fits {
			if fits[f].Has(i) {
				frames[i].Add(f)
			}
		}
	}
	return frames
}
