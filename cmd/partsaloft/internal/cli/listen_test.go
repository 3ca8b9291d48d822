package cli

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
)

// recordingOf is a WAV file of four rotors of three blades that turn about a speed, in noise; 0 rpm is noise alone.
func recordingOf(t *testing.T, rpm float64) string {
	t.Helper()
	const rate, seconds = 16000, 4
	r := rand.New(rand.NewPCG(3, 4))
	out := make([]float64, rate*seconds)
	for range 4 {
		if rpm == 0 {
			break
		}
		speed, phase := rpm/60*(1+0.008*r.NormFloat64()), r.Float64()
		for i := range out {
			phase += speed * (1 + 0.004*math.Sin(0.8*float64(i)/rate+speed)) / rate
			for h := 1.0; h <= 6; h++ {
				out[i] += math.Sin(2*math.Pi*3*h*phase) / h
			}
		}
	}
	form := []byte{1, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2, 0, 16, 0}
	binary.LittleEndian.PutUint32(form[4:], rate)
	binary.LittleEndian.PutUint32(form[8:], 2*rate)
	var b bytes.Buffer
	b.WriteString("RIFF\x00\x00\x00\x00WAVEfmt \x10\x00\x00\x00")
	b.Write(form)
	b.WriteString("data")
	_ = binary.Write(&b, binary.LittleEndian, uint32(2*len(out)))
	for _, x := range out {
		_ = binary.Write(&b, binary.LittleEndian, int16(2000*(x+r.NormFloat64())))
	}
	return writeTemp(t, "hover.wav", b.String())
}

type listenJSON struct {
	Heard        bool
	Reason       string
	RPM          *float64
	SDPct        *float64 `json:"sd_pct"`
	PredictedRPM float64  `json:"predicted_rpm"`
	Entry        int
	PropDoubt    *struct {
		Before float64 `json:"before_pct"`
		After  float64 `json:"after_pct"`
	} `json:"prop_doubt"`
	Changes []struct {
		Figures []struct {
			Before, After struct{ Low, High *float64 }
		}
	}
}

func listened(t *testing.T, args ...string) listenJSON {
	t.Helper()
	got := run(t, append([]string{"listen", "--format", "json", "--quiet"}, args...)...)
	if got.code != 0 {
		t.Fatalf("%v: exit %d\n%s", args, got.code, got.err)
	}
	var x listenJSON
	if err := json.Unmarshal([]byte(got.out), &x); err != nil {
		t.Fatal(err)
	}
	return x
}

// Independent: a recording made at a known speed is heard as that, goes into the log, and narrows what learn says of
// the prop; what is no craft is not heard, and the log stays as it was.
func TestListen(t *testing.T) {
	skipLong(t)
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		t.Fatal(err)
	}
	drawer := writeTemp(t, "club.yaml", string(content))
	noise := listened(t, recordingOf(t, 0), "night ferry", drawer, "--log")
	if after, _ := os.ReadFile(drawer); noise.Heard || noise.Reason == "" || noise.RPM != nil || !bytes.Equal(after, content) {
		t.Fatalf("noise: %+v", noise)
	}
	want := 1.06 * noise.PredictedRPM
	plot := filepath.Join(t.TempDir(), "s.svg")
	got := listened(t, recordingOf(t, want), "night ferry", drawer, "--log", "--date", "2026-05-01", "--plot", plot)
	if !got.Heard || math.Abs(*got.RPM/want-1) > 0.01 || got.Entry == 0 || got.PropDoubt == nil ||
		len(got.Changes) == 0 {
		t.Fatalf("predicted %.0f rpm, made at %.0f: %+v", noise.PredictedRPM, want, got)
	}
	if got.PropDoubt.After > got.PropDoubt.Before || got.PropDoubt.After <= 0 {
		t.Errorf("doubt of the prop from %g to %g %%", got.PropDoubt.Before, got.PropDoubt.After)
	}
	after, err := os.ReadFile(drawer)
	if err != nil || !strings.Contains(string(after), "hover_rpm_from: heard") {
		t.Fatal("the reading is not in the log", err)
	}
	for line := range strings.Lines(string(content)) {
		if !strings.Contains(string(after), line) {
			t.Fatalf("the drawer lost %q", line)
		}
	}
	if d := loadDrawer(t, drawer); len(d.Log) != got.Entry || *d.Log[got.Entry-1].HoverRPM != math.Round(*got.RPM) {
		t.Error("the log does not hold the reading")
	}
	if svg, err := os.ReadFile(plot); err != nil || !bytes.Contains(svg, []byte("tones")) {
		t.Error("no plot", err)
	}
}

// wordsOf is a text a line a paragraph, with # for its numbers: what they are is held elsewhere.
func wordsOf(text string) string {
	var b strings.Builder
	for paragraph := range strings.SplitSeq(text, "\n\n") {
		number := false
		for _, r := range strings.Join(strings.Fields(paragraph), " ") {
			digit := r >= '0' && r <= '9' || number && r == '.'
			if digit && !number {
				b.WriteByte('#')
			} else if !digit && r != '─' {
				b.WriteRune(r)
			}
			number = digit
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Regression: what listen prints where a craft is heard, where it is not, by parts, and in other formats.
func TestGoldenListen(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	d := loadDrawer(t, drawer)
	var p *inventory.Parts
	for i := range d.Fleet {
		if d.Fleet[i].Name == "Tender" {
			p = &d.Fleet[i].Parts
		}
	}
	if p == nil {
		t.Fatal("no tender")
	}
	pick := "motor=" + p.Motor + ",prop=" + p.Prop + ",pack=" + p.Pack + ",frame=" + p.Frame + ",board=" + p.Board
	heard, noise := recordingOf(t, 20_500), recordingOf(t, 0)
	for name, args := range map[string][]string{
		"listen":       {heard, "tender", drawer},
		"listen-pick":  {heard, drawer, "--pick", pick, "--weight", "4oz"},
		"listen-noise": {noise, "tender", drawer},
	} {
		for _, format := range []string{"table", "csv"} {
			if name != "listen" && format != "table" {
				continue
			}
			got := run(t, append([]string{"listen", "--quiet", "--format", format}, args...)...)
			if got.code != 0 {
				t.Fatalf("%v: exit %d\n%s", args, got.code, got.err)
			}
			golden(t, name+"."+format, wordsOf(got.out))
		}
	}
	for name, args := range map[string][]string{
		"listen-nobody": {noise, "nobody", drawer}, "listen-video": {writeTemp(t, "hover.mp4", "\x00\x00\x00\x20ftypisom"), drawer},
		"listen-cut": {writeTemp(t, "hover.flac", "fLaC\x00\x00\x00\x22"), "tender", drawer},
	} {
		golden(t, name+".refused", run(t, append([]string{"listen"}, args...)...).err)
	}
}

func TestListenRefuses(t *testing.T) {
	video := writeTemp(t, "hover.m4a", "\x00\x00\x00\x20ftypM4A ")
	text := writeTemp(t, "hover.txt", "no sound")
	cut := writeTemp(t, "cut.wav", "RIFF\x00\x00\x00\x00WAVEfmt ")
	drawer := clubCopy(t)
	for _, c := range []struct {
		args []string
		code int
		say  string
	}{
		{[]string{video}, 3, "pocket page"},
		{[]string{text}, 3, "WAV"},
		{[]string{cut}, 3, "no samples"},
		{[]string{recordingOf(t, 0), "nobody", drawer}, 2, "--pick"},
		{[]string{recordingOf(t, 0), "--log", "--drawer", "-"}, 2, "--drawer"},
		{nil, 2, ""},
	} {
		if got := run(t, append([]string{"listen"}, c.args...)...); got.code != c.code || !strings.Contains(got.err, c.say) {
			t.Errorf("%v: exit %d, %s", c.args, got.code, got.err)
		}
	}
}
