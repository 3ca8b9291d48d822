package edit

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// form is a way in which pilots write the values of some keys. In its pattern a space parts words, N
// is a number, and letters stand for both cases.
type form struct {
	keys    []string
	pattern string
	// read turns the pattern's groups into values, one a key; "" leaves a key out, nil means that it is
	// something else.
	read func(m []string) []string
}

// numberForm is a number with a decimal point, or with a decimal comma that can be nothing else.
const numberForm = `(\d+(?:\.\d+)?|\d+,\d{1,2}|0,\d+|\.\d+)`

func (f form) compiled() *regexp.Regexp {
	return regexp.MustCompile(`(?i) (?:` + strings.ReplaceAll(f.pattern, "N", numberForm) + `) `)
}

// first is the first number that a pattern found, its groups being alternatives.
func first(m []string) []string {
	for _, s := range m {
		if s != "" {
			return []string{decimal(s, 1)}
		}
	}
	return nil
}

func all(m []string) []string {
	values := make([]string, len(m))
	for i := range m {
		values[i] = decimal(m[i], 1)
	}
	return values
}

// times is first, times a factor.
func times(factor float64) func([]string) []string {
	return func(m []string) []string { return []string{decimal(first(m)[0], factor)} }
}

// word gives one value whatever was found.
func word(value string) func([]string) []string {
	return func([]string) []string { return []string{value} }
}

// decimal writes a number times a factor with a point.
func decimal(s string, factor float64) string {
	x, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(x*factor, 'f', -1, 64)
}

// holeSquare reads a square: both sides must be the same.
func holeSquare(m []string) []string {
	a, b := decimal(m[0], 1), decimal(m[1], 1)
	if a == "" || a != b {
		return nil
	}
	return []string{a}
}

// bounded reads a square of a size that can be nothing else: it tells those of a frame apart that
// have no word beside them.
func bounded(low, high float64) func([]string) []string {
	return func(m []string) []string {
		v := holeSquare(m)
		if v == nil {
			return nil
		}
		if x, err := strconv.ParseFloat(v[0], 64); err != nil || x < low || x > high {
			return nil
		}
		return v
	}
}

func cellsForm(m []string) []string {
	low, high := m[0], m[1]
	if high == "" {
		return []string{decimal(low, 1) + "S"}
	}
	return []string{"[" + decimal(low, 1) + ", " + decimal(high, 1) + "]"}
}

var commonForms = []form{
	{[]string{"count"}, `(?:x|×) ?(\d+)|(\d+) ?(?:x|×)|(\d+)(?:pcs|pieces|off)|(?:count|qty|quantity)[:=]? ?(\d+)|(\d+) of them`, first},
	{[]string{"mass_g"}, massWord + `N(?:g|gr|grams?)`, first},
	{[]string{"mass_g"}, massWord + `N(?:kg)`, times(1000)},
	{[]string{"mass_g"}, massWord + `N(?:oz)`, ounces},
}

const (
	squareForm = `N(?:mm)? ?[x×*] ?N(?:mm)?`
	boxForm    = `N(?:mm)? ?[x×*] ?N(?:mm)? ?[x×*] ?N(?:mm)?`
	massWord   = `(?:(?:mass|weight|weighs?|wt)\.?[:=]? )?`
	// twoSquares are two patterns of holes.
	twoSquares = squareForm + `(?: m\d)?(?:,? and |,? or |, | ?[&+/] ?| )` + squareForm + `(?: m\d)?`
	rangeForm  = `(\d{1,2})(?:s|cells?)?(?: ?(?:-|–|~|\.\.|/) ?| to )(\d{1,2})(?:s|cells?)|` +
		`(?:up to |max )?(\d{1,2})(?:s|cells?)(?: max)?`
)

// ranged reads rangeForm.
func ranged(m []string) []string {
	if m[0] == "" {
		return cellsForm([]string{m[2], ""})
	}
	return cellsForm(m)
}

// squares reads two squares whose sides are within bounds.
func squares(low, high float64) func([]string) []string {
	return func(m []string) []string {
		a, b := bounded(low, high)(m[:2]), bounded(low, high)(m[2:])
		if a == nil || b == nil {
			return nil
		}
		return []string{"[" + a[0] + ", " + b[0] + "]"}
	}
}

// gramsPerOunce is exact by definition of the pound.
const gramsPerOunce = 28.349523125

func ounces(m []string) []string {
	x, err := strconv.ParseFloat(decimal(m[0], 1), 64)
	if err != nil {
		return nil
	}
	return []string{strconv.FormatFloat(math.Round(100*x*gramsPerOunce)/100, 'f', -1, 64)}
}

func box(m []string) []string {
	return []string{"[" + strings.Join(all(m), ", ") + "]"}
}

// statorForm takes four digits that can be a stator.
func statorForm(m []string) []string {
	s := strings.Replace(m[0], ",", ".", 1)
	if inventory.StatorProblem(s) != nil {
		return nil
	}
	values := []string{strict.Scalar(s)}
	for _, x := range m[1:] {
		values = append(values, decimal(x, 1))
	}
	return values
}

// unequalStator reads 14x04: sides that are the same are holes.
func unequalStator(m []string) []string {
	if m[0] == m[1] {
		return nil
	}
	return statorForm([]string{m[0] + m[1]})
}

// sum adds the pieces of both directions.
func sum(m []string) []string {
	return []string{strconv.FormatFloat(mustNumber(m[0])+mustNumber(m[1]), 'f', -1, 64)}
}

var motorForms = []form{
	{[]string{"stator", "kv"}, `(\d{4}(?:[.,]\d)?)[-/](\d{3,5})(?:kv)?`, statorForm},
	{[]string{"count", "stator"}, `(\d{1,2})[x×](\d{4}(?:[.,]\d)?)`, func(m []string) []string {
		stator := statorForm(m[1:])
		if stator == nil {
			return nil
		}
		return []string{m[0], stator[0]}
	}},
	{[]string{"count"}, cwForm, sum}, {[]string{"count"}, ccwForm, sum},
	{[]string{"kv"}, `N(?:kv|rpm/v)|kv[:=]? ?N`, first},
	{[]string{"kv"}, `Nk(?: ?kv)?|kv[:=]? ?Nk`, times(1000)},
	{[]string{"stator"}, `(?:stator )?(?:size )?(\d{4}(?:[.,]\d)?)(?: (?:stator|size))?`, statorForm},
	{[]string{"stator"}, `(?:stator )?(\d\d)(?:mm)? ?[x×*] ?(\d\d(?:[.,]\d)?)(?:mm)?(?: stator)?`, unequalStator},
	{[]string{"shaft_mm"}, `(?:N(?:mm)?|mN) shaft|shaft (?:diameter |dia |ø ?)?[:=]?(?:N(?:mm)?|mN)`, first},
	{[]string{"hole_pattern_mm"}, twoSquares + `(?: (?:holes?|hole pattern|mount))?`, squares(3, 60)},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?(?: (?:holes?|hole pattern|mount))?`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"prop_mount"}, `(?:with )?(?:2 )?screws?(?: mount)?|t[- ]?mount`, word("screws")},
	{[]string{"prop_mount"}, `(?:m\d )?(?:lock|prop|nyloc)?[- ]?nut(?: mount)?`, word("nut")},
	{[]string{"prop_mount"}, `(?:press|push)(?:[- ]?(?:fit|on))?(?: mount)?`, word("press")},
	{[]string{"no_load_a", "no_load_v"}, `(?:(?:no[- ]load|idle|i0|io)[:=]? ?)?Na(?: ?@ ?| at )Nv`, all},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"poles"}, `(\d{1,2})(?:-| )?poles|\d{1,2}n(\d{1,2})p`, first},
	{[]string{"resistance_mohm"}, `(?:(?:rm|ri|resistance)[:=]? ?)?N(?:mohm|milliohm|mω)`, first},
	{[]string{"resistance_mohm"}, `N(?:ohm|ω)`, times(1000)},
	{[]string{"max_current_a"}, `(?:max |up to |peak )?N(?:a|amps?)(?: (?:max|peak))?`, first},
}

// lengthForm is a length of a prop's size. The numbers of a size stand with spaces between all of
// them or none: 2.5x1.9 x8 are eight pieces, not eight blades.
const lengthForm = `(?:\d{1,3}(?:[.,]\d{1,4})?|\.\d{1,4})(?:mm|in|inch|"|″|”)?`

// bladesForm is a number of blades.
const bladesForm = `([2-8]|tri|bi|quad|dual|penta|hexa?)[- ]?(?:blades?|bladed|bl|b)`

// bladeNumbers are what bladesForm may have for digits.
var bladeNumbers = map[string]string{"bi": "2", "dual": "2", "tri": "3", "quad": "4", "penta": "5", "hex": "6",
	"hexa": "6"}

func blades(m []string) []string {
	if n, ok := bladeNumbers[strings.ToLower(m[0])]; ok {
		return []string{n}
	}
	return []string{m[0]}
}

// writtenSize takes the size of a prop in its usual form.
func writtenSize(m []string) []string {
	size := strings.ReplaceAll(m[0], ",", ".")
	if inventory.PropSizeProblem(size) != nil {
		return nil
	}
	return []string{strict.Scalar(size)}
}

// diameterAlone takes a length in mm that can be the diameter of a prop.
func diameterAlone(m []string) []string {
	if x, err := strconv.ParseFloat(strings.TrimSuffix(strings.ToLower(m[0]), "mm"), 64); err != nil || x < 20 ||
		inventory.PropSizeProblem(m[0]) != nil {
		return nil
	}
	return []string{m[0]}
}

// cwForm and ccwForm are the pieces of each direction, in either order.
const (
	cwForm  = `(?:[x×] ?)?(\d+)(?: ?[x×])? ?cw(?: ?[+/&]| and)? (?:[x×] ?)?(\d+)(?: ?[x×])? ?ccw`
	ccwForm = `(?:[x×] ?)?(\d+)(?: ?[x×])? ?ccw(?: ?[+/&]| and)? (?:[x×] ?)?(\d+)(?: ?[x×])? ?cw`
)

var propForms = []form{
	{[]string{"size"}, `(` + lengthForm + `[x×*]` + lengthForm + `(?:[x×*][2-8])?|` + lengthForm + ` [x×*] ` +
		lengthForm + `(?: [x×*] [2-8])?)(?:[- ]?blades?|[- ]?bladed)?`, writtenSize},
	{[]string{"blades"}, bladesForm, blades},
	{[]string{"blades"}, `(tri|bi)`, blades},
	{[]string{"pitch_in"}, `pitch[:=]? ?N(?:in|inch|")?`, first},
	{[]string{"pitch_in"}, `N(?:in|inch|")? pitch`, first},
	{[]string{"size"}, `(\d{1,2}(?:[.,]\d{1,2})?(?:in|inch|"|″|”))(?: (?:diameter|dia))?`, writtenSize},
	{[]string{"bore_mm"}, `(?:N(?:mm)?|mN) (?:bore|hole|shaft|hub)|(?:bore|hole|shaft|hub)[:=]? ?(?:N(?:mm)?|mN)`, first},
	{[]string{"mount"}, `(?:with )?(?:2 )?screws?(?: mount)?|t[- ]?mount`, word("screws")},
	{[]string{"mount"}, `(?:m\d )?(?:lock|prop|nyloc)?[- ]?nut(?: mount)?`, word("nut")},
	{[]string{"mount"}, `(?:press|push)(?:[- ]?(?:fit|on))?(?: mount)?`, word("press")},
	{[]string{"size"}, `(\d{2,3}(?:\.\d{1,2})?mm)(?: (?:diameter|dia|props?))?`, diameterAlone},
	{[]string{"directions"}, cwForm,
		func(m []string) []string { return []string{"{cw: " + m[0] + ", ccw: " + m[1] + "}"} }},
	{[]string{"directions"}, ccwForm,
		func(m []string) []string { return []string{"{cw: " + m[1] + ", ccw: " + m[0] + "}"} }},
	{[]string{"blade"}, `root(?:[- ](?:heavy|loaded))?`, word("root")},
	{[]string{"blade"}, `tip(?:[- ](?:heavy|loaded))?`, word("tip")},
	{[]string{"flex"}, `soft`, word("soft")},
	{[]string{"flex"}, `medium`, word("medium")},
	{[]string{"flex"}, `stiff`, word("stiff")},
	{[]string{"made_for"}, `(?:made for (?:a )?)?multirotors?`, word("multirotor")},
	{[]string{"made_for"}, `(?:made for )?conventional`, word("conventional")},
	{[]string{"series"}, `series[:=]? (?:"([^"]+)"|([^\s"]+))`,
		func(m []string) []string { return []string{strict.Scalar(m[0] + m[1])} }},
}

// risingPair reads two ratings, of which the second is for seconds and not lower.
func risingPair(m []string) []string {
	values := all(m)
	if mustNumber(values[0]) > mustNumber(values[1]) {
		return nil
	}
	return values
}

var packForms = []form{
	{[]string{"size_mm"}, boxForm, box},
	{[]string{"cells", "capacity_mah"}, `(\d{1,2})s(?:1p)?(\d{3,5})(?:mah)?`, all},
	{[]string{"cells"}, `(\d{1,2})(?:s(?:1p)?|[- ]?cells?)`, first},
	{[]string{"discharge_c", "burst_c"}, `Nc?[/-]Nc`, risingPair},
	{[]string{"capacity_mah", "discharge_c"}, `(\d{3,5})(?:mah)?[/-]Nc`, all},
	{[]string{"burst_c"}, `burst Nc|Nc burst`, first},
	{[]string{"discharge_c"}, `Nc\+?(?: (?:continuous|cont|discharge))?`, first},
	{[]string{"capacity_mah"}, `N(?:mah)`, first},
	{[]string{"capacity_mah"}, `N(?:ah)`, times(1000)},
	{[]string{"discharge_a"}, `(?:max |up to )?N(?:a|amps?)(?: (?:max|continuous|cont|discharge))?`, first},
	{[]string{"chemistry"}, `(?:li-?po |li-?)?hv(?: li-?po)?|high[- ]voltage(?: li-?po)?|4[.,]35v`, word("lihv")},
	{[]string{"chemistry"}, `li-?pos?`, word("lipo")},
	{[]string{"chemistry"}, `li-?ion`, word("liion")},
	{[]string{"cell_resistance_mohm"}, `N(?:mohm|milliohm|mω)(?: (?:a|per) cell|/cell)?`, first},
	{[]string{"cycles"}, `(\d+)(?: )?cycles?`, first},
	{[]string{"condition"}, `condition[:=]? ?sound`, word("sound")},
	{[]string{"condition"}, `(?:condition[:=]? ?)?retired`, word("retired")},
	{[]string{"capacity_mah"}, `(\d{3,5})`, first},
}

var frameForms = []form{
	{[]string{"pack_max_mm"}, `pack(?: max| up to)? ` + boxForm, box},
	{[]string{"max_prop_in"}, `(?:(?:max|up to|for) )?N[- ]?(?:in|inch|"|″|”)(?: props?)?|(?:max )?props? N(?:in|inch|"|″|”)?`, first},
	{[]string{"motor_spacing_mm"}, `(?:motor )?spacing N(?:mm)?|Nmm (?:motor )?spacing`, first},
	{[]string{"camera_width_mm"}, `Nmm (?:camera|cam)|(?:camera|cam) N(?:mm)?`, first},
	{[]string{"arm_thickness_mm"}, `Nmm (?:thick )?arms?|arms? N(?:mm)?(?: thick)?`, first},
	{[]string{"hole_pattern_mm"}, twoSquares + ` (?:motor )?(?:holes?|motors?|mount)`, squares(3, 60)},
	{[]string{"stack_mm"}, `(?:stacks? )?` + twoSquares + `(?: stacks?)?`, squares(20, 60)},
	{[]string{"hole_pattern_mm"}, twoSquares, squares(3, 19.9)},
	{[]string{"stack_mm"}, squareForm + ` stack|stack ` + squareForm, func(m []string) []string {
		if m[0] == "" {
			return holeSquare(m[2:])
		}
		return holeSquare(m)
	}},
	{[]string{"stack_mm"}, `stack N(?:mm)?|Nmm stack`, first},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)? (?:motor )?(?:holes?|motors?|mount|pattern)`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"stack_mm"}, squareForm, bounded(20, 60)},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?`, bounded(3, 15)},
	{[]string{"rotors"}, `(\d{1,2})[- ]?(?:rotors|motors)`, first},
	{[]string{"rotors"}, `hexa?(?:copter)?`, word("6")},
	{[]string{"ducted"}, `(?:with )?(?:ducted|ducts)`, word("true")},
	{[]string{"open_sides"}, `open[- ](?:sides|sided)`, word("true")},
	{[]string{"body"}, `(?:with )?(?:a )?streamlined(?: body| shell)?`, word("streamlined")},
	{[]string{"body"}, `bare(?: body)?`, word("bare")},
	{[]string{"drag_area_cm2"}, `(?:drag )?N ?(?:cm2|cm²)(?: drag)?`, first},
}

var boardForms = []form{
	{[]string{"esc_current_a", "esc_burst_a"}, `Na?/Na`, all},
	{[]string{"esc_burst_a"}, `(?:burst|peak) Na|Na (?:burst|peak)`, first},
	{[]string{"esc_current_a"}, `N(?:a|amps?)(?: (?:continuous|cont))?`, first},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"stack_mm"}, `(?:stack )?` + twoSquares + `(?: (?:stack|holes))?`, squares(10, 60)},
	{[]string{"stack_mm"}, `(?:stack )?` + squareForm + `(?: m\d)?(?: (?:stack|holes|mount|pattern))?`, holeSquare},
	{[]string{"stack_mm"}, `stack N(?:mm)?|Nmm stack`, first},
	{[]string{"power_w"}, `Nw`, first},
	{[]string{"pwm_khz"}, `(?:pwm )?N ?khz(?: pwm)?`, first},
}

var extraForms = []form{
	{[]string{"role"}, `(?:camera|cam)`, word("camera")},
	{[]string{"role"}, `(?:video|vtx)`, word("video")},
	{[]string{"role"}, `(?:receiver|rx)`, word("receiver")},
	{[]string{"role"}, `antenna`, word("antenna")},
	{[]string{"role"}, `(?:capacitor|cap)`, word("capacitor")},
	{[]string{"role"}, `adapter`, word("adapter")},
	{[]string{"role"}, `strap`, word("strap")},
	{[]string{"role"}, `(?:hardware|screws|buzzer|gps)`, word("hardware")},
	{[]string{"bridges"}, `(?:stack )?N(?:mm)?(?:x[\d.]+)?(?: to | ?(?:->|→) ?)N(?:mm)?(?:x[\d.]+)?`,
		func(m []string) []string {
			return []string{"{what: stack_mm, from: " + decimal(m[0], 1) + ", to: " + decimal(m[1], 1) + "}"}
		}},
	{[]string{"bridges"}, `([a-z]+[- ]?[\d.]*)(?: to | ?(?:->|→) ?)([a-z]+[- ]?[\d.]*)`, func(m []string) []string {
		a, b := inventory.NamePlug(m[0]), inventory.NamePlug(m[1])
		if !a.Known() || !b.Known() {
			return nil
		}
		return []string{"{what: connector, from: " + string(a) + ", to: " + string(b) + "}"}
	}},
	{[]string{"power_w"}, `Nw`, first},
	{[]string{"width_mm"}, squareForm, holeSquare},
	{[]string{"width_mm"}, `Nmm`, first},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"use"}, `always(?: on)?`, word("always")},
	{[]string{"use"}, `optional`, word("optional")},
}

func formsOf(kind inventory.Kind) []form {
	switch kind {
	case inventory.KindMotor:
		return motorForms
	case inventory.KindProp:
		return propForms
	case inventory.KindPack:
		return packForms
	case inventory.KindFrame:
		return frameForms
	case inventory.KindBoard:
		return boardForms
	}
	return extraForms
}
