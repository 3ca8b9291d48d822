package predict

import (
	"cmp"
	"encoding/binary"
	"hash"
	"hash/fnv"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
)

// owners names what owns random numbers by content, so that they stay the same whatever a part is called and
// wherever it stands in its drawer.
type owners struct {
	drawer map[string]string // by kind and id, of the drawer's parts; a part changed in thought keeps its numbers
	made   map[inventory.Item]string
}

// newOwners names the parts of a drawer, which may be nil. Of parts that are the same in all but their names each
// has numbers of its own, in the order of their ids.
func newOwners(d *inventory.Drawer) owners {
	o := owners{map[string]string{}, map[inventory.Item]string{}}
	if d == nil {
		return o
	}
	items := slices.Collect(d.All())
	slices.SortStableFunc(items, func(a, b inventory.Item) int { return cmp.Compare(a.Base().ID, b.Base().ID) })
	seen := map[string]int{}
	for _, item := range items {
		name := contentOf(item)
		key := string(item.Kind()) + " " + name
		if again := seen[key]; again > 0 {
			o.drawer[partKey(item)] = name + "#" + strconv.Itoa(again)
		} else {
			o.drawer[partKey(item)] = name
		}
		seen[key]++
	}
	return o
}

func partKey(item inventory.Item) string { return string(item.Kind()) + " " + item.Base().ID }

// of names a part. A mixed set is named by both its kinds.
func (o *owners) of(item inventory.Item) string {
	if m, ok := item.(*inventory.Motor); ok && m.Mixed != nil {
		both := []string{o.of(m.Mixed.A), o.of(m.Mixed.B)}
		slices.Sort(both)
		return strings.Join(both, "~")
	}
	if name, ok := o.drawer[partKey(item)]; ok {
		return name
	}
	name, ok := o.made[item]
	if !ok {
		name = contentOf(item)
		o.made[item] = name
	}
	return name
}

// ofExtras names a set of extras.
func (o *owners) ofExtras(extras []*inventory.Extra) string {
	names := make([]string, len(extras))
	for i, e := range extras {
		names[i] = o.of(e)
	}
	slices.Sort(names)
	return strings.Join(names, "+")
}

// contentOf is a hash of what a drawer says of a part: of every key but its id, its count, its note, and ids of
// other parts.
func contentOf(item inventory.Item) string {
	h := fnv.New64a() // its Write never fails
	writeContent(h, reflect.ValueOf(item).Elem())
	return strconv.FormatUint(h.Sum64(), 16)
}

func writeContent(h hash.Hash64, v reflect.Value) {
	number := func(bits uint64) {
		var b [8]byte
		binary.LittleEndian.PutUint64(b[:], bits)
		h.Write(b[:])
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			h.Write([]byte{0})
			return
		}
		h.Write([]byte{1})
		writeContent(h, v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			key, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
			checks := strings.Split(f.Tag.Get("check"), ",")
			if f.Anonymous || !f.IsExported() || key == "" || key == "-" || key == "count" || key == "note" ||
				slices.Contains(checks, "id") {
				continue // ids, what is the same for all pieces, and what is derived from other keys
			}
			h.Write([]byte(key))
			writeContent(h, v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		number(uint64(v.Len()))
		for i := range v.Len() {
			writeContent(h, v.Index(i))
		}
	case reflect.Float64:
		number(math.Float64bits(v.Float()))
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		number(uint64(v.Int()))
	case reflect.Bool:
		number(map[bool]uint64{true: 1}[v.Bool()])
	case reflect.String:
		number(uint64(v.Len()))
		h.Write([]byte(v.String()))
	}
}
