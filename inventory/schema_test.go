package inventory

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"partsaloft/inventory/strict"
)

func compiled(t testing.TB, s *strict.Schema) *jsonschema.Schema {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("schema.json", document); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

// asJSON reads YAML as an editor does that holds it against a schema.
func asJSON(text []byte) (any, error) {
	var x any
	if err := yaml.Unmarshal(text, &x); err != nil {
		return nil, err
	}
	return plainJSON(x)
}

func plainJSON(x any) (any, error) {
	text, err := json.Marshal(noDays(x))
	if err != nil {
		return nil, err
	}
	return jsonschema.UnmarshalJSON(bytes.NewReader(text))
}

// noDays turns days, which JSON has not, back into text.
func noDays(x any) any {
	switch x := x.(type) {
	case time.Time:
		return x.Format(time.DateOnly)
	case []any:
		for i := range x {
			x[i] = noDays(x[i])
		}
	case map[string]any:
		for k := range x {
			x[k] = noDays(x[k])
		}
	}
	return x
}

// Independent: a validator of JSON Schema that knows nothing of the reader accepts every example.
func TestSchemaAcceptsEveryExample(t *testing.T) {
	schema := compiled(t, Schema())
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples (%v)", len(files), err)
	}
	for _, file := range append(files, "testdata/forms.yaml") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Read(file, bytes.NewReader(text)); err != nil {
			if !strings.HasSuffix(file, "shop.yaml") { // an offer, with prices
				t.Error(err)
			}
			continue
		}
		x, err := asJSON(text)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(x); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// beyond are the bad drawers that no schema can refuse, by why.
var beyond = map[string]string{
	"alias":                   "aliases are gone once YAML is read",
	"merge-keys":              "merge keys are gone once YAML is read",
	"octal":                   "an octal number is a number once YAML is read",
	"pack-size-contradiction": "two keys contradict each other",
	"prop-size-contradiction": "two keys contradict each other",
	"same-id-twice":           "uniqueness by one key",
	"second-document":         "each document may be right",
	"stator-without-zero":     "0702 is the number 702 to a YAML reader",
	"tags":                    "tags are gone once YAML is read",
	"after-the-end":           "the text after the document's end is another one",
	"line-separator":          "the separator is a break to a YAML reader",
	"utf16":                   "the file's coding",
}

// Independent: the schema refuses every bad drawer but those whose fault no schema can see.
func TestSchemaRefusesBadDrawers(t *testing.T) {
	schema := compiled(t, Schema())
	files, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d bad drawers (%v)", len(files), err)
	}
	refused := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		x, err := asJSON(text)
		if err == nil {
			err = schema.Validate(x)
		}
		why, listed := beyond[name]
		switch {
		case err == nil && !listed:
			t.Errorf("%s passes the schema", name)
		case err != nil && listed:
			t.Errorf("%s is said to be beyond a schema (%s), and yet: %v", name, why, err)
		case err != nil:
			refused++
		}
	}
	t.Logf("%d of %d bad drawers are refused", refused, len(files))
}

// Property: every key has a meaning, and no meaning is of a key that is gone (Describe sees to it).
func TestEveryKeyHasAMeaning(t *testing.T) {
	var walk func(s *strict.Schema, path string)
	walk = func(s *strict.Schema, path string) {
		for _, key := range s.Keys() {
			at := strings.TrimPrefix(path+"."+key, ".")
			inner := s.At(key)
			if strings.Contains(at, ".parts.") || strings.Contains(at, "log.[].air.") || strings.Contains(at, ".measured.") {
				continue
			}
			if About(at) == "" {
				t.Errorf("%s has no meaning", at)
			}
			walk(inner, at)
			if items := inner.At("[]"); items != nil {
				walk(items, at+".[]")
			}
		}
	}
	walk(Schema(), "")
	if keys := Schema().Keys(); !reflect.DeepEqual(keys, []string{"air", "motors", "props", "packs", "frames", "boards",
		"extras", "fleet", "log"}) {
		t.Errorf("sections %v", keys)
	}
}
