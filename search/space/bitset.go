package space

import (
	"encoding/binary"
	"math/bits"
)

// Bitset is a set of small numbers.
type Bitset []uint64

func NewBitset(n int) Bitset { return make(Bitset, (n+63)/64) }

func (s Bitset) Add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s Bitset) Has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }

// meet counts what is in both.
func (s Bitset) meet(t Bitset) int64 {
	n := 0
	for i := range s {
		n += bits.OnesCount64(s[i] & t[i])
	}
	return int64(n)
}

// Meets reports whether anything is in both.
func (s Bitset) Meets(t Bitset) bool {
	for i := range s {
		if s[i]&t[i] != 0 {
			return true
		}
	}
	return false
}

// Meet is what is in both.
func (s Bitset) Meet(t Bitset) Bitset {
	both := make(Bitset, len(s))
	for i := range s {
		both[i] = s[i] & t[i]
	}
	return both
}

// join adds all of t.
func (s Bitset) join(t Bitset) {
	for i := range s {
		s[i] |= t[i]
	}
}

// joinMeet adds all that is in both of t and u.
func (s Bitset) joinMeet(t, u Bitset) {
	for i := range s {
		s[i] |= t[i] & u[i]
	}
}

func (s Bitset) Empty() bool {
	for _, w := range s {
		if w != 0 {
			return false
		}
	}
	return true
}

// Each yields the members that are in t as well, in order; a nil t holds everything.
func (s Bitset) Each(t Bitset, yield func(int) bool) bool {
	for i, w := range s {
		if t != nil {
			w &= t[i]
		}
		for ; w != 0; w &= w - 1 {
			if !yield(i*64 + bits.TrailingZeros64(w)) {
				return false
			}
		}
	}
	return true
}

// Key is the set as a map key.
func (s Bitset) Key() string {
	b := make([]byte, 0, len(s)*8)
	for _, w := range s {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	return string(b)
}
