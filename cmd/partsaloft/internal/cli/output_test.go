package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestFilesAreWrittenWholeOrNotAtAll(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "out.txt")
	if err := writeFile(path, []byte("first")); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(path, []byte("second")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v, want those of the file before", info.Mode(), err)
	}
	link := filepath.Join(folder, "link.txt")
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := writeFile(link, []byte("third")); err != nil {
		t.Fatal(err)
	}
	if content, _ := os.ReadFile(path); string(content) != "third" {
		t.Errorf("through a link: %q", content)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced by a file: %v, %v", info.Mode(), err)
	}
	if err := writeFile(folder, []byte("x")); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Errorf("writing to a folder: %v", err)
	}
	if err := writeFile(filepath.Join(folder, "no", "out.txt"), []byte("x")); err == nil {
		t.Error("writing into a folder that does not exist is no error")
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) != 2 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

func TestALostPermissionLeavesTheOldFileWhole(t *testing.T) {
	if os.Geteuid() == 0 {
		// Root writes anywhere; a name too long for the temporary file fails in the same place.
		path := filepath.Join(t.TempDir(), strings.Repeat("x", 250))
		if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := writeFile(path, []byte("new")); err == nil {
			t.Fatal("no error")
		}
		if content, _ := os.ReadFile(path); string(content) != "old" {
			t.Errorf("the old file holds %q", content)
		}
		return
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "out.txt")
	if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(folder, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(folder, 0o755)
	if got := run(t, "styles", "--output", path); got.code != 1 || !strings.Contains(got.err, "nothing was written") {
		t.Errorf("exit %d, %q", got.code, got.err)
	}
	if content, _ := os.ReadFile(path); string(content) != "old" {
		t.Errorf("the old file holds %q", content)
	}
}
