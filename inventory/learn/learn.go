package learn

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// Report is what was learned and how well it holds.
type Report struct {
	Entries     []Entry // of the log, in its order
	Bench       []Entry // of motors and props
	Conflicts   []Conflict
	Learned     *Learned
	Inseparable []Inseparable
	// Crafts are the log's, each by its first entry, from 1; Taught is the reading that taught most of them, Next the one
	// that would teach most yet: Left is the mean share of the doubt of their figures that it would leave.
	Crafts     []int
	Taught     Taught
	Next       FurtherReading
	CrossCheck CrossCheck
	// AsStated is CrossCheck with the readings as certain as stated. If learning would have made
	// left-out entries worse then, Widened is the factor on the readings' standard deviations that
	// was used instead, else 1; it is 0 if nothing was learned because no factor helped.
	AsStated  CrossCheck
	Inflation float64
}

// CheckKind is what leaving entries out in turn shows.
type CheckKind uint8

// The kinds.
const (
	NoCheck        CheckKind = iota // nothing could be left out
	OneEntry                        // there is no other entry to predict it from
	NothingLearned                  // the entries do not go together, and nothing is learned
	Scattered                       // the readings scatter more than stated, and are taken as less sure
	NoGain                          // entries are predicted as well as without learning: they share too little
	Holds                           // entries are predicted better by the others than by their parts' figures
)

// leastGain is the gain from which on left-out entries are predicted better, in units of what one may expect.
const leastGain = 5e-3

// Check says what leaving entries out in turn shows.
func (r *Report) Check() CheckKind {
	switch {
	case r.CrossCheck.Readings == 0:
		return NoCheck
	case len(r.Entries) < 2:
		return OneEntry
	case r.Inflation == 0:
		return NothingLearned
	case r.Inflation > 1:
		return Scattered
	case r.CrossCheck.After > r.CrossCheck.Before-leastGain:
		return NoGain
	}
	return Holds
}

// Read reports whether any reading was taken with a prop itself, not with a sister of its series.
func (r *Report) Read(prop string) bool {
	with := func(e Entry) bool { return e.Parts.Prop == prop }
	return slices.ContainsFunc(r.Entries, with) || slices.ContainsFunc(r.Bench, with)
}

// Entry is an entry of the log or a row of a bench with what was predicted for it.
type Entry struct {
	Number   int // in the log, from 1; 0 for a bench
	Line     int
	Date     string
	What     string // label of a bench
	Bench    *BenchRow
	Parts    inventory.Parts
	Readings []Compared
}

// Compared is a reading beside its predictions, in the reading's unit.
type Compared struct {
	Reading
	// Before is predicted by the parts' figures alone, After with all that was learned, Without
	// with what was learned from everything but this entry; Without is unknown for benches.
	Before, After, LeftOut Interval
	// Expected is what all other readings and the parts let one expect, the reading's own doubt
	// included, and Off by how many standard deviations the reading differs; Fits is false for one
	// that does not go with the rest.
	Expected Interval
	Off      float64
	Fits     bool
}

// Interval is a predicted value with the points under which it lies in 10 % and 90 % of cases. It
// is unknown where the craft is not predicted to do what was read.
type Interval struct {
	Value, Low, High float64
	Known            bool
}

// Bounds from which on a reading does not fit: in standard deviations of what all other readings
// let one expect and of itself, and in its weight in the fit; from surelySDs on whatever its weight, for a lone wrong
// reading bends what nothing else tells of until it fits.
const (
	misfitSDs    = 3.0
	surelySDs    = 4.0
	misfitWeight = 0.75
)

// inflations are the factors on the readings' standard deviations that are tried in turn.
var inflations = [...]float64{1, 2, 4, 8}

// evenError is by how much more left-out entries may be off than by the figures alone and still count as no worse: a
// lone reading is predicted by the figures alone but for what linearising leaves.
const evenError = 1e-3

// Learn corrects the parts of a drawer, which must carry no corrections yet, by its log and
// benches. Ways are the styles that the log's flown may name beside hover, cruise and hard. The
// error is an inventory.Faults where the file is to blame: no readings, unknown parts or ways of
// flying, readings that contradict their parts; or that of the context.
func Learn(ctx context.Context, d *inventory.Drawer, ways Ways) (*Report, error) {
	g, err := gather(ctx, d, ways)
	if err != nil {
		return nil, err
	}
	r := &Report{}
	var p *posterior
	var outs []*prediction
	for _, w := range inflations {
		g.precision = 1 / (w * w)
		if p, err = g.fit(ctx); err != nil {
			return nil, g.failed(ctx, err)
		}
		var left CrossCheck
		left, outs = g.leaveOneOut(p)
		if w == 1 {
			r.AsStated = left
		}
		r.CrossCheck, r.Inflation = left, w
		if left.After <= left.Before*(1+evenError) {
			break
		}
		r.Inflation = 0
	}
	if r.Inflation == 0 {
		p = g.prior()
		for k := range outs {
			outs[k] = p.prediction(k)
		}
		r.CrossCheck.After = r.CrossCheck.Before
	}
	r.Learned = g.learned(p)
	if r.Inflation > 0 {
		r.Inseparable = g.ambiguities(p)
		forms := formsOf(g.crafts, p)
		r.Taught, r.Next = g.taught(p, forms), g.next(p, g.crafts, forms)
	}
	for _, a := range g.crafts {
		r.Crafts = append(r.Crafts, a.entry)
	}
	g.report(r, p, outs)
	g.conflicts(r)
	return r, ctx.Err()
}

// failed is the context's error, or a problem of the fit as a fault of the log.
func (g *evidence) failed(ctx context.Context, err error) error {
	var p *strict.Problem
	if ctx.Err() != nil || !errors.As(err, &p) {
		return cmp.Or(ctx.Err(), err)
	}
	return inventory.Faults{{File: g.drawer.Name, Path: "log", Problem: *p}}
}

// prior is what is known without readings, worked out once.
func (g *evidence) prior() *posterior {
	if g.priorOnly != nil {
		return g.priorOnly
	}
	z := make([]float64, len(g.list))
	ds := make([]linearisation, len(g.observations))
	for k, s := range g.observations {
		d, ok := g.linearise(s, z)
		if !ok {
			d = linearisation{touched: s.touched(), slopes: make([][]float64, len(s.read()))}
		}
		ds[k] = d
	}
	g.priorOnly = &posterior{z, identity(len(z)), ds}
	return g.priorOnly
}

// report sets the entries beside their predictions.
func (g *evidence) report(r *Report, p *posterior, outs []*prediction) {
	prior := g.prior()
	for k, s := range g.observations {
		from := &g.entries[k]
		e := Entry{Line: from.origin.Line, What: from.bench.label(), Bench: from.bench, Parts: from.parts}
		if from.log >= 0 {
			e.Number, e.Date = from.log+1, g.drawer.Log[from.log].Date
		}
		before, after := prior.prediction(k), p.prediction(k)
		for i, reading := range s.read() {
			c := Compared{
				Reading: reading, Fits: true,
				Before: before.interval(&reading, i), After: after.interval(&reading, i), LeftOut: outs[k].interval(&reading, i),
			}
			if r.Inflation > 0 {
				g.crossCheck(&c, p, k, i)
			}
			e.Readings = append(e.Readings, c)
		}
		if from.log >= 0 {
			r.Entries = append(r.Entries, e)
		} else {
			r.Bench = append(r.Bench, e)
		}
	}
}

// crossCheck compares a reading with what all others let one expect, by the derivatives.
func (g *evidence) crossCheck(c *Compared, p *posterior, k, i int) {
	d := &p.linearised[k]
	if d.predicted == nil {
		return
	}
	out, ok := p.leaveOut(k, []int{i})
	if !ok {
		return
	}
	value := d.predicted[i]
	for x, latent := range d.touched {
		value += d.slopes[i][x] * (out.mean[latent] - p.mean[latent])
	}
	r := &c.Reading
	width := math.Hypot(out.sds[0], d.sd[i])
	c.Off = (r.scaled(r.Measured) - value) / width
	off := math.Abs(c.Off)
	c.Fits = off < misfitSDs || off < surelySDs && d.robust[i] > misfitWeight
	c.Expected = r.interval(value, width)
}

// Benches is what the drawer's benches teach without its log: rows under motors of the motors and
// of their props' power, points of a prop of its sisters in the series. It is nil if there are
// none that teach more than a prop's own points, which the prop has already. Errors are those of
// Learn.
func Benches(ctx context.Context, d *inventory.Drawer) (*Learned, error) {
	told := *d
	told.Log = nil
	if !teaches(&told) {
		return nil, nil
	}
	g, err := gather(ctx, &told, Ways{})
	if err != nil {
		return nil, err
	}
	p, err := g.fit(ctx)
	if err != nil {
		return nil, g.failed(ctx, err)
	}
	return g.learned(p), nil
}

func teaches(d *inventory.Drawer) bool {
	for i := range d.Motors {
		if len(d.Motors[i].Bench) > 0 {
			return true
		}
	}
	sisters, read := map[string]int{}, map[string]bool{}
	for i := range d.Props {
		p := &d.Props[i]
		sisters[p.Series]++
		read[p.Series] = read[p.Series] || len(p.Bench) > 0
	}
	for series, n := range sisters {
		if series != "" && n > 1 && read[series] {
			return true
		}
	}
	return false
}
