package strict

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// rule is what a check tag says about a value.
type rule struct {
	required bool
	id       bool
	low      float64
	lowOpen  bool // over, not from
	high     float64
	unit     string
	words    []string
	length   int
	also     []string // what pilots write instead: other keys, or word:word
	itemsMin int
	itemsMax int
	each     string // what each entry of a list is called
	last     bool   // the key stands behind all others
	blank    bool   // the key may stand without a value, as if it were left out
}

// defaults for what a tag leaves out.
const (
	defaultLength = 200
	defaultItems  = 2000
)

func openRule() rule {
	return rule{low: math.Inf(-1), high: math.Inf(1), length: defaultLength, itemsMax: defaultItems}
}

// parseRule reads a check tag. A tag that cannot be read is a mistake in the program.
func parseRule(tag string) (rule, error) {
	r := openRule()
	if tag == "" {
		return r, nil
	}
	for word := range strings.SplitSeq(tag, ",") {
		name, value, _ := strings.Cut(word, "=")
		var err error
		switch name {
		case "required":
			r.required = true
		case "id":
			r.id = true
		case "min":
			r.low, err = strconv.ParseFloat(value, 64)
		case "over":
			r.low, err = strconv.ParseFloat(value, 64)
			r.lowOpen = true
		case "max":
			r.high, err = strconv.ParseFloat(value, 64)
		case "unit":
			r.unit = value
		case "oneof":
			r.words = strings.Split(value, "|")
		case "also":
			r.also = strings.Split(value, "|")
		case "len":
			r.length, err = strconv.Atoi(value)
		case "last":
			r.last = true
		case "blank":
			r.blank = true
		case "each":
			r.each = value
		case "items":
			low, high, _ := strings.Cut(value, "..")
			if r.itemsMin, err = strconv.Atoi(low); err == nil {
				r.itemsMax, err = strconv.Atoi(high)
			}
		default:
			err = fmt.Errorf("unknown word %q", name)
		}
		if err != nil {
			return r, fmt.Errorf("check tag %q: %w", tag, err)
		}
	}
	return r, nil
}

// field is one key of a struct.
type field struct {
	key   string
	index []int
	rule  rule
}

// plan is the keys of a struct type.
type plan struct {
	fields []field
	byKey  map[string]int
	origin []int // index of the Origin field, nil if there is none
}

var originType = reflect.TypeFor[Origin]()

// planOf lists the keys of a struct type, those of inlined structs included.
func planOf(t reflect.Type) (*plan, error) {
	p := &plan{byKey: map[string]int{}}
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Type == originType {
			p.origin = f.Index
			continue
		}
		tag := f.Tag.Get("yaml")
		if !f.IsExported() || tag == "-" {
			continue
		}
		key, option, _ := strings.Cut(tag, ",")
		if option == "inline" {
			inner, err := planOf(f.Type)
			if err != nil {
				return nil, err
			}
			for _, g := range inner.fields {
				g.index = append([]int{i}, g.index...)
				p.fields = append(p.fields, g)
			}
			if inner.origin != nil {
				p.origin = append([]int{i}, inner.origin...)
			}
			continue
		}
		if key == "" {
			return nil, fmt.Errorf("%v.%s has no yaml key", t, f.Name)
		}
		r, err := parseRule(f.Tag.Get("check"))
		if err != nil {
			return nil, fmt.Errorf("%v.%s: %w", t, f.Name, err)
		}
		p.fields = append(p.fields, field{key, f.Index, r})
	}
	slices.SortStableFunc(p.fields, func(a, b field) int {
		switch {
		case a.rule.last == b.rule.last:
			return 0
		case a.rule.last:
			return 1
		}
		return -1
	})
	for i := range p.fields {
		p.byKey[p.fields[i].key] = i
	}
	return p, nil
}

// meant is the key that a pilot's word stands for, "" if none is near.
func (p *plan) meant(word string) string {
	for _, f := range p.fields {
		if slices.Contains(f.rule.also, strings.ToLower(word)) {
			return f.key
		}
	}
	if key := p.withoutUnit(word); key != "" {
		return key
	}
	if near := Nearest(word, p.keys()); near != "" {
		return near
	}
	for _, f := range p.fields {
		for _, also := range f.rule.also {
			if editDistance(plainWord(word), plainWord(also)) <= 1 && len(also) > 3 {
				return f.key
			}
		}
	}
	return ""
}

// keys lists the keys in the order of the struct.
func (p *plan) keys() []string {
	keys := make([]string, len(p.fields))
	for i := range p.fields {
		keys[i] = p.fields[i].key
	}
	return keys
}
