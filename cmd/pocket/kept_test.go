package main

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"partsaloft/cmd/internal/browser"
)

// addsPart types a part and adds it.
func (f *front) addsPart(text string) {
	f.T.Helper()
	f.types("#parts-words", text)
	f.press("#parts-echo", "Add")
	f.sees("#parts-echo", "Added")
}

// atParts opens a page at its parts.
func atParts(t *testing.T, chromium context.Context, address string) *front {
	t.Helper()
	f := &front{browser.Open(t, chromium, address, 390, 844)}
	f.until("the page", `document.querySelector("#places a[data-place=parts]")?.checkVisibility()`)
	f.click("#places a[data-place=parts]")
	return f
}

// keptWorks tries what becomes of a drawer where two windows change it, and where a browser keeps nothing.
func keptWorks(t *testing.T, b *built, chromium context.Context, styles *held) {
	empty := func(name string) string {
		return b.page(t, &held{Name: name, Drawer: "# mine\n", Styles: styles.Styles})
	}
	t.Run("two windows", func(t *testing.T) {
		address := empty("two.yaml")
		one, other := atParts(t, chromium, address), atParts(t, chromium, address)
		one.addsPart("motor 1404 3800kv x4 9.3g")
		other.sees("#elsewhere-changed", "changed in another window")
		other.press("#elsewhere-changed", "Show that")
		other.sees("#parts-list", "Motors: 1, 4 pieces")
		// Both change it, the second without having looked: it says so, and nothing is lost.
		one.addsPart("prop 3x2.4x3 x8")
		other.sees("#elsewhere-changed", "changed in another window")
		other.addsPart("pack 4S 650 75C XT30 75g")
		other.sees("#elsewhere-changed", "Another window had changed this drawer too")
		other.sees("#parts-list", "Packs: 1")
		other.press("#elsewhere-changed", "Take the other window's version")
		other.sees("#parts-list", "Props: 1")
		if got := browser.Eval[string](other.Tab, keptDrawer); !strings.Contains(got, "3x2.4x3") || strings.Contains(got, "4S 650") {
			t.Errorf("the version taken is\n%s", got)
		}
		one.Quiet()
		other.Quiet()
	})
	t.Run("a browser without room", func(t *testing.T) {
		f := atParts(t, chromium, empty("full.yaml"))
		// Filled to the last character, in ever smaller pieces.
		browser.Eval[bool](f.Tab, `(() => { for (let size = 1 << 22, n = 0; size >= 1;) { try { localStorage.setItem("filler " + n, "x".repeat(size)); n++; } catch { size >>= 1; } } return true; })()`)
		defer browser.Eval[bool](f.Tab, `(Object.keys(localStorage).filter((key) => key.startsWith("filler")).forEach((key) => localStorage.removeItem(key)), true)`)
		keptNowhere(t, b, f)
	})
	t.Run("a browser that keeps nothing", func(t *testing.T) {
		f := &front{browser.Open(t, chromium, "about:blank", 390, 844)}
		if _, err := chromedp.Call(f.Ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
			Source: `Object.defineProperty(window, "localStorage", { get() { throw new DOMException("denied", "SecurityError"); } });`}); err != nil {
			t.Fatal(err)
		}
		f.Do(chromedp.Navigate(empty("none.yaml")))
		f.until("the page", `document.querySelector("#places a[data-place=parts]")?.checkVisibility()`)
		f.click("#places a[data-place=parts]")
		keptNowhere(t, b, f)
	})
}

// keptNowhere adds parts where the browser does not keep them: the page goes on, says so and saves the file.
func keptNowhere(t *testing.T, b *built, f *front) {
	was := f.T
	f.T = t
	defer func() { f.T = was }()
	for i, line := range []string{"motor 1404 3800kv x4 9.3g", "prop 3x2.4x3 x8"} {
		f.addsPart(line)
		f.sees("#unkept", "your changes stand in this page alone")
		f.sees("#parts-list", []string{"Motors: 1", "Props: 1"}[i])
	}
	text, err := os.ReadFile(f.saves(b, "#unkept", "Save the file"))
	if err != nil || !strings.Contains(string(text), "kv: 3800") || !strings.Contains(string(text), "3x2.4x3") {
		t.Errorf("the saved file: %v\n%s", err, text)
	}
	if got := f.text("#fault"); got != "" {
		t.Errorf("it says %q", got)
	}
}
