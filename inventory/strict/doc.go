// Package strict reads YAML files that people write by hand into Go structs and says everything
// that is wrong with them at once: each fault with file, line, column, the path of the key, the
// value found and the way out.
//
// It is stricter than YAML: unknown and repeated keys, missing and empty values, numbers in
// quotes or with units, octal and infinite numbers, anchors, merge keys, tags and second
// documents are faults. Struct fields carry their rules in tags:
//
//	KV    float64  `yaml:"kv" check:"required,min=50,max=60000,unit=rpm per volt"`
//	MassG *float64 `yaml:"mass_g" check:"min=0.2,max=500,unit=g"`
//
// Words of a check tag: required; min=, max= and over= bound a number; unit= names the unit in
// messages; oneof=a|b|c lists the allowed words; id asks for a part id; len= is the largest number
// of characters of a text (200 if not given); blank lets a key stand without a value, as a list to fill in does; items=1..3 bounds the length of a list; also=a|b
// names keys that pilots write instead, or, beside oneof, also=x:a words that stand for an allowed
// one: both only lead to a better message.
//
// A type that is written in a form of its own implements Reader.
package strict
