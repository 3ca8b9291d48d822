package edit

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// kindWords lead to a kind of part. The first in a text counts.
var kindWords = []struct {
	word string
	kind inventory.Kind
	role inventory.Role
}{
	{"motors?", inventory.KindMotor, ""},
	{"props?|propellers?", inventory.KindProp, ""},
	{"packs?|battery|batteries|lipos?", inventory.KindPack, ""},
	{"frames?|airframe", inventory.KindFrame, ""},
	{"boards?|fcs?|aios?|flight controllers?|escs?", inventory.KindBoard, ""},
	{"extras?", inventory.KindExtra, ""},
	{"cameras?|cams?", inventory.KindExtra, inventory.Camera},
	{"videos?|vtxs?|video transmitters?", inventory.KindExtra, inventory.Video},
	{"receivers?|rx", inventory.KindExtra, inventory.Receiver},
	{"antennas?|antennae", inventory.KindExtra, inventory.Antenna},
	{"capacitors?|caps?", inventory.KindExtra, inventory.Capacitor},
	{"adapters?|leads?", inventory.KindExtra, inventory.Adapter},
	{"straps?", inventory.KindExtra, inventory.Strap},
	{"hardware|screws|buzzers?|gps", inventory.KindExtra, inventory.Hardware},
}

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
	{[]string{"mass_g"}, `N(?:g|gr|grams?)`, first},
	{[]string{"mass_g"}, `N(?:kg)`, times(1000)},
}

const (
	squareForm = `N(?:mm)?[x×*]N(?:mm)?`
	boxForm    = `N[x×*]N[x×*]N(?:mm)?`
	rangeForm  = `(\d{1,2})s?(?:-|–|\.\.|/| to )(\d{1,2})s|(\d{1,2})s`
)

// ranged reads rangeForm.
func ranged(m []string) []string {
	if m[0] == "" {
		return cellsForm([]string{m[2], ""})
	}
	return cellsForm(m)
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

var motorForms = []form{
	{[]string{"stator", "kv"}, `(\d{4}(?:[.,]\d)?)[-/](\d{3,5})(?:kv)?`, statorForm},
	{[]string{"kv"}, `N(?:kv|rpm/v)|kv[:=]? ?N`, first},
	{[]string{"kv"}, `Nk(?: ?kv)?|kv[:=]? ?Nk`, times(1000)},
	{[]string{"stator"}, `(?:stator )?(\d{4}(?:[.,]\d)?)`, statorForm},
	{[]string{"shaft_mm"}, `Nmm shaft|shaft N(?:mm)?`, first},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?(?: (?:holes?|hole pattern|mount))?`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"prop_mount"}, `(?:with )?screws?(?: mount)?`, word("screws")},
	{[]string{"prop_mount"}, `nut(?: mount)?`, word("nut")},
	{[]string{"prop_mount"}, `press(?:[- ]?fit)?(?: mount)?`, word("press")},
	{[]string{"no_load_a", "no_load_v"}, `(?:(?:no[- ]load|idle) )?Na(?: ?@ ?| at )Nv`, all},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"poles"}, `(\d{1,2})(?:-| )?poles|\d{1,2}n(\d{1,2})p`, first},
	{[]string{"resistance_mohm"}, `N(?:mohm|milliohm|mω)`, first},
	{[]string{"resistance_mohm"}, `N(?:ohm|ω)`, times(1000)},
	{[]string{"max_current_a"}, `(?:max |up to )?N(?:a|amps?)(?: max)?`, first},
}

// lengthForm is a length of a prop's size. The numbers of a size stand with spaces between all of
// them or none: 2.5x1.9 x8 are eight pieces, not eight blades.
const lengthForm = `(?:\d{1,3}(?:\.\d{1,4})?|\.\d{1,4})(?:mm|in|inch|"|″|”)?`

// diameterAlone takes a length in mm that can be the diameter of a prop.
func diameterAlone(m []string) []string {
	if x, err := strconv.ParseFloat(strings.TrimSuffix(strings.ToLower(m[0]), "mm"), 64); err != nil || x < 20 ||
		inventory.PropSizeProblem(m[0]) != nil {
		return nil
	}
	return []string{m[0]}
}

var propForms = []form{
	{[]string{"size"}, `(` + lengthForm + `[x×*]` + lengthForm + `(?:[x×*][2-8])?|` + lengthForm + ` [x×*] ` +
		lengthForm + `(?: [x×*] [2-8])?)`, func(m []string) []string {
		if inventory.PropSizeProblem(m[0]) != nil {
			return nil
		}
		return []string{strict.Scalar(m[0])}
	}},
	{[]string{"blades"}, `([2-8])[- ]?(?:blades?|bladed)`, first},
	{[]string{"bore_mm"}, `Nmm (?:bore|hole|shaft)|(?:bore|hole|shaft) N(?:mm)?`, first},
	{[]string{"mount"}, `(?:with )?screws?(?: mount)?`, word("screws")},
	{[]string{"mount"}, `nut(?: mount)?`, word("nut")},
	{[]string{"mount"}, `press(?:[- ]?fit)?(?: mount)?`, word("press")},
	{[]string{"size"}, `(\d{2,3}(?:\.\d{1,2})?mm)(?: (?:diameter|props?))?`, diameterAlone},
	{[]string{"directions"}, `(\d+) ?cw(?: ?[+/&]| and)? ?(\d+) ?ccw`,
		func(m []string) []string { return []string{"{cw: " + m[0] + ", ccw: " + m[1] + "}"} }},
	{[]string{"directions"}, `(\d+) ?ccw(?: ?[+/&]| and)? ?(\d+) ?cw`,
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

var packForms = []form{
	{[]string{"size_mm"}, boxForm, box},
	{[]string{"cells", "capacity_mah"}, `(\d{1,2})s(?:1p)?(\d{3,5})(?:mah)?`, all},
	{[]string{"cells"}, `(\d{1,2})s(?:1p)?`, first},
	{[]string{"discharge_c", "burst_c"}, `Nc?[/-]Nc`, all},
	{[]string{"burst_c"}, `burst Nc|Nc burst`, first},
	{[]string{"discharge_c"}, `Nc`, first},
	{[]string{"capacity_mah"}, `N(?:mah)`, first},
	{[]string{"capacity_mah"}, `N(?:ah)`, times(1000)},
	{[]string{"discharge_a"}, `(?:max |up to )?N(?:a|amps?)(?: (?:max|continuous|discharge))?`, first},
	{[]string{"chemistry"}, `li-?po`, word("lipo")},
	{[]string{"chemistry"}, `(?:li-?)?hv`, word("lihv")},
	{[]string{"chemistry"}, `li-?ion`, word("liion")},
	{[]string{"cell_resistance_mohm"}, `N(?:mohm|milliohm|mω)(?: (?:a|per) cell|/cell)?`, first},
	{[]string{"cycles"}, `(\d+)(?: )?cycles?`, first},
	{[]string{"condition"}, `condition[:=]? ?sound`, word("sound")},
	{[]string{"condition"}, `(?:condition[:=]? ?)?retired`, word("retired")},
	{[]string{"capacity_mah"}, `(\d{3,5})`, first},
}

// squareSpacing is the distance of neighbouring motors from that of opposite ones, as pilots give the size of a frame:
// 1/√2 of it on a square one of four arms.
func squareSpacing(m []string) []string {
	x, err := strconv.ParseFloat(strings.Replace(first(m)[0], ",", ".", 1), 64)
	if err != nil || x < 50 || x > 800 {
		return nil
	}
	return []string{strconv.FormatFloat(math.Round(10*x/math.Sqrt2)/10, 'f', -1, 64)}
}

var frameForms = []form{
	{[]string{"pack_max_mm"}, `pack(?: max| up to)? ` + boxForm, box},
	{[]string{"max_prop_in"}, `(?:max )?N[- ]?(?:in|inch|"|″|”)(?: props?)?|(?:max )?props? N(?:in|inch|"|″|”)?`, first},
	{[]string{"motor_spacing_mm"}, `(?:motor )?spacing N(?:mm)?|Nmm (?:motor )?spacing`, first},
	{[]string{"motor_spacing_mm"}, `wheelbase N(?:mm)?|Nmm wheelbase`, squareSpacing},
	{[]string{"camera_width_mm"}, `Nmm (?:camera|cam)|(?:camera|cam) N(?:mm)?`, first},
	{[]string{"arm_thickness_mm"}, `Nmm arms?|arms? N(?:mm)?`, first},
	{[]string{"stack_mm"}, squareForm + ` stack|stack ` + squareForm, func(m []string) []string {
		if m[0] == "" {
			return holeSquare(m[2:])
		}
		return holeSquare(m)
	}},
	{[]string{"stack_mm"}, `stack N(?:mm)?|Nmm stack`, first},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)? (?:holes?|motor holes|motors?)`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"stack_mm"}, squareForm, bounded(20, 60)},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?`, bounded(3, 15)},
	{[]string{"rotors"}, `(\d{1,2})[- ]?rotors`, first},
	{[]string{"ducted"}, `(?:with )?(?:ducted|ducts)`, word("true")},
	{[]string{"open_sides"}, `open[- ](?:sides|sided)`, word("true")},
	{[]string{"body"}, `(?:with )?(?:a )?streamlined(?: body| shell)?`, word("streamlined")},
	{[]string{"body"}, `bare(?: body)?`, word("bare")},
	{[]string{"motor_spacing_mm"}, `(\d{2,3})mm`, squareSpacing},
	{[]string{"drag_area_cm2"}, `(?:drag )?N ?(?:cm2|cm²)(?: drag)?`, first},
}

var boardForms = []form{
	{[]string{"esc_current_a", "esc_burst_a"}, `Na?/Na`, all},
	{[]string{"esc_burst_a"}, `(?:burst|peak) Na|Na (?:burst|peak)`, first},
	{[]string{"esc_current_a"}, `N(?:a|amps?)`, first},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"stack_mm"}, squareForm + `(?: (?:stack|holes))?`, holeSquare},
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
	{[]string{"width_mm"}, `Nmm(?: wide)?`, first},
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
