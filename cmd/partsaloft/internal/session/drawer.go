package session

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
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
	return s.Drawer(name, text)
}

// Drawer is the drawer that a text holds.
func (s *Session) Drawer(name string, text []byte) (*inventory.Drawer, error) {
	var d *inventory.Drawer
	var err error
	if ended := s.Await(func() {
		if d, err = inventory.Read(name, bytes.NewReader(text)); err == nil {
			d.NoteThrottleKinds()
		}
	}); ended != nil {
		return nil, ended
	}
	return d, err
}

// DrawerText is the text of the drawer that the command line names or that is found, or of the embedded one, sound or
// not.
func (s *Session) DrawerText() (name string, text []byte, err error) {
	if s.FindDrawer() {
		text, err = s.ReadParts(s.Options.Drawer)
		return FileName(s.Options.Drawer), text, err
	}
	s.Remark("No drawer was named, and there is no %s in this folder: this is the embedded example of an invented club. "+
		"Name yours with --drawer FILE.", DrawerHere)
	text, err = examples.Files.ReadFile(examples.DefaultDrawer)
	return examples.DefaultDrawer, text, err
}

// Where a drawer is found that no command line names.
const (
	DrawerVariable = "PARTSALOFT_DRAWER" // of the environment, names it
	DrawerHere     = "drawer.yaml"       // in the folder that the program is started in
)

// FindDrawer reports whether there is a drawer other than the embedded one. Where none is named it looks for one, and
// says which it took.
func (s *Session) FindDrawer() bool {
	o := &s.Options
	if o.Drawer != "" || s.looked {
		return o.Drawer != ""
	}
	s.looked = true
	if s.Streams.Drawer != "" {
		o.Drawer = s.Streams.Drawer
		s.Remark("Drawer: %s, named by $%s.", o.Drawer, DrawerVariable)
		return true
	}
	if info, err := os.Stat(DrawerHere); err == nil && info.Mode().IsRegular() {
		o.Drawer = DrawerHere
		s.Remark("Drawer: %s in this folder.", DrawerHere)
	}
	return o.Drawer != ""
}

// DrawerFile is the file of the drawer, "" if it is no file.
func (s *Session) DrawerFile() string {
	if s.Options.Drawer == StandardInput {
		return ""
	}
	return s.Options.Drawer
}

// IsDrawer reports whether a word that could be something else is the name of a drawer's file.
func IsDrawer(word string) bool {
	return word == StandardInput || slices.Contains([]string{".yaml", ".yml"}, strings.ToLower(filepath.Ext(word)))
}

// TakeDrawer takes the drawer out of the words of a command line, if one of them is its name.
func (s *Session) TakeDrawer(words []string, is func(word string) bool) ([]string, error) {
	i := slices.IndexFunc(words, is)
	if i < 0 {
		return words, nil
	}
	word := words[i]
	if s.Options.Drawer != "" {
		return nil, exit.Usagef("both --drawer and %s name a drawer: name one", word)
	}
	if _, err := os.Stat(word); err != nil && word != StandardInput {
		if _, ok := objective.Preset(strings.ToLower(word)); ok {
			return nil, exit.Usagef("%s is a style: write --style %s", word, word)
		}
	}
	s.Options.Drawer = word
	return slices.Delete(slices.Clone(words), i, i+1), nil
}

// Any says of every word that it is the name of a drawer's file.
func Any(string) bool { return true }

// Quietly reads something without a remark.
func (s *Session) Quietly(read func(*Session) (*inventory.Drawer, error)) (*inventory.Drawer, error) {
	quiet := s.Options.Quiet
	s.Options.Quiet = true
	defer func() { s.Options.Quiet = quiet }()
	return read(s)
}
