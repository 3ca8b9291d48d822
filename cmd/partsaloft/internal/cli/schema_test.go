package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory/strict"
)

// schemaFor compiles what the schema command prints, by a validator that knows nothing of the reader.
func schemaFor(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	got := run(t, "schema", name)
	if got.code != 0 || got.err != "" {
		t.Fatalf("schema %s: exit %d\n%s", name, got.code, got.err)
	}
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(got.out))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if s.DraftVersion != 2020 {
		t.Errorf("schema %s is of draft %d", name, s.DraftVersion)
	}
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	var x any
	if err := yaml.Unmarshal(text, &x); err != nil {
		return err
	}
	inJSON, err := json.Marshal(x)
	if err != nil {
		return err
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(inJSON))
	if err != nil {
		return err
	}
	return s.Validate(value)
}

// Independent: the schema takes every example style and refuses what the reader refuses.
func TestStyleSchema(t *testing.T) {
	s := schemaFor(t, "style")
	files, err := filepath.Glob("../../../../examples/styles/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d styles (%v)", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := validate(t, s, text); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
	for _, good := range []string{
		"name: 5", "weights: {top_speed: 0.5}", "limits: {tip_mach: ..0.7, all_up_g: 100..250, style_minutes: \"3 ..\"}",
		"required_roles: [camera, video]",
		"flying: {segments: [{kind: punch, share_pct: 100}]}", "flying: {speed_mps: 0, landing_cell_v: 3.3}",
		"flying: {segments: [{kind: turn, share_pct: 100, speed_pct: 30, load_pct: 8}]}",
	} {
		_, err := session.ReadStyle("style.yaml", []byte(good))
		if invalid := validate(t, s, []byte(good)); invalid != nil || err != nil {
			t.Errorf("%s: reader %v, schema %v", good, err, invalid)
		}
	}
	for _, bad := range []string{
		"weights: {speed: 1}", "weights: {grip: -1}", "weights: {grip: much}", "weights: [grip]", "limits: {weight_g: ..250}",
		"limits: {all_up_g: 250}", "limits: {all_up_g: ..}",
		"required_roles: [pilot]", "required_roles: camera", "speed: 5", "flying: {segments: []}",
		"flying: {segments: [{kind: loop, share_pct: 100}]}",
		"flying: {segments: [{kind: punch, share_pct: 100, speed_mps: 5}]}", "flying: {segments: [{kind: hover}]}",
		"flying: {segments: [{kind: cruise, share_pct: 100, speed_pct: 30, speed_mps: 8}]}",
		"flying: {segments: [{kind: turn, share_pct: 100, load_pct: 5, load_factor: 2}]}",
		"flying: {segments: [{kind: punch, share_pct: 100, speed_pct: 5}]}",
		"flying: {reserve_pct: 90}", "[1]", "text",
	} {
		_, err := session.ReadStyle("style.yaml", []byte(bad))
		if invalid := validate(t, s, []byte(bad)); invalid == nil || err == nil {
			t.Errorf("%s: reader %v, schema %v", bad, err, invalid)
		}
	}
}

// Property: every key of a style and of a learned file says what it is.
func TestEveryKeyOfAStyleHasAMeaning(t *testing.T) {
	var walk func(s *strict.Schema, path string)
	walk = func(s *strict.Schema, path string) {
		for _, key := range s.Keys() {
			inner := s.At(key)
			if strings.HasPrefix(path, "weights") {
				continue
			}
			if about, _ := inner.Get("description").(string); about == "" || strings.HasPrefix(about, "In ") {
				t.Errorf("%s%s has no meaning", path, key)
			}
			walk(inner, path+key+".")
			if items := inner.At("[]"); items != nil {
				walk(items, path+key+".")
			}
		}
	}
	walk(styleSchema(), "")
}

func TestSchemaTakesKnownNames(t *testing.T) {
	for _, args := range [][]string{{"schema"}, {"schema", "log"}, {"schema", "drawer", "style"}} {
		if got := run(t, args...); got.code != 2 || got.out != "" {
			t.Errorf("%v: exit %d", args, got.code)
		}
	}
	file := filepath.Join(t.TempDir(), "s.json")
	if got := run(t, "schema", "drawer", "--output", file); got.code != 0 || got.out != "" {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	text, err := os.ReadFile(file)
	if direct := run(t, "schema", "drawer"); err != nil || direct.out != string(text) || !json.Valid(text) {
		t.Errorf("%v: the file is not what is printed", err)
	}
	schemaFor(t, "learned")
}
