package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// rooms are the folders of the house and what of ours each may import outside tests. A folder
// may import itself and what lies below it.
var rooms = map[string][]string{
	"physics":   {},
	"inventory": {"physics"},
	"objective": {"physics"},
	"search":    {"physics", "inventory", "objective"},
	"examples":  {},
	"cmd":       {"physics", "inventory", "objective", "search", "examples"},
}

// Property: imports run one way through the house.
func TestImportsRunOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := 0
	err := filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return nil
		}
		relative, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		room, _, _ := strings.Cut(filepath.ToSlash(relative), "/")
		allowed, ok := rooms[room]
		if !ok {
			t.Errorf("%s lies outside the house", relative)
			return nil
		}
		seen++
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range parsed.Imports {
			ours, found := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "partsaloft/")
			if !found {
				continue
			}
			from, _, _ := strings.Cut(ours, "/")
			if from != room && !slices.Contains(allowed, from) {
				t.Errorf("%s imports %s", relative, ours)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 20 {
		t.Errorf("only %d files were read", seen)
	}
}

// Property: physics draws no random numbers and reads no files, except for its fit program.
func TestPhysicsIsPure(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "physics", "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files of physics: %v", err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, banned := range []string{`"os"`, `"math/rand"`, `"math/rand/v2"`, `"time"`, `"io"`} {
			if strings.Contains(string(text), banned) {
				t.Errorf("%s imports %s", path.Base(file), banned)
			}
		}
	}
}
