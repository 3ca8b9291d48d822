package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func fitsWidths(t *testing.T, open opener) {
	b := open(t, "", 1200, 780)
	check := func(state string) {
		for _, width := range []int64{320, 360, 400, 640, 900, 1280, 1600} {
			b.Do(chromedp.EmulateViewport(width, 780))
			b.Settle()
			if got := eval[int64](b, `document.documentElement.scrollWidth`); got > width {
				t.Errorf("%d px, %s: the page is %d px wide", width, state, got)
			}
		}
	}
	check("opened")
	for _, i := range []int{1, 6} {
		b.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf("#rows tr:nth-child(%d) input", i))))
		b.Settle()
	}
	check("with two compared")
	b.back()
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(13) input")))
	b.Settle()
	check("with three compared")
	b.back()
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(6) .score button")))
	b.Settle()
	check("with a sheet")
	b.Quiet()
}

// view is what the page shows: its builds, a comparison, a sheet.
func (b *tab) view() string {
	b.T.Helper()
	return eval[string](b, `[...document.querySelectorAll("main > :not(#fault)")].filter((part) => part.checkVisibility()).map((part) => part.id).join(" ")`)
}

// back goes back as the browser's own button does.
func (b *tab) back() {
	b.T.Helper()
	eval[bool](b, `new Promise((done) => { addEventListener("popstate", () => done(true), { once: true }); history.back(); })`)
	b.Settle()
}

// Back, the browser's or the page's, returns from a sheet and a comparison to the place where the list was left.
func backReturns(t *testing.T, open opener) {
	b := open(t, "", 390, 844)
	eval[bool](b, `(document.querySelector("#rows tr:nth-child(9)").scrollIntoView({ behavior: "instant" }), true)`)
	was := eval[float64](b, `scrollY`)
	for _, back := range []func(){b.back, func() {
		b.Do(chromedp.Click(chromedp.CSS("#sheet .tools button")))
		b.Settle()
	}} {
		b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(9) .score button")))
		b.Settle()
		if b.view() != "sheet" || eval[float64](b, `scrollY`) > 10 {
			t.Errorf("%s is shown at %g", b.view(), eval[float64](b, `scrollY`))
		}
		back()
		if now := eval[float64](b, `scrollY`); b.view() != "builds" || math.Abs(now-was) > 60 {
			t.Errorf("after going back %s is shown at %g, was left at %g", b.view(), now, was)
		}
	}
	b.Quiet()
}

// On a phone the first screen holds what to build, what to expect, how sure that is and the priorities in one line.
func phoneFirst(t *testing.T, open opener) {
	b := open(t, "", 390, 844)
	for _, selector := range []string{"#advice p:nth-child(1)", "#advice p:nth-child(3)", "#sure", "#first-tools button",
		"#wishes-line"} {
		if end := eval[float64](b, fmt.Sprintf(`document.querySelector(%q).getBoundingClientRect().bottom`, selector)); end > 844 {
			t.Errorf("%s ends at %.0f px", selector, end)
		}
	}
	if eval[bool](b, `document.getElementById("wishes").checkVisibility()`) {
		t.Error("the sliders are not folded")
	}
	// What the sliders say changes the first sentence at once.
	before := b.text("#advice")
	b.Do(chromedp.Click(chromedp.CSS("#wishes-fold summary")))
	b.Settle()
	b.set("weight-endurance", "10")
	b.set("weight-grip", "0")
	if got := b.text("#advice"); got == before || !strings.HasPrefix(got, "Build") {
		t.Errorf("minutes first, it says %q", got)
	}
	b.Quiet()
}

// Text is 16 px and more, and what is touched 44 px and more each way (WCAG 2.2, success criterion 2.5.5; published).
func targetsAndText(t *testing.T, open opener) {
	b := open(t, "", 390, 844)
	check := func(state string) {
		for _, small := range eval[[]string](b, `[...document.querySelectorAll("button, select, summary, nav a, label.pick, input:not([type=checkbox])")].filter((x) => x.checkVisibility())
			.map((x) => [x, x.getBoundingClientRect()]).filter(([, box]) => box.width < 43.9 || box.height < 43.9).map(([x, box]) => x.outerHTML.slice(0, 80) + box.width + "x" + box.height)`) {
			t.Errorf("%s: too small to touch: %s", state, small)
		}
		for _, small := range eval[[]string](b, `[...document.querySelectorAll("body *")].filter((x) => x.checkVisibility() && !x.closest("script, style, .unseen") && [...x.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(x).fontSize) < 16).map((x) => x.outerHTML.slice(0, 80))`) {
			t.Errorf("%s: text under 16 px: %s", state, small)
		}
	}
	b.Do(chromedp.Click(chromedp.CSS("#wishes-fold summary")))
	b.Settle()
	check("opened")
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(1) label")))
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) label")))
	b.Settle()
	check("with two compared")
	b.back()
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) .score button")))
	b.Settle()
	check("with a sheet")
	b.Quiet()
}
