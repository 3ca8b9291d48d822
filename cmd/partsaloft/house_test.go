package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rooms are the packages of the house and which of ours each may import outside tests; a name with /... stands for
// a package and its rooms but internal ones.
var rooms = map[string][]string{
	"physics/fault":             {},
	"physics/internal/numeric":  {},
	"physics/internal/residual": {"physics/uncertain"},
	"physics/rotor":             {"physics/fault", "physics/uncertain", "physics/internal/numeric"},
	"physics/uncertain":         {},
	"physics/figure":            {},
	"physics": {"physics/fault", "physics/rotor", "physics/uncertain", "physics/figure",
		"physics/internal/numeric"},

	"physics/internal/fit/reference": {},
	"physics/internal/fit/robust":    {"physics/internal/residual", "physics/uncertain"},
	"physics/internal/fit/props":     {"physics/internal/fit/reference", "physics/..."},
	"physics/internal/fit/rig": {"physics/internal/fit/reference", "physics/internal/fit/robust",
		"physics/internal/fit/props",
		"physics/internal/residual", "physics/..."},
	"physics/internal/fit/calibration": {"physics/internal/fit/reference", "physics/internal/fit/robust",
		"physics/internal/fit/props", "physics/internal/fit/rig", "physics/internal/residual", "physics/..."},
	"physics/internal/fit": {"physics/internal/fit/reference", "physics/internal/fit/robust", "physics/internal/fit/props",
		"physics/internal/fit/rig", "physics/internal/fit/calibration", "physics/internal/residual", "physics/..."},

	"inventory/strict": {},
	"inventory":        {"inventory/strict", "physics/..."},
	"inventory/compat": {"inventory", "inventory/strict", "physics/..."},
	"inventory/check":  {"inventory", "inventory/strict", "inventory/compat", "physics/..."},
	"inventory/edit":   {"inventory", "inventory/strict", "physics/..."},
	"inventory/sound":  {},
	"inventory/learn":  {"inventory", "inventory/strict", "inventory/compat", "physics/..."},

	"inventory/series": {"inventory/strict", "physics/..."},

	"objective": {"inventory/strict", "physics", "physics/fault", "physics/figure"},

	"search/internal/parallel":  {},
	"search/progress":           {},
	"search/internal/synthetic": {"examples", "objective", "inventory", "inventory/compat", "physics/..."},

	"search/space": {"search/internal/parallel", "search/progress", "objective", "inventory", "inventory/compat", "physics/..."},
	"search/solve": {"search/internal/parallel", "search/progress", "search/space", "objective", "inventory", "inventory/compat",
		"physics/..."},
	"search/predict": {"search/internal/parallel", "search/progress", "search/space", "objective", "inventory", "inventory/strict",
		"inventory/compat",
		"inventory/check", "physics/..."},
	"search": {"search/internal/parallel", "search/...", "objective", "inventory", "inventory/strict", "inventory/compat",
		"inventory/check", "physics/..."},

	"examples": {},

	"cmd/internal/answer/catalogue/phrase": {},
	"cmd/internal/answer/catalogue/faults": {"cmd/internal/answer/catalogue/phrase", "inventory/...", "physics/fault"},
	"cmd/internal/answer/catalogue": {"cmd/internal/answer/catalogue/...", "search/...", "objective", "inventory/...",
		"physics/..."},
	"cmd/internal/answer/explore": {"cmd/internal/answer", "cmd/internal/answer/catalogue/...", "search/...", "objective",
		"inventory/...", "physics/..."},
	"cmd/internal/answer": {"cmd/internal/answer/catalogue/...", "search/...", "objective", "inventory/...",
		"physics/..."},
	"cmd/internal/answer/readings": {"cmd/internal/answer", "cmd/internal/answer/catalogue/...", "search/...", "objective",
		"inventory/...", "physics/..."},
	"cmd/internal/audio":           {"inventory/sound"},
	"cmd/internal/answer/intake":   {"cmd/internal/answer", "cmd/internal/answer/catalogue/...", "inventory/..."},
	"cmd/internal/answer/question": {"cmd/internal/answer/...", "search/...", "objective", "inventory/...", "physics/..."},
	"cmd/internal/files":           {"inventory/strict"},
	"cmd/internal/render":          {"cmd/internal/answer/catalogue/..."},
	"cmd/internal/page":            {"cmd/internal/answer/...", "search/...", "objective", "inventory/...", "physics/..."},
	"cmd/partsaloft/internal/exit": {"cmd/internal/answer/...", "inventory/strict"},
	"cmd/partsaloft/internal/session": {"cmd/partsaloft/internal/exit", "cmd/internal/answer/...", "cmd/internal/files",
		"cmd/internal/render", "examples", "search/...", "objective", "inventory/...", "physics/..."},
	"cmd/partsaloft/internal/topics": {"cmd/internal/answer/catalogue/...", "cmd/internal/render", "objective",
		"physics/figure"},
	"cmd/partsaloft/internal/complete": {"cmd/partsaloft/internal/session", "cmd/partsaloft/internal/topics",
		"cmd/internal/answer/...", "objective", "inventory", "physics/figure"},
	"cmd/partsaloft/internal/cli": {"cmd/partsaloft/internal/...", "cmd/internal/...", "examples", "search/...",
		"objective", "inventory/...", "physics/..."},
	"cmd/internal/browser": {},
	"cmd/pocket":           {"cmd/internal/answer/question", "cmd/internal/files", "cmd/internal/page", "examples", "objective"},
	"cmd/pocket/engine":    {"cmd/internal/answer/...", "search/...", "objective", "inventory/...", "physics/..."},
	"cmd/partsaloft":       {"cmd/partsaloft/internal/cli", "cmd/partsaloft/internal/session"},
}

// among reports whether a package is one of those that a row names.
func among(row []string, name string) bool {
	return slices.ContainsFunc(row, func(one string) bool {
		top, whole := strings.CutSuffix(one, "/...")
		return name == top || whole && strings.HasPrefix(name, top+"/") && !strings.Contains(name[len(top):], "/internal/")
	})
}

// belowAnswer are the rooms that work without a screen, a file or a command line.
var belowAnswer = []string{"physics/...", "inventory/...", "objective", "search/...", "cmd/internal/answer/..."}

// source is a file of the house with what it imports; tests are left out.
type source struct {
	file    string // from the top of the house
	room    string
	imports []string
}

// sources reads what every file of the house imports.
func sources(t *testing.T) []source {
	t.Helper()
	root := filepath.Join("..", "..")
	var list []source
	err := filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		relative, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		one := source{file: filepath.ToSlash(relative), room: path.Dir(filepath.ToSlash(relative))}
		for _, spec := range parsed.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			one.imports = append(one.imports, name)
		}
		list = append(list, one)
		return nil
	})
	if err != nil || len(list) < 100 {
		t.Fatalf("%d files were read, %v", len(list), err)
	}
	return list
}

// Property: imports run one way through the house, and every room has its row.
func TestImportsRunOneWay(t *testing.T) {
	for _, s := range sources(t) {
		allowed, ok := rooms[s.room]
		if !ok {
			t.Errorf("%s lies in no room of the house", s.file)
		}
		for _, name := range s.imports {
			ours, found := strings.CutPrefix(name, "partsaloft/")
			if found && !among(allowed, ours) {
				t.Errorf("%s imports %s", s.file, ours)
			}
		}
	}
}

// Property: what answers a question knows no command line, screen, drawing, table or file, so that it runs in
// a browser as well.
func TestAnswersNeedNoScreenAndNoFile(t *testing.T) {
	outside := []string{"os", "os/exec", "os/signal", "path/filepath", "syscall", "net", "net/http", "encoding/csv"}
	for _, s := range sources(t) {
		if !among(belowAnswer, s.room) {
			continue
		}
		for _, name := range s.imports {
			for _, library := range []string{"github.com/spf13/", "gonum.org/v1/plot", "github.com/olekukonko/",
				"github.com/mewkiz/", "github.com/hajimehoshi/", "github.com/pion/", "github.com/jfreymuth/"} {
				if strings.HasPrefix(name, library) {
					t.Errorf("%s imports %s", s.file, name)
				}
			}
			if slices.Contains(outside, name) && !(name == "encoding/csv" && strings.HasPrefix(s.room, "inventory")) {
				t.Errorf("%s imports %s", s.file, name)
			}
		}
	}
}

// patterns are the files that may use regular expressions, for they read what pilots and other programs write.
var patterns = map[string]string{
	"inventory/written_size.go":         "sizes as they are printed on motors, props and packs",
	"inventory/units.go":                "hole patterns, cells",
	"inventory/edit/describe.go":        "a part in a pilot's words",
	"inventory/edit/describe_forms.go":  "the same",
	"inventory/edit/describe_part.go":   "the same",
	"inventory/edit/describe_kind.go":   "the same",
	"inventory/edit/describe_words.go":  "the same",
	"inventory/edit/describe_habits.go": "the same",
	"inventory/edit/list.go":            "a list of parts in a pilot's words",
	"inventory/edit/sheet_cell.go":      "cells of a spreadsheet",
	"inventory/edit/sheet_read.go":      "its first line",
	"inventory/edit/sheet_headings.go":  "its headings and cells",

	"inventory/strict/number.go":      "numbers",
	"inventory/strict/number_help.go": "what is written instead of numbers",
	"inventory/strict/node.go":        "what is written instead of keys and lists",
	"inventory/strict/parse.go":       "lines that are no YAML",
	"inventory/strict/scan.go":        "blanks that are none",
	"inventory/strict/format.go":      "remarks that an earlier run wrote",
}

// Property: no program reads its own sentences: kinds and values are passed, not words.
func TestNoPatternReadsAMessage(t *testing.T) {
	for _, s := range sources(t) {
		if slices.Contains(s.imports, "regexp") && patterns[s.file] == "" {
			t.Errorf("%s uses regular expressions: pass kinds and values instead of words, or give it a row if it reads what "+
				"pilots write", s.file)
		}
	}
}

// Property: physics and its rooms draw no random numbers, read no files and no clock, except for the fit program.
func TestPhysicsIsPure(t *testing.T) {
	for _, s := range sources(t) {
		if top, _, _ := strings.Cut(s.room, "/"); top != "physics" || strings.HasPrefix(s.room, "physics/internal/fit") {
			continue
		}
		for _, banned := range []string{"os", "io", "time", "math/rand", "math/rand/v2", "crypto/rand", "embed"} {
			if slices.Contains(s.imports, banned) {
				t.Errorf("%s imports %s", s.file, banned)
			}
		}
	}
}
