package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"partsaloft/inventory/strict"
)

// Open opens a file to be read bit by bit. It refuses, without waiting for anything, what is no regular file. An error
// says what is wrong without naming the file, except for a *ClashError; errors.Is finds fs.ErrNotExist in it.
func (r *Run) Open(path string) (io.ReadCloser, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, openError{err}
	}
	switch mode := info.Mode(); {
	case mode.IsDir():
		return nil, errors.New("is a folder, not a file; name the file inside it")
	case mode&fs.ModeNamedPipe != 0:
		return nil, errors.New("is a pipe, not a file; write what it gives to a file first")
	case !mode.IsRegular():
		return nil, errors.New("is a device or socket, not a file; name a file")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, openError{err}
	}
	if info, err = f.Stat(); err != nil {
		f.Close()
		return nil, openError{err}
	}
	if err := r.reads(path, info); err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// Read is Open for a whole file. It refuses one that is larger than strict.MaxBytes.
func (r *Run) Read(path string) ([]byte, error) { return r.ReadUpTo(path, strict.MaxBytes) }

// ReadUpTo is Read with another bound, in bytes.
func (r *Run) ReadUpTo(path string, most int64) ([]byte, error) {
	f, err := r.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	content, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot be read to its end: %w", bare(err))
	case int64(len(content)) > most:
		return nil, fmt.Errorf("is larger than %d MiB, the most that is read; is it the right file?", most>>20)
	}
	return content, nil
}

// openError is a file that could not be opened.
type openError struct{ error }

func (e openError) Unwrap() error { return e.error }

func (e openError) Error() string {
	switch {
	case errors.Is(e.error, fs.ErrNotExist):
		return "there is no such file; check the name and the folder"
	case errors.Is(e.error, fs.ErrPermission):
		return "may not be read by this user; change its permissions"
	}
	return fmt.Sprintf("cannot be opened: %v", bare(e.error))
}

// bare is an error of the operating system without the call and the name.
func bare(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
