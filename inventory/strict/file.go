package strict

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
)

// MaxBytes is the largest file that is read.
const MaxBytes = 8 << 20

// ReadFile reads the YAML file at path into a pointer to a struct. The document names the file by
// its base name; its faults say what is wrong.
func ReadFile(path string, into any) *Document {
	f, err := Open(path)
	if err != nil {
		d := newDocument(path)
		d.add(Position{}, "", err.Error())
		return d
	}
	defer f.Close()
	return Read(filepath.Base(path), f, into)
}

// Open opens a file that is to be read whole. It refuses, without waiting for anything, what is no
// regular file or is larger than MaxBytes; the error says so without naming the file.
func Open(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, errors.New(openMessage(err))
	}
	switch mode := info.Mode(); {
	case mode.IsDir():
		return nil, errors.New("is a folder, not a file; name the file inside it")
	case mode&fs.ModeNamedPipe != 0:
		return nil, errors.New("is a pipe, not a file; write what it gives to a file first")
	case !mode.IsRegular():
		return nil, errors.New("is a device or socket, not a file; name a file")
	case info.Size() > MaxBytes:
		return nil, errors.New(sizeMessage)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, errors.New(openMessage(err))
	}
	return f, nil
}

var sizeMessage = fmt.Sprintf("is larger than %d MiB, the most that is read; is it the right file?", MaxBytes>>20)

func openMessage(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file; check the name and the folder"
	case errors.Is(err, fs.ErrPermission):
		return "may not be read by this user; change its permissions"
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Sprintf("cannot be opened: %v", err)
}

// Read reads one YAML document into a pointer to a struct; name stands for the file in messages.
func Read(name string, r io.Reader, into any) *Document {
	d := newDocument(name)
	d.example = exampleKey(into)
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	switch {
	case err != nil:
		d.add(Position{}, "", fmt.Sprintf("cannot be read to its end: %v", errorText(err)))
	case len(raw) > MaxBytes:
		d.add(Position{}, "", sizeMessage)
	default:
		if root := d.parse(raw); root != nil {
			d.decode(root, into)
		}
	}
	return d
}

// exampleKey is a key to begin a file with.
func exampleKey(into any) string {
	if p, err := planOf(reflect.TypeOf(into).Elem()); err == nil && len(p.fields) > 0 {
		return p.fields[min(1, len(p.fields)-1)].key
	}
	return "name"
}

func errorText(err error) string { return printable(err.Error()) }
