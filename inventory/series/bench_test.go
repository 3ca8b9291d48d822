package series

import (
	"bufio"
	"io"
	"strings"
	"testing"
)

// A flight of ten minutes at a hundred rows a second, against counting the lines of the same text, which is to
// read its bytes alone.
func BenchmarkFlight(b *testing.B) {
	text := steadyFile(60_000)
	b.Run("read", func(b *testing.B) {
		b.SetBytes(int64(len(text)))
		b.ReportAllocs()
		for b.Loop() {
			r, err := Read("flight.csv", strings.NewReader(text), Options{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := r.Flight(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("lines", func(b *testing.B) {
		b.SetBytes(int64(len(text)))
		for b.Loop() {
			lines := 0
			for s := bufio.NewReader(strings.NewReader(text)); ; lines++ {
				if _, err := s.ReadSlice('\n'); err == io.EOF {
					break
				}
			}
			if lines != 60_001 {
				b.Fatal(lines)
			}
		}
	})
}
