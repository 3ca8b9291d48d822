package sound

import (
	"fmt"
	"math"
	"runtime"
	"testing"
)

// A craft of 12000 rpm and of 45000 rpm in recordings of three lengths. It reports processor time for 10 s of sound,
// that as a multiple of the short-time transform's alone, measured in the same run, and how much the heap grew.
func BenchmarkHear(b *testing.B) {
	for _, rpm := range [...]float64{12000, 45000} {
		s := still()
		s.rateHz, s.seconds, s.rpm = 44100, 60, rpm
		minute, _ := s.make()
		for _, seconds := range [...]int{10, 60, 600} {
			r := &Recording{RateHz: s.rateHz, Channels: [][]float64{nil}}
			for range max(1, seconds/60) {
				r.Channels[0] = append(r.Channels[0], minute.Channels[0][:min(seconds, 60)*44100]...)
			}
			b.Run(fmt.Sprintf("%.0frpm/%ds", rpm, seconds), func(b *testing.B) {
				prior := Prior{SpeedRadS: rpm * math.Pi / 30, Blades: s.blades}
				start := processorS()
				n := 0
				b.ReportAllocs()
				for b.Loop() {
					n++
					if got, err := Hear(r, prior); err != nil || got.Why != Heard {
						b.Fatal(got.Why, err)
					}
				}
				took := (processorS() - start) / float64(n)
				runtime.GC()
				start = processorS()
				newSpectra(r.decimated(highestLinePart*r.RateHz), prior.passingHz())
				b.ReportMetric(took, "cpu-s")
				b.ReportMetric(took*10/float64(min(seconds, LongestS)), "cpu-s/10s")
				b.ReportMetric(took/math.Max(1e-3, processorS()-start), "x-transform")
			})
		}
	}
}
