package cli

import (
	"bytes"
	"path/filepath"

	"partsaloft/examples"
	"partsaloft/inventory"
)

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
	return inventory.Read(name, bytes.NewReader(text))
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
