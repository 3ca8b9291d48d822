package cli

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"
)

// Property: nothing waits for a pipe that nobody writes to; every command that reads a file refuses it.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skipf("no pipe can be made here: %v", err)
	}
	for _, args := range [][]string{
		{"check", "--drawer", pipe}, {"check", "--drawer", pipe, "--fix"}, {"add", pipe, "motor 1404 3800kv"}, {"export", "motors", "--drawer", pipe},
		{"import", "motors", pipe}, {"rank", "--style", pipe}, {"rank", "--learned", pipe}, {"new", pipe}, {"buy", pipe},
	} {
		done := make(chan ran, 1)
		go func() { done <- run(t, args...) }()
		select {
		case got := <-done:
			if got.code != 3 && got.code != 2 || got.err == "" {
				t.Errorf("%v: exit %d, %s", args, got.code, got.err)
			}
		case <-time.After(time.Minute):
			t.Errorf("%v waits for the pipe", args)
		}
	}
}

// Property: whatever command writes a file, an interrupt at any share of its time leaves what was there,
// or the whole result, and nothing else in the folder.
func TestAnInterruptOfAnyCommandThatWrites(t *testing.T) {
	path := program(t)
	examples := filepath.Join("..", "..", "..", "..", "examples")
	for _, c := range []struct {
		args   []string
		beside string // an example that the command reads
		fresh  bool   // refuses to write over a file
	}{
		{args: []string{"new", "out"}, fresh: true},
		{args: []string{"check", "--drawer", "racer.yaml", "--output", "out"}, beside: "racer.yaml"},
		{args: []string{"check", "--drawer", "club.yaml", "--fix", "--output", "out"}, beside: "club.yaml"},
		{args: []string{"export", "motors", "--drawer", "club.yaml", "--output", "out"}, beside: "club.yaml"},
		{args: []string{"schema", "drawer", "--output", "out"}},
		{args: []string{"rank", "--drawer", "racer.yaml", "--format", "json", "--output", "out"}, beside: "racer.yaml"},
		{args: []string{"explain", "1", "--drawer", "racer.yaml", "--output", "out"}, beside: "racer.yaml"},
		{args: []string{"page", "--drawer", "racer.yaml", "--output", "out"}, beside: "racer.yaml"},
		{args: []string{"learn", "--drawer", "cruising.yaml", "--output", "out"}, beside: "cruising.yaml", fresh: true},
	} {
		folder := t.TempDir()
		names := []string{}
		if c.beside != "" {
			text, err := os.ReadFile(filepath.Join(examples, c.beside))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(folder, c.beside), text, 0o644); err != nil {
				t.Fatal(err)
			}
			names = append(names, c.beside)
		}
		out := filepath.Join(folder, "out")
		command := func() *exec.Cmd {
			one := exec.Command(path, c.args...)
			one.Dir = folder
			return one
		}
		began := time.Now()
		if text, err := command().CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", c.args, err, text)
		}
		takes := time.Since(began)
		whole, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		for share := range 6 {
			old := []byte("what was there\n")
			if c.fresh {
				old = nil
				_ = os.Remove(out)
			} else if err := os.WriteFile(out, old, 0o644); err != nil {
				t.Fatal(err)
			}
			one := command()
			if err := one.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(takes * time.Duration(share) / 5)
			_ = one.Process.Signal(syscall.SIGINT)
			_ = one.Wait()
			got, err := os.ReadFile(out)
			code := one.ProcessState.ExitCode()
			switch {
			case code != 0 && code != 130 && code != -1: // -1: the signal came before the program had begun
				t.Errorf("%v at %d of 5: exit %d", c.args, share, code)
			case code == 0 && !bytes.Equal(got, whole):
				t.Errorf("%v at %d of 5: exit 0 and %d bytes, want %d", c.args, share, len(got), len(whole))
			case err == nil && !bytes.Equal(got, old) && !bytes.Equal(got, whole):
				t.Errorf("%v at %d of 5: half a file of %d bytes, the whole has %d", c.args, share, len(got), len(whole))
			case code == 130 && err == nil && !c.fresh && !bytes.Equal(got, old):
				t.Errorf("%v at %d of 5: interrupted, and yet written", c.args, share)
			}
			want := names
			if err == nil {
				want = append([]string{"out"}, names...)
				slices.Sort(want)
			}
			onlyHolds(t, folder, want...)
		}
	}
}
