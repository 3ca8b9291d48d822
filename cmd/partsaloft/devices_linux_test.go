package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"partsaloft/cmd/partsaloft/internal/cli"
	"partsaloft/cmd/partsaloft/internal/session"
)

// A disk without room leaves the old file whole, and nothing else behind.
func TestAFullDiskLeavesTheOldFileWhole(t *testing.T) {
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk can be made here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(folder, 0) })
	old := filepath.Join(folder, "d.yaml")
	text := "motors:\n  - {id: a, stator: 1404, kv: 3900}\n# " + strings.Repeat("x", 20_000) + "\n"
	if err := os.WriteFile(old, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	// Fill what is left but a few pages, which a copy of the drawer does not fit into.
	f, err := os.Create(filepath.Join(folder, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.CopyN(f, zeros{}, 28<<10); err != nil {
		t.Fatal(err)
	}
	f.Close()
	for _, args := range [][]string{
		{"add", old, "motor 2004 2900kv"},
		{"check", "--drawer", old, "--fix", "--output", filepath.Join(folder, "tidy.yaml")},
		{"schema", "drawer", "--output", old},
	} {
		got := carryOut(args...)
		if got.code != 1 || !strings.Contains(got.err, "no space left") || got.out != "" {
			t.Errorf("%v: exit %d, %s", args[0], got.code, got.err)
		}
		if now, err := os.ReadFile(old); err != nil || string(now) != text {
			t.Errorf("%v: the old file has %d bytes, had %d (%v)", args[0], len(now), len(text), err)
		}
		onlyHolds(t, folder, "d.yaml", "filler")
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// A device that takes nothing is a failure, not a success without a result.
func TestADeviceThatIsFull(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("no /dev/full here")
	}
	if got := carryOut("styles", "--output", "/dev/full"); got.code != 1 ||
		!strings.Contains(got.err, "nothing was written") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	var errs bytes.Buffer
	for _, line := range []string{"styles", "help", "help figures", "rank --help", "--version", "completion bash",
		"schema drawer", "export motors"} {
		errs.Reset()
		if code := cli.Run(context.Background(), strings.Fields(line), session.Streams{Out: full, Err: &errs}); code != 1 ||
			!strings.Contains(errs.String(), "no space left") {
			t.Errorf("%s to the standard output: exit %d, %s", line, code, errs.String())
		}
	}
}

// Property: runs at once that write the same file leave the whole result of one.
func TestTwoRunsAtOnceDoNotDisturbEachOther(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out.txt")
	want := map[string]bool{}
	commands := [][]string{{"styles"}, {"styles", "--format", "json"}, {"schema", "drawer"}, {"schema", "style"}}
	for _, args := range commands {
		want[carryOut(args...).out] = true
	}
	for range 6 {
		var wait sync.WaitGroup
		for _, args := range commands {
			wait.Go(func() {
				if got := carryOut(append(args, "--output", out, "--quiet")...); got.code != 0 {
					t.Errorf("%v: exit %d, %s", args, got.code, got.err)
				}
			})
		}
		wait.Wait()
		text, err := os.ReadFile(out)
		if err != nil || !want[string(text)] {
			t.Fatalf("the file is no command's result: %d bytes, %v", len(text), err)
		}
		onlyHolds(t, filepath.Dir(out), "out.txt")
	}
}

// Property: nothing waits for a pipe that nobody writes to; every command that reads a file refuses it.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skipf("no pipe can be made here: %v", err)
	}
	for _, args := range [][]string{
		{"check", "--drawer", pipe}, {"check", "--drawer", pipe, "--fix"}, {"add", pipe, "motor 1404 3900kv"},
		{"export", "motors", "--drawer", pipe},
		{"import", "motors", pipe}, {"rank", "--style", pipe}, {"rank", "--learned", pipe}, {"new", pipe}, {"buy", pipe},
	} {
		done := make(chan outcome, 1)
		go func() { done <- carryOut(args...) }()
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
