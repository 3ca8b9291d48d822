package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/examples"
)

// Property: whatever command reads a file, --output and --plot do not write over it, by whatever name.
func TestNoCommandWritesOverWhatItReads(t *testing.T) {
	folder := t.TempDir()
	in := func(name string) string { return filepath.Join(folder, name) }
	files := map[string]string{"style.yaml": "weights: {grip: 1}\n", "sheet.csv": "id,kv\na,4100\n"}
	for from, to := range map[string]string{"racer.yaml": "d.yaml", "shop.yaml": "shop.yaml"} {
		text, err := examples.Files.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		files[to] = string(text)
	}
	for name, text := range files {
		if err := os.WriteFile(in(name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := run(t, "learn", "--drawer", in("d.yaml"), "--output", in("d.learned.yaml")); got.code != 0 {
		t.Fatal(got.err)
	}
	learned, err := os.ReadFile(in("d.learned.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	files["d.learned.yaml"] = string(learned)
	drawer, style := []string{"--drawer", in("d.yaml")}, []string{"--style", in("style.yaml")}
	with := func(first string, more ...[]string) (line []string) {
		line = strings.Fields(first)
		for _, args := range more {
			line = append(line, args...)
		}
		return line
	}
	for _, c := range []struct {
		reads string
		args  []string
	}{
		{"d.yaml", with("rank", drawer)},
		{"style.yaml", with("rank", drawer, style)},
		{"d.learned.yaml", with("rank", drawer)}, // found beside it
		{"d.learned.yaml", with("rank", []string{"--learned", in("d.learned.yaml")})},
		{"d.yaml", with("explain 1", drawer)},
		{"d.yaml", with("compare 1 2", drawer)},
		{"d.yaml", with("vary 1 --change craft.mass_g=+10", drawer)},
		{"d.yaml", with("plan race", drawer)},
		{"style.yaml", with("plan", []string{in("style.yaml")}, drawer)},
		{"d.yaml", with("buy", drawer)},
		{"shop.yaml", with("buy", []string{in("shop.yaml")}, drawer)},
		{"d.yaml", with("learn", drawer)},
		{"d.yaml", with("check", drawer)},
		{"d.yaml", with("check --fix", drawer)},
		{"style.yaml", with("check", drawer, style)},
		{"d.yaml", with("bench --prop p --rpm 8000", drawer)},
		{"style.yaml", with("styles", style)},
		{"d.yaml", with("add", []string{in("d.yaml"), "strap 1g"})},
		{"d.yaml", with("add", drawer, []string{"strap 1g"})},
		{"d.yaml", with("export motors", drawer)},
		{"d.yaml", with("import motors", []string{in("sheet.csv")}, drawer)},
		{"sheet.csv", with("import motors", []string{in("sheet.csv")})},
		{"d.yaml", with("page", drawer)},
		{"style.yaml", with("page", drawer, style)},
	} {
		for what, name := range namesOf(t, in(c.reads)) {
			line := append(append([]string{}, c.args...), "--output", name)
			if got := run(t, line...); got.code != exit.CodeUsage || got.out != "" ||
				!strings.Contains(got.err, "which this command reads") {
				t.Errorf("%v, by %s: exit %d\n%s%s", line, what, got.code, got.out, got.err)
			}
		}
	}
	plot := in("drawer.svg")
	if err := os.Link(in("d.yaml"), plot); err != nil {
		t.Skip("no links here")
	}
	for _, line := range [][]string{with("explain 1", drawer, []string{"--plot", plot}),
		with("explain 1 --plot", []string{in("new.svg"), "--output", in("new.svg")}),
		{"new", in("new.yaml"), "--output", in("d.yaml")}} {
		if got := run(t, line...); got.code != exit.CodeUsage || got.out != "" {
			t.Errorf("%v: exit %d\n%s%s", line, got.code, got.out, got.err)
		}
	}
	for name, text := range files {
		if now, err := os.ReadFile(in(name)); err != nil || string(now) != text {
			t.Errorf("%s has changed (%v)", name, err)
		}
	}
}

// namesOf are ways to name a file: as it is, from the folder above, and by links as far as there are any.
func namesOf(t *testing.T, path string) map[string]string {
	t.Helper()
	names := map[string]string{"its name": path, "a detour": filepath.Dir(path) + "/./../" +
		filepath.Base(filepath.Dir(path)) + "/" + filepath.Base(path)}
	links := t.TempDir()
	if soft := filepath.Join(links, "soft"); os.Symlink(path, soft) == nil {
		names["a symbolic link"] = soft
	}
	if hard := filepath.Join(links, "hard"); os.Link(path, hard) == nil {
		names["a hard link"] = hard
	}
	return names
}
