package cli

import (
	"bytes"

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
		return nil, dataError{err}
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
	if s.options.drawer != "" {
		return inventory.Load(s.options.drawer)
	}
	s.remark("No drawer was named: this is the embedded example of an invented club. Name yours with --drawer FILE.")
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		return nil, err
	}
	return inventory.Read(examples.DefaultDrawer, bytes.NewReader(content))
}
