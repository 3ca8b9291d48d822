package cli

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Property: a drawer as large as the reader takes is checked in seconds, in an answer of bounded size that
// says what it left out; the same part two thousand times is said once for each.
func TestCheckOfTheLargestDrawer(t *testing.T) {
	var b strings.Builder
	b.WriteString("motors:\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "  - {id: m%d, stator: 1404, kv: 3900}\n", i)
	}
	b.WriteString("props:\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "  - {id: p%d, size: 3x%.4fx3}\n", i, 1+float64(i)/2000)
	}
	b.WriteString("packs:\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "  - {id: k%d, size: 3S %d 50C}\n", i, 500+i)
	}
	path := writeTemp(t, "large.yaml", b.String())
	for _, format := range []string{"table", "json"} {
		began := time.Now()
		got := run(t, "check", "--fits", "--drawer", path, "--quiet", "--format", format)
		if got.code != 0 || len(got.out) > 4<<20 || !strings.Contains(got.out,
			"over 40,000 pairs, too many to list") {
			t.Errorf("%s: exit %d, %d bytes\n%.2000s%s", format, got.code, len(got.out), got.out, got.err)
		}
		if n := strings.Count(got.out, "entered twice"); n != 1999 {
			t.Errorf("%s: %d of 1999 motors are said to be entered twice", format, n)
		}
		if took := time.Since(began); took > time.Minute {
			t.Errorf("%s: took %v", format, took)
		}
	}
}
