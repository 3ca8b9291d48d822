package page

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"io"
	"strings"
)

// Page is what a file is made of.
type Page struct {
	Title   string // of the window
	Heading string
	Opening Opening // what it says before its script runs
	Data    any     // what its script begins with, as JSON
	// Engine is what answers its questions; nil if all answers are in Data.
	Engine *Engine
}

// Opening is what a page says before its script runs, and without it.
type Opening struct {
	Dangers, Advice, About []string
	Care                   string
	Rows                   string // of the ranking, as HTML
}

// Engine is a program that answers in a worker of the page.
type Engine struct {
	// Worker is the script of the worker. Its first message brings it {engine: Packed}; it answers
	// {ready: true, version, module} and then questions, as the engine's protocol says.
	Worker []byte
	Packed []byte // the program as text, which the worker unpacks
}

//go:embed page.html css/*.css js/*.js
var files embed.FS

// scripts are the parts of the page's one script, in order.
var scripts = [...]string{
	"dom", "number", "shape", // what draws
	"column", "builds", "order", // what is known of the builds
	"static", "engine", "live", // where answers come from
	"view", "answer", "priorities", "list", "plot", "scatter", "curves", "compare", "take", "sheet", // builds
	"change", "plan", "buy", // further questions
	"drawer", "typed", "parts", "record", "readings", "flight_file", "card", // the other places
	"sound", "microphone", "listen", // rotor speed from a recording
	"main",
}

// styles are the parts of the page's one style sheet, in order.
var styles = [...]string{"page", "builds", "parts", "compare", "sheet", "listen", "flight", "print"}

// joined is the text of embedded files, one after the other.
func joined(folder, ending string, names []string) ([]byte, error) {
	var all bytes.Buffer
	for _, name := range names {
		part, err := files.ReadFile(folder + "/" + name + ending)
		if err != nil {
			return nil, err
		}
		for line := range bytes.Lines(part) {
			// Indentation and comments are for those who read the files; no text of them runs over lines.
			if line = bytes.TrimLeft(line, " \t"); !bytes.HasPrefix(line, []byte("//")) {
				all.Write(line)
			}
		}
	}
	return all.Bytes(), nil
}

// Write writes the page. Everything that comes from a drawer goes through html.EscapeString or through JSON in base64,
// and reaches the page's text by textContent alone.
func (p *Page) Write(w io.Writer) error {
	frame, err := files.ReadFile("page.html")
	if err != nil {
		return err
	}
	style, err := joined("css", ".css", styles[:])
	if err != nil {
		return err
	}
	script, err := joined("js", ".js", scripts[:])
	if err != nil {
		return err
	}
	data, err := packed(p.Data)
	if err != nil {
		return err
	}
	engine, err := p.Engine.elements()
	if err != nil {
		return err
	}
	paragraphs := func(class string, texts []string) string {
		var b strings.Builder
		for _, text := range texts {
			fmt.Fprintf(&b, "<p%s>%s</p>\n", class, html.EscapeString(text))
		}
		return b.String()
	}
	_, err = strings.NewReplacer(
		"{{policy}}", p.policy(script, style), "{{style}}", string(style), "{{script}}", string(script),
		"{{title}}", html.EscapeString(p.Title), "{{heading}}", html.EscapeString(p.Heading),
		"{{dangers}}", paragraphs(` class="danger"`, p.Opening.Dangers), "{{advice}}", paragraphs("", p.Opening.Advice),
		"{{about}}", html.EscapeString(strings.Join(p.Opening.About, " ")), "{{care}}", html.EscapeString(p.Opening.Care),
		"{{heads}}", heads(), "{{rows}}", p.Opening.Rows, "{{data}}", data, "{{engine}}", engine,
	).WriteString(w, string(frame))
	return err
}

// policy is the content security policy: no network, and no script but the page's own and, where it has one, its
// engine's.
func (p *Page) policy(script, style []byte) string {
	scripts, rest := "script-src "+hash(script), []string{"require-trusted-types-for 'script'", "trusted-types 'none'"}
	if p.Engine != nil {
		scripts += " 'wasm-unsafe-eval'"
		rest = []string{"worker-src blob:", "require-trusted-types-for 'script'", "trusted-types engine"}
	}
	return strings.Join(append([]string{"default-src 'none'", scripts, "style-src " + hash(style), "base-uri 'none'",
		"form-action 'none'"}, rest...), "; ")
}

// elements are the engine's elements in the page.
func (e *Engine) elements() (string, error) {
	if e == nil {
		return "", nil
	}
	for _, text := range [][]byte{e.Worker, e.Packed} {
		if bytes.Contains(bytes.ToLower(text), []byte("</script")) || bytes.Contains(text, []byte("<!--")) {
			return "", errors.New("the engine's text would end its element")
		}
	}
	return fmt.Sprintf("<script type=\"text/plain\" id=\"worker\">%s</script>\n<script type=\"text/plain\" id=\"engine\">"+
		"%s</script>\n", e.Worker, e.Packed), nil
}

// packed is JSON, compressed, in base64.
func packed(data any) (string, error) {
	text, err := json.Marshal(data)
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return "", err
	}
	if _, err := z.Write(text); err != nil {
		return "", err
	}
	if err := z.Close(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(b.Bytes()), nil
}

// hash is a source expression of a content security policy for an element's text.
func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
