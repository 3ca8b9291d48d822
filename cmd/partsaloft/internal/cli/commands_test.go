package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/cmd/partsaloft/internal/topics"
	"partsaloft/examples"
)

const pick = "motor=m1507-27,prop=p3.5-26x3,pack=k4s-720,frame=f3.5-yawl,board=b22-24"

// Regression: what each command prints for the embedded drawer, in every format; and two runs
// print the same bytes.
func TestGoldens(t *testing.T) {
	skipLong(t)
	small := smallClub(t)
	for _, c := range []struct {
		name    string
		args    []string
		formats []string
		code    int
	}{
		{"rank", []string{"rank", "--top", "3"}, session.Formats, 0},
		{"rank-cruise", []string{"rank", "--top", "5", "--style", "cruise"}, session.Formats[:1], 0},
		{"rank-race", []string{"rank", "--top", "5", "--style", "race"}, session.Formats[:1], 0},
		{"rank-nothing", []string{"rank", "--limit", "all_up_g=..20"}, session.Formats[:1], 4},
		{"explain", []string{"explain", "--style", "cruise", "--pick", pick, "--packs", "--class-g", "100"},
			session.Formats, 0},
		{"compare", []string{"compare", "1", "Tender", "--pick", pick}, session.Formats, 0},
		{"compare-packs", []string{"compare", "--pick", strings.Replace(pick, "k4s-720", "*", 1)}, session.Formats[:1], 0},
		{"vary", []string{"vary", "--pick", pick, "--style", "cruise"}, session.Formats, 0},
		{"bench", []string{"bench", "--motor", "m1507-27", "--prop", "p3.5-26x3", "--volts", "11.1,14.8"},
			session.Formats, 0},
		{"bench-prop", []string{"bench", "--prop", "p3.5-26x3", "--rpm", "8000,16000", "--airspeed-mps", "0,5"},
			session.Formats, 0},
	} {
		for _, format := range c.formats {
			args := append(slices.Clone(c.args), "--format", format, "--quiet")
			// What people read is of the whole drawer, what programs read of a cut of it.
			if format != "table" {
				args = append(args, "--drawer", small)
			}
			got := run(t, args...)
			if got.code != c.code || got.err != "" {
				t.Errorf("%s as %s: exit %d\n%s", c.name, format, got.code, got.err)
				continue
			}
			golden(t, c.name+"."+format, got.out)
			// One form of two commands tells for all: they share everything but the last step.
			again := c.name == "rank" || c.name == "compare" || long()
			if again && format == c.formats[len(c.formats)-1] {
				if again := run(t, args...); again != got {
					t.Errorf("%s as %s: two runs differ: %s", c.name, format, firstDifference(again.out, got.out))
				}
			}
			for _, wrong := range []string{"NaN", "Inf", "%!", "e+0", "\x1b", "undefined"} {
				if strings.Contains(got.out, wrong) {
					t.Errorf("%s as %s prints %q", c.name, format, wrong)
				}
			}
			if format != "table" {
				continue
			}
			for line := range strings.Lines(got.out) {
				if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > render.Width {
					t.Errorf("%s: a line of %d columns: %s", c.name, n, line)
				}
			}
		}
	}
}

// A rank and the pick of its parts are the same combination.
func TestRankAndPickNameTheSame(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	var d rankJSON
	decode(t, run(t, "rank", "--drawer", drawer, "--format", "json", "--quiet", "--top", "3").out, &d)
	p := d.Results[2].Parts
	key := "motor=" + p.Motor + ",prop=" + p.Prop + ",pack=" + p.Pack + ",frame=" + p.Frame + ",board=" + p.Board
	byRank := run(t, "explain", "3", "--drawer", drawer, "--quiet", "--format", "json")
	for _, text := range []string{key, key + ",extras=" + strings.Join(p.Extras, "+")} {
		byPick := run(t, "explain", "--drawer", drawer, "--quiet", "--format", "json", "--pick", text)
		if byRank.code != 0 || byRank.out != byPick.out {
			t.Errorf("%s: %s", text, firstDifference(byPick.out, byRank.out))
		}
	}
}

func TestPicksAndRanksThatAreNotThere(t *testing.T) {
	skipLong(t)
	leftovers, err := examples.Files.ReadFile("spare-parts.yaml")
	if err != nil {
		t.Fatal(err)
	}
	few, small := writeTemp(t, "drawer.yaml", string(leftovers)), smallClub(t)
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"explain", "zero"}, `"zero" is neither a rank nor a part of`},
		{[]string{"explain", "1.5"}, `"1.5" is not a valid rank`},
		{[]string{"explain", "m1507-26"}, `"m1507-26" is neither a rank nor a part of club.yaml; did you mean m1507-27?`},
		{[]string{"explain", "motor=m1507-26"}, "no motor is called m1507-26; did you mean m1507-27?"},
		{[]string{"explain", "m1507-27", "m1804-32"}, "m1507-27 and m1804-32 are both a motor; keep one"},
		{[]string{"explain", "motor="}, "motor has no id"},
		{[]string{"explain", "wing=w"}, `"wing=w" is not a part`},
		{[]string{"explain", "1", "m1507-27"}, "by its rank or by its parts, not both"},
		{[]string{"vary", "m1507-27", "--pick", pick}, "by its parts or by --pick, not both"},
		{[]string{"vary", "k3s-620", "m1507-27", "p2-24x3"}, "nothing that can be flown in this style has k3s-620, m1507-27 "},
		{[]string{"compare", "1", "wing=w"}, `"wing=w" is not a part`},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27", "--volts", "40S"}, `"40S" is no pack: write 1S to 14S`},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27", "--volts", "high"}, "neither volts nor cells"},
		{[]string{"explain", "0"}, `"0" is not a valid rank`},
		{[]string{"explain", "1", "--pick", pick}, "not both"},
		{[]string{"explain", "500", "--drawer", few}, "rank 500 is not in the list"},
		{[]string{"explain", "--pick", "motor=m1507-27"}, "prop, pack, frame, board missing"},
		{[]string{"explain", "--pick", strings.Replace(pick, "m1507-27", "m1507-26", 1)},
			"no motor is called m1507-26; did you mean m1507-27?"},
		{[]string{"explain", "--pick", pick + ",motor=m1507-27"}, "motor is given twice"},
		{[]string{"explain", "--pick", pick + ",wing=w"}, `"wing=w" is not a part`},
		{[]string{"explain", "--class-g", "3"}, "--class-g must be from 10"},
		{[]string{"explain", "--plot", "curves.pdf"}, "must end in .svg or .png"},
		{[]string{"compare", "1"}, "at least two"},
		{[]string{"compare", "1", "2", "3", "4", "5", "6"}, "at most 5"},
		{[]string{"compare", "1", "Nobody"}, "neither a rank nor a craft of the fleet (Tender)"},
		{[]string{"vary", "--change", "pack"}, `"pack" is not a valid change`},
		{[]string{"vary", "--change", "wing.mass_g=3"}, `"wing" is not a part`},
		{[]string{"vary", "--change", "pack.capacity=850"}, `"capacity" cannot be changed; what can: cells, capacity_mah`},
		{[]string{"vary", "--change", "pack.cells=40"}, "must be from 1 to 14, got 40"},
		{[]string{"vary", "--change", "pack.cells=2.5"}, "must be a whole number"},
		{[]string{"vary", "--change", "motor.kv=fast"}, `"fast" is not a number`},
		{[]string{"vary", "--change", "craft.mass_g=100"}, "only craft.mass_g=+N or -N"},
		{[]string{"vary", "--pick", strings.Replace(pick, "m1507-27", "m1804-32", 1), "--change", "motor.mass_g=+1"},
			"nothing can be added"},
		{[]string{"bench"}, "--prop is missing"},
		{[]string{"bench", "--prop", "p3.5-26x3"}, "name a --motor with --volts, or --rpm"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27"}, "--volts is missing"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27", "--rpm", "8000"}, "--motor goes with --volts"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--volts", "11", "--rpm", "8000"}, "take a --motor"},
		{[]string{"bench", "--prop", "p3.5-26", "--rpm", "8000"}, "did you mean p3.5-26x3?"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27", "--volts", "-3"}, "volts must be over 0"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--motor", "m1507-27", "--volts", "11", "--throttle-pct", "120"},
			"throttle must be over 0 and up to 100 %"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--rpm", "8000", "--airspeed-mps", "60"}, "airspeed must be from 0"},
		{[]string{"bench", "--prop", "p3.5-26x3", "--rpm", "NaN"}, "tip must move"},
		{[]string{"rank", "--with", "wing"}, `"wing" is not a role of an extra`},
	} {
		args := append(c.args, "--quiet")
		if !slices.Contains(args, "--drawer") {
			args = append(args, "--drawer", small)
		}
		got := run(t, args...)
		if got.code != 2 || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: exit %d, want 2 and %q:\n%s%s", c.args, got.code, c.says, got.out, got.err)
		}
	}
}

// shellWords splits a line at its spaces, outside double quotes.
func shellWords(line string) []string {
	var words []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			words = append(words, part)
		} else {
			words = append(words, strings.Fields(part)...)
		}
	}
	return words
}

// Every example of the help texts runs, in the short form two of each command; those that name no drawer run on a cut
// of the club's.
func TestExamplesOfTheHelpRun(t *testing.T) {
	skipLong(t)
	club, whole := smallClub(t), clubCopy(t)
	small, err := examples.Files.ReadFile("cruising.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("drawer.yaml", small, 0o644); err != nil {
		t.Fatal(err)
	}
	shop, err := examples.Files.ReadFile("shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("shop.yaml", shop, 0o644); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"parts.txt": partsList, "my-parts.csv": "Motor,Qty,KV\n1404,4,4600\n",
		"flight.csv": smallFlight(), "hover.wav": readFile(t, recordingOf(t, 25_000))} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := run(t, "export", "packs", "--output", "packs.csv"); got.code != 0 {
		t.Fatal(got.err)
	}
	root := newRoot(&commands{&session.Session{}})
	ran := map[string]bool{}
	for _, command := range append(root.Commands(), root) {
		tried := 0
		for line := range strings.Lines(command.Example) {
			args := shellWords(line)
			if len(args) == 0 || ran[line] {
				continue
			}
			if tried++; tried > 2 && !long() {
				break // two of each command tell for the others
			}
			if args[0] != "partsaloft" {
				t.Errorf("%s: example %q", command.Name(), line)
				continue
			}
			if drawer := command.Flags().Lookup("drawer"); drawer != nil && !slices.Contains(args, "--drawer") &&
				command.Name() != "add" {
				if command.Name() == "record" {
					args = append(args, "--drawer", whole) // they count the club's entries
				} else {
					args = append(args, "--drawer", club)
				}
			}
			if command.Name() == "rank" && !long() {
				args = append(args, "--top", "3") // each row takes its draws
			}
			if got := run(t, args[1:]...); got.code != 0 || got.out+got.err == "" {
				t.Errorf("%s: exit %d\n%s", line, got.code, got.err)
			}
			ran[line] = true
		}
	}
	if len(ran) < 10 {
		t.Errorf("only %d examples", len(ran))
	}
}

func TestPlotsAreDrawnAndStable(t *testing.T) {
	skipLong(t)
	drawer := smallClub(t)
	for _, form := range []string{"svg", "png"} {
		var contents []string
		runs := 2
		if form == "png" && !long() {
			runs = 1 // what could move is drawn by the same code
		}
		for range runs {
			path := filepath.Join(t.TempDir(), "curves."+form)
			if got := run(t, "explain", "--drawer", drawer, "--pick", pick, "--plot", path, "--output",
				filepath.Join(t.TempDir(), "x.txt")); got.code != 0 {
				t.Fatalf("exit %d\n%s", got.code, got.err)
			}
			content, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			contents = append(contents, string(content))
		}
		if contents[0] != contents[runs-1] {
			t.Errorf("%s: two runs differ", form)
		}
		if form == "svg" {
			for _, label := range []string{"speed, m/s", "power from the pack, W", "flying time, min", "cell under load, V",
				"throttle, %", "thrust, g", "pack current, A", "current of one motor, A"} {
				if !strings.Contains(contents[0], label) {
					t.Errorf("no axis is labelled %q", label)
				}
			}
		}
	}
}

// Completion offers flags' values, styles and the ids of the drawer named so far.
func TestCompletion(t *testing.T) {
	few := writeTemp(t, "drawer.yaml", "motors:\n  - {id: only-one, stator: \"1404\", kv: 3900}\n")
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"rank", "--style", ""}, []string{"cruise", "race"}},
		{[]string{"rank", "--format", ""}, session.Formats},
		{[]string{"rank", "--limit", ""}, []string{"all_up_g=", "style_minutes="}},
		{[]string{"rank", "--weights", "grip=2,"}, []string{"grip=2,endurance="}},
		{[]string{"rank", "--with", ""}, []string{"camera"}},
		{[]string{"bench", "--motor", ""}, []string{"m1507-27"}},
		{[]string{"bench", "--drawer", few, "--motor", ""}, []string{"only-one"}},
		{[]string{"explain", "--pick", ""}, []string{"motor=", "extras="}},
		{[]string{"explain", "--pick", "motor=m1507-27,"}, []string{"motor=m1507-27,prop="}},
		{[]string{"explain", "--pick", "motor=m1507-27,prop=p"}, []string{"motor=m1507-27,prop=p3.5-26x3"}},
		{[]string{"explain", "--pick", "extras=x-rx+"}, []string{"extras=x-rx+x-eye14"}},
		{[]string{"ra"}, []string{"rank"}},
	} {
		got := run(t, append([]string{"__complete"}, c.args...)...)
		offers := map[string]bool{}
		for line := range strings.Lines(got.out) {
			offer, _, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
			offers[offer] = true
		}
		for _, want := range c.want {
			if !offers[want] {
				t.Errorf("%v: %q is not offered:\n%s%s", c.args, want, got.out, got.err)
			}
		}
	}
}

// Every topic of help prints, within the page's width.
func TestTopics(t *testing.T) {
	for _, topic := range topics.New() {
		got := run(t, "help", topic.Name())
		if got.code != 0 || len(got.out) < 100 || got.err != "" {
			t.Errorf("%s: exit %d, %d bytes\n%s", topic.Name(), got.code, len(got.out), got.err)
		}
		for line := range strings.Lines(topic.Long) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > render.Width+4 {
				t.Errorf("%s: a line of %d columns: %s", topic.Name(), n, line)
			}
		}
	}
}

// smallFlight is a time series of a flight: a hover with two punches, then a landing, ten samples a second.
func smallFlight() string {
	var b strings.Builder
	b.WriteString("time (s),Volts [V],amps,throttle (%)\n")
	for i := range 1800 {
		seconds, amps, throttle := float64(i)/10, 6.0, 31.0
		switch {
		case i < 50 || i > 1750:
			amps, throttle = 0.3, 0
		case i%600 > 560:
			amps, throttle = 24, 90
		}
		volts := 16.4 - 0.006*seconds - 0.03*amps + 0.01*float64(i%3)
		fmt.Fprintf(&b, "%.1f,%.2f,%.2f,%.0f\n", seconds, volts, amps+0.1*float64(i%5), throttle+float64(i%4))
	}
	return b.String()
}

func readFile(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
