package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"partsaloft/cmd/internal/browser"
	"partsaloft/examples"
)

// built are the parts of a page that all tests share: building the engine takes a while.
type built struct {
	worker, engine []byte
	folder         string
	command        string // the path of partsaloft
}

// engineOnce is the engine, built once for all tests.
var engineOnce = sync.OnceValues(func() ([]byte, error) { return buildEngine(context.Background()) })

func build(t *testing.T) *built {
	t.Helper()
	b := &built{folder: t.TempDir()}
	var err error
	if b.engine, err = engineOnce(); err != nil {
		t.Fatal(err)
	}
	if b.worker, err = workerText(t.Context()); err != nil {
		t.Fatal(err)
	}
	b.command = filepath.Join(b.folder, "partsaloft")
	if out, err := exec.Command("go", "build", "-o", b.command, "partsaloft/cmd/partsaloft").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if err := os.CopyFS(b.folder, examples.Files); err != nil {
		t.Fatal(err)
	}
	return b
}

// page writes a page and returns its address.
func (b *built) page(t *testing.T, h *held) string {
	t.Helper()
	var content bytes.Buffer
	if err := writePage(&content, h, b.worker, b.engine); err != nil {
		t.Fatal(err)
	}
	if content.Len() > mostBytes {
		t.Errorf("the page of %s takes %d bytes", h.Name, content.Len())
	}
	path := filepath.Join(t.TempDir(), "pocket.html")
	if err := os.WriteFile(path, content.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return "file://" + filepath.ToSlash(path)
}

// The whole engine in a real browser: one build, one browser.
func TestInBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes long")
	}
	b := build(t)
	var h held
	if err := h.example(); err != nil {
		t.Fatal(err)
	}
	chromium := browser.Start(t)
	t.Run("a pilot without a terminal", func(t *testing.T) { pilotWithoutTerminal(t, b, chromium, &h) })
	t.Run("front end", func(t *testing.T) { frontWorks(t, b, chromium, &h) })
	t.Run("listening", func(t *testing.T) { listenWorks(t, b, chromium) })
	t.Run("readings", func(t *testing.T) { readingsWork(t, b, chromium, &h) })
	t.Run("kept", func(t *testing.T) { keptWorks(t, b, chromium, &h) })
	t.Run("engine", func(t *testing.T) {
		engineWorks(t, b, browser.Open(t, chromium, b.page(t, &held{Name: "empty.yaml"}), 390, 844))
	})
}

// asking is an expression that puts a question to the engine of the page.
func asking(t *testing.T, ask string, options any, h *held) string {
	t.Helper()
	return "engine.ask(" + inJSON(t, ask) + "," + inJSON(t, options) + "," + inJSON(t, map[string]any{"held": h}) + ")"
}

func inJSON(t *testing.T, value any) string {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
