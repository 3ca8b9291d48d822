package strict

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// MaxBytes is the largest file that is read.
const MaxBytes = 8 << 20

// ReadFile reads the YAML file at path into a pointer to a struct. The document names the file by
// its base name; its faults say what is wrong.
func ReadFile(path string, into any) *Document {
	refuse := func(message string) *Document {
		d := newDocument(path)
		d.add(Position{}, "", message)
		return d
	}
	info, err := os.Stat(path)
	if err != nil {
		return refuse(openMessage(err))
	}
	switch mode := info.Mode(); {
	case mode.IsDir():
		return refuse("is a folder, not a file; name the YAML file inside it")
	case mode&fs.ModeNamedPipe != 0:
		return refuse("is a pipe, not a file; write what it gives to a file first")
	case !mode.IsRegular():
		return refuse("is a device or socket, not a file; name a YAML file")
	case info.Size() > MaxBytes:
		return refuse(sizeMessage)
	}
	f, err := os.Open(path)
	if err != nil {
		return refuse(openMessage(err))
	}
	defer f.Close()
	return Read(filepath.Base(path), f, into)
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

func errorText(err error) string { return printable(err.Error()) }
