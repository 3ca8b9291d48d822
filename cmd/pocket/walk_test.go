package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"partsaloft/cmd/internal/browser"
)

// drawerInWords is a drawer as a pilot writes it down; the last two lines say too little.
const drawerInWords = `motor 1404 3800kv x4 9.3g
motor 1507 2700kv 14g x4
prop 3x2.4x3 x8
prop 3.5x2x2 x6
pack 4S 650 75C XT30 75g
lipo 4s 850 80C XT30 95g x2
frame 3.5 inch 38g 25.5x25.5 9x9
board 20A 2-4S 7g 25.5x25.5
camera 3g
video 5g
receiver 1g
antenna 1g
something blue
kv 99`

// press touches what can be seen of the buttons, links and folds of a part of the page, found by its first words.
func (f *front) press(within, words string) {
	f.T.Helper()
	tag := fmt.Sprintf(`(() => { document.querySelectorAll("[data-pressed]").forEach((one) => one.removeAttribute("data-pressed"));
		const one = [...document.querySelectorAll(%q)].flatMap((part) => [...part.querySelectorAll("button, summary, a, label")]).find((one) =>
			one.checkVisibility() && !one.closest("[inert]") && one.innerText.trim().startsWith(%q));
		one?.setAttribute("data-pressed", ""); return !!one; })()`, within, words)
	f.until("a control "+words, tag)
	f.click("[data-pressed]")
}

// types puts text into a field as a pilot pastes it, in place of what it holds.
func (f *front) types(selector, text string) {
	f.T.Helper()
	f.click(selector)
	browser.Eval[bool](f.Tab, fmt.Sprintf(`(document.querySelector(%q).select(), true)`, selector))
	if _, err := chromedp.Call(f.Ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
		f.T.Fatal(err)
	}
	f.Settle()
}

// sees waits until all words can be read in a part of the page.
func (f *front) sees(within string, words ...string) {
	f.T.Helper()
	for _, word := range words {
		if !browser.Eval[bool](f.Tab, fmt.Sprintf(`new Promise((done) => { const end = performance.now() + 30000;
			(function look() { if ([...document.querySelectorAll(%q)].some((part) => part.checkVisibility() && part.innerText.includes(%q))) done(true);
				else if (performance.now() > end) done(false); else setTimeout(look, 20); })(); })`, within, word)) {
			f.T.Fatalf("%s does not say %q but %.600q; %q", within, word, f.text(within), f.text("#fault"))
		}
	}
}

// value is what a field holds.
func (f *front) value(selector string) string {
	f.T.Helper()
	return browser.Eval[string](f.Tab, fmt.Sprintf(`document.querySelector(%q)?.value ?? "no such field"`, selector))
}

// saves presses a button that saves a file and gives the path of what was saved.
func (f *front) saves(b *built, within, words string) string {
	f.T.Helper()
	folder, err := os.MkdirTemp(b.folder, "saved")
	if err != nil {
		f.T.Fatal(err)
	}
	if _, err := chromedp.Call(f.Ctx, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{
		Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder}); err != nil {
		f.T.Fatal(err)
	}
	f.press(within, words)
	for range 500 {
		if names, err := filepath.Glob(filepath.Join(folder, "*.yaml")); err == nil && len(names) == 1 {
			return names[0]
		}
		time.Sleep(20 * time.Millisecond)
	}
	f.T.Fatal("no file was saved")
	return ""
}

// firstBuild are the motor, prop and pack that stand first.
func (f *front) firstBuild() string {
	f.T.Helper()
	f.until("the builds", `document.getElementById("again").hidden && document.getElementById("style") !== null && document.querySelectorAll("#rows tr .score button").length > 0`)
	return f.order()[0]
}

// pilotWithoutTerminal goes from an empty page to a craft that is built, weighed, hovered, heard and learned from.
func pilotWithoutTerminal(t *testing.T, b *built, chromium context.Context, styles *held) {
	// Blank lines, be they many, are no parts.
	address := b.page(t, &held{Name: "drawer.yaml", Drawer: "# mine" + strings.Repeat("\n", 60), Styles: styles.Styles})
	f := &front{browser.Open(t, chromium, address, 390, 844)}
	step := func(name string, do func(t *testing.T)) {
		if t.Failed() {
			return
		}
		t.Run(name, func(t *testing.T) {
			was := f.T
			f.T = t
			defer func() { f.T = was }()
			do(t)
		})
	}
	var first, craft string
	step("an empty page", func(t *testing.T) {
		f.sees("#advice", "No parts yet")
		f.reach("an empty page")
		f.press("#advice", "Add parts")
	})
	step("parts in words", func(t *testing.T) {
		f.types("#parts-words", drawerInWords)
		f.sees("#parts-echo", "m1404-3800", "kv 3800", "k4s-850", "something blue: say what it is", "stator is missing")
		f.press("#parts-echo", "Add 12 parts")
		f.sees("#parts-echo", "Added")
		f.sees("#parts-list", "Motors: 2, 8 pieces", "Packs: 2")
		if got := f.value("#parts-words"); got != "something blue\nkv 99" {
			t.Errorf("what was not understood is left as %q", got)
		}
	})
	step("a fault mended by its field", func(t *testing.T) {
		f.press("#parts-list", "Motors")
		f.press("#parts-list", "m1404-3800")
		field := "#fields-motor-m1404-3800"
		f.sees("label[for=fields-motor-m1404-3800]", "Fields of m1404-3800")
		sound := f.value(field)
		f.types(field, strings.Replace(sound, "kv: 3800", "kv: -3800", 1))
		f.press("[data-of='motor m1404-3800']", "Keep")
		f.sees("[data-of='motor m1404-3800'] .danger", "1 error")
		f.sees("[data-of='motor m1404-3800'] p.danger", "kv must be over 0, got -3800")
		f.types(field, strings.Replace(sound, "kv: 3800", "kv: 3800 # says the can", 1))
		f.press("[data-of='motor m1404-3800']", "Keep")
		f.until("no fault", `!document.querySelector("#parts-list .danger")`)
	})
	step("the first answer", func(t *testing.T) {
		f.press("#places", "Builds")
		first = f.firstBuild()
		f.sees("#advice", "Build", "Expect", "all-up")
		f.sees("#sure", "of 100")
		if !strings.HasPrefix(first, "m1") {
			t.Errorf("the first is %q", first)
		}
	})
	step("priorities", func(t *testing.T) {
		was := f.text("#wishes-line")
		f.press("#wishes-fold", "Priorities")
		browser.Eval[bool](f.Tab, `(document.getElementById("weight-endurance").focus(), true)`)
		f.Do(chromedp.KeyEvent(kb.End))
		f.Settle()
		if got := f.text("#wishes-line"); got == was || !strings.Contains(got, "endurance 10") {
			t.Errorf("the priorities are %q, were %q", got, was)
		}
		f.sees("#sure", "of 100")
		f.press("#wishes", "Reset")
		if got := f.text("#wishes-line"); got != was {
			t.Errorf("after the reset they are %q, were %q", got, was)
		}
		f.press("#wishes-fold", "Priorities")
	})
	step("two side by side", func(t *testing.T) {
		f.click("#rows tr:nth-child(1) label")
		f.click("#rows tr:nth-child(2) label")
		f.sees("#compared", "Largest differences", "Parts")
		f.back()
		f.press("#ticked", "Clear")
	})
	step("built", func(t *testing.T) {
		first = f.firstBuild()
		f.press("#rows tr:nth-child(1)", "Sheet")
		f.sees("#sheet", "Take out of the drawer", "First flight")
		f.press("#sheet", "I built this")
		f.sees("#readings", "Weight ready to fly")
		craft = browser.Eval[string](f.Tab, `document.getElementById("reading-of").selectedOptions[0].textContent`)
		if craft != first {
			t.Errorf("readings are asked of %q, built was %q", craft, first)
		}
	})
	expected := regexp.MustCompile(`read ([\d.]+); expected [\d.]+`)
	reading := func(key, value string) {
		f.until("the questions", `document.querySelector("#reading-form .lead input") !== null`)
		if !browser.Eval[bool](f.Tab, fmt.Sprintf(`document.querySelector("#reading-%s").checkVisibility()`, key)) {
			f.press("#reading-form", "Other readings")
		}
		f.types("#reading-"+key, value)
		f.press("#readings form", "Keep")
		f.sees("#learned", "What changed")
		f.press("#learned", "What was read")
		f.sees("#learned", "expected", "now")
		if got := expected.FindStringSubmatch(f.text("#learned")); got == nil || got[1] != value {
			f.T.Errorf("read was %s, it says %.300q", value, f.text("#learned"))
		}
		f.sees("#learned", "The first build")
	}
	step("weighed", func(t *testing.T) { reading("all_up_g", "199") })
	step("hovered", func(t *testing.T) {
		browser.Eval[bool](f.Tab, `(document.getElementById("learned").replaceChildren(), true)`)
		reading("hover_throttle_pct", "33")
	})
	step("heard", func(t *testing.T) { listensTo(t, b, f) })
	var saved string
	step("saved", func(t *testing.T) {
		f.press("#places", "Parts")
		saved = f.saves(b, "#parts-state", "Save the file")
		if filepath.Base(saved) != "drawer.yaml" {
			t.Errorf("saved as %s", saved)
		}
		content, err := os.ReadFile(saved)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"kv: 3800 # says the can\n", "all_up_g: 199\n", "hover_throttle_pct: 33\n", "hover_rpm_from: heard", "fleet:\n"} {
			if !strings.Contains(string(content), word) {
				t.Errorf("the file lacks %q:\n%s", word, content)
			}
		}
		if m, p := strings.Index(string(content), "m1404-3800"), strings.Index(string(content), "p3x2.4x3"); m < 0 || p < m {
			t.Error("the parts do not stand in the order in which they were written")
		}
	})
	step("the same first build on the command line", func(t *testing.T) {
		if out, err := exec.Command(b.command, "check", "--drawer", saved).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		if out, err := exec.Command(b.command, "learn", "--drawer", saved).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		f.press("#places", "Builds")
		first = f.firstBuild()
		if got := order(b.json(t, "rank", "--drawer", saved))[0]; got != first {
			t.Errorf("the command ranks %q first, the page %q", got, first)
		}
	})
	again := func(t *testing.T) {
		if got := f.firstBuild(); got != first {
			t.Errorf("%q stands first, it was %q", got, first)
		}
		f.press("#places", "Parts")
		f.sees("#parts-list", "Motors: 2")
		if got := f.value("#parts-words"); got != "something blue\nkv 99" {
			t.Errorf("what was typed is now %q", got)
		}
		f.press("#places", "Readings")
		f.sees("#readings", craft)
		f.press("#places", "Builds")
	}
	step("after a reload", func(t *testing.T) {
		f.Do(chromedp.Reload())
		again(t)
	})
	step("offline", func(t *testing.T) {
		if _, err := chromedp.Call(f.Ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true}); err != nil {
			t.Fatal(err)
		}
		f.Do(chromedp.Navigate("about:blank"), chromedp.Navigate(address))
		again(t)
		f.Quiet()
	})
}

// listensTo opens a recording of a synthetic hover, 3 % off what the page expects of the craft, and keeps what is heard.
func listensTo(t *testing.T, b *built, f *front) {
	f.press("#readings", "Listen to a hover")
	f.sees("#listen-known", "blades", "Expected: about")
	said := regexp.MustCompile(`(\d) blades[\s\S]*about ([\d,]+) rpm`).FindStringSubmatch(f.text("#listen-known"))
	if said == nil {
		t.Fatalf("it says %q", f.text("#listen-known"))
	}
	n, _ := strconv.Atoi(said[1])
	expected, _ := strconv.ParseFloat(strings.ReplaceAll(said[2], ",", ""), 64)
	rpm := 1.03 * expected
	path := filepath.Join(b.folder, "walk.wav")
	if err := os.WriteFile(path, wav(hoverAt(rpm, n, 10, 0.05), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	f.Do(chromedp.SetUploadFiles(chromedp.CSS("#listen-file"), []string{path}))
	f.sees("#heard", "Rotors in hover")
	heard := heardRPM.FindStringSubmatch(f.text("#heard"))
	if heard == nil {
		t.Fatalf("it heard %.300q", f.text("#heard"))
	}
	// The wanderings of the four rotors leave a mean within 1 % of what the recording was made with.
	if got, _ := strconv.ParseFloat(heard[1], 64); math.Abs(got/rpm-1) > 0.01 {
		t.Errorf("%.0f rpm are heard, it was made with %.0f", got, rpm)
	}
	f.press("#heard", "Keep")
	f.sees("#heard", "What changed")
	f.press("#heard", "What was read")
	f.sees("#heard", "rotor speed in hover: read")
	if n := browser.Eval[int](f.Tab, `[...document.querySelectorAll("#heard button")].filter((b) => b.textContent.startsWith("Undo")).length`); n != 1 {
		f.T.Errorf("it can be undone by %d buttons", n)
	}
}
