package main

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/browser"
)

// The synthetic hover.
const (
	hoverRPM    = 20300.0
	hoverBlades = 3
	hoverRateHz = 48000
)

// skiff is a drawer with one craft, which is predicted to hover at some 19 000 rpm.
const skiff = `# One craft.
motors:
  - {id: m1303.5-51, count: 4, stator: "1303.5", kv: 5150, mass_g: 6.1, shaft_mm: 1.5, cells: [3, 4],
     resistance_mohm: 155, no_load_a: 0.6, no_load_v: 10, max_current_a: 9}
props:
  - {id: p2-24x3, count: 4, size: 2.0x2.4x3, mass_g: 0.72, bore_mm: 1.5}
packs:
  - {id: k4s-470, size: 4S 470 90C, mass_g: 54, connector: XT30, cell_resistance_mohm: 17.5}
frames:
  - {id: f2-dory, mass_g: 17.4, max_prop_in: 2.05}
boards:
  - {id: b22-24, esc_current_a: 22, esc_burst_a: 28, cells: [2, 4], mass_g: 8.8, connector: XT30}
fleet:
  - {name: Skiff, keeps: false, parts: {motor: m1303.5-51, prop: p2-24x3, pack: k4s-470, frame: f2-dory, board: b22-24}}
log:
  - {date: 2026-03-21, all_up_g: 113.5, parts: {motor: m1303.5-51, prop: p2-24x3, pack: k4s-470, frame: f2-dory,
     board: b22-24}}
`

// hover is a synthetic hover of the skiff.
func hover(seconds, level float64) []float64 { return hoverAt(hoverRPM, hoverBlades, seconds, level) }

// hoverAt is a synthetic hover of four rotors in white noise: each wanders by 0.5 % at its own pace, with six harmonics
// that fall by 4 dB each. Without level it is noise alone.
func hoverAt(rpm float64, blades int, seconds, level float64) []float64 {
	r := rand.New(rand.NewPCG(7, 5))
	x := make([]float64, int(seconds*hoverRateHz))
	for range 4 {
		off, phase, wander := 1+0.006*(r.Float64()-0.5), 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64()
		turn := 0.3 + 0.3*r.Float64()
		for i := range x {
			t := float64(i) / hoverRateHz
			phase += 2 * math.Pi * rpm / 60 * float64(blades) * off * (1 + 0.005*math.Sin(2*math.Pi*turn*t+wander)) / hoverRateHz
			amplitude := level
			for h := 1.0; h <= 6; h++ {
				x[i] += amplitude * math.Sin(h*phase+h*h)
				amplitude *= 0.63
			}
		}
	}
	for i := range x {
		x[i] += 0.1 * r.NormFloat64()
	}
	return x
}

// wav is a WAV file of 16 bit with the same in every channel.
func wav(x []float64, channels int) []byte {
	b := []byte("RIFF\x00\x00\x00\x00WAVEfmt ")
	for _, v := range [...]uint32{16, uint32(channels)<<16 | 1, hoverRateHz, uint32(2 * channels * hoverRateHz),
		16<<16 | uint32(2*channels)} {
		b = binary.LittleEndian.AppendUint32(b, v)
	}
	b = binary.LittleEndian.AppendUint32(append(b, "data"...), uint32(2*channels*len(x)))
	for _, v := range x {
		for range channels {
			b = binary.LittleEndian.AppendUint16(b, uint16(int16(math.Round(32767*max(-1, min(1, v))))))
		}
	}
	binary.LittleEndian.PutUint32(b[4:], uint32(len(b)-8))
	return b
}

// sounds are files to listen to.
func sounds(t *testing.T, folder string) {
	t.Helper()
	ten := hover(10, 0.05)
	for name, content := range map[string][]byte{
		"hover.wav": wav(ten, 1), "noise.wav": wav(hover(6, 0), 1), "silence.wav": wav(make([]float64, 5*hoverRateHz), 1),
		"short.wav": wav(ten[:hoverRateHz], 1), "words.wav": []byte("These are words, no sound.\n"), "nothing.wav": {},
	} {
		if err := os.WriteFile(filepath.Join(folder, name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	// Ten minutes, as a recorder left running makes: 115 MB.
	long, err := os.Create(filepath.Join(folder, "long.wav"))
	if err != nil {
		t.Fatal(err)
	}
	defer long.Close()
	head := wav(nil, 2)
	binary.LittleEndian.PutUint32(head[40:], 60*uint32(len(ten)*4))
	if _, err := long.Write(head); err != nil {
		t.Fatal(err)
	}
	for range 60 {
		if _, err := long.Write(wav(ten, 2)[44:]); err != nil {
			t.Fatal(err)
		}
	}
}

// heardRPM finds the speed in what the page says.
var heardRPM = regexp.MustCompile(`Rotors in hover: (\d+) rpm ± (\d+)`)

// listenWorks tries listening in the page: files that are heard and that are not, the microphone, and what is kept.
func listenWorks(t *testing.T, b *built, chromium context.Context) {
	sounds(t, b.folder)
	if err := os.WriteFile(filepath.Join(b.folder, "skiff.yaml"), []byte(skiff), 0o644); err != nil {
		t.Fatal(err)
	}
	address := b.page(t, &held{Name: "skiff.yaml", Drawer: skiff, Style: question.Style{Name: "freestyle"}})
	tab := &front{browser.Open(t, chromium, address, 390, 844)}
	opened := func(f *front) {
		f.T.Helper()
		f.until("the builds", `document.getElementById("style") !== null`)
		f.click("#places a[data-place=readings]")
		f.until("the readings", `document.getElementById("listen-open") !== null`)
		browser.Eval[bool](f.Tab, `(() => { const of = document.getElementById("reading-of"); of.value = [...of.options].findIndex((o) => o.textContent === "Skiff"); return true; })()`)
		f.click("#listen-open")
		f.until("what is expected", `document.getElementById("listen-known")?.textContent.includes("blades")`)
	}
	opened(tab)
	if got := tab.text("#listen-known"); !strings.Contains(got, "3 blades") || !strings.Contains(got, "113.5 g") {
		t.Errorf("before listening it says %q", got)
	}
	tab.reach("listening")
	tab.click("#listen-known button")
	tab.until("the fields of the prop", `document.querySelector("[data-of='prop p2-24x3'][open] textarea")?.checkVisibility()`)
	tab.back()
	tab.until("what is expected", `document.getElementById("listen-known")?.textContent.includes("blades")`)
	open := func(name string) {
		tab.T.Helper()
		tab.Do(chromedp.SetUploadFiles(chromedp.CSS("#listen-file"), []string{filepath.Join(b.folder, name)}))
		tab.until(name, `document.querySelector("#heard h3") !== null`)
	}
	again := func() { browser.Eval[bool](tab.Tab, `(document.getElementById("heard").replaceChildren(), true)`) }
	for _, c := range []struct{ file, says string }{
		{"words.wav", "finds no sound that it can decode"}, {"nothing.wav", "empty"},
		{"silence.wav", "silent"}, {"noise.wav", "no rotor tones stand out"}, {"short.wav", "too short"},
	} {
		open(c.file)
		if got := tab.text("#heard"); !strings.Contains(got, c.says) || strings.Contains(got, "Keep") {
			t.Errorf("of %s it says %.300q", c.file, got)
		}
		again()
	}
	t.Run("a long file leaves the page at hand", func(t *testing.T) {
		before := scriptS(tab)
		open("long.wav")
		took := scriptS(tab) - before
		t.Logf("scripts of the page took %.0f ms of processor time", 1000*took)
		// No wait can be longer than all of them together.
		if got := tab.text("#heard"); !heardRPM.MatchString(got) || !strings.Contains(got, "Only the first 60 s") ||
			took > 0.25 {
			t.Errorf("scripts take %.2f s, it says %.300q", took, got)
		}
		if got := browser.Eval[float64](tab.Tab, `engine.ask("styles", {}).then((reply) => reply.memory)`); got > 64<<20 {
			t.Errorf("afterwards the engine holds %.0f MB", got/(1<<20))
		}
		again()
	})
	t.Run("heard, kept, learned and undone", func(t *testing.T) {
		open("hover.wav")
		sameAsCommand(t, b, tab)
		if n := browser.Eval[int](tab.Tab, `document.querySelectorAll("#heard .tone.strong").length`); n < 3 {
			t.Errorf("%d tones are drawn", n)
		}
		if got := browser.Eval[string](tab.Tab, `document.querySelector("#heard figure").getAttribute("aria-label")`); !strings.Contains(got, "1 times the blade-passing frequency, 101") {
			t.Errorf("the plot is read as %.300q", got)
		}
		tab.reach("what was heard")
		tab.click("#heard-keep")
		tab.until("what was learned", `document.getElementById("heard").textContent.includes("What changed")`)
		if got := tab.text("#heard"); !strings.Contains(got, "rpm") {
			t.Errorf("what changed: %.500q", got)
		}
		saved := keptDrawer
		if got := browser.Eval[string](tab.Tab, saved); !strings.Contains(got, "hover_rpm_from: heard") ||
			!strings.Contains(got, "# One craft.") {
			t.Error("the drawer does not hold the reading and its comments")
		}
		browser.Eval[bool](tab.Tab, `([...document.querySelectorAll("#heard button")].find((b) => b.textContent.startsWith("Undo")).click(), true)`)
		tab.until("the undoing", `!`+saved+`.includes("hover_rpm_from: heard")`)
		tab.until("the end of it", `document.getElementById("busy").hidden`)
		tab.Do(chromedp.Reload())
		tab.until("listening after a reload", `document.getElementById("listen-known")?.textContent.includes("blades")`)
	})
	t.Run("no microphone", func(t *testing.T) {
		f := &front{browser.Open(t, chromium, address, 390, 844)}
		opened(f)
		f.click("#listen-start")
		f.until("a word on it", `document.getElementById("listen-level").textContent.includes("no microphone")`)
		f.Quiet()
	})
	tab.Quiet()
	fake := "use-file-for-fake-audio-capture=" + filepath.Join(b.folder, "hover.wav")
	for _, c := range []struct{ name, ui, says string }{
		{"microphone", "use-fake-ui-for-media-stream", "Rotors in hover"},
		{"microphone refused", "use-fake-ui-for-media-stream=deny", "did not allow the microphone"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := &front{browser.Open(t, browser.Start(t, "use-fake-device-for-media-stream", c.ui, fake), address, 390, 844)}
			opened(f)
			browser.Eval[bool](f.Tab, `(() => { document.getElementById("listen-wait").append(new Option("1 s", "1", true, true));
				const media = navigator.mediaDevices, get = media.getUserMedia.bind(media);
				media.getUserMedia = async (wish) => { globalThis.wish = wish.audio; return (globalThis.stream = await get(wish)); }; return true; })()`)
			f.click("#listen-start")
			f.until("an end", `document.querySelector("#heard h3, #listen-level .danger") !== null`)
			if got := f.text("#listen-level") + f.text("#heard"); !strings.Contains(got, c.says) {
				t.Errorf("it says %.400q", got)
			}
			if browser.Eval[bool](f.Tab, `globalThis.stream?.getTracks().some((track) => track.readyState === "live") ||
				Object.values(wish).some((filter) => filter !== false)`) {
				t.Error("the microphone is not let go, or its sound was to be filtered")
			}
			f.Quiet()
		})
	}
}

// scriptS is the processor time that the scripts of a page have taken, in s.
func scriptS(f *front) float64 {
	f.T.Helper()
	ticks := performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks}
	if _, err := chromedp.Call(f.Ctx, performance.Enable, ticks); err != nil {
		f.T.Fatal(err)
	}
	r, err := chromedp.Call(f.Ctx, performance.GetMetrics, cdp.Empty{})
	if err != nil {
		f.T.Fatal(err)
	}
	i := slices.IndexFunc(r.Metrics, func(m *performance.Metric) bool { return m.Name == "ScriptDuration" })
	return r.Metrics[i].Value
}

// sameAsCommand holds what the page says of the hover against what it was made with and the command line.
func sameAsCommand(t *testing.T, b *built, f *front) {
	got := heardRPM.FindStringSubmatch(f.text("#heard"))
	if got == nil {
		t.Fatalf("it says %.300q", f.text("#heard"))
	}
	rpm, _ := strconv.ParseFloat(got[1], 64)
	sd, _ := strconv.ParseFloat(got[2], 64)
	if math.Abs(rpm-hoverRPM) > 3*sd || sd > 0.02*hoverRPM {
		t.Errorf("%v ± %v rpm are heard, made with %v", rpm, sd, hoverRPM)
	}
	command := b.json(t, "listen", filepath.Join(b.folder, "hover.wav"), "skiff", "--drawer",
		filepath.Join(b.folder, "skiff.yaml"), "--style", "freestyle")
	said := fmt.Sprint(command["advice"].([]any)[0])
	if !strings.Contains(f.text("#heard h3"), said) {
		t.Errorf("the page says %q, the command %q", f.text("#heard h3"), said)
	}
	document := browser.Eval[object](f.Tab, `(async () => {
		const file = await document.getElementById("listen-file").files[0].arrayBuffer();
		const samples = Float32Array.from(new Int16Array(file, 44), (x) => x / 32768);
		return (await engine.ask("listen", { craft: "skiff", rate_hz: `+strconv.Itoa(hoverRateHz)+`, channels: 1 }, { attached: samples.buffer })).document;
	})()`)
	for _, own := range []string{"words", "spectrum", "entry"} {
		delete(document, own)
		delete(command, own) // the command's log stays as it is
	}
	var d differences
	for _, difference := range d.between("", document, command) {
		t.Errorf("listen%s", difference)
	}
	if d.numbers < 30 {
		t.Errorf("only %d numbers are compared", d.numbers)
	}
}
