package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"partsaloft/cmd/internal/browser"
)

// pages are the parts of a page that all tests share: building the engine takes a while.
type pages struct {
	worker, engine []byte
	folder         string
	command        string // the path of partsaloft
}

func buildPages(t *testing.T) *pages {
	t.Helper()
	p := &pages{folder: t.TempDir()}
	var err error
	if p.engine, err = buildEngine(t.Context()); err != nil {
		t.Fatal(err)
	}
	if p.worker, err = workerText(t.Context()); err != nil {
		t.Fatal(err)
	}
	p.command = filepath.Join(p.folder, "partsaloft")
	if out, err := exec.Command("go", "build", "-o", p.command, "partsaloft/cmd/partsaloft").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return p
}

// page writes a page and returns its address.
func (p *pages) page(t *testing.T, h *held) string {
	t.Helper()
	path := filepath.Join(p.folder, h.Name+".html")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := writePage(f, h, p.worker, p.engine); err != nil {
		t.Fatal(err)
	}
	return "file://" + filepath.ToSlash(path)
}

func TestInBrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes long")
	}
	p := buildPages(t)
	var h held
	if err := h.example(); err != nil {
		t.Fatal(err)
	}
	b := browser.Start(t)
	tab := browser.Open(t, b, p.page(t, &h), 400, 800)
	t.Log(browser.Eval[json.RawMessage](tab, `engine.ready.then((r) => ({ version: r.version, questions: r.questions, at: performance.now() }))`))
	t.Log(string(browser.Eval[json.RawMessage](tab, `engine.ask("rank").then((r) => [performance.now(), r.document.advice])`)))
	tab.Quiet()
	_ = context.Background
}
