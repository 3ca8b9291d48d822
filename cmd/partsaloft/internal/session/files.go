package session

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode"

	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/inventory/strict"
)

// WillWrite says which file a flag names to be written.
func (s *Session) WillWrite(flag, path string) error {
	if err := s.files.WillWrite(flag, path); err != nil {
		return exit.Usage(err)
	}
	return nil
}

// StandardInput is the name of a file that stands for the standard input.
const StandardInput = "-"

// FileName is what messages call a file.
func FileName(path string) string {
	if path == StandardInput {
		return "standard input"
	}
	return filepath.Base(path)
}

// standardInput is what stands on the standard input, read once and whole.
func (s *Session) standardInput() ([]byte, error) {
	if s.in != nil || s.Streams.In == nil {
		return s.in, nil
	}
	content, err := io.ReadAll(io.LimitReader(s.Streams.In, strict.MaxBytes+1))
	switch {
	case err != nil:
		return nil, exit.Data(fmt.Errorf("standard input: %w", err))
	case len(content) > strict.MaxBytes:
		return nil, exit.Data(fmt.Errorf("standard input: it is larger than %d MiB", strict.MaxBytes>>20))
	}
	s.in = append([]byte{}, content...)
	return s.in, nil
}

// Read reads a whole file that the command line names; "-" is the standard input.
func (s *Session) Read(path string) ([]byte, error) { return s.ReadUpTo(path, strict.MaxBytes) }

// ReadUpTo is Read of a file of at most so many bytes; of the standard input no more than a drawer's.
func (s *Session) ReadUpTo(path string, most int64) ([]byte, error) {
	if path == StandardInput {
		return s.standardInput()
	}
	content, err := s.files.ReadUpTo(path, most)
	switch {
	case err == nil:
		return content, nil
	case errors.As(err, new(*files.ClashError)):
		return nil, exit.Usage(err)
	}
	return nil, exit.Data(fmt.Errorf("%s: %w", filepath.Base(path), err))
}

// ReadParts is Read for a drawer.
func (s *Session) ReadParts(path string) ([]byte, error) {
	content, err := s.Read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, exit.Data(fmt.Errorf("%s: there is no such file; \"partsaloft new %s\" writes one to start from",
			filepath.Base(path), ShellWord(path)))
	}
	return content, err
}

// Open opens a file that the command line names, of any size, to be read once; "-" is the standard input.
func (s *Session) Open(path string) (io.ReadCloser, error) {
	if path == StandardInput {
		if s.Streams.In == nil {
			return io.NopCloser(strings.NewReader("")), nil
		}
		return io.NopCloser(s.Streams.In), nil
	}
	f, err := s.files.Open(path)
	switch {
	case err == nil:
		return f, nil
	case errors.As(err, new(*files.ClashError)):
		return nil, exit.Usage(err)
	}
	return nil, exit.Data(fmt.Errorf("%s: %w", filepath.Base(path), err))
}

// Write puts a file in place that a flag names, whole or not at all.
func (s *Session) Write(ctx context.Context, flag, path string, content []byte) error {
	err := s.files.Write(ctx, flag, path, content)
	switch {
	case err == nil, errors.Is(err, context.Canceled):
		return err
	case errors.As(err, new(*files.ClashError)):
		return exit.Usage(err)
	}
	return fmt.Errorf("%s: nothing was written: %w", flag, err)
}

// ShellWord is a word as it is typed: in quotes if a shell would take it apart.
func ShellWord(word string) string {
	if word != "" && !strings.ContainsFunc(word, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != filepath.Separator &&
			!strings.ContainsRune("-_./:+,@%=", r)
	}) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
