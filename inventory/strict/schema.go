package strict

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
)

// SchemaDialect is the dialect of JSON Schema that Schema is written in.
const SchemaDialect = "https://json-schema.org/draft/2020-12/schema"

// Schema is a JSON Schema, or an object inside one, whose members keep their order.
type Schema struct{ members []member }

type member struct {
	key   string
	value any
}

// Former is a Reader that says in a schema what it reads, within the bounds of its rule.
type Former interface {
	Form(low, high float64) *Schema
}

// Ruler is a struct that has rules beside those of its tags: it adds them to its own schema.
type Ruler interface{ SchemaRules(s *Schema) }

// NewSchema makes a schema of keys and values in turn.
func NewSchema(pairs ...any) *Schema {
	s := &Schema{}
	for i := 0; i+1 < len(pairs); i += 2 {
		s.Set(pairs[i].(string), pairs[i+1])
	}
	return s
}

// Set puts a member in its place, or at the end.
func (s *Schema) Set(key string, value any) {
	for i := range s.members {
		if s.members[i].key == key {
			s.members[i].value = value
			return
		}
	}
	s.members = append(s.members, member{key, value})
}

// Get is the value of a member, nil if there is none.
func (s *Schema) Get(key string) any {
	for _, m := range s.members {
		if m.key == key {
			return m.value
		}
	}
	return nil
}

// Keys are the properties that an object's schema names, in order.
func (s *Schema) Keys() []string {
	properties, ok := s.Get("properties").(*Schema)
	if !ok {
		return nil
	}
	keys := make([]string, len(properties.members))
	for i, m := range properties.members {
		keys[i] = m.key
	}
	return keys
}

// At is the schema of what lies at a path of keys, the entries of a list under []; nil if there is
// nothing.
func (s *Schema) At(path ...string) *Schema {
	for _, key := range path {
		if s == nil {
			return nil
		}
		if key == "[]" {
			s, _ = s.Get("items").(*Schema)
			continue
		}
		properties, _ := s.Get("properties").(*Schema)
		if properties == nil {
			return nil
		}
		s, _ = properties.Get(key).(*Schema)
	}
	return s
}

// MarshalJSON writes the members in order, without escapes for HTML.
func (s *Schema) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range s.members {
		if i > 0 {
			b.WriteByte(',')
		}
		for k, x := range []any{m.key, m.value} {
			e := json.NewEncoder(&b)
			e.SetEscapeHTML(false)
			if err := e.Encode(x); err != nil {
				return nil, err
			}
			b.Truncate(b.Len() - 1)
			if k == 0 {
				b.WriteByte(':')
			}
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// SchemaOf derives the schema of a struct from the tags that its reader keeps to, so that the two
// cannot differ. A type that cannot be read is a mistake in the program and panics.
func SchemaOf(v any) *Schema {
	return schemaOf(reflect.TypeOf(v), openRule())
}

var (
	formerType = reflect.TypeFor[Former]()
	rulerType  = reflect.TypeFor[Ruler]()
)

func schemaOf(t reflect.Type, r rule) *Schema {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if reflect.PointerTo(t).Implements(formerType) {
		return reflect.New(t).Interface().(Former).Form(r.low, r.high)
	}
	switch t.Kind() {
	case reflect.Struct:
		return objectSchema(t)
	case reflect.Map:
		return NewSchema("type", "object", "additionalProperties", schemaOf(t.Elem(), elementOf(r)))
	case reflect.Slice:
		s := NewSchema("type", "array", "items", schemaOf(t.Elem(), elementOf(r)))
		if r.itemsMin > 0 {
			s.Set("minItems", r.itemsMin)
		}
		s.Set("maxItems", r.itemsMax)
		return s
	case reflect.Array:
		return NewSchema("type", "array", "items", schemaOf(t.Elem(), elementOf(r)), "minItems", t.Len(), "maxItems", t.Len())
	case reflect.String:
		return textSchema(r)
	case reflect.Bool:
		return NewSchema("type", "boolean")
	case reflect.Int:
		s := NewSchema("type", "integer")
		boundsSchema(s, r)
		return s
	case reflect.Float64:
		s := NewSchema("type", "number")
		boundsSchema(s, r)
		return s
	}
	panic(fmt.Sprintf("strict: the type %v has no schema", t))
}

func elementOf(r rule) rule { return Node{rule: r}.elementRule() }

func boundsSchema(s *Schema, r rule) {
	switch {
	case math.IsInf(r.low, -1):
	case r.lowOpen:
		s.Set("exclusiveMinimum", r.low)
	default:
		s.Set("minimum", r.low)
	}
	if !math.IsInf(r.high, 1) {
		s.Set("maximum", r.high)
	}
}

// textSchema is any single value, for the reader takes what is written as it stands: 1404 without
// quotes is a number to JSON and text here.
func textSchema(r rule) *Schema {
	if r.words != nil {
		return NewSchema("enum", r.words)
	}
	s := NewSchema("type", []string{"string", "number", "boolean"})
	switch {
	case r.id:
		s.Set("pattern", fmt.Sprintf("^[A-Za-z0-9._-]{1,%d}$", MaxID))
		return s
	case r.required:
		s.Set("pattern", "^[^\\t\\r\\n]*\\S[^\\t\\r\\n]*\\n*$")
	default:
		s.Set("pattern", "^[^\\t\\r\\n]*\\n*$")
	}
	s.Set("maxLength", r.length)
	return s
}

func objectSchema(t reflect.Type) *Schema {
	p, err := planOf(t)
	if err != nil {
		panic("strict: " + err.Error())
	}
	properties := &Schema{}
	var required []string
	for _, f := range p.fields {
		inner := schemaOf(t.FieldByIndex(f.index).Type, f.rule)
		if f.rule.unit != "" {
			inner.Set("description", "In "+f.rule.unit+".")
		}
		properties.Set(f.key, inner)
		if f.rule.required {
			required = append(required, f.key)
		}
	}
	s := NewSchema("type", "object", "properties", properties)
	if required != nil {
		s.Set("required", required)
	}
	s.Set("additionalProperties", false)
	if reflect.PointerTo(t).Implements(rulerType) {
		reflect.New(t).Interface().(Ruler).SchemaRules(s)
	}
	return s
}

// Describe says what the value at a path means, before its unit.
func (s *Schema) Describe(about string, path ...string) error {
	at := s.At(path...)
	if at == nil {
		return fmt.Errorf("the schema has no %v", path)
	}
	if unit, ok := at.Get("description").(string); ok {
		about += " " + unit
	}
	// The meaning comes first in an editor's list.
	at.members = slices.DeleteFunc(at.members, func(m member) bool { return m.key == "description" })
	at.members = slices.Insert(at.members, 0, member{"description", about})
	return nil
}

// Document is the schema as a document of its own, with its dialect, title and purpose.
func (s *Schema) Document(title, about string) *Schema {
	return &Schema{append([]member{{"$schema", SchemaDialect}, {"title", title}, {"description", about}}, s.members...)}
}
