package main

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the commands' present output into README.md")

// elided stands for lines that README.md leaves out.
const elided = "…"

// Regression: every command of README.md runs, and what stands below it is what it prints. A line
// of "…" stands for any lines; -update writes the output anew, as far as it is shown.
func TestReadme(t *testing.T) {
	t.Chdir(filepath.Join("..", ".."))
	t.Cleanup(func() { os.Remove("club.learned.yaml"); os.Remove("my-drawer.yaml") }) // which commands write
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	var out []string
	ran := 0
	for i := 0; i < len(lines); i++ {
		out = append(out, lines[i])
		if lines[i] != "```console" {
			continue
		}
		var block []string
		for i++; i < len(lines) && lines[i] != "```"; i++ {
			block = append(block, lines[i])
		}
		command, found := strings.CutPrefix(block[0], "$ partsaloft")
		if !found {
			t.Fatalf("README.md: a console block begins with %q, not with a command", block[0])
		}
		printed := run(t, strings.Fields(command))
		shown := show(printed, block[1:])
		if !*update && strings.Join(shown, "\n") != strings.Join(block[1:], "\n") {
			t.Errorf("README.md: %s prints other lines now; go test ./cmd/partsaloft -run Readme -update writes them:\n%s",
				block[0], strings.Join(shown, "\n"))
		}
		out = append(append(append(out, block[0]), shown...), "```")
		ran++
	}
	if ran < 4 {
		t.Errorf("README.md runs only %d commands", ran)
	}
	if *update {
		if err := os.WriteFile("README.md", []byte(strings.Join(out, "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func run(t *testing.T, args []string) []string {
	t.Helper()
	got := carryOut(args...)
	if got.code != 0 && got.code != 4 {
		t.Fatalf("partsaloft %s ends with %d: %s", strings.Join(args, " "), got.code, got.err)
	}
	return strings.Split(strings.TrimRight(got.out, "\n"), "\n")
}

// show cuts what was printed to as many lines as the block shows before and after its "…".
func show(printed, block []string) []string {
	for i, line := range block {
		if line != elided {
			continue
		}
		after := len(block) - i - 1
		if i+after >= len(printed) {
			return printed
		}
		return append(append(append([]string{}, printed[:i]...), elided), printed[len(printed)-after:]...)
	}
	return printed
}
