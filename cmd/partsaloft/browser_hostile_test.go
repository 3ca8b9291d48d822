package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// hostile writes a drawer whose name and notes are markup, each note as long as a note may be.
func hostile(t *testing.T) (path, note string) {
	t.Helper()
	content, err := os.ReadFile(examples + "racer.yaml")
	if err != nil {
		t.Fatal(err)
	}
	note = `</script><script>window.broken=1</script><img src=x onerror="window.broken=1"><b>&amp; `
	for len(note) < 470 {
		note += "take care of this part "
	}
	text := regexp.MustCompile(`(?m)^ +note:.*\n`).ReplaceAllString(string(content), "")
	text = regexp.MustCompile(`(?m)^( +)- id: .*\n`).ReplaceAllString(text, "${0}${1}  note: '"+note+"'\n")
	path = filepath.Join(t.TempDir(), "<script>window.broken=1<.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, note
}

// A drawer full of markup shows its text, runs nothing, and still prints its sheet on one page.
func markupIsText(t *testing.T, b *tab, drawer, note string) {
	if got := b.text("h1"); !strings.Contains(got, drawer) {
		t.Errorf("the page is called %q", got)
	}
	b.Do(chromedp.Click(chromedp.CSS("#rows .score button")))
	b.Settle()
	if got := b.text("#sheet"); !strings.Contains(got, strings.TrimSpace(note)) {
		t.Errorf("the sheet does not show the note: %.200q", got)
	}
	if broken := eval[bool](b, `window.broken !== undefined || document.images.length > 0 || document.scripts.length !== 2`); broken {
		t.Error("the drawer's markup came to life")
	}
	for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(b.Ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
		if err != nil {
			t.Fatal(err)
		}
		if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
			t.Errorf("with long notes the sheet takes %d pages of %s", n, name)
		}
	}
	if got := eval[int64](b, `document.documentElement.scrollWidth`); got > 1200 {
		t.Errorf("the page is %d px wide", got)
	}
	b.Quiet()
}

// The policy stops a script that gets into the page all the same.
func policyStops(t *testing.T, b *tab) {
	for _, attack := range []string{
		`const s = document.createElement("script"); s.text = "window.broken = 1"; document.body.append(s)`,
		`document.body.innerHTML += "<img src=x onerror='window.broken = 1'>"`,
		`document.body.setAttribute("onclick", "window.broken = 1"); document.body.click()`,
		`const i = new Image(); i.src = "https://example.invalid/x.png"; document.body.append(i)`,
		`setTimeout("window.broken = 1", 0)`,
	} {
		eval[bool](b, fmt.Sprintf(`(() => { try { %s } catch { } return true; })()`, attack))
		b.Settle()
		if eval[bool](b, `window.broken !== undefined`) {
			t.Fatalf("not stopped: %s", attack)
		}
	}
}
