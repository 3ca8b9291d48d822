package files

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// Write puts a file in place, whole or not at all, with the permissions of the one that it replaces; where
// the path is a link, in the place that it leads to. A pipe or a device is written to directly. It refuses a file
// that the run has read (with a *ClashError; flag names the file) and one that is read-only.
func (r *Run) Write(ctx context.Context, flag, path string, content []byte) error {
	t := target{flag, path}
	for _, s := range r.sources {
		if t.is(s.info) {
			return &ClashError{Flag: flag, Path: path, Other: s.path}
		}
	}
	if info, err := os.Stat(path); err == nil && !info.IsDir() && !info.Mode().IsRegular() {
		return writeThrough(path, content)
	}
	l, err := Hold(ctx, path)
	if err != nil {
		return err
	}
	defer l.Release()
	return l.Write(content)
}

// Create is Write for a file that must not be there yet; if it is, errors.Is finds fs.ErrExist.
func Create(ctx context.Context, path string, content []byte) error {
	// Before the lock, which a folder that cannot be written to refuses, and without following a link.
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	l, err := Hold(ctx, path)
	if err != nil {
		return err
	}
	defer l.Release()
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	return l.Write(content)
}

func writeThrough(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return errors.Join(err, f.Close())
}

// How long a run waits for another that changes the same file.
const (
	patience = 5 * time.Second
	pause    = 20 * time.Millisecond
)

// Held is a file that no other run of the program changes meanwhile.
type Held struct {
	path string // behind all links
	lock *flock.Flock
}

// Hold keeps other runs of the program from changing a file, which need not exist yet. It waits for one
// that does, for a while. The lock is the kernel's, on a file beside it: that of a killed run is free.
func Hold(ctx context.Context, path string) (*Held, error) {
	target, err := filepath.EvalSymlinks(path)
	switch {
	case err == nil:
		path = target
	case isLink(path):
		return nil, fmt.Errorf("%s is a link that leads to no file: name the file itself", filepath.Base(path))
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s is a folder: name a file in it", filepath.Base(path))
	}
	folder, base := filepath.Split(path)
	name := filepath.Join(folder, "."+base+".lock")
	waiting, stop := context.WithTimeout(ctx, patience)
	defer stop()
	for {
		lock := flock.New(name, flock.SetPermissions(0o666))
		held, err := lock.TryLockContext(waiting, pause)
		switch {
		case held && stands(lock):
			return &Held{path, lock}, nil
		case held: // the run that had it has taken its name away
			_ = lock.Unlock()
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case waiting.Err() != nil:
			return nil, fmt.Errorf("another run is changing %s: try again when it is done", base)
		default:
			return nil, fmt.Errorf("%s: %w", path, bare(err))
		}
	}
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// stands reports whether the file that is locked is the one that the name leads to, so that others meet
// the lock.
func stands(lock *flock.Flock) bool {
	own, errOwn := lock.Stat()
	named, errNamed := os.Stat(lock.Path())
	return errOwn == nil && errNamed == nil && os.SameFile(own, named)
}

// Release lets others change the file again.
func (h *Held) Release() {
	// The name goes first, where the system lets an open file's name go: whoever locks the nameless file
	// finds out in stands.
	if os.Remove(h.lock.Path()) == nil {
		_ = h.lock.Unlock()
		return
	}
	_ = h.lock.Unlock()
	_ = os.Remove(h.lock.Path())
}

// Write puts the file in place: it is written under another name beside it, brought onto the disk and
// renamed. One of that name can only be what a killed run left, for the lock is held.
func (h *Held) Write(content []byte) error {
	mode, err := h.writable()
	if err != nil {
		return err
	}
	folder, base := filepath.Split(h.path)
	part := filepath.Join(folder, "."+base+".part")
	if err := fill(part, content, mode); err != nil {
		os.Remove(part)
		return fmt.Errorf("%s: %w", h.path, bare(err))
	}
	return os.Rename(part, h.path)
}

// writable is the mode of the file that is to be replaced, 0 if there is none, or says why it must stay.
func (h *Held) writable() (fs.FileMode, error) {
	info, err := os.Stat(h.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return 0, nil
	case err != nil:
		return 0, err
	case info.Mode().Perm()&0o222 == 0:
		return 0, fmt.Errorf("%s is read-only: %w; change its permissions or name another file", filepath.Base(h.path),
			fs.ErrPermission)
	}
	// A rename would pass over a file that this user may not write to.
	f, err := os.OpenFile(h.path, os.O_WRONLY, 0)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", h.path, bare(err))
	}
	return info.Mode().Perm(), f.Close()
}

// fill makes a new file in place of any of its name and writes it to its end, onto the disk. Mode 0 is what
// the system gives new files.
func fill(path string, content []byte, mode fs.FileMode) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if err == nil && mode != 0 {
		err = f.Chmod(mode)
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}
