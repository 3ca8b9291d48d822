package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"partsaloft/cmd/internal/browser"
)

// engineWorks tries the engine in a page that holds no drawer of its own.
func engineWorks(t *testing.T, b *built, tab *browser.Tab) {
	for _, c := range []struct {
		name string
		test func(*testing.T, *built, *browser.Tab)
	}{
		{"figures are the command line's", figuresAgree},
		{"a large drawer leaves the page at hand", largeDrawer},
		{"a hostile drawer is answered", hostileDrawers},
		{"starts again from what was compiled", startsAgain},
	} {
		t.Run(c.name, func(t *testing.T) {
			was := tab.T
			tab.T = t
			defer func() { tab.T = was }()
			c.test(t, b, tab)
		})
	}
	tab.Quiet()
}

// drawerOf is a drawer of a number of parts, no two alike, most of which go together.
func drawerOf(parts int) string {
	motors, props, packs, frames := parts*34/100, parts*30/100, parts*20/100, parts*8/100
	stators := [...]struct {
		size  string
		massG float64
	}{{"1404", 9.3}, {"1507", 13}, {"2004", 15}, {"2207", 31}, {"2306", 33}}
	var d strings.Builder
	d.WriteString("motors:\n")
	for i := range motors {
		s := stators[i%len(stators)]
		fmt.Fprintf(&d, "  - {id: m%d, stator: %q, kv: %d, mass_g: %.1f}\n", i, s.size, 1500+37*i%3000+7*(i%11),
			s.massG+0.1*float64(i%7))
	}
	d.WriteString("props:\n")
	for i := range props {
		fmt.Fprintf(&d, "  - {id: p%d, diameter_in: %.1f, pitch_in: %.2f, blades: %d}\n", i, 3+0.1*float64(i%22),
			1.8+0.05*float64(i%40), 2+i%2)
	}
	d.WriteString("packs:\n")
	for i := range packs {
		cells, capacity := 3+i%4, 450+13*i
		fmt.Fprintf(&d, "  - {id: k%d, cells: %d, capacity_mah: %d, discharge_c: %d, connector: XT60, mass_g: %d}\n", i, cells,
			capacity, 60+i%40, 40+cells*capacity/45)
	}
	d.WriteString("frames:\n")
	for i := range frames {
		fmt.Fprintf(&d, "  - {id: f%d, max_prop_in: %g, mass_g: %d, motor_spacing_mm: %d}\n", i, 3+0.5*float64(i%5), 40+3*i,
			140+20*(i%5))
	}
	d.WriteString("boards:\n")
	for i := range parts - motors - props - packs - frames {
		fmt.Fprintf(&d, "  - {id: b%d, esc_current_a: %d, mass_g: %d, cells: [3, 6]}\n", i, 25+i, 12+i%9)
	}
	return d.String()
}

// mostMemory bounds what the engine holds, in bytes.
const mostMemory = 512 << 20

// The page answers while the engine ranks 500 parts, is told how far it is, and the engine ends when it is told to.
func largeDrawer(t *testing.T, _ *built, tab *browser.Tab) {
	got := browser.Eval[struct {
		Gap, Told, Stopped float64
		Kind               string
		Results            int
		Memory             float64
		Next               bool
	}](tab, `(async () => {
		const from = performance.now(), found = { gap: 0, told: -1, results: 0 }, stop = new AbortController();
		let last = from, stopped = 0;
		const beat = setInterval(() => { const now = performance.now(); found.gap = Math.max(found.gap, now - last); last = now; }, 10);
		setTimeout(() => { stopped = performance.now(); stop.abort(); }, 3000);
		const reply = await engine.ask("rank", {}, { held: `+inJSON(t, &held{Name: "large.yaml", Drawer: drawerOf(500)})+`, signal: stop.signal,
			progress: () => { if (found.told < 0) found.told = performance.now() - from; } });
		found.stopped = performance.now() - stopped;
		clearInterval(beat);
		found.kind = reply.fault ? reply.fault.kind : "";
		found.results = reply.document ? reply.document.results.length : 0;
		found.memory = reply.memory || 0;
		found.next = !!(await engine.ask("styles", {})).document;
		return found;
	})()`)
	t.Logf("longest wait of the page %.0f ms, first word after %.0f ms, ended %.0f ms after it was told (%d results, %q), %.0f MB",
		got.Gap, got.Told, got.Stopped, got.Results, got.Kind, got.Memory/(1<<20))
	if got.Gap > 500 || got.Stopped > 10_000 || got.Memory > mostMemory || !got.Next {
		t.Errorf("%+v", got)
	}
	if got.Kind != "stopped" && got.Results == 0 {
		t.Errorf("it ended with %q and %d results", got.Kind, got.Results)
	}
}

// Drawers that are none, large, deep or full of markup are answered with faults, and the engine answers on.
func hostileDrawers(t *testing.T, b *built, tab *browser.Tab) {
	many := drawerOf(100)
	for name, text := range map[string]string{
		"nothing": "", "no text": "\x00\x01\ufffd", "deep": "motors: " + strings.Repeat("[", 100_000),
		"as deep as may be": "motors: " + strings.Repeat("[", 500), "deep lists": strings.Repeat("- ", 499) + "a\n",
		"long": "motors:\n  - {id: " + strings.Repeat("m", 1<<20) + "}\n", "repeated": strings.Repeat(many, 20),
		"markup": "motors:\n  - {id: \"</script><script>window.broken=1</script>\", kv: 1}\n",
		"anchor": "motors: &a [*a, *a]\n", "numbers": "motors:\n  - {id: m, stator: 1404, kv: 1e400}\n",
	} {
		for _, ask := range []string{"rank", "parts", "check", "fix"} {
			reply := browser.Eval[object](tab, asking(t, ask, object{}, &held{Name: "hostile.yaml", Drawer: text}))
			fault, _ := reply["fault"].(object)
			document, _ := reply["document"].(object)
			faults, _ := document["faults"].([]any)
			if len(faults) == 0 && (fault == nil || fault["kind"] != "drawer") {
				t.Errorf("%s of %s: %.200v", ask, name, reply)
			}
		}
	}
	if browser.Eval[bool](tab, `window.broken !== undefined`) {
		t.Error("markup came to life")
	}
	reply := browser.Eval[object](tab, asking(t, "rank", object{"top": 1}, &held{Name: "sound.yaml", Drawer: drawerOf(30)}))
	if reply["document"] == nil {
		t.Errorf("afterwards: %v", reply)
	}
}

// An engine that was compiled before starts at once.
func startsAgain(t *testing.T, _ *built, tab *browser.Tab) {
	took := browser.Eval[float64](tab, `(async () => {
		await engine.ready;
		const from = performance.now();
		await engine.restart();
		return performance.now() - from;
	})()`)
	t.Logf("started again in %.0f ms", took)
	if reply := browser.Eval[object](tab, `engine.ask("styles", {})`); reply["document"] == nil || took > 5000 {
		t.Errorf("after %.0f ms it says %v", took, reply)
	}
}

// The same bytes come out of every build, and fewer than a page may have.
func TestBuildIsTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("the engine is built twice")
	}
	first, err := engineOnce()
	if err != nil {
		t.Fatal(err)
	}
	second, err := buildEngine(t.Context())
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two builds of %d and %d bytes differ, %v", len(first), len(second), err)
	}
}

// Property: what is written densely is read back as the same bytes.
func TestDenseTextIsReadBack(t *testing.T) {
	var content []byte
	for n := range 300 {
		text := dense(content)
		if got := undense(t, text); !bytes.Equal(got, content) {
			t.Fatalf("%d bytes: %q is read as %v", n, text, got)
		}
		content = append(content, byte(n*n+n>>3))
	}
}

// undense reads as the worker does.
func undense(t *testing.T, text []byte) []byte {
	t.Helper()
	of := letters()
	if len(of) != base {
		t.Fatalf("%d letters", len(of))
	}
	var content []byte
	bits, held := 0, 0
	for i := 0; i < len(text); i += 2 {
		value, width := bytes.IndexByte(of, text[i]), 7
		if i+1 < len(text) {
			value, width = value+base*bytes.IndexByte(of, text[i+1]), 13
			if value&8191 < mostLong {
				width++
			}
		}
		bits |= value << held
		for held += width; held >= 8; held -= 8 {
			content = append(content, byte(bits))
			bits >>= 8
		}
	}
	return content
}
