//go:build unix

package solve

import (
	"context"
	"runtime"
	"slices"
	"testing"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// Sizes of drawers of which every candidate can be evaluated, some hundred thousand.
var (
	enumerableWithTwins = synthetic.Sizes{20, 28, 8, 8, 5} // before the packs are made ten of each
	enumerable          = synthetic.Sizes{40, 60, 40, 16, 10}
)

// spent is what a search has cost.
type spent struct{ cpuS, allocatedMB, peakMB float64 }

// spending runs a search and tells its cost. The peak is the process's, the space that is searched included; it is 0
// where the system does not tell.
func spending(search func()) spent {
	var before, after runtime.MemStats
	resetPeak()
	runtime.ReadMemStats(&before)
	cpu := cpuSeconds()
	search()
	c := spent{cpuS: cpuSeconds() - cpu}
	runtime.ReadMemStats(&after)
	c.allocatedMB = float64(after.TotalAlloc-before.TotalAlloc) / 1e6
	c.peakMB, _ = peakMB()
	return c
}

// proveSpending proves the ten best, the best on each axis and as much of the front as a proof does. It reports the
// looks (evaluations and bounds) and the cost, of all and until the list is proven, without laying out the space, which
// enumeration needs as well.
func proveSpending(b *testing.B, s *space.Space) (p *Proof, listCPUS float64, all spent) {
	ctx := context.Background()
	var listLooks int64
	all = spending(func() {
		cpu := cpuSeconds()
		var err error
		p, err = newProof(ctx, s, &Options{Top: 10, Workers: 2}, warmBudget(s))
		if err != nil || !p.start(ctx) || !p.run(ctx) || p.queue.Len() > 0 {
			b.Fatal("no proof: ", err)
		}
		p.Whole = true
		listLooks, listCPUS = p.evaluations(), cpuSeconds()-cpu
		p.goOn(ctx)
	})
	b.ReportMetric(0, "ns/op") // of no use: what is compared is timed too
	b.ReportMetric(float64(s.Fitted), "fit")
	b.ReportMetric(float64(p.evaluations()), "looks/op")
	b.ReportMetric(float64(listLooks), "looks-list")
	b.ReportMetric(all.cpuS, "cpu-s")
	b.ReportMetric(listCPUS, "cpu-s-list")
	b.ReportMetric(all.allocatedMB, "allocated-MB")
	b.ReportMetric(all.peakMB, "peak-MB")
	b.ReportMetric(p.FrontGap, "front-gap")
	return p, listCPUS, all
}

// againstEnumeration proves, enumerates in full, holds the lists against each other and reports both costs. An x-plain
// over 1 is a proof that is the cheaper.
func againstEnumeration(b *testing.B, s *space.Space) *Proof {
	o := Options{Top: 10, Workers: 2}
	p, listCPUS, all := proveSpending(b, s)
	plain := NewIncumbents(s, &o)
	whole := spending(func() { Enumerate(context.Background(), s, &o, &plain) })
	if !slices.Equal(p.Best.List, plain.Best.List) {
		b.Fatalf("proven %+v, enumeration has %+v", p.Best.List, plain.Best.List)
	}
	b.ReportMetric(float64(plain.Evaluated), "looks-plain")
	b.ReportMetric(whole.cpuS, "cpu-s-plain")
	b.ReportMetric(whole.allocatedMB, "allocated-MB-plain")
	b.ReportMetric(whole.peakMB, "peak-MB-plain")
	b.ReportMetric(whole.cpuS/all.cpuS, "x-plain")
	b.ReportMetric(whole.cpuS/listCPUS, "x-plain-list")
	return p
}

// Ten packs of each kind, equal to the last digit or of masses up to half a percent apart, which no bound tells apart; in
// one style also of a drawer fifteen times as large.
func BenchmarkTwinsAgainstEnumeration(b *testing.B) {
	for _, twins := range []struct {
		name   string
		off    float64
		sizes  synthetic.Sizes
		styles []string
	}{
		{"equal", 0, enumerableWithTwins, objective.PresetNames()}, {"near", 0.005, enumerableWithTwins, objective.PresetNames()},
		{"near-millions", 0.005, synthetic.Sizes{34, 44, 10, 10, 8}, []string{"freestyle"}},
	} {
		for _, style := range twins.styles {
			b.Run(twins.name+"/"+style, func(b *testing.B) {
				for b.Loop() {
					d := synthetic.Generate(1, twins.sizes, true)
					tenfold(d, twins.off)
					againstEnumeration(b, laidOut(b, d, style))
				}
			})
		}
	}
}

// Limits with both sides, each kept by a fifth of the feasible candidates: from four to six tenths of the way through
// what they have, sorted.
func BenchmarkTwoSidedLimitsAgainstEnumeration(b *testing.B) {
	s := laidOut(b, synthetic.Generate(2, enumerable, false), "freestyle")
	values := figuresOfAll(s)
	middle := func(q figure.Quantity) objective.Limit {
		list := values[q]
		return objective.Limit{Quantity: q, Range: objective.Range{Low: list[len(list)*4/10], High: list[len(list)*6/10]}}
	}
	reach, response, hover := middle(figure.Range), middle(figure.Response), middle(figure.HoverThrottle)
	for _, c := range []struct {
		name   string
		limits []objective.Limit
	}{
		{"none", nil},
		{"hover-throttle", []objective.Limit{hover}},
		{"range", []objective.Limit{reach}},
		{"response", []objective.Limit{response}},
		{"range-and-response", []objective.Limit{reach, response}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				againstEnumeration(b, underLimits(s, c.limits...))
			}
		})
	}
}

// Questions without an answer: two percent beyond the best that any has, and in the middle fifth the widest hole
// between what two candidates have, which lies in the ranges of most branches. Of a drawer of parts at random, and of
// one with near twins.
func BenchmarkInfeasibleAgainstEnumeration(b *testing.B) {
	near := synthetic.Generate(2, enumerableWithTwins, true)
	tenfold(near, 0.005)
	for _, of := range []struct {
		name   string
		drawer *inventory.Drawer
	}{{"random", synthetic.Generate(2, enumerable, false)}, {"near", near}} {
		s := laidOut(b, of.drawer, "freestyle")
		figures := []figure.Quantity{figure.StyleTime, figure.Range, figure.Response}
		values := figuresOfAll(s)
		for q := range values {
			if !slices.Contains(figures, figure.Quantity(q)) {
				values[q] = nil // memory is measured
			}
		}
		for _, q := range figures {
			list := values[q]
			for _, asked := range []struct {
				name string
				objective.Range
			}{{"beyond", beyond(list, q == figure.Response)}, {"hole", hole(list)}} {
				b.Run(of.name+"/"+figure.Of(q).Key+"/"+asked.name, func(b *testing.B) {
					for b.Loop() {
						p := againstEnumeration(b, underLimits(s, objective.Limit{Quantity: q, Range: asked.Range}))
						if len(p.Best.List) > 0 {
							b.Fatalf("%+v is feasible", p.Best.List[0])
						}
					}
				})
			}
		}
	}
}

// How near the front of a drawer of 1.2 billion combinations is known. Enumeration is not run: its processor time is
// that of some two thousand candidates spread over the space times those that fit, without that of keeping a list and a
// front. None of the sample may lie further beyond the front than the gap says.
func BenchmarkFrontGap1200000000(b *testing.B) {
	d := synthetic.Generate(1, synthetic.Sizes{100, 150, 100, 40, 20}, false)
	for _, style := range objective.PresetNames() {
		b.Run(style, func(b *testing.B) {
			for b.Loop() {
				s := laidOut(b, d, style)
				p, listCPUS, all := proveSpending(b, s)
				for _, c := range sample(s) {
					v := s.Evaluate(c).Evaluation
					if v.Feasible() && !p.Front.covers(&v.Axes, p.FrontGap) {
						b.Fatalf("%v lies over %g beyond the front", v.Axes, p.FrontGap)
					}
				}
				plainS := float64(s.Fitted) * sampleTime(s)
				b.ReportMetric(float64(p.Front.len()), "front")
				b.ReportMetric(float64(s.Fitted), "looks-plain")
				b.ReportMetric(plainS, "cpu-s-plain-sampled")
				b.ReportMetric(plainS/all.cpuS, "x-plain-sampled")
				b.ReportMetric(plainS/listCPUS, "x-plain-list-sampled")
			}
		})
	}
}
