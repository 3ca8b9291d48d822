package strict

import (
	"errors"
	"io"
	"strings"
	"testing"
	"time"
)

type part struct {
	Origin
	ID    string    `yaml:"id" check:"required,id"`
	MassG *float64  `yaml:"mass_g" check:"min=0.5,max=100,unit=g"`
	List  []float64 `yaml:"list" check:"min=1,max=9"`
	Note  string    `yaml:"note" check:"len=500"`
}

type file struct {
	Parts []part `yaml:"parts"`
	Name  string `yaml:"name"`
}

// endless gives the same text over and over; left counts what it gave.
type endless struct {
	text  string
	given int
}

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = e.text[e.given%len(e.text)]
		e.given++
	}
	return len(p), nil
}

type broken struct{ io.Reader }

func (broken) Read([]byte) (int, error) { return 0, errors.New("the disk is\x1b[2J gone") }

// TestNastyInputEnds is a property test: input made to take for ever ends soon with one clear fault.
func TestNastyInputEnds(t *testing.T) {
	big := func(text string) io.Reader { return strings.NewReader(strings.Repeat(text, MaxBytes/len(text))) }
	for _, c := range []struct {
		name string
		r    io.Reader
		want string // the first fault holds this
	}{
		{"endless spaces", &endless{text: " "}, "file.large mib=8"},
		{"endless parts", &endless{text: "- a\n"}, "file.large mib=8"},
		{"endless anchors", &endless{text: "&a [*a, "}, "file.large mib=8"},
		{"8 MiB of entries", big("- a\n"), "file.entries most=400000"},
		{"8 MiB of brackets", big("["), "file.entries most=400000"},
		{"8 MiB of braces", big("{a: "), "file.entries most=400000"},
		{"8 MiB of commas", big("[,]"), "file.entries most=400000"},
		{"8 MiB of comments", big("# no part at all" + strings.Repeat(" only words without end", 20) + "\n"),
			"file.comments_only"},
		{"8 MiB of blanks", big(" "), "file.empty"},
		{"8 MiB of one word", big("a"), "keys.expected"},
		{"8 MiB of quotes", big("\""), "yaml."},
		{"8 MiB of one quoted text", io.MultiReader(strings.NewReader("name: \""),
			strings.NewReader(strings.Repeat("x", MaxBytes-20)), strings.NewReader("\"")), "text.length"},
		{"8 MiB of comments and a fault", io.MultiReader(strings.NewReader("parts: 1\n"),
			strings.NewReader(strings.Repeat("# words words words\n", 300_000))), "list.expected"},
		{"a fault after 8 MiB of comments", io.MultiReader(strings.NewReader(strings.Repeat("# words words words\n",
			300_000)), strings.NewReader("parts: [\n")), "yaml."},
		{"deep brackets", strings.NewReader("parts: " + strings.Repeat("[", 300_000)), "yaml.depth"},
		{"deep brackets, closed", strings.NewReader("parts: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000)),
			"yaml.depth"},
		{"as deep as may be", strings.NewReader("parts: " + strings.Repeat("[", maxDepth) + strings.Repeat("]", maxDepth)),
			"keys.expected"},
		{"deep dashes", strings.NewReader(strings.Repeat("- ", 300_000)), "yaml."},
		{"deep question marks", strings.NewReader(strings.Repeat("? ", 300_000)), "yaml."},
		{"many parts", strings.NewReader("parts:\n" + strings.Repeat("  - id: a\n", 100_000)),
			"list.count got=100000 high=2000"},
		{"many keys", strings.NewReader(strings.Repeat("name: a\n", 100_000)), "key.twice"},
		{"a disk that fails", broken{}, `the disk is\x1b[2J gone`},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			d := Read("nasty.yaml", c.r, &file{})
			took := time.Since(start)
			faults := d.Faults()
			if len(faults) == 0 || !strings.Contains(faults[0].Error(), c.want) {
				t.Errorf("got %.300v, want a fault with %q", faults, c.want)
			}
			if took > time.Minute {
				t.Errorf("took %v", took)
			}
			if c.name[:7] == "endless" && c.r.(*endless).given > MaxBytes+1<<16 {
				t.Errorf("read %d bytes", c.r.(*endless).given)
			}
		})
	}
}

// TestManyFaults is a property test: faults without number end in a count of those left out.
func TestManyFaults(t *testing.T) {
	d := Read("many.yaml", strings.NewReader("parts:\n"+strings.Repeat("  - {}\n", 1500)), &file{})
	faults := d.Faults()
	if len(faults) != maxFaults+1 {
		t.Fatalf("%d faults, want %d and one that counts the rest", len(faults), maxFaults)
	}
	if got, want := faults[maxFaults].Error(), "many.yaml: file.more n=500"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
