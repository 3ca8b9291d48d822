//go:build unix

package solve

import (
	"context"
	"math"
	"slices"
	"testing"

	"partsaloft/objective"
	"partsaloft/physics/figure"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// limitForms are what a limit may ask of a figure, from the sorted values of all feasible candidates.
var limitForms = []struct {
	name string
	of   func(list []float64) objective.Range
}{
	{"least", func(list []float64) objective.Range {
		return objective.Range{Low: list[len(list)*7/10], High: math.Inf(1)}
	}},
	{"most", func(list []float64) objective.Range {
		return objective.Range{Low: math.Inf(-1), High: list[len(list)*3/10]}
	}},
	{"both", func(list []float64) objective.Range {
		return objective.Range{Low: list[len(list)*4/10], High: list[len(list)*6/10]}
	}},
	{"over", func(list []float64) objective.Range { return beyond(list, false) }},
	{"under", func(list []float64) objective.Range { return beyond(list, true) }},
	{"hole", hole},
}

// A limit on each figure there is, in turn, a third of them in each style: kept by three tenths of the feasible candidates
// from one side or the other, by a fifth of them from both, two percent beyond what any has, and in the widest hole of the
// middle fifth. The looks and the processor time of proofs, with the axes and the front, are told as shares of those of
// enumeration, over all figures and of the worst one, which is logged. Figures that all candidates share are left out.
func BenchmarkLimitsAgainstEnumeration(b *testing.B) {
	d := synthetic.Generate(2, synthetic.Sizes{20, 28, 24, 10, 6}, false)
	for i, style := range objective.PresetNames() {
		s := laidOut(b, d, style)
		values := figuresOfAll(s)
		for _, form := range limitForms {
			b.Run(style+"/"+form.name, func(b *testing.B) {
				for b.Loop() {
					var proof, plain [2]float64 // looks, processor time
					var most [2]float64
					var worst [2]string
					for q := range figure.Count {
						list := values[q]
						if (int(q)+i)%3 > 0 || len(list) < 20 || list[0] == list[len(list)-1] {
							continue
						}
						l := objective.Limit{Quantity: q, Range: form.of(list)}
						if l.Range.Low > l.Range.High {
							continue
						}
						p, e := costsUnder(b, underLimits(s, l))
						for i := range p {
							proof[i], plain[i] = proof[i]+p[i], plain[i]+e[i]
							if share := p[i] / e[i]; share > most[i] {
								most[i], worst[i] = share, figure.Of(q).Key
							}
						}
					}
					if plain[0] == 0 {
						b.Skip("hardly any candidate is feasible")
					}
					b.ReportMetric(0, "ns/op")
					b.ReportMetric(float64(s.Fitted), "fit")
					b.ReportMetric(proof[0]/plain[0], "looks-of-plain")
					b.ReportMetric(most[0], "looks-of-plain-most")
					b.ReportMetric(proof[1]/plain[1], "cpu-of-plain")
					b.ReportMetric(most[1], "cpu-of-plain-most")
					b.Logf("%d fit, worst by looks %s, by processor time %s", s.Fitted, worst[0], worst[1])
				}
			})
		}
	}
}

// costsUnder are the looks and the processor time of a proof and of enumeration, whose lists must be the same.
func costsUnder(b *testing.B, s *space.Space) (proof, plain [2]float64) {
	ctx, o := context.Background(), Options{Top: 10, Workers: 1}
	var p *Proof
	of := spending(func() {
		var err error
		if p, err = BranchAndBound(ctx, s, &o); err != nil || !p.Whole {
			b.Fatal("no proof: ", err)
		}
	})
	all := NewIncumbents(s, &o)
	whole := spending(func() { Enumerate(ctx, s, &o, &all) })
	if !slices.Equal(p.Best.List, all.Best.List) {
		b.Fatalf("%v: proven %+v, enumeration has %+v", s.Problem.Style.Limits, p.Best.List, all.Best.List)
	}
	return [2]float64{float64(p.evaluations()), of.cpuS}, [2]float64{float64(all.Evaluated), whole.cpuS}
}

// Questions that 1.2 billion combinations have no answer to, one for each figure and side: a hundred times the most, or a
// hundredth of the least, that some two thousand candidates have. Enumeration is not run: its processor time is that of
// these times those that fit.
func BenchmarkNoAnswer1200000000(b *testing.B) {
	free := laidOut(b, synthetic.Generate(1, synthetic.Sizes{100, 150, 100, 40, 20}, false), "freestyle")
	list := sample(free)
	for q := range figure.Count {
		low, high := math.Inf(1), math.Inf(-1)
		for _, c := range list {
			craft := free.Craft(c)
			p := craft.EvaluateOnly(&free.Problem.Style.Flying, figure.SetOf(q))
			if value := defined(&p, q); !math.IsNaN(value) {
				low, high = min(low, q.FromSI(value)), max(high, q.FromSI(value))
			}
		}
		for _, asked := range []struct {
			name string
			objective.Range
		}{{"over", objective.Range{Low: 100 * high, High: math.Inf(1)}}, {"under", objective.Range{Low: math.Inf(-1), High: low / 100}}} {
			if asked.name == "under" && low == 0 {
				continue // hover is an answer
			}
			b.Run(figure.Of(q).Key+"/"+asked.name, func(b *testing.B) {
				for b.Loop() {
					s := underLimits(free, objective.Limit{Quantity: q, Range: asked.Range})
					p, _, all := proveSpending(b, s)
					if len(p.Best.List) > 0 {
						b.Fatalf("%+v is feasible", p.Best.List[0])
					}
					b.ReportMetric(float64(p.roots.count), "roots")
					b.ReportMetric(float64(s.Fitted)*sampleTime(s)/all.cpuS, "x-plain-sampled")
				}
			})
		}
	}
}
