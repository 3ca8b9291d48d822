package main

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"strings"
)

//go:embed page.html
var frame string

//go:embed page.js
var script string

// writePage writes the page: what it holds, the worker's script and the packed engine. What a drawer says stands in
// JSON with <, > and & escaped.
func writePage(w io.Writer, h *held, worker, engine []byte) error {
	if lower := bytes.ToLower(worker); bytes.Contains(lower, []byte("</script")) || bytes.Contains(lower, []byte("<!--")) {
		return errors.New("the worker's script would end its element")
	}
	data, err := json.Marshal(h)
	if err != nil {
		return err
	}
	sum := sha256.Sum256([]byte(script))
	policy := strings.Join([]string{"default-src 'none'",
		"script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "' 'wasm-unsafe-eval'", "worker-src blob:",
		"base-uri 'none'", "form-action 'none'", "require-trusted-types-for 'script'", "trusted-types engine"}, "; ")
	_, err = strings.NewReplacer("{{policy}}", policy, "{{script}}", script, "{{data}}", string(data), "{{worker}}",
		string(worker), "{{engine}}", string(dense(engine))).WriteString(w, frame)
	return err
}
