package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// asProgram makes a run of the test binary the program itself.
const asProgram = "PARTSALOFT_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

// program is a command line of the program, as a process of its own.
func program(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	if testing.Short() {
		t.Skip("runs the program many times")
	}
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(path, args...)
	c.Env = append(os.Environ(), asProgram+"=1")
	return c
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
	if !slices.Equal(got, names) {
		t.Errorf("the folder holds %v, want %v", got, names)
	}
}

// A folder that lost its permission leaves the old file whole. Run as a user without powers if the test
// has them.
func TestAFolderWithoutPermission(t *testing.T) {
	path := filepath.Join(t.TempDir(), "partsaloft")
	if binary, err := os.ReadFile(program(t).Path); err != nil || os.WriteFile(path, binary, 0o755) != nil {
		t.Fatal("the program cannot be copied to where another user may run it")
	}
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
	text := "motors:\n  - {id: a, stator: 1404, kv: 3900}\n"
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
		command := program(t, args...)
		command.Path = path
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

// Property: whatever command writes a file, an interrupt at any share of its time leaves what was there,
// or the whole result, and nothing else in the folder.
func TestAnInterruptOfAnyCommandThatWrites(t *testing.T) {
	shares := []float64{0.25, 0.9}
	if long() {
		shares = []float64{0, 0.35, 0.7, 1}
	}
	for _, c := range []struct {
		args   []string
		beside string // an example that the command reads
		fresh  bool   // refuses to write over a file
	}{
		{args: []string{"new", "out"}, fresh: true},
		{args: []string{"add", "out", "motor 2004 2900kv"}},
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
			text, err := os.ReadFile(examples + c.beside)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(folder, c.beside), text, 0o644); err != nil {
				t.Fatal(err)
			}
			names = append(names, c.beside)
		}
		out, old := filepath.Join(folder, "out"), []byte("motors: [{id: a, stator: 1404, kv: 3900}]\n")
		// start runs the command on what was there.
		start := func() *exec.Cmd {
			if c.fresh {
				_ = os.Remove(out)
			} else if err := os.WriteFile(out, old, 0o644); err != nil {
				t.Fatal(err)
			}
			one := program(t, c.args...)
			one.Dir = folder
			if err := one.Start(); err != nil {
				t.Fatal(err)
			}
			return one
		}
		began := time.Now()
		if err := start().Wait(); err != nil {
			t.Fatalf("%v: %v", c.args, err)
		}
		takes := time.Since(began)
		whole, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range shares {
			one := start()
			time.Sleep(time.Duration(share * float64(takes)))
			_ = one.Process.Signal(syscall.SIGINT)
			_ = one.Wait()
			got, err := os.ReadFile(out)
			stays := c.fresh && err != nil || !c.fresh && bytes.Equal(got, old)
			code := one.ProcessState.ExitCode()
			switch {
			case code != 0 && code != 130 && code != -1: // -1: the signal came before the program had begun
				t.Errorf("%v at %g: exit %d", c.args, share, code)
			case code == 0 && !bytes.Equal(got, whole):
				t.Errorf("%v at %g: exit 0 and %d bytes, want %d", c.args, share, len(got), len(whole))
			case !stays && !bytes.Equal(got, whole):
				t.Errorf("%v at %g: half a file of %d bytes, the whole has %d", c.args, share, len(got), len(whole))
			case code == 130 && !stays && !c.fresh:
				t.Errorf("%v at %g: interrupted, and yet written", c.args, share)
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

// A kill at any moment leaves the old drawer or the new one; the next run needs not wait for the dead one and
// takes away what it left.
func TestAKillIsMendedByTheNextRun(t *testing.T) {
	drawer := filepath.Join(t.TempDir(), "d.yaml")
	before := []byte("motors:\n  - {id: a, stator: 1404, kv: 3900}\n# " + strings.Repeat("x", 1<<17) + "\n")
	start := func() *exec.Cmd {
		if err := os.WriteFile(drawer, before, 0o644); err != nil {
			t.Fatal(err)
		}
		one := program(t, "add", drawer, "motor 2004 2900kv")
		if err := one.Start(); err != nil {
			t.Fatal(err)
		}
		return one
	}
	began := time.Now()
	if err := start().Wait(); err != nil {
		t.Fatal(err)
	}
	takes := time.Since(began)
	after, err := os.ReadFile(drawer)
	if err != nil {
		t.Fatal(err)
	}
	kills, left := 4, 0
	if long() {
		kills = 8
	}
	for i := range kills {
		one := start()
		time.Sleep(takes * time.Duration(i+1) / time.Duration(kills+1))
		_ = one.Process.Kill()
		_ = one.Wait()
		if now, err := os.ReadFile(drawer); err != nil || !bytes.Equal(now, before) && !bytes.Equal(now, after) {
			t.Errorf("kill %d: the drawer has %d bytes, %v", i, len(now), err)
		}
		if entries, _ := os.ReadDir(filepath.Dir(drawer)); len(entries) > 1 {
			left++
		}
		partsaloft(t, 0, "add", drawer, "motor 1404 4600kv id=next")
		onlyHolds(t, filepath.Dir(drawer), "d.yaml")
	}
	t.Logf("%d of %d kills left something behind", left, kills)
}
