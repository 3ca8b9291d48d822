package cli

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// Property: a row in the table of figures is all that a new figure needs to show: help explains it, results hold it
// in JSON, CSV and tables, the schemas of styles and drawers know it, a limit and its completion take it, and the page
// compares it if the row says so.
func TestEveryFigureShowsEverywhere(t *testing.T) {
	oneLine := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	path := writeTemp(t, "drawer.yaml", string(starter))
	args := func(command string) []string {
		return append(strings.Fields(command), "--drawer", path, "--quiet", "--top", "1")
	}
	topic := oneLine(run(t, "help", "figures").out)
	table := run(t, args("explain")...).out
	var ranked struct{ Results []foundJSON }
	decode(t, run(t, args("rank --format json")...).out, &ranked)
	if len(ranked.Results) != 1 {
		t.Fatalf("%d results", len(ranked.Results))
	}
	rows, err := csv.NewReader(strings.NewReader(run(t, args("rank --format csv")...).out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	keysAt := func(schema any, at ...string) map[string]json.RawMessage {
		text, err := json.Marshal(schema)
		for _, key := range at {
			var object map[string]json.RawMessage
			if err != nil || json.Unmarshal(text, &object) != nil || object[key] == nil {
				t.Fatalf("no %s in the schema", key)
			}
			text = object[key]
		}
		var keys map[string]json.RawMessage
		decode(t, string(text), &keys)
		return keys
	}
	limits := keysAt(styleSchema(), "properties", "limits", "properties")
	measured := keysAt(inventory.Schema(), "properties", "fleet", "items", "properties", "measured", "properties")
	offered := strings.Split(run(t, "__complete", "rank", "--limit", "").out, "\n")
	page := filepath.Join(t.TempDir(), "page.html")
	if got := run(t, "page", "--drawer", path, "--quiet", "--output", page); got.code != exit.CodeOK {
		t.Fatal(got.err)
	}
	inPage, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	held := pageData(t, string(inPage))
	for _, f := range figure.All() {
		for what, ok := range map[string]bool{
			"help": strings.Count(topic, f.Key+" (") == 1 &&
				strings.Contains(topic, oneLine(f.Meaning+" "+f.Method+" "+f.Trust)),
			"help under its heading": strings.Contains(topic, " "+f.Group.String()+" "),
			"the table of explain":   strings.Contains(table, "  "+f.Name+" "),
			"JSON":                   ranked.Results[0].Figures[f.Key].Basis != "",
			"CSV": slices.Contains(rows[0], f.Key) && slices.Contains(rows[0], f.Key+"_low") &&
				slices.Contains(rows[0], f.Key+"_high"),
			"the schema of a style":  limits[f.Key] != nil,
			"the schema of a drawer": measured[f.Key] != nil,
			"what --limit completes": slices.Contains(offered, f.Key+"="),
			"the page":               strings.Contains(held, `"key":"`+f.Key+`"`) == (f.Shown <= figure.Compared),
		} {
			if !ok {
				t.Errorf("%s: not as the table says in %s", f.Key, what)
			}
		}
		if l, err := objective.ParseLimit(f.Key + "=1..2"); err != nil || l.Quantity != f.Quantity {
			t.Errorf("a limit on %s: %v, %v", f.Key, l, err)
		}
	}
	if len(ranked.Results[0].Figures) != int(figure.Count) || len(limits) != int(figure.Count) ||
		len(measured) != int(figure.Count) {
		t.Errorf("%d figures in JSON, %d in the schema of a style, %d in that of a drawer; the table has %d",
			len(ranked.Results[0].Figures), len(limits), len(measured), figure.Count)
	}
}
