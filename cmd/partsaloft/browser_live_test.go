package main

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var axes = []string{"grip", "endurance", "smoothness", "top_speed"}

// The page in a real browser: one browser and one page a drawer, a tab a test.
func TestInBrowser(t *testing.T) {
	b := browser(t)
	club, racer := pageOf(t), pageOf(t, "--drawer", examples+"racer.yaml", "--style", "race")
	for _, c := range []struct {
		name string
		test func(*testing.T, opener)
	}{
		{"opens as the ranking", opensAsRanking},
		{"limits filter", limitsFilter},
		{"selection compares", selectionCompares},
		{"back returns", backReturns},
		{"a phone's first screen", phoneFirst},
		{"targets and text are large enough", targetsAndText},
		{"plot shows and steps", plotShows},
		{"keyboard reaches all", keyboardReaches},
		{"sheet prints one page", sheetPrints},
		{"address keeps a view", addressKeeps},
		{"fits every width", fitsWidths},
		{"names for everything", namesEverything},
		{"contrast and schemes", contrast},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.test(t, func(t *testing.T, hash string, width, height int64) *tab { return open(t, b, club+hash, width, height) })
		})
	}
	t.Run("weights and limits rank as the command does", func(t *testing.T) {
		rankAgrees(t, open(t, b, racer, 1200, 900))
	})
	t.Run("its policy stops scripts", func(t *testing.T) { policyStops(t, open(t, b, racer, 800, 600)) })
	t.Run("markup in a drawer stays text", func(t *testing.T) {
		path, note := hostile(t)
		markupIsText(t, open(t, b, pageOf(t, "--drawer", path, "--style", "race"), 1200, 900), filepath.Base(path), note)
	})
}

type opener = func(t *testing.T, hash string, width, height int64) *tab

// same compares the first places of the page with those of the command.
func same(t *testing.T, what string, page, command []place) {
	t.Helper()
	if len(page) < len(command) || len(command) == 0 && len(page) > 0 {
		t.Errorf("%s: the page lists %d, the command %d", what, len(page), len(command))
		return
	}
	for i, want := range command {
		shown, err := strconv.ParseFloat(page[i].Score, 64)
		exact, _ := strconv.ParseFloat(want.Score, 64)
		if page[i].Parts != want.Parts || err != nil || math.Abs(shown-exact) > 0.0551 {
			t.Errorf("%s: place %d is %v, the command has %v", what, i+1, page[i], want)
			return
		}
	}
}

func opensAsRanking(t *testing.T, open opener) {
	b := open(t, "", 1600, 900)
	same(t, "at the opening", b.ranked(), rank(t, 0))
	if got := b.text("#status"); !strings.Contains(got, b.ranked()[0].Parts) {
		t.Errorf("the status says %q", got)
	}
	// A slider, moved by its keys, re-ranks at once.
	b.Do(chromedp.Click(chromedp.CSS("#wishes-fold summary")), chromedp.Focus(chromedp.ID("weight-endurance")))
	b.press(kb.End)
	if got := b.text("#share-endurance"); got != "10 (56 %)" {
		t.Errorf("the slider says %q", got)
	}
	same(t, "minutes first", b.ranked(), rank(t, 0, "--weights", "grip=4,endurance=10,smoothness=3,top_speed=1"))
	if got, want := b.text("#command"), "partsaloft rank --style freestyle --weights "+
		"grip=4,endurance=10,smoothness=3,top_speed=1 --limit thrust_to_weight=2.."; got != want {
		t.Errorf("the command line is %q, want %q", got, want)
	}
	b.Do(chromedp.Click(chromedp.ID("reset")))
	b.Settle()
	same(t, "after going back", b.ranked(), rank(t, 0))
	for _, axis := range axes {
		b.set("weight-"+axis, "0")
	}
	if got := b.text("#status"); !strings.Contains(got, "All weights are 0") {
		t.Errorf("without weights the status says %q", got)
	}
	b.Quiet()
}

// Property, in the browser: for a grid of weights and limits the page's first places are the command's.
func rankAgrees(t *testing.T, b *tab) {
	grid := [][4]float64{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 0, 1}, {4, 1, 1, 4}, {0.25, 10, 2.5, 0}, {3, 0, 7.75, 1.25}}
	limits := []map[string]string{
		{}, {"all_up_g": "520"}, {"style_minutes": "4.5", "hover_throttle_pct": "30"},
		{"all_up_g": "480.5", "thrust_to_weight": "7.35", "top_speed_mps": "30.5"},
	}
	atMost := map[string]bool{"all_up_g": true, "hover_throttle_pct": true}
	empty := 0
	for l, limit := range limits {
		for g, w := range grid {
			if !long() && g%len(limits) != l {
				continue
			}
			var words []string
			var fields [][2]string
			for a, axis := range axes {
				fields = append(fields, [2]string{"weight-" + axis, fmt.Sprint(w[a])})
				words = append(words, fmt.Sprintf("%s=%g", axis, w[a]))
			}
			// The style's own limits stay where nothing is said.
			args := []string{"--drawer", examples + "racer.yaml", "--style", "race", "--top", "8", "--weights",
				strings.Join(words, ",")}
			for _, key := range []string{"all_up_g", "style_minutes", "hover_throttle_pct", "thrust_to_weight",
				"top_speed_mps"} {
				value, ok := limit[key]
				opening := map[string]string{"style_minutes": "1.5", "thrust_to_weight": "3.5"}[key]
				if !ok {
					value = opening
				}
				fields = append(fields, [2]string{"limit-" + key, value})
				switch {
				case value == "":
				case atMost[key]:
					args = append(args, "--limit", key+"=.."+value)
				default:
					args = append(args, "--limit", key+"="+value+"..")
				}
			}
			b.setAll(fields)
			code := 0
			if strings.Contains(b.text("#status"), "Nothing keeps these limits") {
				code = 4
				empty++
			}
			same(t, strings.Join(args[4:], " "), b.ranked(), rank(t, code, args...))
		}
	}
	if empty > len(grid) {
		t.Errorf("%d of the grid leave nothing to compare", empty)
	}
	b.Quiet()
}

func limitsFilter(t *testing.T, open opener) {
	b := open(t, "", 1200, 900)
	kept := func() int {
		n, err := strconv.Atoi(strings.ReplaceAll(regexp.MustCompile(`([\d,]+) of the`).FindStringSubmatch(b.text("#status"))[1], ",", ""))
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	all := kept()
	b.set("limit-all_up_g", "250")
	under := kept()
	if under >= all || under == 0 {
		t.Errorf("%d under 250 g of %d", under, all)
	}
	for _, cell := range eval[[]string](b,
		`[...document.querySelectorAll("#rows tr td:nth-of-type(8)")].map((cell) => cell.textContent)`) {
		if g, err := strconv.ParseFloat(cell, 64); err != nil || g > 250 {
			t.Errorf("a row of %q g is listed under 250 g", cell)
		}
	}
	same(t, "under 250 g", b.ranked(), rank(t, 0, "--limit", "all_up_g=..250"))
	// What lies between two steps goes to the tighter one, and is shown.
	b.set("limit-all_up_g", "249.97")
	if got := eval[string](b, `document.getElementById("limit-all_up_g").value`); got != "249.9" {
		t.Errorf("249.97 g is shown as %s", got)
	}
	b.set("limit-all_up_g", "10")
	if got := b.text("#status"); !strings.Contains(got, "Nothing keeps these limits") ||
		!strings.Contains(got, "Without the limit on all-up weight") || len(b.ranked()) != 0 {
		t.Errorf("under 10 g the status says %q, %d rows", got, len(b.ranked()))
	}
	b.set("limit-all_up_g", "")
	if kept() != all {
		t.Errorf("%d are kept without the limit, want %d", kept(), all)
	}
	b.Quiet()
}

func selectionCompares(t *testing.T, open opener) {
	b := open(t, "", 1600, 900)
	if view := b.view(); view != "builds" {
		t.Errorf("nothing is picked, yet %s is shown", view)
	}
	for n, i := range []int{1, 4, 9} {
		b.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf("#rows tr:nth-child(%d) input", i))))
		b.Settle()
		// One is kept in sight, two lead to their comparison at once.
		if view, want := b.view(), []string{"builds", "compare", "compare"}[n]; view != want {
			t.Errorf("%d ticked: %s is shown", n+1, view)
		}
		if n == 1 {
			b.back()
		}
	}
	if free := b.count("#rows input:not(:checked):not([disabled])"); free != 0 {
		t.Errorf("%d more can be picked beyond three", free)
	}
	if n := b.count(".compared thead th"); n != 4 {
		t.Errorf("%d columns are compared", n-1)
	}
	if got := b.text(".compared .group"); got != "Largest differences" {
		t.Errorf("the comparison begins with %q", got)
	}
	if rows, spans := b.count(".compared tbody tr:not(.group)"), b.count(".compared .span"); rows < 35 || spans < 60 {
		t.Errorf("%d lines with %d bars", rows, spans)
	}
	captions := eval[[]string](b, `[...document.querySelectorAll("#panels figcaption")].map((c) => c.textContent)`)
	if len(captions) != 3 || b.count("#panels svg") != 4 || b.count("#panels .curve") != 12 ||
		b.count("#panels .limitline") == 0 {
		t.Errorf("panels: %q, %d drawings, %d curves", captions, b.count("#panels svg"), b.count("#panels .curve"))
	}
	// Three marks differ in shape, not in colour alone.
	marks := eval[[]string](b, `[...document.querySelectorAll(".compared .mark path")].map((path) => path.getAttribute("d"))`)
	if slices.Sort(marks); len(slices.Compact(marks)) != 3 {
		t.Errorf("the marks are not of three shapes: %q", marks)
	}
	// The figures are those of explain.
	explained := partsaloft(t, 0, "explain", "1", "--quiet", "--format", "json")
	thrust := regexp.MustCompile(`"thrust_to_weight": \{\s*"value": ([\d.]+)`).FindStringSubmatch(explained)
	shown := eval[string](b, `[...document.querySelectorAll(".compared tr")].find((row) => row.firstChild.textContent.startsWith("thrust-to-weight")).children[1].firstChild.textContent`)
	_, decimals, _ := strings.Cut(shown, ".")
	lastPlace := math.Pow(10, -float64(len(decimals)))
	if want, _ := strconv.ParseFloat(thrust[1], 64); math.Abs(atof(t, shown)-want) > 0.51*lastPlace {
		t.Errorf("thrust-to-weight is shown as %s, explain has %s", shown, thrust[1])
	}
	// A limit inside the range of a figure is a doubt, and said.
	up := eval[string](b, `[...document.querySelectorAll(".compared tr")].find((row) => row.firstChild.textContent.startsWith("all-up weight")).children[1].firstChild.textContent`)
	b.set("limit-all_up_g", fmt.Sprint(atof(t, up)+1))
	if got := b.text("#compared"); !strings.Contains(got, "A: all-up weight may fall on either side of the limit of") {
		t.Errorf("with a limit inside the range: %.120q", got)
	}
	b.Do(chromedp.Click(chromedp.CSS(`button[aria-label="Take B out"]`)))
	b.Settle()
	if n := b.count(".compared thead th"); n != 3 || eval[string](b, `document.activeElement.tagName`) == "BODY" {
		t.Errorf("%d columns are left, focus on %s", n-1, eval[string](b, `document.activeElement.tagName`))
	}
	b.set("limit-all_up_g", "100")
	if got := b.text("#compared"); !strings.Contains(got, "break the limits above") {
		t.Errorf("picked outside the limits: %.80q", got)
	}
	b.Quiet()
}

func atof(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.ReplaceAll(text, "−", "-"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func plotShows(t *testing.T, open opener) {
	b := open(t, "", 1600, 900)
	if n := b.count("#field .point"); n < 300 {
		t.Errorf("%d points are drawn", n)
	}
	// Hovering over the mark of the first shows it.
	box := eval[[]float64](b, `(() => { document.getElementById("field").scrollIntoView({ behavior: "instant" }); const r = document.querySelector("#field .seen").getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`)
	b.Do(chromedp.MouseEvent("mouseMoved", box[0], box[1]))
	b.Settle()
	if got := b.text("#readout"); !strings.Contains(got, "number ") || !strings.Contains(got, " kV;") {
		t.Errorf("hovering shows %q", got)
	}
	b.set("choose-x", "all_up_g")
	b.set("choose-y", "style_minutes")
	if got := eval[string](b, `document.getElementById("field").getAttribute("aria-label")`); !strings.Contains(got,
		"over all-up weight") {
		t.Errorf("the plot calls itself %q", got)
	}
	// The keys step along the front: it rises with the weight.
	b.Do(chromedp.Focus(chromedp.ID("field")))
	minutes := func() float64 {
		return atof(t, regexp.MustCompile(`([\d.]+)\x{a0}min`).FindStringSubmatch(b.text("#readout"))[1])
	}
	b.press(kb.ArrowRight)
	last := minutes()
	for range 3 {
		b.press(kb.ArrowRight)
		if now := minutes(); now <= last {
			t.Errorf("along the front %.1f min follow %.1f min", now, last)
		} else {
			last = now
		}
	}
	b.press(kb.Enter)
	if got := b.text("#ticked"); !strings.Contains(got, "is ticked") {
		t.Errorf("Enter picks: %q", got)
	}
	b.press("s")
	if !strings.Contains(b.text("#sheet-head"), "Bench sheet") ||
		eval[string](b, `document.activeElement.id`) != "sheet-head" {
		t.Error("S does not open the bench sheet")
	}
	b.Quiet()
}

// Every control that can be seen is reached by Tab, and what has the focus can be seen.
func keyboardReaches(t *testing.T, open opener) {
	b := open(t, "", 1200, 900)
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) input")))
	b.Settle()
	eval[bool](b, `(document.activeElement.blur(), scrollTo(0, 0), true)`)
	total := eval[int](b, `(() => { window.reached = new Set(); addEventListener("focusin", (event) => reached.add(event.target));
		window.wanted = [...document.querySelectorAll("button, input, select, summary, a[href], [tabindex='0']")].filter((x) => !x.disabled && !x.hidden && x.checkVisibility()); return wanted.length; })()`)
	if total < 60 {
		t.Fatalf("only %d controls", total)
	}
	for range total + 5 {
		b.Do(chromedp.KeyEvent(kb.Tab))
	}
	if missed := eval[[]string](b,
		`wanted.filter((x) => !reached.has(x)).map((x) => x.outerHTML.slice(0, 90))`); len(missed) > 0 {
		t.Errorf("Tab does not reach %q", missed)
	}
	b.Do(chromedp.Focus(chromedp.CSS("#rows tr:nth-child(2) input")))
	b.press(" ")
	b.Do(chromedp.Focus(chromedp.CSS("#rows tr:nth-child(3) input")))
	b.press(" ")
	if got := eval[string](b, `document.activeElement.getAttribute("aria-label")`); !strings.HasPrefix(got,
		"compare number 3") {
		t.Errorf("after picking, the focus is on %q", got)
	}
	if style := eval[string](b, `getComputedStyle(document.activeElement).outlineStyle`); style == "none" {
		t.Error("the focus cannot be seen")
	}
	b.Quiet()
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

func sheetPrints(t *testing.T, open opener) {
	b := open(t, "", 360, 780)
	if list, err := chromedp.Run(b.Ctx, chromedp.PrintToPDF()); err != nil || len(pdfPage.FindAll(list, -1)) < 2 {
		t.Fatalf("the list alone takes %d pages: pages cannot be counted (%v)", len(pdfPage.FindAll(list, -1)), err)
	}
	step := 17
	if long() {
		step = 9
	}
	for i := 1; i <= 20; i += step {
		b.Do(chromedp.Click(chromedp.CSS(fmt.Sprintf("#rows tr:nth-child(%d) .score button", i))))
		b.Settle()
		for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(b.Ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
				t.Errorf("the sheet of number %d takes %d pages of %s", i, n, name)
			}
		}
		if i+step <= 20 {
			b.back()
		}
	}
	for _, word := range []string{"Take out of the drawer", "all-up", "Fit", "Watch for", "Before the first flight",
		"flight 1",
		"throttle in hover, pack half empty"} {
		if !strings.Contains(b.text("#sheet"), word) {
			t.Errorf("the sheet lacks %q", word)
		}
	}
	if boxes := b.count("#sheet .box"); boxes != 16 || eval[bool](b,
		`[...document.querySelectorAll("#sheet .box")].some((box) => box.textContent)`) {
		t.Errorf("%d boxes, all empty", boxes)
	}
	if _, err := chromedp.Call(b.Ctx, emulation.SetEmulatedMedia,
		emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	if shown := eval[[]string](b, `[...document.querySelectorAll("main > *, body > header, body > footer")].filter((x) => x.checkVisibility()).map((x) => x.id)`); !slices.Equal(shown, []string{"sheet"}) {
		t.Errorf("on paper stand %q", shown)
	}
	b.Quiet()
}

func addressKeeps(t *testing.T, open opener) {
	b := open(t, "", 1200, 900)
	b.set("weight-grip", "9.5")
	b.set("limit-all_up_g", "250")
	b.set("limit-thrust_to_weight", "")
	b.set("choose-x", "top_speed_mps")
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) input")))
	b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(3) .score button")))
	b.Settle()
	hash := eval[string](b, `location.hash`)
	again := open(t, hash, 1200, 900)
	for _, what := range []string{`document.getElementById("rows").textContent`,
		`document.getElementById("sheet").textContent`, `document.getElementById("ticked").textContent`,
		`[...document.querySelectorAll("form input, select")].map((x) => x.value).join()`} {
		if one, other := eval[string](b, what), eval[string](again, what); one != other || one == "" {
			t.Errorf("%s comes back from %s as %.80q, want %.80q", what, hash, other, one)
		}
	}
	// Going to another view in the same tab, and to what makes no sense.
	eval[bool](again, `(location.hash = "#w=1_0_0_0&style_minutes=8") && true`)
	again.Settle()
	same(t, "after the address changed", again.ranked(), rank(t, 0, "--weights", "grip=1", "--limit", "style_minutes=8.."))
	odd := open(t, "#w=x_1&picks=nobody_1&all_up_g=heavy&x=%22&build=<b>&view=sheet&view=constructor&__proto__=1", 1200, 900)
	same(t, "with an odd address", odd.ranked(), rank(t, 0))
	for _, one := range []*tab{b, again, odd} {
		one.Quiet()
	}
}
