package inventory

import (
	"maps"
	"slices"
	"strings"

	"partsaloft/inventory/strict"
	"partsaloft/physics/figure"
)

// Schema is the JSON Schema of a drawer file, made from the tags that the reader keeps to.
func Schema() *strict.Schema {
	s := strict.SchemaOf(Drawer{})
	for _, path := range slices.Sorted(maps.Keys(abouts)) {
		if err := s.Describe(abouts[path], strings.Split(path, ".")...); err != nil {
			panic("inventory: " + err.Error())
		}
	}
	measured := &strict.Schema{}
	for _, f := range figure.All() {
		one := strict.NewSchema("type", "number")
		if f.Positive() {
			one.Set("exclusiveMinimum", 0)
		}
		measured.Set(f.Key, one)
	}
	if at := s.At("fleet", "[]", "measured"); at != nil {
		at.Set("properties", measured)
		at.Set("additionalProperties", false)
	}
	return s
}

// Form is one number, a text such as 16x16, or a list of them.
func (l *Lengths) Form(low, high float64) *strict.Schema {
	one := []any{
		strict.NewSchema("type", "number", "minimum", low, "maximum", high),
		strict.NewSchema("type", "string", "pattern", square.String()),
	}
	return strict.NewSchema("anyOf", append(one, strict.NewSchema("type", "array", "items",
		strict.NewSchema("anyOf", one), "minItems", 1)))
}

// Form is the least and the most cells in brackets, or the most as a text such as 6S.
func (c *CellRange) Form(float64, float64) *strict.Schema {
	return strict.NewSchema("anyOf", []any{
		strict.NewSchema("type", "array", "items", strict.NewSchema("type", "integer", "minimum", 1, "maximum", 14),
			"minItems", 2, "maxItems", 2),
		strict.NewSchema("type", "string", "pattern", upToText.String()),
	})
}

// together are keys that are given both or neither.
func together(s *strict.Schema, a, b string) {
	s.Set("dependentRequired", strict.NewSchema(a, []string{b}, b, []string{a}))
}

// oneOfThese asks for all keys of at least one list.
func oneOfThese(s *strict.Schema, lists ...[]string) {
	var ways []any
	for _, keys := range lists {
		ways = append(ways, strict.NewSchema("required", keys))
	}
	s.Set("anyOf", ways)
}

// SchemaRules asks for both no-load figures or none, and for an even number of poles.
func (m *Motor) SchemaRules(s *strict.Schema) {
	together(s, "no_load_a", "no_load_v")
	s.At("poles").Set("multipleOf", 2)
	s.At("stator").Set("pattern", `^\s*`+strings.Trim(stator.String(), "^$")+`\s*$`)
}

// SchemaRules asks for a reading.
func (b *MotorBench) SchemaRules(s *strict.Schema) {
	oneOfThese(s, []string{"rpm"}, []string{"thrust_g"}, []string{"current_a"})
}

// SchemaRules asks for a size in one of its two forms.
func (p *Prop) SchemaRules(s *strict.Schema) {
	s.Set("anyOf", []any{
		strict.NewSchema("required", []string{"size"}),
		strict.NewSchema("required", []string{"diameter_in", "pitch_in", "blades"}),
		strict.NewSchema("required", []string{"diameter_in", "blades"}, "properties",
			strict.NewSchema("diameter_in", strict.NewSchema("exclusiveMaximum", noPitchIn))),
	})
	const length = `(?:\d{1,3}(?:\.\d{1,4})?|\.\d{1,4})\s?(?:[mM][mM]|[iI][nN](?:[cC][hH])?|"|″|”)?`
	s.At("size").Set("pattern", `^\s*`+length+`(?:\s*[xX×*]\s*`+length+`(?:\s*[xX×*]\s*[2-8])?)?\s*$`)
	s.At("size").Set("type", "string")
}

// SchemaRules asks for a size in one of its two forms.
func (p *Pack) SchemaRules(s *strict.Schema) {
	oneOfThese(s, []string{"size"}, []string{"cells", "capacity_mah"})
	s.At("size").Set("pattern", `^\s*(?:\d{1,6}(?:\.\d{1,4})?\s?(?:[mM]?[aA][hH]|[sScCpP])?\s*)+$`)
}

// SchemaRules asks for a size.
func (f *Frame) SchemaRules(s *strict.Schema) {
	oneOfThese(s, []string{"max_prop_in"}, []string{"motor_spacing_mm"})
}

// SchemaRules ties use and with together.
func (e *Extra) SchemaRules(s *strict.Schema) {
	use := func(words ...string) *strict.Schema {
		return strict.NewSchema("properties", strict.NewSchema("use", strict.NewSchema("enum", words)), "required",
			[]string{"use"})
	}
	s.Set("allOf", []any{
		strict.NewSchema("if", use(string(With)), "then", strict.NewSchema("required", []string{"with"})),
		strict.NewSchema("if", use(string(Always), string(Optional)), "then",
			strict.NewSchema("not", strict.NewSchema("required", []string{"with"}))),
	})
}

// SchemaRules asks for a stack pattern where a bridge joins two.
func (b *Bridge) SchemaRules(s *strict.Schema) {
	end := strict.NewSchema("anyOf", []any{
		strict.NewSchema("type", "number", "minimum", 10, "maximum", 60),
		strict.NewSchema("type", "string", "pattern", plain.String()),
	})
	s.Set("if", strict.NewSchema("properties", strict.NewSchema("what", strict.NewSchema("const", "stack_mm"))))
	s.Set("then", strict.NewSchema("properties", strict.NewSchema("from", end, "to", end)))
}

// SchemaRules asks for a reading, and for what a flying time needs beside it.
func (e *LogEntry) SchemaRules(s *strict.Schema) {
	s.At("date").Set("pattern", `^[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$`)
	s.At("date").Set("type", "string")
	oneOfThese(s, []string{"all_up_g"}, []string{"hover_throttle_pct"}, []string{"hover_current_a"}, []string{"hover_rpm"},
		[]string{"flight_minutes"},
		[]string{"full_throttle_current_a"}, []string{"loaded_cell_v"}, []string{"top_speed_mps"})
	charge := strict.NewSchema()
	oneOfThese(charge, []string{"landing_cell_v"}, []string{"used_mah"})
	charge.Set("required", []string{"flown"})
	s.Set("dependentSchemas", strict.NewSchema("flight_minutes", charge))
	s.Set("dependentRequired", strict.NewSchema("flown", []string{"flight_minutes"}, "landing_cell_v",
		[]string{"flight_minutes"}, "used_mah", []string{"flight_minutes"}, "throttle_kind", []string{"hover_throttle_pct"}))
}
