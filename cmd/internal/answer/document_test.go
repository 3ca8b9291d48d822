package answer

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestFieldsKeepTheirOrderAndUnknownFiguresAreNull(t *testing.T) {
	var b strings.Builder
	if err := JSON(&b, Fields{{"b", 1}, {"a", Known(1.234567, 1, 2, "label")},
		{"c", Unknown("label", "it cannot <hover>")}}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if ib, ia, ic := strings.Index(text, `"b"`), strings.Index(text, `"a"`), strings.Index(text, `"c"`); ib >= ia || ia >= ic {
		t.Errorf("order is lost: %s", text)
	}
	if !strings.Contains(text, "<hover>") {
		t.Errorf("escaped for HTML: %s", text)
	}
	var back map[string]any
	if err := json.Unmarshal([]byte(text), &back); err != nil {
		t.Fatal(err)
	}
	a, c := back["a"].(map[string]any), back["c"].(map[string]any)
	if a["value"] != 1.2346 || a["basis"] != "label" || c["value"] != nil || c["low"] != nil || c["reason"] == nil {
		t.Errorf("%v", back)
	}
}
