package search

import (
	"context"
	"syscall"
	"testing"
	"time"

	"partsaloft/objective"
)

// One candidate, put together, evaluated and judged.
func BenchmarkCandidate(b *testing.B) {
	s := space(b, club(b), "race")
	var list []candidate
	s.each(func(c candidate) bool { list = append(list, c); return len(list) < 2000 })
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		s.evaluate(list[i%len(list)])
		i++
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "candidates/s")
}

// benchmarkProof proves the ten best of a generated drawer and reports how much faster that was
// than evaluating every candidate that fits, from the time of a sample of them in the same run.
func benchmarkProof(b *testing.B, n sizes, loose bool) {
	for _, style := range objective.PresetNames() {
		b.Run(style, func(b *testing.B) {
			ctx := context.Background()
			d := generate(1, n, loose)
			for b.Loop() {
				o := Options{Top: 10, Workers: 2}
				start, cpu := time.Now(), cpuSeconds()
				s := space(b, d, style)
				p, err := s.prove(ctx, &o)
				if err != nil || !p.whole {
					b.Fatal(err)
				}
				took := time.Since(start).Seconds()
				b.StopTimer()
				b.ReportMetric(cpuSeconds()-cpu, "cpu-s")
				b.ReportMetric(float64(s.fitted), "fit")
				b.ReportMetric(float64(p.evaluated+p.bounded), "looks")
				b.ReportMetric(float64(s.fitted)*sampleTime(s)/2/took, "x-plain")
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

// sampleTime is the seconds that one evaluation takes, from some thousand candidates spread over the
// space.
func sampleTime(s *Space) float64 {
	step, i := s.fitted/2000+1, int64(0)
	var list []candidate
	s.each(func(c candidate) bool {
		if i%step == 0 {
			list = append(list, c)
		}
		i++
		return i < 40_000_000
	})
	start := time.Now()
	for _, c := range list {
		s.evaluate(c)
	}
	return time.Since(start).Seconds() / float64(len(list))
}

func BenchmarkProve3456000(b *testing.B)    { benchmarkProof(b, sizes{30, 40, 30, 12, 8}, false) }
func BenchmarkProve1200000000(b *testing.B) { benchmarkProof(b, sizes{100, 150, 100, 40, 20}, false) }
func BenchmarkProveLoose1200000000(b *testing.B) {
	benchmarkProof(b, sizes{100, 150, 100, 40, 20}, true)
}

// The genetic search alone on the largest drawer.
func BenchmarkGenetic(b *testing.B) {
	s := space(b, generate(1, sizes{100, 150, 100, 40, 20}, false), "race")
	for b.Loop() {
		o := Options{Top: 10, Workers: 2, MaxEvals: 20_000}
		if _, err := s.genetic(context.Background(), &o); err != nil {
			b.Fatal(err)
		}
	}
}

// A ranking from a laid-out drawer to the finished list, draws included.
func BenchmarkRankClub(b *testing.B) {
	d := club(b)
	for b.Loop() {
		s := space(b, d, "cruise")
		if _, err := s.Search(context.Background(), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
