//go:build unix

package files

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// held names the file that a run of this test as a program of its own holds until it is killed.
const held = "PARTSALOFT_TEST_HOLD"

// A run that is killed in the middle of writing leaves the old file whole. The next writer needs not wait for
// its lock, and takes away what it left.
func TestAKilledRunsLockIsTakenOver(t *testing.T) {
	if path := os.Getenv(held); path != "" {
		h, err := Hold(context.Background(), path)
		if err == nil {
			err = os.WriteFile(filepath.Join(filepath.Dir(h.path), ".a.yaml.part"), []byte("half"), 0o600)
		}
		fmt.Println("held:", err)
		time.Sleep(time.Minute)
		return
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "a.yaml")
	put(t, path, "old")
	other := exec.Command(os.Args[0], "-test.run", "^"+t.Name()+"$", "-test.v")
	other.Env = append(os.Environ(), held+"="+path)
	out, err := other.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Start(); err != nil {
		t.Fatal(err)
	}
	line := ""
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if line = lines.Text(); line == "held: <nil>" {
			break
		}
	}
	ctx, cancel := context.WithTimeout(context.Background(), 3*pause)
	defer cancel()
	if _, err := Hold(ctx, path); line != "held: <nil>" || err == nil {
		t.Errorf("%q, and yet it can be held: %v", line, err)
	}
	if err := other.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = other.Wait()
	holds(t, path, "old")
	onlyHolds(t, folder, ".a.yaml.lock", ".a.yaml.part", "a.yaml")
	began := time.Now()
	if err := write(path, "new"); err != nil {
		t.Fatal(err)
	}
	if took := time.Since(began); took > patience/2 {
		t.Errorf("it waited %v for a lock that nobody holds", took)
	}
	holds(t, path, "new")
	onlyHolds(t, folder, "a.yaml")
}
