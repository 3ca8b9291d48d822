// Package progress tells what share of a job is done. A job is a tree of parts, each with what it has done and what it
// is expected to take still; a part that is planned counts by what is expected of it until it begins and plans parts of
// its own. The unit of work is one candidate evaluated for a style. The share never falls, however estimates change, and
// is all only at the end.
package progress

import (
	"context"
	"sync"
)

// Doing is what a part does.
type Doing uint8

// What parts do, in the words of those who do it.
const (
	Preparing  Doing = iota // rules of fit, rotor maps
	Searching               // looking for the best
	Doubting                // intervals and shares from draws
	Detailing               // predictions in full
	Varying                 // other builds of a row, swaps, changes
	Purchasing              // what purchases make possible
	Planning                // which crafts together
	Doings                  // one past the last
)

// Work of what is no candidate evaluated for a style, in such evaluations, roughly: BenchmarkProgress shows beside the
// share by work how much of the processor time is over.
const (
	// Bound is a bound of a branch.
	Bound = 2.0
	// Prediction is a craft with every figure, as a draw has it.
	Prediction = 2.5
	// RotorMap is a rotor map.
	RotorMap = 200.0
	// Body is a frame with a board and extras, tried and turned into SI numbers.
	Body = 1.4
)

// Part is a part of a job. A nil part is of no job, and its methods do nothing.
type Part struct {
	job        *job
	doing      Doing
	done, rest float64 // of its own
	parts      []*Part
}

type job struct {
	mu   sync.Mutex
	root *Part
	told float64
	tell func(Told)
}

// Told is how far a job is.
type Told struct {
	Share float64 // of the work, from 0 to 1
	Done  float64 // work
	Doing Doing
}

type key struct{}

// Begin begins a job and tells from then on how far it is, from one goroutine at a time.
func Begin(ctx context.Context, tell func(Told)) context.Context {
	j := &job{tell: tell}
	j.root = &Part{job: j}
	return j.root.In(ctx)
}

// Of is the part that a context works on, nil if it is of no job.
func Of(ctx context.Context) *Part {
	p, _ := ctx.Value(key{}).(*Part)
	return p
}

// In is a context in which the part is worked on.
func (p *Part) In(ctx context.Context) context.Context {
	if p == nil {
		return ctx
	}
	return context.WithValue(ctx, key{}, p)
}

// Plan adds a part of which so much work is expected, and of the part itself no more than what its parts take.
func (p *Part) Plan(doing Doing, rest float64) *Part {
	if p == nil {
		return nil
	}
	p.job.mu.Lock()
	defer p.job.mu.Unlock()
	made := &Part{job: p.job, doing: doing, rest: rest}
	p.parts, p.rest = append(p.parts, made), 0
	return made
}

// At tells what work the part has done by itself and what is left.
func (p *Part) At(done, rest float64) {
	p.change(func() { p.done, p.rest = done, rest })
}

// Expect tells what work of the part itself is left.
func (p *Part) Expect(rest float64) {
	p.change(func() { p.rest = rest })
}

// Add tells that so much more of the part itself is done.
func (p *Part) Add(work float64) {
	p.change(func() { p.done, p.rest = p.done+work, max(p.rest-work, 0) })
}

// End tells that nothing of the part is left.
func (p *Part) End() {
	p.change(p.end)
}

func (p *Part) end() {
	p.rest = 0
	for _, of := range p.parts {
		of.end()
	}
}

func (p *Part) change(by func()) {
	if p == nil {
		return
	}
	j := p.job
	j.mu.Lock()
	defer j.mu.Unlock()
	by()
	done, rest := j.root.sum()
	if done > 0 {
		j.told = max(j.told, done/(done+rest))
	}
	j.tell(Told{j.told, done, p.doing})
}

// sum is what the part and its parts have done and have left.
func (p *Part) sum() (done, rest float64) {
	done, rest = p.done, p.rest
	for _, of := range p.parts {
		d, r := of.sum()
		done, rest = done+d, rest+r
	}
	return done, rest
}
