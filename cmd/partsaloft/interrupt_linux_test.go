package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// largeDrawer is the text of a drawer of some thousand parts of 3 and 5 inches; with price, of a shop.
func largeDrawer(parts int) string {
	rng := rand.New(rand.NewPCG(5, 5))
	var b strings.Builder
	list := func(section string, line func(i, size int) string) {
		fmt.Fprintf(&b, "%s:\n", section)
		for i := range parts / 5 {
			fmt.Fprintf(&b, "  - {id: %s-%d, %s}\n", section, i, line(i, rng.IntN(2)))
		}
	}
	list("motors", func(i, size int) string {
		return fmt.Sprintf("stator: %q, kv: %d, mass_g: %.1f, shaft_mm: %g, hole_pattern_mm: %d",
			[]string{"1404", "2306"}[size], []int{3500, 1800}[size]+i%400, []float64{9, 33}[size]+rng.Float64(),
			[]float64{1.5, 5}[size], []int{9, 16}[size])
	})
	list("props", func(i, size int) string {
		return fmt.Sprintf("diameter_in: %d, pitch_in: %.2f, blades: %d, bore_mm: %g", 3+2*size,
			2+float64(size)+2*rng.Float64(), 2+i%2, []float64{1.5, 5}[size])
	})
	list("packs", func(i, size int) string {
		return fmt.Sprintf("cells: %d, capacity_mah: %d, discharge_c: %d, connector: %s", 3+i%2+2*size,
			500+i%900, 50+i%70, []string{"XT30", "XT60"}[size])
	})
	list("frames", func(i, size int) string {
		return fmt.Sprintf("mass_g: %d, max_prop_in: %d, hole_pattern_mm: %d, stack_mm: %g", []int{30, 90}[size]+i%30,
			3+2*size, []int{9, 16}[size], []float64{25.5, 30.5}[size])
	})
	list("boards", func(i, size int) string {
		return fmt.Sprintf("esc_current_a: %d, cells: [2, 6], connector: %s, stack_mm: %g", []int{15, 40}[size]+i%20,
			[]string{"XT30", "XT60"}[size], []float64{25.5, 30.5}[size])
	})
	return b.String()
}

// processorTime is what a running process has used so far; false once it has ended.
func processorTime(pid int) (time.Duration, bool) {
	const tick = 10 * time.Millisecond // USER_HZ is 100 on every Linux
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0, false
	}
	_, rest, _ := strings.Cut(string(stat), ") ")
	fields := strings.Fields(rest)
	if len(fields) < 13 || fields[0] == "Z" {
		return 0, false
	}
	user, err1 := strconv.Atoi(fields[11])
	system, err2 := strconv.Atoi(fields[12])
	return time.Duration(user+system) * tick, err1 == nil && err2 == nil
}

// Property: whatever a command does with a large drawer, it ends within a second of processor time on two processors
// after an interrupt, and leaves no half file.
func TestAnInterruptEndsEveryCommandSoon(t *testing.T) {
	// Where interrupts are ignored, as of a job in the background, the program would ignore those before it has begun.
	taken := make(chan os.Signal, 1)
	signal.Notify(taken, os.Interrupt)
	defer signal.Stop(taken)
	parts, moments := 600, 1
	if long() {
		parts, moments = 5000, 2
	}
	folder := t.TempDir()
	text := largeDrawer(parts)
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("large.yaml", text)
	write("shop.yaml", largeDrawer(25))
	sheet := program(t, "export", "motors", "--drawer", "large.yaml", "--output", "motors.csv")
	sheet.Dir = folder
	if out, err := sheet.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var own strings.Builder
	own.WriteString("What,Qty\n")
	for i := range parts {
		fmt.Fprintf(&own, "motor %d %dkv,%d\n", 1404, 3000+i, 4)
	}
	write("own.csv", own.String())
	for _, line := range []string{
		"check large.yaml", "check large.yaml --fits", "check large.yaml --fix --output out", "rank large.yaml",
		"explain 1 --drawer large.yaml", "compare 1 2 --drawer large.yaml", "vary 1 --drawer large.yaml",
		"buy shop.yaml --drawer large.yaml", "buy --drawer large.yaml", "page large.yaml --output out",
		"import motors motors.csv --drawer large.yaml --output out", "import own.csv --output out",
		"export motors --drawer large.yaml --output out",
	} {
		for range moments {
			c := program(t, strings.Fields(line)...)
			c.Dir = folder
			var said bytes.Buffer
			c.Stderr = &said
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration((0.1 + rng.Float64()) * float64(time.Second)))
			before, running := processorTime(c.Process.Pid)
			if running {
				_ = c.Process.Signal(syscall.SIGINT)
			}
			stuck := time.AfterFunc(time.Minute, func() { _ = c.Process.Kill() })
			_ = c.Wait()
			if !stuck.Stop() {
				t.Errorf("%s: has not ended a minute after an interrupt", line)
			}
			code := c.ProcessState.ExitCode()
			took := c.ProcessState.UserTime() + c.ProcessState.SystemTime() - before
			t.Logf("%s: exit %d after %v of processor time", line, code, took)
			if running && took > 2*time.Second {
				t.Errorf("%s: ended %v of processor time after an interrupt", line, took)
			}
			if code != 130 && code != 0 && code != -1 || code == -1 && said.Len() > 0 {
				t.Errorf("%s: exit %d\n%s", line, code, said.String())
			}
			if _, err := os.Stat(filepath.Join(folder, "out")); (err == nil) != (code == 0 && strings.Contains(line, " out")) {
				t.Errorf("%s: exit %d, and the file is there: %v", line, code, err == nil)
			}
			_ = os.Remove(filepath.Join(folder, "out"))
			onlyHolds(t, folder, "large.yaml", "motors.csv", "own.csv", "shop.yaml")
		}
	}
}
