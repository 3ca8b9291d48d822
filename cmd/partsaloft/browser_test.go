package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	driver "partsaloft/cmd/internal/browser"
)

// browser starts a browser with an empty profile of its own.
func browser(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes long")
	}
	return driver.Start(t)
}

// tab is a page open in the browser.
type tab struct{ *driver.Tab }

// open opens an address in a new tab of a size.
func open(t *testing.T, browser context.Context, address string, width, height int64) *tab {
	t.Helper()
	b := &tab{driver.Open(t, browser, address, width, height)}
	// What the page holds is unpacked before its script takes the place of what was written into it.
	if !eval[bool](b, `new Promise((done) => { const end = performance.now() + 60000;
		(function look() { if (document.querySelector("#rows tr .score button")) done(true);
			else if (performance.now() > end) done(false); else setTimeout(look, 20); })(); })`) {
		t.Fatal("the page's script did not draw its rows")
	}
	return b
}

// eval evaluates an expression in the page.
func eval[T any](b *tab, expression string) T {
	b.T.Helper()
	return driver.Eval[T](b.Tab, expression)
}

// set puts a value into an input as a person does and waits for the page to follow.
func (b *tab) set(id, value string) {
	b.T.Helper()
	b.setAll([][2]string{{id, value}})
}

// setAll puts values into inputs, each an id and a value, one after the other, and waits for the page to follow.
func (b *tab) setAll(list [][2]string) {
	b.T.Helper()
	text, err := json.Marshal(list)
	if err != nil {
		b.T.Fatal(err)
	}
	eval[bool](b, fmt.Sprintf(`(() => { for (const [id, value] of %s) { const input = document.getElementById(id); input.value = value;
		for (const kind of ["input", "change"]) input.dispatchEvent(new Event(kind, { bubbles: true })); } return true; })()`, text))
	b.Settle()
}

// press sends keys, and waits for the page to follow.
func (b *tab) press(keys string) {
	b.T.Helper()
	b.Do(chromedp.KeyEvent(keys))
	b.Settle()
}

func (b *tab) text(selector string) string {
	b.T.Helper()
	return eval[string](b, fmt.Sprintf(`document.querySelector(%q).textContent`, selector))
}

func (b *tab) count(selector string) int {
	b.T.Helper()
	return eval[int](b, fmt.Sprintf(`document.querySelectorAll(%q).length`, selector))
}

// place is one line of a ranking: the parts but extras, and the score as shown.
type place struct {
	Parts string `json:"parts"`
	Score string `json:"score"`
}

// ranked are the lines that the page shows.
func (b *tab) ranked() []place {
	b.T.Helper()
	return eval[[]place](b, `[...document.querySelectorAll("#rows tr")].map((row) => ({
		parts: [...row.querySelectorAll("th .ids:not(.brief) span")].map((part) => part.textContent).join(" "),
		score: row.querySelector(".score").firstChild.textContent,
	}))`)
}

// pageOf writes a page and returns its address.
func pageOf(t *testing.T, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "drawer.html")
	partsaloft(t, 0, append([]string{"page", "--quiet", "--output", path}, args...)...)
	return "file://" + filepath.ToSlash(path)
}

// rank is the ranking of the command line.
func rank(t *testing.T, code int, args ...string) []place {
	t.Helper()
	line := strings.Join(args, " ")
	if list, ok := ranked[line]; ok {
		return list
	}
	var d struct {
		Results []struct {
			Score float64
			Parts struct{ Motor, Prop, Pack, Frame, Board string }
		}
	}
	if err := json.Unmarshal([]byte(partsaloft(t, code, append([]string{"rank", "--quiet", "--format", "json"},
		args...)...)), &d); err != nil {
		t.Fatal(err)
	}
	list := []place{}
	for _, r := range d.Results {
		p := r.Parts
		list = append(list, place{strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " "),
			fmt.Sprintf("%.2f", r.Score)})
	}
	ranked[line] = list
	return list
}

// ranked are the rankings of command lines that were run.
var ranked = map[string][]place{}
