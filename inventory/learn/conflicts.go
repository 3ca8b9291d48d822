package learn

import (
	"math"
	"slices"

	"partsaloft/inventory"
)

// Clash is two readings of one kind on crafts of the same parts that cannot both be right.
type Conflict struct {
	A, B int // numbers of the entries in the log, from 1
	Key  Key
	// ValueA and ValueB are what was read.
	ValueA, ValueB float64
	// Off is by how many standard deviations of the two they differ, beyond what the air explains.
	Off float64
}

// conflictSDs is the difference from which on two readings clash, in their standard deviations.
const conflictSDs = 4.0

// conflicts lists the clashes of the log, but for readings that are named as misfits already.
func (g *evidence) conflicts(r *Report) {
	for a := range r.Entries {
		for b := a + 1; b < len(r.Entries); b++ {
			if !sameParts(&r.Entries[a].Parts, &r.Entries[b].Parts) || g.entries[a].way != g.entries[b].way {
				continue
			}
			for _, x := range r.Entries[a].Readings {
				for _, y := range r.Entries[b].Readings {
					if x.Key != y.Key || !x.Fits || !y.Fits || !x.After.Known || !y.After.Known {
						continue
					}
					off := (x.offset() - y.offset()) / math.Hypot(x.Reading.sd(), y.Reading.sd())
					if math.Abs(off) > conflictSDs {
						r.Conflicts = append(r.Conflicts, Conflict{
							r.Entries[a].Number, r.Entries[b].Number, x.Key, x.Measured, y.Measured, math.Abs(off),
						})
					}
				}
			}
		}
	}
}

// offset is what was read less what is predicted, on the scale of the reading.
func (c *Compared) offset() float64 { return c.scaled(c.Measured) - c.scaled(c.After.Value) }

func sameParts(a, b *inventory.Parts) bool {
	return a.Motor == b.Motor && a.Prop == b.Prop && a.Pack == b.Pack && a.Frame == b.Frame && a.Board == b.Board &&
		slices.Equal(a.Extras, b.Extras)
}
