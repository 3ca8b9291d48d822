package learn

import "partsaloft/inventory/strict"

// Schema is the JSON Schema of a learned file, made from the tags that the reader keeps to.
func Schema() *strict.Schema {
	s := strict.SchemaOf(written{})
	s.At("schema_version").Set("const", fileVersion)
	var keys []string
	seen := map[string]bool{}
	for _, n := range corrected {
		if !seen[n.key] {
			seen[n.key] = true
			keys = append(keys, n.key)
		}
	}
	s.At("parts", "[]", "changes", "[]", "input").Set("enum", keys)
	return s
}
