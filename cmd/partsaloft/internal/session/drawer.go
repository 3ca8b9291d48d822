package session

import (
	"bytes"
	"path/filepath"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/examples"
	"partsaloft/inventory"
)

// LoadDrawer reads the drawer that the options name, or the embedded one, with the air of the
// options on top, corrected by what was learned.
func (s *Session) LoadDrawer() (*inventory.Drawer, error) {
	d, err := s.BareDrawer()
	if err != nil {
		return nil, err
	}
	return d, s.useLearned(d)
}

// BareDrawer is LoadDrawer without corrections.
func (s *Session) BareDrawer() (*inventory.Drawer, error) {
	d, err := s.ReadDrawer()
	if err != nil {
		return nil, exit.AsData(err)
	}
	if s.Options.AltitudeGiven {
		// A pressure would overrule the altitude that was asked for.
		d.Air.AltitudeM, d.Air.PressureHPa = &s.Options.AltitudeM, nil
	}
	if s.Options.TemperatureGiven {
		d.Air.TemperatureC = &s.Options.TemperatureC
	}
	return d, nil
}

// ReadDrawer is BareDrawer in the air that the drawer states.
func (s *Session) ReadDrawer() (*inventory.Drawer, error) {
	name, text, err := s.DrawerText()
	if err != nil {
		return nil, err
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
	if err == nil {
		d.NoteThrottleKinds()
	}
	return d, err
}

// DrawerText is the text of the drawer that the options name, or of the embedded one, sound or not.
func (s *Session) DrawerText() (name string, text []byte, err error) {
	if s.Options.Drawer != "" {
		text, err = s.ReadParts(s.Options.Drawer)
		return filepath.Base(s.Options.Drawer), text, err
	}
	s.Remark("No drawer was named: this is the embedded example of an invented club. Name yours with --drawer FILE.")
	text, err = examples.Files.ReadFile(examples.DefaultDrawer)
	return examples.DefaultDrawer, text, err
}

// Quietly reads something without a remark.
func (s *Session) Quietly(read func(*Session) (*inventory.Drawer, error)) (*inventory.Drawer, error) {
	quiet := s.Options.Quiet
	s.Options.Quiet = true
	defer func() { s.Options.Quiet = quiet }()
	return read(s)
}
