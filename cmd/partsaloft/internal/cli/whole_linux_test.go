package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// program builds the program once a test run needs it as a process.
func program(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds the program")
	}
	path := filepath.Join(t.TempDir(), "partsaloft")
	build := exec.Command("go", "build", "-o", path, "partsaloft/cmd/partsaloft")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return path
}

func onlyHolds(t *testing.T, folder string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(names, " ") {
		t.Errorf("the folder holds %v, want %v", got, names)
	}
}

// A disk without room leaves the old file whole, and nothing else behind.
func TestAFullDiskLeavesTheOldFileWhole(t *testing.T) {
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk can be made here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(folder, 0) })
	old := filepath.Join(folder, "d.yaml")
	text := "motors:\n  - {id: a, stator: 1404, kv: 3800}\n# " + strings.Repeat("x", 20_000) + "\n"
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
		got := run(t, args...)
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
	if got := run(t, "styles", "--output", "/dev/full"); got.code != 1 || !strings.Contains(got.err, "nothing was written") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	var errs bytes.Buffer
	for _, line := range []string{"styles", "help", "help figures", "rank --help", "--version", "completion bash", "schema drawer", "export motors"} {
		errs.Reset()
		if code := Run(context.Background(), strings.Fields(line), Streams{Out: full, Err: &errs}); code != 1 || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%s to the standard output: exit %d, %s", line, code, errs.String())
		}
	}
}

// A folder that lost its permission leaves the old file whole. Run as a user without powers if the test
// has them.
func TestAFolderWithoutPermission(t *testing.T) {
	path := program(t)
	folder := filepath.Join(t.TempDir(), "locked")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for f := folder; f != "/" && f != "."; f = filepath.Dir(f) {
		_ = os.Chmod(f, 0o755)
	}
	for f := path; f != "/" && f != "."; f = filepath.Dir(f) {
		_ = os.Chmod(f, 0o755)
	}
	old := filepath.Join(folder, "d.yaml")
	text := "motors:\n  - {id: a, stator: 1404, kv: 3800}\n"
	if err := os.WriteFile(old, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(folder, 0o755)
	for _, c := range []struct {
		folder, file os.FileMode
		args         []string
	}{
		{0o555, 0o666, []string{"add", old, "motor 2004 2900kv"}},
		{0o555, 0o666, []string{"schema", "style", "--output", old}},
		{0o555, 0o666, []string{"new", filepath.Join(folder, "new.yaml")}},
		{0o777, 0o444, []string{"add", old, "motor 2004 2900kv"}},
		{0o777, 0o444, []string{"schema", "style", "--output", old}},
		{0o777, 0o000, []string{"check", "--drawer", old, "--fix"}},
	} {
		args := c.args
		if err := errors.Join(os.Chmod(old, c.file), os.Chmod(folder, c.folder)); err != nil {
			t.Fatal(err)
		}
		command := exec.Command(path, args...)
		if os.Geteuid() == 0 {
			command.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		out, err := command.CombinedOutput()
		if command.ProcessState == nil {
			t.Skipf("cannot be run as another user: %v", err)
		}
		want, says := 1, "permission denied"
		if c.file == 0 {
			want, says = 3, "may not be read by this user"
		}
		if command.ProcessState.ExitCode() != want || !strings.Contains(string(out), says) {
			t.Errorf("%v: exit %d\n%s", args, command.ProcessState.ExitCode(), out)
		}
		if now, _ := os.ReadFile(old); string(now) != text {
			t.Errorf("%v: the old file holds %q", args, now)
		}
		onlyHolds(t, folder, "d.yaml")
	}
}

// An interrupt at any moment leaves the whole file or none, no half of one, and the exit code says it.
func TestAnInterruptLeavesNoPartialFile(t *testing.T) {
	path := program(t)
	folder := t.TempDir()
	drawer, out := filepath.Join(folder, "d.yaml"), filepath.Join(folder, "out.json")
	club, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "examples", "club.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(drawer, club, 0o644); err != nil {
		t.Fatal(err)
	}
	codes := map[int]int{}
	for _, after := range []time.Duration{30, 100, 200, 400, 800, 1200} {
		for _, args := range [][]string{
			{"check", "--drawer", drawer, "--format", "json", "--output", out},
			{"add", drawer, "motor 2004 2900kv id=late" + fmt.Sprint(int(after))},
		} {
			before, err := os.ReadFile(drawer)
			if err != nil {
				t.Fatal(err)
			}
			command := exec.Command(path, args...)
			if err := command.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(after * time.Millisecond)
			_ = command.Process.Signal(os.Interrupt)
			_ = command.Wait()
			code := command.ProcessState.ExitCode()
			codes[code]++
			if code != 0 && code != 130 && code != -1 { // -1: the signal came before the program had begun
				t.Errorf("%v after %d ms: exit %d", args[0], after, code)
			}
			now, err := os.ReadFile(drawer)
			switch {
			case err != nil, args[0] == "check" && !bytes.Equal(now, before):
				t.Errorf("%v after %d ms: the drawer has changed (%v)", args[0], after, err)
			case args[0] == "add" && code == 130 && !bytes.Equal(now, before), args[0] == "add" && code == 0 && len(now) <= len(before):
				t.Errorf("add after %d ms: exit %d, %d bytes became %d", after, code, len(before), len(now))
			}
			if written, err := os.ReadFile(out); err == nil && !bytes.HasSuffix(written, []byte("}\n")) {
				t.Errorf("%v after %d ms: half a file: …%q", args[0], after, written[max(len(written)-40, 0):])
			}
			entries, _ := os.ReadDir(folder)
			for _, e := range entries {
				if e.Name() != "d.yaml" && e.Name() != "out.json" {
					t.Errorf("%v after %d ms: %s is left behind", args[0], after, e.Name())
				}
			}
			_ = os.Remove(out)
		}
	}
	t.Logf("exit codes: %v", codes)
}

// A kill at any moment leaves a whole drawer; the next run needs not wait for the dead one and takes away
// what it left.
func TestAKillIsMendedByTheNextRun(t *testing.T) {
	path := program(t)
	drawer := writeTemp(t, "d.yaml", "motors:\n  - {id: a, stator: 1404, kv: 3800}\n# "+strings.Repeat("x", 1<<17)+"\n")
	began := time.Now()
	if out, err := exec.Command(path, "add", drawer, "motor 2004 2900kv").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	takes := time.Since(began)
	left := 0
	for i := range 12 {
		before := loadDrawer(t, drawer)
		command := exec.Command(path, "add", drawer, fmt.Sprintf("motor 2004 2900kv id=k%d", i))
		if err := command.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(takes * time.Duration(i) / 11)
		_ = command.Process.Kill()
		_ = command.Wait()
		if n := len(loadDrawer(t, drawer).Motors) - len(before.Motors); n != 0 && n != 1 {
			t.Errorf("killed at %d of 11: %d motors more", i, n)
		}
		if entries, _ := os.ReadDir(filepath.Dir(drawer)); len(entries) > 1 {
			left++
		}
		if got := run(t, "add", drawer, fmt.Sprintf("motor 2004 2900kv id=n%d", i)); got.code != 0 {
			t.Errorf("after a kill at %d of 11: exit %d, %s", i, got.code, got.err)
		}
		onlyHolds(t, filepath.Dir(drawer), "d.yaml")
	}
	t.Logf("%d of 12 kills left something behind", left)
}

// Property: runs at once that write the same file leave the whole result of one.
func TestTwoRunsAtOnceDoNotDisturbEachOther(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out.txt")
	want := map[string]bool{}
	commands := [][]string{{"styles"}, {"styles", "--format", "json"}, {"schema", "drawer"}, {"schema", "style"}}
	for _, args := range commands {
		want[run(t, args...).out] = true
	}
	for range 6 {
		var wait sync.WaitGroup
		for _, args := range commands {
			wait.Go(func() {
				var stdout, stderr bytes.Buffer
				if code := Run(context.Background(), append(args, "--output", out, "--quiet"), Streams{Out: &stdout, Err: &stderr}); code != 0 {
					t.Errorf("%v: exit %d, %s", args, code, stderr.String())
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
