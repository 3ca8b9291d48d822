package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"partsaloft/cmd/internal/browser"
)

// flightText is a flight of three minutes on four cells, hover at 31 to 34 % with three punches.
func flightText(head string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range 1800 {
		seconds, amps, throttle := float64(i)/10, 3.0, 31.0
		switch {
		case i < 50 || i > 1750:
			amps, throttle = 0.3, 0
		case i%600 > 560:
			amps, throttle = 12, 90
		}
		volts := 16.6 - 0.006*seconds - 0.08*amps + 0.01*float64(i%3)
		fmt.Fprintf(&b, "%.1f,%.2f,%.2f,%.0f\n", seconds, volts, amps+0.1*float64(i%5), throttle+float64(i%4))
	}
	return b.String()
}

// readingsWork takes readings of a craft of the example in the page.
func readingsWork(t *testing.T, pages *built, b context.Context, h *held) {
	f := &front{browser.Open(t, b, pages.page(t, h), 390, 844)}
	f.until("the builds", `document.querySelectorAll("#rows tr").length >= 10 && document.getElementById("style") !== null`)
	f.click("#places a[data-place=readings]")
	for _, c := range []struct {
		name string
		test func(*testing.T, *front)
	}{
		{"the reading that helps most is asked first", askedFirst},
		{"what is typed outlives a reload", typedIsKept},
		{"a flight file is read and kept", flightIsKept},
		{"columns are named, files that are none told", flightsThatAreNone},
		{"boxes of the card become readings", cardIsKept},
	} {
		t.Run(c.name, func(t *testing.T) {
			was := f.T
			f.T = t
			defer func() { f.T = was }()
			c.test(t, f)
			f.Quiet()
		})
	}
}

func askedFirst(t *testing.T, f *front) {
	f.until("the question", `document.querySelector("#reading-form .lead input") !== null`)
	name := f.text("#reading-of option:checked")
	d := f.asked("record", fmt.Sprintf(`{craft: %q}`, name), "{}")
	want := d["questions"].([]any)[0].(map[string]any)
	if got := f.text("#reading-form .lead label"); got != want["text"] {
		t.Errorf("asked is %q, the engine's first question is %q", got, want["text"])
	}
	if high := browser.Eval[float64](f.Tab, `document.querySelector("#reading-form .lead input").getBoundingClientRect().height`); high < 44 {
		t.Errorf("the field is %.0f px high", high)
	}
	f.reach("the first reading")
}

func typedIsKept(t *testing.T, f *front) {
	browser.Eval[bool](f.Tab, `(() => { const field = document.querySelector("#reading-form .lead input"); field.value = "152,5"; field.dispatchEvent(new Event("input")); return true; })()`)
	f.Do(chromedp.Reload())
	f.until("the builds", `document.getElementById("style") !== null`)
	f.click("#places a[data-place=readings]")
	f.until("the question", `document.querySelector("#reading-form .lead input") !== null`)
	if got := browser.Eval[string](f.Tab, `document.querySelector("#reading-form .lead input").value`); got != "152,5" {
		t.Errorf("after a reload the field holds %q", got)
	}
}

// open opens a file as a flight of the craft that is chosen.
func (f *front) open(t *testing.T, name string, content []byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	f.Do(chromedp.SetUploadFiles(chromedp.CSS("#flight-file"), []string{path}))
}

func flightIsKept(t *testing.T, f *front) {
	f.open(t, "flight.csv", []byte(flightText("time (s),Volts [V],amps,throttle (%)")))
	f.until("the flight", `document.querySelector("#flight-save") !== null`)
	f.reach("a flight")
	for _, word := range []string{"throttle in hover32.5", "time, s", "Hover is shaded", "likely range"} {
		if !strings.Contains(f.text("#flight"), word) {
			t.Errorf("the flight lacks %q: %.600q", word, f.text("#flight"))
		}
	}
	if n := browser.Eval[int](f.Tab, `document.querySelectorAll("#flight .hovering").length`); n != 6 {
		t.Errorf("%d stretches of hover are shaded, three are flown in two plots", n)
	}
	f.click("#flight-save")
	f.until("what was learned", `document.getElementById("learned").textContent.includes("What changed")`)
	if got := f.text("#learned"); !strings.Contains(got, "Hover throttle ") || !strings.Contains(got, "→") ||
		!strings.Contains(got, "Undo: flight of") {
		t.Errorf("what changed: %.300q", got)
	}
	if !strings.Contains(f.saved(), "hover_throttle_pct: 32.") {
		t.Error("the log lacks the flight")
	}
	f.click("#learned button")
	f.until("the undoing", `document.getElementById("learned").textContent.startsWith("Undone")`)
	if strings.Contains(f.saved(), "hover_throttle_pct: 32.") {
		t.Error("the log has the flight after undoing it")
	}
}

// saved is the drawer as the browser keeps it.
func (f *front) saved() string {
	f.T.Helper()
	return browser.Eval[string](f.Tab, keptDrawer)
}

func flightsThatAreNone(t *testing.T, f *front) {
	f.until("the question", `document.querySelector("#reading-form .lead input") !== null`)
	f.open(t, "a.csv", []byte(flightText("a,b,<img src=x onerror=\"window.broken=1\">,d")))
	f.until("the columns", `document.querySelector("#flight .columns-of") !== null`)
	f.reach("columns to name")
	browser.Eval[bool](f.Tab, `(() => { ["time", "volts", "amps", "throttle"].forEach((word, i) => { const choice = document.getElementById("column-" + word); choice.value = String(i + 1); choice.dispatchEvent(new Event("change")); });
		document.querySelector("#flight .columns-of").requestSubmit(); return true; })()`)
	f.until("the flight", `document.querySelector("#flight figure") !== null`)
	if browser.Eval[bool](f.Tab, `window.broken !== undefined`) {
		t.Error("markup came to life")
	}
	for name, content := range map[string][]byte{
		"garbage.csv": bytes.Repeat([]byte("\x07\xff\x01%$\n"), 5<<20), "wide.csv": bytes.Repeat([]byte(strings.Repeat("9,", 100_000)+"9\n"), 30),
		"long.csv": bytes.Repeat([]byte("a"), 30<<20),
	} {
		f.back()
		f.until("the readings", `document.querySelector("#reading-form .lead input") !== null`)
		f.open(t, name, content)
		f.until("what is wrong with "+name, `document.querySelector("#flight-told .danger") !== null`)
	}
	// A file of 60 MB is read piece by piece: the engine does not grow by it, and the page stays at hand.
	f.back()
	f.until("the readings", `document.querySelector("#reading-form .lead input") !== null`)
	line, head := []byte(flightText(""))[1:], "time (s),Volts [V],amps,throttle (%)\n"
	large := append([]byte(head), bytes.Repeat(line, 60<<20/len(line))...)
	browser.Eval[bool](f.Tab, `(() => { let last = performance.now(); globalThis.longest = 0; globalThis.beat = setInterval(() => { const now = performance.now(); globalThis.longest = Math.max(globalThis.longest, now - last); last = now; }, 5); return true; })()`)
	f.open(t, "large.csv", large)
	f.until("the large file", `document.querySelector("#flight-told").childElementCount > 0`)
	longest := browser.Eval[float64](f.Tab, `(clearInterval(globalThis.beat), globalThis.longest)`)
	memory := browser.Eval[float64](f.Tab, `engine.ask("styles", {}).then((reply) => reply.memory)`)
	t.Logf("longest wait of the page %.0f ms, the engine holds %.0f MB; it says %.120q", longest, memory/(1<<20), f.text("#flight-told"))
	if longest > 500 || memory > mostMemory {
		t.Errorf("longest wait of the page %.0f ms, the engine holds %.0f MB", longest, memory/(1<<20))
	}
}

func cardIsKept(t *testing.T, f *front) {
	f.click("#places a[data-place=builds]")
	f.until("the builds", `document.getElementById("again").hidden && document.querySelectorAll("#rows .score button").length >= 10`)
	f.click("#rows tr:nth-child(1) .score button")
	f.until("the sheet", `document.querySelector("#sheet .told h3") !== null && document.querySelectorAll("#sheet input.box").length > 5`)
	f.reach("the card")
	expected := browser.Eval[float64](f.Tab, `parseFloat(document.querySelector("#sheet .flight tbody td").textContent)`)
	browser.Eval[bool](f.Tab, fmt.Sprintf(`(() => { const box = document.querySelectorAll("#sheet input.box"); box[0].value = "%.0f"; box[1].value = "29,5"; box[0].dispatchEvent(new Event("input"));
		[...document.querySelectorAll("#sheet button")].find((one) => one.textContent === "Keep these readings").click(); return true; })()`, math.Round(expected)))
	f.until("what was learned", `document.getElementById("learned")?.textContent.includes("What changed")`)
	saved := f.saved()
	if !strings.Contains(saved, fmt.Sprintf("all_up_g: %.0f", expected)) || !strings.Contains(saved, "hover_throttle_pct: 29.5") {
		t.Error("the log lacks the readings of the card")
	}
}
