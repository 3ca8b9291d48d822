package main

import (
	"math"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// What a screen reader is told: every control has a name, the ranking is a table with heads.
func namesEverything(t *testing.T, open opener) {
	for _, width := range []int64{360, 1600} {
		b := open(t, "", width, 900)
		told := func(state string, wanted map[string]int) {
			tree, err := chromedp.Call(b.Ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
			if err != nil {
				t.Fatal(err)
			}
			roles := map[string]int{}
			for _, node := range tree.Nodes {
				if node.Ignored || node.Role == nil {
					continue
				}
				role := strings.Trim(string(node.Role.Value), `"`)
				roles[role]++
				switch role {
				case "slider", "spinbutton", "combobox", "checkbox", "button", "link", "application", "table", "region":
					if node.Name == nil || strings.Trim(string(node.Name.Value), `" `) == "" {
						t.Errorf("%d px, %s: a %s has no name", width, state, role)
					}
				}
			}
			for role, least := range wanted {
				if roles[role] < least {
					t.Errorf("%d px, %s: %d of role %s, want %d", width, state, roles[role], role, least)
				}
			}
		}
		eval[bool](b, `(document.getElementById("wishes-fold").open = true)`)
		b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(1) input")))
		b.Settle()
		told("opened", map[string]int{"slider": 4, "spinbutton": 5, "combobox": 4, "checkbox": 20, "table": 1, "row": 20,
			"rowheader": 20, "columnheader": 4, "region": 3, "heading": 4, "status": 1})
		b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) input")))
		b.Settle()
		told("compared", map[string]int{"table": 1, "row": 40, "rowheader": 40, "columnheader": 2, "region": 1, "heading": 3})
		b.back()
		b.Do(chromedp.Click(chromedp.CSS("#rows tr:nth-child(2) .score button")))
		b.Settle()
		told("sheet", map[string]int{"table": 2, "row": 15, "rowheader": 12, "columnheader": 8, "region": 1, "heading": 6})
		b.Quiet()
	}
}

// Text stands out from its ground by 4.5 to 1 and marks by 3 to 1, in light and in dark (WCAG 2.2,
// success criteria 1.4.3 and 1.4.11; published), and the three marks differ for eyes that do not see
// red, green or blue.
func contrast(t *testing.T, open opener) {
	b := open(t, "", 1200, 900)
	grounds := map[string][3]float64{}
	for _, scheme := range []string{"light", "dark"} {
		if _, err := chromedp.Call(b.Ctx, emulation.SetEmulatedMedia,
			emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme",
				Value: scheme}}}); err != nil {
			t.Fatal(err)
		}
		colour := func(name string) [3]float64 {
			rgb := eval[[]float64](b, `(() => { const probe = document.createElement("span"); document.body.append(probe); probe.className = "probe";
				probe.style.color = "var(--`+name+`)"; const found = getComputedStyle(probe).color.match(/[\d.]+/g).map(Number); probe.remove(); return found; })()`)
			return [3]float64{rgb[0] / 255, rgb[1] / 255, rgb[2] / 255}
		}
		grounds[scheme] = colour("paper")
		for _, pair := range []struct {
			ink, ground string
			least       float64
		}{{"ink", "paper", 7}, {"ink", "sheet", 7}, {"ink", "wash", 7}, {"alarm", "paper", 7}, {"alarm", "sheet", 7}, {"edge", "paper", 3}, {"edge", "sheet", 3},
			{"soft", "paper", 4.5}, {"soft", "sheet", 4.5},
			{"soft", "wash", 4.5},
			{"a", "sheet", 3}, {"b", "sheet", 3}, {"c", "sheet", 3}, {"a", "paper", 3}, {"b", "paper", 3}, {"c", "paper", 3}} {
			if got := ratio(colour(pair.ink), colour(pair.ground)); got < pair.least {
				t.Errorf("%s: %s on %s stands out by %.1f to 1, want %.1f", scheme, pair.ink, pair.ground, got, pair.least)
			}
		}
		for eye, matrix := range dichromats {
			seen := [3][3]float64{}
			for i, name := range []string{"a", "b", "c"} {
				seen[i] = through(matrix, colour(name))
			}
			for i, pair := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
				if d := apart(seen[pair[0]], seen[pair[1]]); d < 0.2 {
					t.Errorf("%s, %s: marks %d are only %.2f apart in Oklab", scheme, eye, i, d)
				}
			}
		}
	}
	placeholder := eval[[]string](b, `(() => { const style = getComputedStyle(document.querySelector("#limits input"), "::placeholder"), probe = getComputedStyle(document.getElementById("limits").querySelector("span"));
		return [style.color, style.opacity, probe.color]; })()`)
	if placeholder[1] != "1" || placeholder[0] != placeholder[2] {
		t.Errorf("placeholders are drawn %q, soft text %s", placeholder[:2], placeholder[2])
	}
	if grounds["light"] == grounds["dark"] {
		t.Error("light and dark are alike")
	}
	b.Quiet()
}

// dichromats are what eyes without one kind of cone make of linear RGB: G. M. Machado, M. M. Oliveira
// and L. A. F. Fernandes, IEEE Trans. Vis. Comput. Graph. 15, 1291, 2009, severity 1.0; published, from
// memory.
var dichromats = map[string][3][3]float64{
	"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan": {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

func linear(c [3]float64) [3]float64 {
	for i, x := range c {
		if x <= 0.04045 {
			c[i] = x / 12.92
		} else {
			c[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	return c
}

func through(m [3][3]float64, c [3]float64) (out [3]float64) {
	c = linear(c)
	for i := range out {
		for k := range c {
			out[i] += m[i][k] * c[k]
		}
		out[i] = min(max(out[i], 0), 1)
	}
	return out
}

// apart is the distance of two linear colours in Oklab (B. Ottosson, 2020; from memory).
func apart(x, y [3]float64) float64 {
	lab := func(c [3]float64) [3]float64 {
		l := math.Cbrt(0.4122214708*c[0] + 0.5363325363*c[1] + 0.0514459929*c[2])
		m := math.Cbrt(0.2119034982*c[0] + 0.6806995451*c[1] + 0.1073969566*c[2])
		s := math.Cbrt(0.0883024619*c[0] + 0.2817188376*c[1] + 0.6299787005*c[2])
		return [3]float64{0.2104542553*l + 0.7936177850*m - 0.0040720468*s, 1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
			0.0259040371*l + 0.7827717662*m - 0.8086757660*s}
	}
	p, q := lab(x), lab(y)
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

// ratio is the contrast ratio of WCAG.
func ratio(x, y [3]float64) float64 {
	light := func(c [3]float64) float64 {
		c = linear(c)
		return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	}
	a, b := light(x), light(y)
	return (max(a, b) + 0.05) / (min(a, b) + 0.05)
}
