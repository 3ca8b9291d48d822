package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// chromium is the path of a browser. Without one the test is skipped, but in CI it fails.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable",
		"headless-shell"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("there is no chromium here, and CI=true says that the page must be tried in one: apt-get install chromium")
	}
	t.Skip("there is no chromium here, so that the page is not tried in a browser: apt-get install chromium")
	return ""
}

// browser starts a browser with an empty profile of its own.
func browser(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes long")
	}
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(chromium(t)), chromedp.UserDataDir(t.TempDir()), chromedp.Headless, chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.NoFirstRun,
	}
	for _, flag := range []string{"disable-quic", "disable-background-networking", "disable-component-update",
		"disable-sync", "disable-dev-shm-usage", "hide-scrollbars"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	ctx, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	ctx, stop = context.WithTimeout(ctx, 8*time.Minute)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	return ctx
}

// tab is a page open in the browser, with what it said and asked for.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu       sync.Mutex
	said     []string
	requests []string
}

// open opens an address in a new tab of a size.
func open(t *testing.T, browser context.Context, address string, width, height int64) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser)
	t.Cleanup(stop)
	b := &tab{t: t, ctx: ctx}
	b.do(chromedp.Navigate("about:blank"))
	messages, requests := chromedp.Console(ctx), chromedp.Events(ctx, network.RequestWillBeSent)
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			b.mu.Lock()
			b.said = append(b.said, fmt.Sprintf("%s: %s", m.Type, m.Text))
			b.mu.Unlock()
		}
	}()
	go func() {
		for r, err := range requests {
			if err != nil {
				return
			}
			b.mu.Lock()
			b.requests = append(b.requests, r.Request.URL)
			b.mu.Unlock()
		}
	}()
	b.do(chromedp.EmulateViewport(width, height), chromedp.Navigate(address))
	b.settle()
	return b
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// settle waits until what was changed is drawn.
func (b *tab) settle() {
	b.t.Helper()
	eval[bool](b, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
}

// eval evaluates an expression in the page.
func eval[T any](b *tab, expression string) T {
	b.t.Helper()
	x, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return x
}

// set puts a value into an input as a person does and waits for the page to follow.
func (b *tab) set(id, value string) {
	b.t.Helper()
	eval[bool](b, fmt.Sprintf(`(() => { const input = document.getElementById(%q); input.value = %q;
		input.dispatchEvent(new Event("input", { bubbles: true })); input.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, id, value))
	b.settle()
}

// press sends keys, and waits for the page to follow.
func (b *tab) press(keys string) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys))
	b.settle()
}

func (b *tab) text(selector string) string {
	b.t.Helper()
	return eval[string](b, fmt.Sprintf(`document.querySelector(%q).textContent`, selector))
}

func (b *tab) count(selector string) int {
	b.t.Helper()
	return eval[int](b, fmt.Sprintf(`document.querySelectorAll(%q).length`, selector))
}

// place is one line of a ranking: the parts but extras, and the score as shown.
type place struct {
	Parts string `json:"parts"`
	Score string `json:"score"`
}

// ranked are the lines that the page shows.
func (b *tab) ranked() []place {
	b.t.Helper()
	return eval[[]place](b, `[...document.querySelectorAll("#rows tr")].map((row) => ({
		parts: [...row.querySelectorAll("th .ids:not(.brief) span")].map((part) => part.textContent).join(" "),
		score: row.querySelector(".score").firstChild.textContent,
	}))`)
}

// quiet fails on a word in the console or on a request for anything but the page itself.
func (b *tab) quiet() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, word := range b.said {
		b.t.Errorf("the page said in the console: %s", word)
	}
	for _, address := range b.requests {
		if !strings.HasPrefix(address, "file://") || !strings.HasSuffix(strings.SplitN(address, "#", 2)[0], ".html") {
			b.t.Errorf("the page asked for %s", address)
		}
	}
	if len(b.requests) == 0 {
		b.t.Error("no request was seen at all, not even for the page")
	}
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
