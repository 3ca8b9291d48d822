package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"partsaloft/cmd/partsaloft/internal/cli"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/search/progress"
)

// watched are the commands that take long.
var watched = []string{"rank", "rank --spread", "rank --method genetic", "explain 1 --packs", "compare 1 2", "vary 1",
	"plan race cruise", "buy", "page", "check", "learn"}

// moment is how far a command said that it was, and how far it was.
type moment struct{ share, work, cpuS float64 }

// watch runs a command line in a folder of its own and returns what it said of its progress, the end last.
func watch(t testing.TB, folder, line string) []moment {
	t.Helper()
	var list []moment
	begun := cpuSeconds(t)
	ctx := progress.Begin(context.Background(), func(now progress.Told) {
		list = append(list, moment{now.Share, now.Done, cpuSeconds(t) - begun})
	})
	var said strings.Builder
	out := filepath.Join(folder, "out")
	defer os.Remove(out)
	args := append(strings.Fields(line), "--output", out)
	if code := cli.Run(ctx, args, session.Streams{Out: io.Discard, Err: &said}); code != 0 {
		t.Fatalf("%s: exit %d: %s", line, code, said.String())
	}
	if len(list) == 0 {
		t.Fatalf("%s says nothing of its progress", line)
	}
	return append(list, moment{1, list[len(list)-1].work, cpuSeconds(t) - begun})
}

// shareAtHalf is what stood there when half of something was done: what was said last before.
func shareAtHalf(list []moment, of func(moment) float64) float64 {
	whole, said := of(list[len(list)-1]), 0.0
	for _, m := range list {
		if 2*of(m) > whole {
			break
		}
		said = m.share
	}
	return said
}

func cpuSeconds(t testing.TB) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// watchedDrawers are the embedded drawer, and larger ones.
func watchedDrawers(t testing.TB, folder string, parts ...int) map[string]string {
	t.Helper()
	lines := map[string]string{"club": ""}
	for _, n := range parts {
		name := filepath.Join(folder, fmt.Sprintf("drawer-%d.yaml", n))
		if err := os.WriteFile(name, []byte(largeDrawer(n)), 0o644); err != nil {
			t.Fatal(err)
		}
		lines[fmt.Sprintf("%d parts", n)] = " --drawer " + name
	}
	return lines
}

// Property: the share that a command says is done never falls, is all only at the end, and lies between 30 and 70 of 100
// when half of all the work that it turns out to take is done.
func TestProgressIsTrue(t *testing.T) {
	folder := t.TempDir()
	drawers := watchedDrawers(t, folder, 60)
	if testing.Short() {
		delete(drawers, "club")
	}
	for name, drawer := range drawers {
		for _, command := range watched {
			if command == "learn" && drawer != "" {
				continue // it has no log
			}
			list := watch(t, folder, command+drawer)
			last := list[len(list)-1]
			for i, m := range list[1:] {
				if m.share < list[i].share || m.work < list[i].work {
					t.Errorf("%s, %s: falls from %+v to %+v", name, command, list[i], m)
				}
				if m.share == 1 && m.work < 0.999*last.work {
					t.Errorf("%s, %s: all is done when %.0f of %.0f are", name, command, m.work, last.work)
				}
			}
			half := shareAtHalf(list, func(m moment) float64 { return m.work })
			t.Logf("%s, %s: %.2f at half of %.0f", name, command, half, last.work)
			if half < 0.30 || half > 0.70 {
				t.Errorf("%s, %s: %.0f of 100 said at half of the work", name, command, 100*half)
			}
		}
	}
}

// What the bar shows at half of the processor time, beside that at half of the counted work.
func BenchmarkProgress(b *testing.B) {
	folder := b.TempDir()
	for name, drawer := range watchedDrawers(b, folder, 100, 300) {
		for _, command := range watched {
			if command == "learn" && drawer != "" {
				continue
			}
			b.Run(name+"/"+command, func(b *testing.B) {
				for b.Loop() {
					list := watch(b, folder, command+drawer)
					b.ReportMetric(100*shareAtHalf(list, func(m moment) float64 { return m.cpuS }), "%-at-half-of-time")
					b.ReportMetric(100*shareAtHalf(list, func(m moment) float64 { return m.work }), "%-at-half-of-work")
					b.ReportMetric(list[len(list)-1].cpuS, "cpu-s")
				}
			})
		}
	}
}
