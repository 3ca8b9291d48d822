package learn

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

// Independent: a validator of JSON Schema accepts what learn writes and refuses what its reader refuses.
func TestSchemaAcceptsWhatIsWritten(t *testing.T) {
	text, err := json.Marshal(Schema())
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", document); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	validate := func(text string) error {
		var x any
		if err := yaml.Unmarshal([]byte(text), &x); err != nil {
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
		return schema.Validate(value)
	}
	r := learn(t, mustRead(t, hangar))
	r.Learned.Version = "test"
	written := string(r.Learned.YAML())
	if err := validate(written); err != nil {
		t.Errorf("what was written: %v\n%s", err, written)
	}
	for _, change := range [][2]string{
		{"schema_version: 1", "schema_version: 99"}, {"tool_version:", "tool:"}, {"input: ", "input: wings_"}, {"factor: ",
			"factor: 100"},
		{"kind: motor", "kind: wing"}, {"correlation: 0.", "correlation: 7."}, {"readings: [", "readings: 5 # ["},
	} {
		bad := strings.Replace(written, change[0], change[1], 1)
		if bad == written {
			t.Errorf("nothing to change in %q", change[0])
			continue
		}
		_, err := Read("bad.yaml", strings.NewReader(bad))
		if invalid := validate(bad); invalid == nil || err == nil {
			t.Errorf("%s: reader %v, schema %v", change[1], err, invalid)
		}
	}
}
