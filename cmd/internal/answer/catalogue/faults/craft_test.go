package faults

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/physics/rotor"
)

// Property: every code that physics makes a fault with has a sentence, with a value for every placeholder, and every
// sentence a code.
func TestEveryCraftFaultIsSaid(t *testing.T) {
	root := filepath.Join("..", "..", "..", "..", "..", "physics")
	made := map[string][]string{}
	err := filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") ||
			strings.Contains(file, "internal") {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) != 2 {
				return true
			}
			switch f := call.Fun.(type) {
			case *ast.SelectorExpr:
				if x, ok := f.X.(*ast.Ident); !ok || x.Name != "fault" || f.Sel.Name != "New" {
					return true
				}
			case *ast.Ident:
				if f.Name != "add" {
					return true
				}
			default:
				return true
			}
			code, ok := call.Args[0].(*ast.BasicLit)
			if !ok {
				return true
			}
			name, _ := strconv.Unquote(code.Value)
			made[name] = []string{}
			if values, ok := call.Args[1].(*ast.CompositeLit); ok {
				for _, e := range values.Elts {
					key, _ := strconv.Unquote(e.(*ast.KeyValueExpr).Key.(*ast.BasicLit).Value)
					made[name] = append(made[name], key)
				}
			}
			return true
		})
		return nil
	})
	if err != nil || len(made) < 30 {
		t.Fatal(len(made), err)
	}
	for code, values := range made {
		sentence, ok := craftFaults[code]
		if !ok {
			t.Errorf("%s has no sentence", code)
		}
		for _, name := range phrase.Placeholders(sentence) {
			if !slices.Contains(values, name) {
				t.Errorf("%s: nothing is given for {%s}", code, name)
			}
		}
	}
	for code := range craftFaults {
		if _, ok := made[code]; !ok {
			t.Errorf("nothing makes %s", code)
		}
	}
}

// Regression: an error of physics, wrapped and joined, reads in words.
func TestCraftErrorsAreSaid(t *testing.T) {
	air, err := rotor.StandardAir(0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = rotor.New(rotor.Spec{DiameterM: 2, PitchM: 1, Blades: 9, MassKg: math.NaN()}, air)
	got := Error(fmt.Errorf("prop p: %w", err))
	want := "prop p: prop diameter must be from 0.02 to 1 m, got 2\nblades must be from 1 to 8, got 9\nprop mass must " +
		"be from 0 (unknown) to 500 g, got NaN g"
	if got != want {
		t.Errorf("said %q, want %q", got, want)
	}
}
