package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// worstWords are words and phrases that no pilot would say at the bench, with what to say instead.
var worstWords = []struct{ never, instead string }{
	{`hangs? on\b`, "depends on"},
	{`\bbinds?\b`, "limits"},
	{`\bmend(s|ed|ing)?\b`, "fix"},
	{`\breckon(s|ed|ing)?\b`, "computed"},
	{`\bbears\b`, "takes, allows"},
	{`\bthereof\b|\bfor good\b|\bdone for\b`, "plain words"},
	{`\b(of|in) (all |the |these |its )*draws\b`, "of 100 cases"},
	{`\b(its|their|in the) doubts?\b`, "uncertainty, likely range"},
	{`\bfell out\b|\bfalls? out\b`, "ruled out"},
	{`\b(is|are) no (rank|figure|heading|drawer|part|number|axis|role|style|plot|valid)\b`, "is not a"},
	{`\bways? out\b`, "how to fix it"},
	{`\bgives? no\b|\bgives none\b`, "not given"},
	{`\b(does|do) not say\b`, "not given"},
	{`\bholds? no\b`, "has no"},
	{`\bholds? the throttle back\b|\bholds back\b`, "limits"},
	{`\bstrikes\b`, "hits"},
	{`\bit does not go on\b|\bdo not bolt\b`, "does not fit"},
	{`\bmostly a wish\b|\ba habit of the trade\b|\bleave height\b`, "usually inflated, rule of thumb"},
	{`\blay (it|one) on\b|\bsticks out\b`, "check that it fits, overhangs"},
	{`\bwants? a word\b|\bso it says\b`, "check"},
	{`\bgoes? along\b`, "is on board"},
	{`\b(written?|writes?) (it |them |the \w+ )*anew\b`, "rewrite"},
	{`\bamperes\b`, "A, current"},
	{`\bcomes? near(est)?\b|\bnearest miss(es)?\b`, "closest"},
	{`\blooked at each\b|\blooking at each\b`, "checked"},
	{`\bin(to)? the air with\b|\bput in order\b|\bbring in order\b`, "fix"},
	{`\bset aside\b`, "left out"},
	{`\bstands? (there|in line|under|beside it)\b`, "is"},
	{`\bso that there\b`, "so there"},
	{`\bthe more of the one\b|\btells? apart\b|\bis told\b`, "cannot be separated"},
	{`\b(is|are) feasible\b|\bfeasible build`, "can be flown"},
	{`\bno feasible\b`, "none can be flown"},
}

// spoken are texts of the house that a pilot reads, by their place.
func spoken(t *testing.T) map[string]string {
	t.Helper()
	root := filepath.Join("..", "..")
	texts := map[string]string{}
	add := func(file string) {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts[strings.TrimPrefix(filepath.ToSlash(file), "../../")] = string(content)
	}
	for _, pattern := range []string{"README.md", "examples/*.yaml", "examples/styles/*.yaml",
		"cmd/partsaloft/internal/cli/*.yaml", "cmd/partsaloft/internal/cli/testdata/*",
		"cmd/internal/answer/catalogue/faults/testdata/*"} {
		files, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			keys := strings.HasSuffix(file, ".json") || strings.HasSuffix(file, "mistakes.txt") // keys and verdicts of formats
			if info, err := os.Stat(file); err == nil && !info.IsDir() && !keys {
				add(file)
			}
		}
	}
	for _, room := range []string{"cmd", "inventory/key_documentation.go", "physics/figure/table.go"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(file string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
				return err
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				return err
			}
			var all strings.Builder
			ast.Inspect(parsed, func(n ast.Node) bool {
				if text, ok := literal(n); ok {
					all.WriteString(text + "\n")
					return false
				}
				return true
			})
			texts[strings.TrimPrefix(filepath.ToSlash(file), "../../")] = all.String()
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	scripts, err := filepath.Glob(filepath.Join(root, "cmd/internal/page/js/*.js"))
	if err != nil {
		t.Fatal(err)
	}
	quoted := regexp.MustCompile("\"(?:\\\\.|[^\"\\\\\n])*\"|'(?:\\\\.|[^'\\\\\n])*'|`[^`]*`")
	for _, file := range scripts {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts[strings.TrimPrefix(filepath.ToSlash(file), "../../")] = strings.Join(quoted.FindAllString(string(content), -1),
			"\n")
	}
	return texts
}

// literal is the text of a string, with those that are added to it.
func literal(n ast.Node) (string, bool) {
	switch x := n.(type) {
	case *ast.BasicLit:
		if x.Kind != token.STRING {
			return "", false
		}
		text, err := strconv.Unquote(x.Value)
		return text, err == nil
	case *ast.BinaryExpr:
		left, okLeft := literal(x.X)
		right, okRight := literal(x.Y)
		return left + right, okLeft && okRight && x.Op == token.ADD
	case *ast.ImportSpec:
		return "", true
	case *ast.Field:
		if x.Tag != nil { // keys of documents are read by programs
			x.Tag = nil
		}
	}
	return "", false
}

// Property: nothing that a pilot reads holds one of the worst words: sentences, help, topics, notes of keys and figures,
// the page, the examples, README and what the commands were seen to print.
func TestWorstWordsAreNotSaid(t *testing.T) {
	texts := spoken(t)
	if len(texts) < 110 {
		t.Fatalf("only %d texts", len(texts))
	}
	for _, w := range worstWords {
		never := regexp.MustCompile(`(?i)` + w.never)
		for place, text := range texts {
			flat := strings.Join(strings.Fields(text), " ")
			for _, at := range never.FindAllStringIndex(flat, 3) {
				t.Errorf("%s: …%s…: say %q", place, flat[max(0, at[0]-40):min(len(flat), at[1]+30)], w.instead)
			}
		}
	}
}
