package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"partsaloft/examples"
	"partsaloft/inventory"

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
		return nil, dataError{fmt.Errorf("%s: there is no such file; \"partsaloft new %s\" writes one to start from",
			filepath.Base(path), shellWord(path))}
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

// loadDrawer reads the drawer that the options name, or the embedded one, with the air of the
// options on top, corrected by what was learned.
func (s *session) loadDrawer() (*inventory.Drawer, error) {
	d, err := s.bareDrawer()
	if err != nil {
		return nil, err
	}
	return d, s.useLearned(d)
}

// bareDrawer is loadDrawer without corrections.
func (s *session) bareDrawer() (*inventory.Drawer, error) {
	d, err := s.readDrawer()
	if err != nil {
		return nil, asData(err)
	}
	if s.options.altitudeGiven {
		// A pressure would overrule the altitude that was asked for.
		d.Air.AltitudeM, d.Air.PressureHPa = &s.options.altitudeM, nil
	}
	if s.options.temperatureGiven {
		d.Air.TemperatureC = &s.options.temperatureC
	}
	return d, nil
}

func (s *session) readDrawer() (*inventory.Drawer, error) {
	name, text, err := s.drawerText()
	if err != nil {
		return nil, err
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
	if err == nil {
		d.NoteThrottleKinds()
	}
	return d, err
}

// drawerText is the text of the drawer that the options name, or of the embedded one, sound or not.
func (s *session) drawerText() (name string, text []byte, err error) {
	if s.options.drawer != "" {
		text, err = s.readParts(s.options.drawer)
		return filepath.Base(s.options.drawer), text, err
	}
	s.remark("No drawer was named: this is the embedded example of an invented club. Name yours with --drawer FILE.")
	text, err = examples.Files.ReadFile(examples.DefaultDrawer)
	return examples.DefaultDrawer, text, err
}
