package answer

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/search"
)

// ChangeForm is how a change is written.
const ChangeForm = "PART.KEY=VALUE, such as pack.capacity_mah=850, motor.kv=+5% or craft.mass_g=+12"

// parseChange reads one --change. PART is motor, prop, pack, frame or board with a key of the drawer,
// craft with mass_g, or air. A value that begins with + or - is added, with % in per cent; those of
// air are taken as they are.
func parseChange(text string, air inventory.Air) (search.Change, error) {
	path, value, ok := strings.Cut(text, "=")
	part, key, dotted := strings.Cut(strings.TrimSpace(path), ".")
	value = strings.TrimSpace(value)
	if !ok || !dotted || value == "" {
		return search.Change{}, fmt.Errorf("%q is not a valid change: write %s", text, ChangeForm)
	}
	change := search.Change{Kind: search.AskedChange, Asked: part + "." + key + " = " + value}
	if strings.HasPrefix(value, "+") || strings.HasPrefix(value, "-") {
		change.Asked = part + "." + key + " " + strings.Replace(value, "-", "−", 1)
	}
	switch part {
	case "craft":
		amount, err := parseAmount(value)
		if err != nil {
			return change, fmt.Errorf("%s: %w", path, err)
		}
		if key != "mass_g" || !amount.added || amount.percent {
			return change, fmt.Errorf("%s: only craft.mass_g=+N or -N grams changes the craft as a whole", text)
		}
		asked := change.Asked
		change = search.AddMass(figure.Of(figure.AllUpMass).ToSI(amount.number))
		change.Kind, change.Asked = search.AskedChange, asked
	case "air":
		a := air
		if key == "altitude_m" {
			a.PressureHPa = nil
		}
		if err := setKey(reflect.ValueOf(&a).Elem(), key, value, true); err != nil {
			return change, fmt.Errorf("%s: %w", path, err)
		}
		si, err := a.SI()
		if err != nil {
			return change, fmt.Errorf("%s: %w", path, err)
		}
		change.Asked = "air." + key + " = " + value
		change.Air = &si
	case "motor", "prop", "pack", "frame", "board":
		change.Parts = func(c *inventory.Combination) { _ = setKey(partOf(c, part), key, value, false) }
	default:
		return change, fmt.Errorf("%q is not a part: write %s", part, ChangeForm)
	}
	return change, nil
}

// tryChange says what a change of a part cannot do to a combination.
func tryChange(c *inventory.Combination, text string) error {
	path, value, _ := strings.Cut(text, "=")
	part, key, _ := strings.Cut(strings.TrimSpace(path), ".")
	if !slices.Contains(PickKeys[:5], part) {
		return nil
	}
	copied := reflect.New(partOf(c, part).Type()).Elem()
	copied.Set(partOf(c, part))
	if err := setKey(copied, key, strings.TrimSpace(value), false); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return nil
}

func partOf(c *inventory.Combination, part string) reflect.Value {
	switch part {
	case "motor":
		return reflect.ValueOf(c.Motor).Elem()
	case "prop":
		return reflect.ValueOf(c.Prop).Elem()
	case "pack":
		return reflect.ValueOf(c.Pack).Elem()
	case "frame":
		return reflect.ValueOf(c.Frame).Elem()
	}
	return reflect.ValueOf(c.Board).Elem()
}

// amount is a number that is set or added, maybe in per cent.
type amount struct {
	number         float64
	added, percent bool
}

func parseAmount(text string) (amount, error) {
	a := amount{added: strings.HasPrefix(text, "+") || strings.HasPrefix(text, "-"), percent: strings.HasSuffix(text, "%")}
	number, err := strconv.ParseFloat(strings.TrimSuffix(text, "%"), 64)
	if err != nil || number != number || number > 1e9 || number < -1e9 || strings.ContainsAny(text, "xXpP_") {
		return a, fmt.Errorf("%q is not a number; write 850, +12 or -10%%", text)
	}
	if a.percent && !a.added {
		return a, fmt.Errorf("%q: per cent are added, write +%s or -%s", text, text, text)
	}
	a.number = number
	return a, nil
}

// apply is the value after the amount.
func (a amount) apply(old float64) float64 {
	switch {
	case a.percent:
		return old * (1 + a.number/100)
	case a.added:
		return old + a.number
	}
	return a.number
}

// setKey sets the field that a drawer's key names to a value, inside the bounds that the drawer's
// reader keeps. A plain amount is set even if it has a sign.
func setKey(part reflect.Value, key, value string, plain bool) error {
	for i := range part.NumField() {
		field := part.Type().Field(i)
		name, rules, isWord, ok := changeableField(field)
		if !ok || name != key {
			continue
		}
		if isWord {
			words := strings.Split(rules["oneof"], "|")
			if !slices.Contains(words, value) {
				return fmt.Errorf("must be one of %s, got %q", strings.Join(words, ", "), value)
			}
			part.Field(i).SetString(value)
			return nil
		}
		return setNumber(part.Field(i), rules, value, plain)
	}
	return fmt.Errorf("%q cannot be changed; what can: %s", key, strings.Join(changeableKeys(part.Type()), ", "))
}

func setNumber(field reflect.Value, rules map[string]string, value string, plain bool) error {
	a, err := parseAmount(value)
	if err != nil {
		return err
	}
	if plain {
		a.added = false
	}
	isPointer := field.Kind() == reflect.Pointer
	if isPointer && field.IsNil() && a.added {
		return fmt.Errorf("the drawer has no value for it, so nothing can be added: write the value itself")
	}
	target := field
	if isPointer {
		target = reflect.New(field.Type().Elem()).Elem()
		if !field.IsNil() {
			target.Set(field.Elem())
		}
	}
	old := 0.0
	if target.Kind() == reflect.Int {
		old = float64(target.Int())
	} else {
		old = target.Float()
	}
	x := a.apply(old)
	for _, rule := range []string{"min", "max", "over"} {
		bound, err := strconv.ParseFloat(rules[rule], 64)
		if err != nil {
			continue
		}
		if rule == "min" && x < bound || rule == "max" && x > bound || rule == "over" && x <= bound {
			return fmt.Errorf("must be from %s to %s, got %g", rules["min"]+rules["over"], rules["max"], x)
		}
	}
	if target.Kind() == reflect.Int {
		if x != float64(int64(x)) {
			return fmt.Errorf("must be a whole number, got %g", x)
		}
		target.SetInt(int64(x))
	} else {
		target.SetFloat(x)
	}
	if isPointer {
		pointer := reflect.New(field.Type().Elem())
		pointer.Elem().Set(target)
		field.Set(pointer)
	}
	return nil
}

// rulesOf reads the rules of a check tag.
func rulesOf(tag string) map[string]string {
	rules := map[string]string{}
	for rule := range strings.SplitSeq(tag, ",") {
		if name, value, ok := strings.Cut(rule, "="); ok {
			rules[name] = value
		}
	}
	return rules
}

// changeableField reads a field that a change may set: a number, or one of some words.
func changeableField(field reflect.StructField) (key string, rules map[string]string, isWord, ok bool) {
	key, _, _ = strings.Cut(field.Tag.Get("yaml"), ",")
	kind := field.Type
	if kind.Kind() == reflect.Pointer {
		kind = kind.Elem()
	}
	rules = rulesOf(field.Tag.Get("check"))
	isWord = kind.Kind() == reflect.String && rules["oneof"] != ""
	ok = key != "" && key != "-" && key != "count" && (kind.Kind() == reflect.Float64 || kind.Kind() == reflect.Int ||
		isWord)
	return key, rules, isWord, ok
}

func changeableKeys(part reflect.Type) []string {
	var keys []string
	for i := range part.NumField() {
		if key, _, _, ok := changeableField(part.Field(i)); ok {
			keys = append(keys, key)
		}
	}
	return keys
}

// Changeable is a part that a change may be made to.
type Changeable struct {
	Part string
	kind reflect.Type
}

// Changeables are the parts that a change names with a key; craft.mass_g comes on top.
func Changeables() []Changeable {
	return []Changeable{
		{"motor", reflect.TypeFor[inventory.Motor]()}, {"prop", reflect.TypeFor[inventory.Prop]()},
		{"pack", reflect.TypeFor[inventory.Pack]()},
		{"frame", reflect.TypeFor[inventory.Frame]()}, {"board", reflect.TypeFor[inventory.Board]()},
		{"air", reflect.TypeFor[inventory.Air]()},
	}
}

// Keys are the keys that can be changed.
func (c *Changeable) Keys() []string { return changeableKeys(c.kind) }

// Words are the words that a key may have, in their order in the alphabet; none for a number.
func (c *Changeable) Words(key string) []string {
	for i := range c.kind.NumField() {
		if name, rules, isWord, ok := changeableField(c.kind.Field(i)); ok && isWord && name == key {
			words := strings.Split(rules["oneof"], "|")
			slices.Sort(words)
			return words
		}
	}
	return nil
}
