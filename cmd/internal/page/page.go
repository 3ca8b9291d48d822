package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/objective"
	"partsaloft/search"
)

// Input is what a page is made of.
type Input struct {
	Drawer  string          // base name of its file
	Style   objective.Style // weights and way of flying; its limits are those that the page cannot move
	Command string          // the command line that ranks the same drawer, without weights and limits
	// Opening is where the limits that the page moves stand when it opens, in steps, one for each of
	// Bounds; Catalogue is made for these bounds.
	Opening   []*int32
	Catalogue *search.Catalogue
	Care      answer.Care
}

// MostBytes is the largest that a page may be.
const MostBytes = 2_000_000

// Fewest results in detail below which a page that is too large is an error.
const fewestDetails = 50

//go:embed page.html page.css *.js
var files embed.FS

// scripts are the parts of the page's one script, in order.
var scripts = [...]string{"data.js", "rank.js", "text.js", "list.js", "chart.js", "scatter.js", "compare.js",
	"curves.js", "sheet.js", "page.js"}

// Write writes the page. Where it would be too large it leaves out results in detail, those of the
// worst ranked first.
func (in *Input) Write(w io.Writer) error {
	for {
		page, err := in.make()
		if err != nil {
			return err
		}
		if len(page) <= MostBytes {
			_, err = w.Write(page)
			return err
		}
		if !in.drop() {
			return fmt.Errorf("the page would take %d bytes, at most %d are allowed: leave out parts of the drawer", len(page),
				MostBytes)
		}
	}
}

// drop takes the last quarter of the results in detail away; it reports whether enough are left.
func (in *Input) drop() bool {
	count := 0
	for i := range in.Catalogue.Entries {
		if in.Catalogue.Entries[i].Result != nil {
			count++
		}
	}
	keep := count * 3 / 4
	if keep < fewestDetails {
		return false
	}
	for i := range in.Catalogue.Entries {
		if e := &in.Catalogue.Entries[i]; e.Result != nil {
			if keep == 0 {
				e.Result = nil
				continue
			}
			keep--
		}
	}
	return true
}

// make puts the page together. Everything that comes from the drawer goes through html.EscapeString
// or through JSON with <, > and & escaped, and reaches the page's text by textContent alone.
func (in *Input) make() ([]byte, error) {
	frame, err := files.ReadFile("page.html")
	if err != nil {
		return nil, err
	}
	style, err := files.ReadFile("page.css")
	if err != nil {
		return nil, err
	}
	var script bytes.Buffer
	for _, name := range scripts {
		part, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		script.Write(part)
	}
	data, err := json.Marshal(in.document())
	if err != nil {
		return nil, err
	}
	policy := strings.Join([]string{
		"default-src 'none'", "script-src " + hash(script.Bytes()), "style-src " + hash(style),
		"base-uri 'none'", "form-action 'none'", "require-trusted-types-for 'script'",
	}, "; ")
	title := fmt.Sprintf("%s, %s: combinations", in.Drawer, in.Style.Name)
	var out bytes.Buffer
	_, err = strings.NewReplacer(
		"{{policy}}", policy, "{{style}}", string(style), "{{script}}", script.String(),
		"{{title}}", html.EscapeString(title), "{{drawer}}", html.EscapeString(in.Drawer),
		"{{advice}}", in.adviceLines(), "{{dangers}}", in.dangers(),
		"{{care}}", html.EscapeString(strings.Join(in.Care.Cautions, " ")),
		"{{about}}", html.EscapeString(strings.Join(answer.Holding(&in.Style, in.Catalogue), " ")), "{{heads}}", heads(),
		"{{rows}}", in.firstRows(), "{{data}}", string(data),
	).WriteString(&out, string(frame))
	return out.Bytes(), err
}

// hash is a source expression of a content security policy for an element's text.
func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
