//go:build unix

package search

import (
	"context"
	"partsaloft/search/internal/synthetic"
	"testing"
)

// A ranking from a laid-out drawer to the finished list, draws included.
func BenchmarkRankClub(b *testing.B) {
	d := synthetic.Club(b)
	for b.Loop() {
		s := laidOut(b, d, "cruise")
		if _, err := rank(context.Background(), s, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
