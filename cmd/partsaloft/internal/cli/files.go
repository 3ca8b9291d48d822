package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"partsaloft/cmd/internal/files"
)

// willWrite says which file a flag names to be written.
func (s *session) willWrite(flag, path string) error {
	if err := s.files.WillWrite(flag, path); err != nil {
		return usageError{err}
	}
	return nil
}

// read reads a whole file that the command line names.
func (s *session) read(path string) ([]byte, error) {
	content, err := s.files.Read(path)
	switch {
	case err == nil:
		return content, nil
	case errors.As(err, new(*files.ClashError)):
		return nil, usageError{err}
	}
	return nil, dataError{fmt.Errorf("%s: %w", filepath.Base(path), err)}
}

// readParts is read for a drawer.
func (s *session) readParts(path string) ([]byte, error) {
	content, err := s.read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, dataError{fmt.Errorf("%s: there is no such file; \"partsaloft new %s\" writes one to start from", filepath.Base(path), shellWord(path))}
	}
	return content, err
}

// write puts a file in place that a flag names, whole or not at all.
func (s *session) write(ctx context.Context, flag, path string, content []byte) error {
	err := s.files.Write(ctx, flag, path, content)
	switch {
	case err == nil, errors.Is(err, context.Canceled):
		return err
	case errors.As(err, new(*files.ClashError)):
		return usageError{err}
	}
	return fmt.Errorf("%s: nothing was written: %w", flag, err)
}

// asData marks an error of a file's content, except for one that says already what it is.
func asData(err error) error {
	if errors.As(err, new(usageError)) || errors.As(err, new(dataError)) {
		return err
	}
	return dataError{err}
}
