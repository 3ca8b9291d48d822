// Package browser drives a browser for tests of pages.
package browser

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// path is the path of a browser. Without one the test is skipped, but in CI it fails.
func path(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable",
		"headless-shell"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("there is no chromium here, and CI=true says that pages must be tried in one: apt-get install chromium")
	}
	t.Skip("there is no chromium here, so that no page is tried in a browser: apt-get install chromium")
	return ""
}

// patience is how long a browser may live.
const patience = 8 * time.Minute

// Start starts a browser with an empty profile of its own, which ends with the test. Flags are further ones: name or
// name=value.
func Start(t *testing.T, flags ...string) context.Context {
	t.Helper()
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path(t)), chromedp.UserDataDir(t.TempDir()), chromedp.Headless, chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.NoFirstRun,
	}
	for _, flag := range []string{"disable-quic", "disable-background-networking", "disable-component-update",
		"disable-sync", "disable-dev-shm-usage", "hide-scrollbars"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	for _, flag := range flags {
		if name, value, valued := strings.Cut(flag, "="); valued {
			options = append(options, chromedp.Flag(name, value))
		} else {
			options = append(options, chromedp.Flag(name, true))
		}
	}
	ctx, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	ctx, stop = context.WithTimeout(ctx, patience)
	t.Cleanup(stop)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	return ctx
}

// Tab is a page open in the browser, with what it said and asked for.
type Tab struct {
	T   *testing.T
	Ctx context.Context

	mu       sync.Mutex
	said     []string
	requests []string
}

// Open opens an address in a new tab of a size in pixels.
func Open(t *testing.T, browser context.Context, address string, width, height int64) *Tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser)
	t.Cleanup(stop)
	b := &Tab{T: t, Ctx: ctx}
	b.Do(chromedp.Navigate("about:blank"))
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
	b.Do(chromedp.EmulateViewport(width, height), chromedp.Navigate(address))
	b.Settle()
	return b
}

// Do takes steps in the tab.
func (b *Tab) Do(steps ...chromedp.Action[chromedp.Void]) {
	b.T.Helper()
	if err := chromedp.Do(b.Ctx, steps...); err != nil {
		b.T.Fatal(err)
	}
}

// Settle waits until what was changed is drawn.
func (b *Tab) Settle() {
	b.T.Helper()
	Eval[bool](b, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
}

// Eval evaluates an expression in the page; of a promise it is what that becomes.
func Eval[T any](b *Tab, expression string) T {
	b.T.Helper()
	x, err := chromedp.Run(b.Ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.T.Fatalf("%.200s: %v", expression, err)
	}
	return x
}

// Quiet fails on a word in the console or on a request for anything but the page itself and what it makes.
func (b *Tab) Quiet() {
	b.T.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, word := range b.said {
		b.T.Errorf("the page said in the console: %s", word)
	}
	for _, address := range b.requests {
		page := strings.HasPrefix(address, "file://") && strings.HasSuffix(strings.SplitN(address, "#", 2)[0], ".html")
		if !page && !strings.HasPrefix(address, "blob:") {
			b.T.Errorf("the page asked for %s", address)
		}
	}
	if len(b.requests) == 0 {
		b.T.Error("no request was seen at all, not even for the page")
	}
}
