//go:build unix

package files

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
	}
	if os.Geteuid() != 0 {
		cases = append(cases, struct{ name, path, want string }{"no permission", write("secret.yaml", 0, 0),
			"may not be read by this user"})
	} else if got := (openError{&os.PathError{Op: "open", Path: "x", Err: syscall.EACCES}}).Error(); !strings.Contains(got,
		"may not be read by this user") {
		t.Errorf("no permission: %s", got)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			content, err := new(Run).Read(c.path)
			if content != nil || err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), c.path) {
				t.Errorf("got %d bytes and %v, want %q without the name", len(content), err, c.want)
			}
		})
	}
}
