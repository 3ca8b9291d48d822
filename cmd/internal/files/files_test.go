package files

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// Property: by whatever name, and whether it is read first or named first, what is read is not written over.
func TestWhatIsReadIsNotWritten(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.yaml")
	put(t, path, "old")
	names := map[string]string{"its name": path, "a dot": folder + "/./a.yaml", "a detour": folder + "/../" +
		filepath.Base(folder) + "/a.yaml"}
	soft, hard := filepath.Join(folder, "soft.yaml"), filepath.Join(folder, "hard.yaml")
	if os.Symlink("a.yaml", soft) == nil {
		names["a symbolic link"] = soft
	}
	if os.Link(path, hard) == nil {
		names["a hard link"] = hard
	}
	for what, name := range names {
		var clash *ClashError
		var early, late, both Run
		if err := early.WillWrite("--output", name); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		if _, err := early.Read(path); !errors.As(err, &clash) || clash.Flag != "--output" || clash.Other != path {
			t.Errorf("%s, named first: %v", what, err)
		}
		if _, err := late.Read(name); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		if err := late.WillWrite("--plot", path); !errors.As(err, &clash) || clash.Flag != "--plot" || clash.Other != name {
			t.Errorf("%s, read first: %v", what, err)
		}
		if err := late.Write(context.Background(), "--plot", path, []byte("new")); !errors.As(err, &clash) {
			t.Errorf("%s, written: %v", what, err)
		}
		if err := errors.Join(both.WillWrite("--output", name), both.WillWrite("--plot", path)); !errors.As(err, &clash) ||
			!clash.Written {
			t.Errorf("%s, named twice: %v", what, err)
		}
		holds(t, path, "old")
	}
}

func TestDifferentFilesDoNotClash(t *testing.T) {
	folder := t.TempDir()
	a, b := filepath.Join(folder, "a.yaml"), filepath.Join(folder, "b.yaml")
	put(t, a, "a")
	var r Run
	if err := errors.Join(r.WillWrite("--output", b), r.WillWrite("--plot", filepath.Join(folder, "c.svg")),
		r.WillWrite("--output", os.DevNull), r.WillWrite("--plot", os.DevNull)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Read(a); err != nil {
		t.Fatal(err)
	}
	if err := r.Write(context.Background(), "--output", b, []byte("b")); err != nil {
		t.Fatal(err)
	}
	if err := r.WillWrite("--plot", filepath.Join(folder, "x", "..", "c.svg")); err == nil {
		t.Error("two flags may name one file that is not there yet")
	}
	holds(t, b, "b")
}
