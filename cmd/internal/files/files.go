// Package files reads and writes the files of one run. What is read is read whole; what is written is
// there whole or not at all, and never over what the run reads.
package files

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Run keeps apart what one run reads and what it writes. The zero value is ready for use; it is not safe
// for use by several goroutines at once.
type Run struct {
	sources []source
	targets []target
}

// source is a file that was read.
type source struct {
	path string
	info fs.FileInfo
}

// target is a file to be written, and the flag that names it.
type target struct{ flag, path string }

// ClashError says that a file to be written is one that the run reads, or that two flags name one file.
type ClashError struct {
	// Flag names the file at Path, which is the same as Other.
	Flag, Path, Other string
	// Written says that Other is to be written as well, instead of read.
	Written bool
}

func (e *ClashError) Error() string {
	text := fmt.Sprintf("%s names %s", e.Flag, filepath.Base(e.Path))
	if filepath.Clean(e.Path) != filepath.Clean(e.Other) {
		text += fmt.Sprintf(", the same file as %s", e.Other)
	}
	if e.Written {
		return text + ", which another flag names to be written too; give them different names"
	}
	return text + ", which this command reads; nothing was written: give another name"
}

// WillWrite says which file a flag names to be written, before anything is read, so that a run which reads
// that file ends at once.
func (r *Run) WillWrite(flag, path string) error {
	for _, t := range r.targets {
		if samePath(t.path, path) {
			return &ClashError{Flag: flag, Path: path, Other: t.path, Written: true}
		}
	}
	t := target{flag, path}
	r.targets = append(r.targets, t)
	for _, s := range r.sources {
		if t.is(s.info) {
			return &ClashError{Flag: flag, Path: path, Other: s.path}
		}
	}
	return nil
}

// reads notes a file that is read.
func (r *Run) reads(path string, info fs.FileInfo) error {
	r.sources = append(r.sources, source{path, info})
	for _, t := range r.targets {
		if t.is(info) {
			return &ClashError{Flag: t.flag, Path: t.path, Other: path}
		}
	}
	return nil
}

// is reports whether the target exists and is that file, by whatever name or link.
func (t target) is(info fs.FileInfo) bool {
	own, err := os.Stat(t.path)
	return err == nil && os.SameFile(own, info)
}

// samePath reports whether two names are those of one file, whether it exists or not. Devices may be
// written by two.
func samePath(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	switch {
	case errX == nil && errY == nil:
		return x.Mode().IsRegular() && os.SameFile(x, y)
	case errors.Is(errX, fs.ErrNotExist) && errors.Is(errY, fs.ErrNotExist):
		absA, errA := filepath.Abs(a)
		absB, errB := filepath.Abs(b)
		return errA == nil && errB == nil && absA == absB
	}
	return false
}
