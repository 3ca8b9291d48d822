package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
)

// writeFile puts a file in place whole or not at all: it is written under a temporary name in the
// same folder, then renamed. What is no regular file (a pipe, a device) is written to directly.
func writeFile(path string, content []byte) (err error) {
	if target, linkErr := filepath.EvalSymlinks(path); linkErr == nil {
		path = target
	}
	mode := fs.FileMode(0o666)
	info, statErr := os.Stat(path)
	switch {
	case statErr == nil && info.IsDir():
		return fmt.Errorf("%s is a folder: name a file in it", filepath.Base(path))
	case statErr == nil && !info.Mode().IsRegular():
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		_, err = f.Write(content)
		return errors.Join(err, f.Close())
	case statErr == nil:
		// A rename would pass over a file that is kept from being written.
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
		mode = info.Mode().Perm()
	}
	f, err := temporary(path, mode)
	var refused *fs.PathError
	if errors.As(err, &refused) {
		return fmt.Errorf("%s: %w", path, refused.Err)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	if err = fill(f, content); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// fill writes a file to its end, onto the disk, and closes it.
func fill(f *os.File, content []byte) error {
	_, err := bytes.NewReader(content).WriteTo(f)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// temporary opens a new file beside path with the permissions that path has or would get.
func temporary(path string, mode fs.FileMode) (*os.File, error) {
	folder, base := filepath.Split(path)
	for try := range 1000 {
		name := filepath.Join(folder, "."+base+"."+strconv.Itoa(os.Getpid())+"-"+strconv.Itoa(try)+".part")
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
	return nil, fmt.Errorf("too many unfinished files beside %s: delete those that end in .part", base)
}
