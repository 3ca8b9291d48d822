package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/browser"
	"partsaloft/cmd/internal/files"
)

// object is JSON that can be looked into.
type object = map[string]any

// brief are the questions about the largest example: the others tell it all of the smaller ones.
var brief = []string{"rank", "plan", "learn", "record"}

// figuresAgree holds every question about the examples against the command line.
func figuresAgree(t *testing.T, b *built, tab *browser.Tab) {
	shop, err := (&files.Run{}).Read(filepath.Join(b.folder, "shop.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var d differences
	for _, c := range []struct{ drawer, style string }{
		{"club.yaml", "freestyle"}, {"racer.yaml", "race"}, {"cruising.yaml", "cruise"},
		{"spare-parts.yaml", filepath.Join(b.folder, "styles", "onshore.yaml")},
	} {
		h, err := hold(&files.Run{}, filepath.Join(b.folder, c.drawer), c.style)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range []asked{
			{"rank", object{"top": 5}, []string{"--top", "5"}},
			{"explain", object{"rank": 1, "packs": true, "class_g": 250}, []string{"1", "--packs", "--class-g", "250"}},
			{"compare", object{"builds": []string{"1", "2"}}, []string{"1", "2"}},
			{"vary", object{"rank": 1}, []string{"1"}},
			{"plan", object{"styles": []object{{"name": "race"}, {"name": "cruise"}}}, []string{"race", "cruise"}},
			{"buy", object{"offer": question.Text{Name: "shop.yaml", Text: string(shop)}},
				[]string{filepath.Join(b.folder, "shop.yaml")}},
			{"learn", object{}, []string{"--output", filepath.Join(b.folder, "x.learned.yaml")}},
			{"check", object{}, nil},
			{"record", object{"craft": "1"}, []string{"1", "--questions"}},
			// The command writes into the drawer, so it comes last.
			{"record", object{"craft": "1", "readings": []object{{"key": "date", "typed": "2026-05-01"},
				{"key": "all_up_g", "typed": "5.3oz"}, {"key": "flight_minutes", "typed": "4:30"}}},
				[]string{"1", "--date", "2026-05-01", "--weight", "5.3oz", "--minutes", "4:30"}},
		} {
			if c.drawer == "club.yaml" && !slices.Contains(brief, one.ask) {
				continue
			}
			if one.ask == "record" && !strings.Contains(h.Drawer, "\nlog:") {
				continue // there is no craft
			}
			args := append([]string{one.ask, "--drawer", filepath.Join(b.folder, c.drawer)}, one.args...)
			h := *h
			if one.ask == "plan" {
				h.Style = question.Style{}
			} else {
				args = append(args, "--style", c.style)
			}
			want := b.json(t, args...)
			got := browser.Eval[object](tab, asking(t, one.ask, one.options, &h))
			if fault, ok := got["fault"].(object); ok && want == nil && fault["kind"] == "drawer" {
				continue // neither has anything to learn from
			}
			if got["document"] == nil || want == nil {
				t.Errorf("%s %s: %v", one.ask, c.drawer, got)
				continue
			}
			delete(want, "learned_file")
			delete(got["document"].(object), "learned_file")
			for _, difference := range d.between("", got["document"], want) {
				t.Errorf("%s %s%s", one.ask, c.drawer, difference)
			}
		}
	}
	t.Logf("%d numbers, %d of them rounded to the neighbour", d.numbers, d.rounded)
	if d.numbers < 10_000 || d.rounded > d.numbers/1000 {
		t.Errorf("%d of %d numbers are rounded to the neighbour", d.rounded, d.numbers)
	}
}

// asked is a question with the words of the same command.
type asked struct {
	ask     string
	options object
	args    []string
}

// json runs a command and returns its JSON; that nothing is feasible is no error. A drawer that cannot be used gives
// nil.
func (b *built) json(t *testing.T, args ...string) object {
	t.Helper()
	c := exec.Command(b.command, append(args, "--quiet", "--format", "json")...)
	out, err := c.Output()
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit) && exit.ExitCode() == 3:
		return nil
	case err != nil && !(exit != nil && exit.ExitCode() == 4):
		t.Fatalf("%v: %v %s", args, err, exit.Stderr)
	}
	var d object
	if err := json.Unmarshal(out, &d); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	return d
}

// mostDifferences is how many differences of a document are told.
const mostDifferences = 5

// differences counts the numbers that were compared, and those that are as near as can be where both are rounded: JSON
// has five digits, so that a millionth may lie on both sides of a half.
type differences struct{ numbers, rounded int }

// between are where two values in JSON are not the same, numbers to a millionth.
func (d *differences) between(path string, got, want any) []string {
	var list []string
	switch want := want.(type) {
	case object:
		got, ok := got.(object)
		if !ok {
			return []string{fmt.Sprintf("%s is %v", path, got)}
		}
		for key := range want {
			list = append(list, d.between(path+"."+key, got[key], want[key])...)
		}
		for key := range got {
			if _, ok := want[key]; !ok {
				list = append(list, fmt.Sprintf("%s.%s is not the command's", path, key))
			}
		}
	case []any:
		got, ok := got.([]any)
		if !ok || len(got) != len(want) {
			return []string{fmt.Sprintf("%s has %d, the command %d", path, len(got), len(want))}
		}
		for i := range want {
			list = append(list, d.between(fmt.Sprintf("%s[%d]", path, i), got[i], want[i])...)
		}
	case float64:
		got, ok := got.(float64)
		d.numbers++
		switch off := math.Abs(got - want); {
		case ok && off <= 1e-6*math.Max(1, math.Abs(want)):
		case ok && off <= 1.001*math.Pow(10, math.Floor(math.Log10(math.Abs(want)))-4):
			d.rounded++
		default:
			return []string{fmt.Sprintf("%s is %v, the command has %v", path, got, want)}
		}
	default:
		if got != want {
			return []string{fmt.Sprintf("%s is %v, the command has %v", path, got, want)}
		}
	}
	slices.Sort(list)
	return list[:min(len(list), mostDifferences)]
}
