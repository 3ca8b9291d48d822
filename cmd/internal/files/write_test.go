package files

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(path, content string) error {
	return new(Run).Write(context.Background(), "--output", path, []byte(content))
}

func put(t *testing.T, path, content string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v, want %q", filepath.Base(path), got, err, want)
	}
}

func TestWriteKeepsPermissionsAndLinks(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "out.txt")
	if err := write(path, "first"); err != nil {
		t.Fatal(err)
	}
	for _, mode := range []fs.FileMode{0o640, 0o666, 0o600} {
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		before, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := write(path, "second"); err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode() != before.Mode() {
			t.Errorf("permissions %v, %v, want %v as before", info.Mode(), err, before.Mode())
		}
	}
	link, nowhere := filepath.Join(folder, "link.txt"), filepath.Join(folder, "nowhere.txt")
	if err := errors.Join(os.Symlink(path, link), os.Symlink(filepath.Join(folder, "none.txt"), nowhere)); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := write(link, "third"); err != nil {
		t.Fatal(err)
	}
	holds(t, path, "third")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced by a file: %v, %v", info.Mode(), err)
	}
	for _, c := range []struct{ path, says string }{
		{folder, "is a folder"}, {nowhere, "leads to no file"}, {filepath.Join(folder, "no", "out.txt"), "no such file"},
	} {
		if err := write(c.path, "x"); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %s", filepath.Base(c.path), err, c.says)
		}
	}
	onlyHolds(t, folder, "link.txt", "nowhere.txt", "out.txt")
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

// A read-only file stays as it is, whoever runs the program; so does one whose folder takes no second name.
func TestWhatCannotBeWrittenStays(t *testing.T) {
	folder := t.TempDir()
	sealed, long := filepath.Join(folder, "a.txt"), filepath.Join(folder, strings.Repeat("x", 250))
	put(t, sealed, "old")
	put(t, long, "old")
	if err := os.Chmod(sealed, 0o444); err != nil {
		t.Fatal(err)
	}
	if err := write(sealed, "new"); !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "is read-only") {
		t.Errorf("read-only: %v", err)
	}
	if err := write(long, "new"); err == nil {
		t.Error("a name without room for a second one beside it is no error")
	}
	holds(t, sealed, "old")
	holds(t, long, "old")
	onlyHolds(t, folder, "a.txt", filepath.Base(long))
}

func TestCreateLeavesWhatIsThere(t *testing.T) {
	folder := t.TempDir()
	path, link := filepath.Join(folder, "a.txt"), filepath.Join(folder, "link.txt")
	if err := Create(context.Background(), path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	taken := []string{path, folder}
	if os.Symlink(filepath.Join(folder, "none.txt"), link) == nil {
		taken = append(taken, link)
	}
	for _, name := range taken {
		if err := Create(context.Background(), name, []byte("second")); !errors.Is(err, fs.ErrExist) {
			t.Errorf("%s: %v", filepath.Base(name), err)
		}
	}
	holds(t, path, "first")
}

func TestHoldWaitsAndCanBeInterrupted(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.txt")
	held, err := Hold(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 3*pause)
	defer cancel()
	if _, err := Hold(ctx, path); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("held twice: %v", err)
	}
	go held.Release()
	again, err := Hold(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	again.Release()
	onlyHolds(t, filepath.Dir(path))
}
