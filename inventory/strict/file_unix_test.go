//go:build unix

package strict

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestFileKinds checks what is refused before a byte is read.
func TestFileKinds(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, mode os.FileMode, size int64) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("name: a\n"), mode); err != nil {
			t.Fatal(err)
		}
		if size > 0 {
			if err := os.Truncate(path, size); err != nil {
				t.Fatal(err)
			}
		}
		return path
	}
	pipe := filepath.Join(dir, "pipe.yaml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip("no pipes here:", err)
	}
	loop := filepath.Join(dir, "loop.yaml")
	if err := os.Symlink(loop, loop); err != nil {
		t.Fatal(err)
	}
	cases := []struct{ name, path, want string }{
		{"a folder", dir, "is a folder, not a file"},
		{"a pipe", pipe, "is a pipe, not a file"},
		{"a device", os.DevNull, "is a device or socket"},
		{"no file", filepath.Join(dir, "none.yaml"), "there is no such file"},
		{"a file in a file", filepath.Join(write("a.yaml", 0o600, 0), "b.yaml"), "cannot be opened: not a directory"},
		{"a hundred megabytes", write("big.yaml", 0o600, 100<<20), "is larger than 8 MiB"},
		{"a link to itself", loop, "cannot be opened: too many levels"},
		{"a name with escapes", filepath.Join(dir, "a\x1b[31m.yaml"), `a\x1b[31m.yaml": there is no such file`},
	}
	if os.Geteuid() != 0 {
		cases = append(cases, struct{ name, path, want string }{"no permission", write("secret.yaml", 0, 0), "may not be read by this user"})
	} else if got := openMessage(&os.PathError{Op: "open", Path: "x", Err: syscall.EACCES}); !strings.Contains(got, "may not be read by this user") {
		t.Errorf("no permission: %s", got)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			faults := ReadFile(c.path, &file{}).Faults()
			if len(faults) != 1 || !strings.Contains(faults[0].Error(), c.want) || faults[0].Line != 0 {
				t.Errorf("got %v, want one fault with %q and no line", faults, c.want)
			}
		})
	}
}
