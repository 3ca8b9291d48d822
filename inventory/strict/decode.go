package strict

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

const (
	nullTag  = "!!null"
	mergeTag = "!!merge"
)

// Reader is a type with a written form of its own. ReadNode adds a fault to the node for
// whatever it cannot read.
type Reader interface{ ReadNode(n Node) }

// Renamer is a struct that knows what a key means which another program or trade has for one of its own: the key, and
// a problem whose Write is both, such as motor_spacing_mm: 155.6. It returns no key for one that means nothing to it;
// others are the single values that stand beside it, by key.
type Renamer interface {
	Renamed(key, value string, others map[string]string) (string, Problem)
}

var readerType = reflect.TypeFor[Reader]()

type decoder struct {
	doc   *Document
	root  reflect.Type // of the file
	plans map[reflect.Type]*plan
}

// decode fills into, a pointer to a struct, from the root of a document. A type with a bad tag is
// a mistake in the program and panics.
func (d *Document) decode(root *yaml.Node, into any) {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.Elem().Kind() != reflect.Struct {
		panic(fmt.Sprintf("strict: into must point to a struct, got %T", into))
	}
	dec := decoder{d, v.Elem().Type(), map[reflect.Type]*plan{}}
	dec.value(Node{d, root, "", openRule()}, v.Elem())
}

// value decodes a node into v.
func (dec *decoder) value(n Node, v reflect.Value) {
	dec.doc.nodes[n.path] = n.yaml
	if !n.plain() {
		return
	}
	if v.Addr().Type().Implements(readerType) {
		v.Addr().Interface().(Reader).ReadNode(n)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		inner := reflect.New(v.Type().Elem())
		before := len(dec.doc.faults) + dec.doc.lost
		dec.value(n, inner.Elem())
		if len(dec.doc.faults)+dec.doc.lost == before {
			v.Set(inner)
		}
	case reflect.Struct:
		dec.structure(n, v)
	case reflect.Map:
		dec.mapping(n, v)
	case reflect.Slice:
		items, ok := n.Items()
		if !ok {
			return
		}
		s := reflect.MakeSlice(v.Type(), len(items), len(items))
		for i, item := range items {
			item.rule = n.elementRule()
			dec.name(n.rule.each, i, item)
			dec.value(item, s.Index(i))
		}
		v.Set(s)
	case reflect.Array:
		items, ok := n.Items()
		if !ok {
			return
		}
		if len(items) != v.Len() {
			n.Fault("list.length", Values{"n": Number(v.Len()), "got": Number(len(items))})
			return
		}
		for i, item := range items {
			item.rule = n.elementRule()
			dec.value(item, v.Index(i))
		}
	case reflect.String:
		if s, ok := n.Text(); ok {
			v.SetString(s)
		}
	case reflect.Bool:
		if b, ok := n.Bool(); ok {
			v.SetBool(b)
		}
	case reflect.Int:
		if i, ok := n.Int(); ok {
			v.SetInt(int64(i))
		}
	case reflect.Float64:
		if x, ok := n.Number(); ok {
			v.SetFloat(x)
		}
	default:
		panic(fmt.Sprintf("strict: %s has the type %v, which cannot be read", n.path, v.Type()))
	}
}

// elementRule is the rule for the entries of a list: that of the list without its length.
func (n Node) elementRule() rule {
	r := n.rule
	r.itemsMin, r.itemsMax, r.required, r.each = 0, defaultItems, false, ""
	return r
}

// pairs yields the keys of a mapping with their values, faulting keys that are no plain words,
// that stand twice, and merge keys.
func (n Node) pairs() []pair {
	content := n.yaml.Content
	pairs := make([]pair, 0, len(content)/2)
	first := make(map[string]int, len(content)/2)
	for i := 0; i+1 < len(content); i += 2 {
		k, v := content[i], content[i+1]
		at := position(k)
		path := join(n.path, k.Value)
		switch {
		case k.Kind != yaml.ScalarNode:
			n.doc.at(at, n.path, "key.word", nil)
			continue
		case k.Tag == mergeTag:
			n.doc.at(at, n.path, "key.merge", nil)
			continue
		case k.Anchor != "" || k.Style&yaml.TaggedStyle != 0:
			n.doc.at(at, path, "key.anchor", nil)
			continue
		}
		if line, ok := first[k.Value]; ok {
			n.doc.at(at, path, "key.twice", Values{"line": Line(line)})
			continue
		}
		first[k.Value] = k.Line
		pairs = append(pairs, pair{k.Value, at, Node{n.doc, v, path, openRule()}})
	}
	return pairs
}

type pair struct {
	key   string
	at    Position
	value Node
}

func (dec *decoder) structure(n Node, v reflect.Value) {
	p := dec.plans[v.Type()]
	if p == nil {
		var err error
		if p, err = planOf(v.Type()); err != nil {
			panic("strict: " + err.Error())
		}
		dec.plans[v.Type()] = p
	}
	if p.origin != nil {
		v.FieldByIndex(p.origin).Set(reflect.ValueOf(Origin{n.path, n.Position()}))
	}
	if n.yaml.Kind != yaml.MappingNode {
		n.Add(n.notKeys(p))
		return
	}
	given := make([]bool, len(p.fields))
	all := n.pairs()
	for k, pair := range all {
		i, ok := p.byKey[pair.key]
		if !ok {
			f := dec.unknownKey(pair, n, v, p)
			dec.doc.add(f)
			if i, ok := p.byKey[f.meant]; ok {
				given[i] = true
				dec.doc.standsFor(pair.value, join(n.path, f.meant))
			}
			continue
		}
		given[i] = true
		pair.value.rule = p.fields[i].rule
		if pair.value.isBlank() {
			if !pair.value.rule.blank {
				dec.doc.add(n.leftEmpty(pair))
			}
			continue
		}
		if k+1 < len(all) && n.cutOff(all[k+1]) && pair.value.IsScalar() &&
			isNumeric(v.FieldByIndex(p.fields[i].index).Type()) {
			continue // only the first half of a number; the fault stands at the second
		}
		dec.value(pair.value, v.FieldByIndex(p.fields[i].index))
	}
	for i := range p.fields {
		if f := &p.fields[i]; f.rule.required && !given[i] {
			path := join(n.path, f.key)
			dec.doc.at(n.Position(), path, "missing", nil)
		}
	}
}

func (dec *decoder) mapping(n Node, v reflect.Value) {
	if n.yaml.Kind != yaml.MappingNode {
		n.Add(n.notKeys(nil))
		return
	}
	m := reflect.MakeMap(v.Type())
	for _, pair := range n.pairs() {
		if n.cutOff(pair) {
			n.doc.at(pair.at, pair.value.path, "key.decimal_comma", nil)
			continue
		}
		pair.value.rule = n.elementRule()
		x := reflect.New(v.Type().Elem()).Elem()
		dec.value(pair.value, x)
		m.SetMapIndex(reflect.ValueOf(pair.key), x)
	}
	v.Set(m)
}

func join(path, key string) string {
	if !plainKey(key) {
		key = Show(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

func plainKey(key string) bool {
	return key != "" && !strings.ContainsFunc(key, func(r rune) bool { return !isWordRune(r) || r == '.' })
}

// sample is the first few keys.
func sample(keys []string) List {
	if len(keys) > 3 {
		return append(slices.Clone(keys[:2]), keys[2]+" …")
	}
	return keys
}

// cutOff reports whether a key is what stood behind a decimal comma in braces.
func (n Node) cutOff(p pair) bool {
	return p.key != "" && p.key[0] >= '0' && p.key[0] <= '9' && n.yaml.Style&yaml.FlowStyle != 0 && p.value.isNull()
}

func isNumeric(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t.Kind() == reflect.Float64 || t.Kind() == reflect.Int
}

// unknownKey is the fault of a key that is not known, with the nearest one that is.
func (dec *decoder) unknownKey(p pair, n Node, v reflect.Value, known *plan) Fault {
	f := Fault{Position: p.at, Path: p.value.path}
	if r, ok := v.Addr().Interface().(Renamer); ok && p.value.IsScalar() {
		if key, problem := r.Renamed(p.key, p.value.Raw(), n.words()); key != "" {
			f.Problem, f.meant = problem, key
			f.Fix = n.doc.pairFix(p, problem.Write)
			return f
		}
	}
	near := known.meant(p.key)
	var others List
	if strings.Count(n.path, "[") == 1 && strings.HasSuffix(n.path, "]") {
		others = dec.othersWith(p.key, known)
	}
	switch {
	case n.cutOff(p):
		f.Code = "key.decimal_comma"
	case near != "":
		f.Code, f.Values = "key.unknown_near", Values{"near": near}
		if known.sameKey(p.key, near) {
			if rest, ok := n.doc.rest(p.at); ok && strings.HasPrefix(rest, p.key) {
				f.Fix, f.meant = &Fix{p.at, p.key, near}, near
			}
		}
	case others != nil:
		f.Code, f.Values = "key.of_others", Values{"others": others}
	default:
		f.Code, f.Values = "key.unknown", Values{"keys": List(slices.Sorted(slices.Values(known.keys())))}
	}
	return f
}

// othersWith are the kinds of parts, other than that of a plan, that have a key of that name in the file's lists.
func (dec *decoder) othersWith(key string, than *plan) List {
	var list List
	root, err := planOf(dec.root)
	if err != nil {
		return nil
	}
	for _, f := range root.fields {
		t := dec.root.FieldByIndex(f.index).Type
		if f.rule.each == "" || t.Kind() != reflect.Slice || t.Elem().Kind() != reflect.Struct {
			continue
		}
		p, err := planOf(t.Elem())
		if err != nil || slices.Equal(p.keys(), than.keys()) {
			continue
		}
		if _, ok := p.byKey[key]; ok {
			list = append(list, f.rule.each)
		}
	}
	return list
}

// ordinals are the first of the numbers that parts without a name are told apart by.
var ordinals = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
	"eleventh", "twelfth"}

// ordinal is a place in a list, from 0: first, second … 13th.
func ordinal(i int) string {
	if i < len(ordinals) {
		return ordinals[i]
	}
	n := i + 1
	switch {
	case n%10 == 1 && n%100 != 11:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2 && n%100 != 12:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3 && n%100 != 13:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// name notes what the entry of a list at a place is called: by what each is, and its id or name; without these by its
// place, as in second pack.
func (dec *decoder) name(each string, at int, item Node) {
	if each == "" || item.yaml.Kind != yaml.MappingNode {
		return
	}
	place := ordinal(at) + " " + each
	dec.doc.names[item.path], dec.doc.places[item.path] = place, place
	for i := 0; i+1 < len(item.yaml.Content); i += 2 {
		if k, v := item.yaml.Content[i], item.yaml.Content[i+1]; (k.Value == "id" || k.Value == "name") &&
			v.Kind == yaml.ScalarNode && v.Value != "" {
			dec.doc.names[item.path] = each + " " + Show(v.Value)
			return
		}
	}
}
