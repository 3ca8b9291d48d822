package main

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/files"
	"partsaloft/examples"
	"partsaloft/objective"
)

// held is what the page holds to begin with.
type held struct {
	Name    string          `json:"name"`
	Drawer  string          `json:"drawer"`
	Style   question.Style  `json:"style"`
	Styles  []question.Text `json:"styles"`
	Learned *question.Text  `json:"learned,omitempty"`
}

// hold reads the drawer, the style to open with, what was learned of the drawer, and the styles that lie beside it; of
// the embedded example all its styles.
func hold(run *files.Run, drawer, style string) (*held, error) {
	h := &held{Styles: []question.Text{}}
	if drawer == "" {
		if err := h.example(); err != nil {
			return nil, err
		}
	} else if err := h.read(run, drawer); err != nil {
		return nil, err
	}
	h.Style.Name = style
	if _, ok := objective.Preset(style); ok || style == "" {
		return h, nil
	}
	content, err := run.Read(style)
	if err != nil {
		return nil, err
	}
	h.Style = question.Style{Name: filepath.Base(style), Text: string(content)}
	_, err = question.ReadStyle(h.Style.Name, content)
	return h, err
}

func (h *held) example() error {
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		return err
	}
	h.Name, h.Drawer = examples.DefaultDrawer, string(content)
	names, err := fs.Glob(examples.Files, "styles/*.yaml")
	if err != nil {
		return err
	}
	for _, name := range names {
		content, err := examples.Files.ReadFile(name)
		if err != nil {
			return err
		}
		h.Styles = append(h.Styles, question.Text{Name: path.Base(name), Text: string(content)})
	}
	return nil
}

func (h *held) read(run *files.Run, drawer string) error {
	content, err := run.Read(drawer)
	if err != nil {
		return err
	}
	h.Name, h.Drawer = filepath.Base(drawer), string(content)
	learned := strings.TrimSuffix(drawer, filepath.Ext(drawer)) + ".learned.yaml"
	content, err = run.Read(learned)
	switch {
	case err == nil:
		h.Learned = &question.Text{Name: filepath.Base(learned), Text: string(content)}
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	for _, folder := range [...]string{filepath.Dir(drawer), filepath.Join(filepath.Dir(drawer), "styles")} {
		names, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
		if err != nil {
			return err
		}
		slices.Sort(names)
		for _, name := range names {
			h.beside(run, name)
		}
	}
	return nil
}

// beside keeps a file that is a style; what is none is passed over.
func (h *held) beside(run *files.Run, path string) {
	content, err := run.Read(path)
	if err != nil {
		return
	}
	name := filepath.Base(path)
	if _, err := question.ReadStyle(name, content); err == nil {
		h.Styles = append(h.Styles, question.Text{Name: name, Text: string(content)})
	}
}
