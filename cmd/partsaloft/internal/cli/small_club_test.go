package cli

import (
	"slices"
	"strings"
	"testing"

	"partsaloft/examples"
)

// smallClub is a file with a cut of the club's drawer: all frames, boards and extras, and the motors, props,
// packs, crafts and flights of two builds. It asks the same code as the whole for a fraction of the time.
func smallClub(t *testing.T) string {
	t.Helper()
	content, err := examples.Files.ReadFile(examples.DefaultDrawer)
	if err != nil {
		t.Fatal(err)
	}
	keep := []string{"m1507-27", "m1303.5-51", "m1804-32", "p3.5-26x3", "p3.5-23x2", "p2-24x3", "k4s-720", "k4s-1020",
		"k4s-470", "k3s-620"}
	var text, entry strings.Builder
	section := ""
	flush := func() {
		wanted := true
		switch section {
		case "motors:", "props:", "packs:":
			first, _, _ := strings.Cut(entry.String(), "\n")
			wanted = slices.Contains(keep, strings.TrimPrefix(first, "  - id: "))
		case "fleet:", "log:":
			wanted = strings.Contains(entry.String(), "motor: m1303.5-51")
		}
		if wanted {
			text.WriteString(entry.String())
		}
		entry.Reset()
	}
	for line := range strings.Lines(string(content)) {
		switch {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(strings.TrimSpace(line), "#"):
			continue
		case !strings.HasPrefix(line, " "):
			flush()
			section = strings.TrimSpace(line)
			text.WriteString(line)
			continue
		case strings.HasPrefix(line, "  - "):
			flush()
		}
		entry.WriteString(line)
	}
	flush()
	return writeTemp(t, "club.yaml", text.String())
}
