//go:build unix

package solve

import (
	"context"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"partsaloft/objective"
	"partsaloft/search/internal/synthetic"
	"partsaloft/search/space"
)

// One candidate, put together, evaluated and judged as a search does: those that keep every rule and those that break
// one, in processor time.
func BenchmarkCandidate(b *testing.B) {
	for _, style := range objective.PresetNames() {
		s := laidOut(b, synthetic.Club(b), style)
		lists := map[bool][]space.Candidate{}
		for _, c := range sample(s) {
			v := s.Evaluate(c)
			lists[v.Evaluation.Feasible()] = append(lists[v.Evaluation.Feasible()], c)
		}
		for _, feasible := range []bool{true, false} {
			list := lists[feasible]
			b.Run(style+"/"+map[bool]string{true: "feasible", false: "infeasible"}[feasible], func(b *testing.B) {
				b.ReportAllocs()
				cpu, i := cpuSeconds(), 0
				for b.Loop() {
					s.Evaluate(list[i%len(list)])
					i++
				}
				b.ReportMetric((cpuSeconds()-cpu)/float64(b.N)*1e6, "cpu-us/candidate")
			})
		}
	}
}

// benchmarkProof proves the ten best of a generated drawer and reports how much less processor time that took
// than evaluating every candidate that fits, from the time of a sample of them in the same run.
func benchmarkProof(b *testing.B, n synthetic.Sizes, loose bool) {
	for _, style := range objective.PresetNames() {
		b.Run(style, func(b *testing.B) {
			ctx := context.Background()
			d := synthetic.Generate(1, n, loose)
			for b.Loop() {
				o := Options{Top: 10, Workers: 2}
				resetPeak()
				cpu := cpuSeconds()
				s := laidOut(b, d, style)
				p, err := BranchAndBound(ctx, s, &o)
				if err != nil || !p.Whole {
					b.Fatal(err)
				}
				took := cpuSeconds() - cpu
				b.StopTimer()
				b.ReportMetric(took, "cpu-s")
				if mb, ok := peakMB(); ok {
					b.ReportMetric(mb, "peak-MB")
				}
				b.ReportMetric(float64(s.Fitted), "fit")
				b.ReportMetric(float64(p.Evaluated+p.bounded), "evaluations")
				b.ReportMetric(float64(s.Fitted)*sampleTime(s)/took, "x-plain")
				b.StartTimer()
			}
		})
	}
}

// cpuSeconds is the processor time used so far: unlike the clock it does not mind what else runs.
func cpuSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// resetPeak makes the system forget the most memory that this process held so far, where it can.
func resetPeak() {
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0o200)
}

// peakMB is the most memory held at once since resetPeak; false where the system does not tell.
func peakMB() (float64, bool) {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0, false
	}
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	fields := strings.Fields(rest)
	if len(fields) == 0 {
		return 0, false
	}
	kb, err := strconv.ParseFloat(fields[0], 64)
	return kb / 1000, err == nil
}

// What twice as many of one kind of part costs, against the same drawers with none doubled. A root of
// the search is a motor and a prop with a supply, and each is looked at once at least: more motors and
// props are more roots, while more packs, frames and boards make the trees under the roots deeper.
func BenchmarkGrowth(b *testing.B) {
	base, most := synthetic.Sizes{50, 75, 50, 20, 10}, synthetic.Sizes{100, 150, 100, 40, 20}
	kinds := []struct {
		name  string
		sizes synthetic.Sizes
	}{
		{"none", base},
		{"motors", synthetic.Sizes{100, 75, 50, 20, 10}},
		{"props", synthetic.Sizes{50, 150, 50, 20, 10}},
		{"packs", synthetic.Sizes{50, 75, 100, 20, 10}},
		{"frames", synthetic.Sizes{50, 75, 50, 40, 10}},
		{"boards", synthetic.Sizes{50, 75, 50, 20, 20}},
		{"all", most},
	}
	type costs struct{ fit, roots, evaluations, cpuS float64 }
	var first costs
	for _, kind := range kinds {
		b.Run(kind.name, func(b *testing.B) {
			for b.Loop() {
				var sum costs
				for seed := range uint64(3) {
					d := synthetic.Generate(seed+1, most, false)
					d.Motors, d.Props, d.Packs = d.Motors[:kind.sizes[0]], d.Props[:kind.sizes[1]], d.Packs[:kind.sizes[2]]
					d.Frames, d.Boards = d.Frames[:kind.sizes[3]], d.Boards[:kind.sizes[4]]
					s := laidOut(b, d, "freestyle")
					cpu := cpuSeconds()
					p, err := BranchAndBound(context.Background(), s, &Options{Top: 10, Workers: 2})
					if err != nil || !p.Whole {
						b.Fatal(err)
					}
					sum.fit += float64(s.Fitted)
					sum.roots += float64(p.roots.count)
					sum.evaluations += float64(p.evaluations())
					sum.cpuS += cpuSeconds() - cpu
				}
				if kind.name == "none" {
					first = sum
				}
				b.ReportMetric(sum.fit/first.fit, "x-fit")
				b.ReportMetric(sum.roots/first.roots, "x-roots")
				b.ReportMetric(sum.evaluations/first.evaluations, "x-evaluations")
				b.ReportMetric(sum.cpuS/first.cpuS, "x-cpu")
				b.ReportMetric(sum.evaluations/sum.roots, "evaluations/root")
			}
		})
	}
}

// mostSampled is how much of a space a sample is taken from: going through it takes a second.
const mostSampled = 40_000_000

// sample are some two thousand candidates spread over the space, or over the first part of it.
func sample(s *space.Space) []space.Candidate {
	step, i := min(s.Fitted, mostSampled)/2000+1, int64(0)
	var list []space.Candidate
	s.Each(func(c space.Candidate) bool {
		if i%step == 0 {
			list = append(list, c)
		}
		i++
		return i < mostSampled
	})
	return list
}

// sampleTime is the processor time that one evaluation takes, in seconds, from a sample of the space.
func sampleTime(s *space.Space) float64 {
	list := sample(s)
	start := cpuSeconds()
	for _, c := range list {
		s.Evaluate(c)
	}
	return (cpuSeconds() - start) / float64(len(list))
}

func BenchmarkProve3456000(b *testing.B) {
	benchmarkProof(b, synthetic.Sizes{30, 40, 30, 12, 8}, false)
}
func BenchmarkProve1200000000(b *testing.B) {
	benchmarkProof(b, synthetic.Sizes{100, 150, 100, 40, 20}, false)
}
func BenchmarkProve1890000000000(b *testing.B) {
	benchmarkProof(b, synthetic.Sizes{500, 700, 400, 150, 90}, false)
}
func BenchmarkProveLoose1200000000(b *testing.B) {
	benchmarkProof(b, synthetic.Sizes{100, 150, 100, 40, 20}, true)
}

// The genetic search alone against the proven best of the largest drawer: how many of twenty seeds
// come within half a percent of its score, the worst of them, and what share of the proof's processor
// time one takes.
func BenchmarkGenetic(b *testing.B) {
	const seeds = 20
	ctx := context.Background()
	d := synthetic.Generate(1, synthetic.Sizes{100, 150, 100, 40, 20}, false)
	for _, style := range objective.PresetNames() {
		b.Run(style, func(b *testing.B) {
			for b.Loop() {
				s := laidOut(b, d, style)
				cpu := cpuSeconds()
				p, err := BranchAndBound(ctx, s, &Options{Top: 1, Workers: 2})
				if err != nil || !p.Whole {
					b.Fatal(err)
				}
				proof := cpuSeconds() - cpu
				cpu = cpuSeconds()
				near, worst, evals := 0, 0.0, int64(0)
				for seed := range uint64(seeds) {
					h, err := Genetic(ctx, s, &Options{Top: 1, Workers: 2, MaxEvals: 20_000, Seed: seed})
					if err != nil {
						b.Fatal(err)
					}
					short := 100 * (1 - h.BestScore()/p.BestScore())
					if short <= 0.5 {
						near++
					}
					worst, evals = max(worst, short), max(evals, h.Evaluated)
				}
				b.ReportMetric(float64(near), "of-20-seeds")
				b.ReportMetric(worst, "%-short-at-worst")
				b.ReportMetric(float64(evals), "evals-at-most")
				b.ReportMetric((cpuSeconds()-cpu)/seeds/proof, "x-proof")
			}
		})
	}
}
