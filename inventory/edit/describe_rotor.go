package edit

import (
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

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

// mostNoLoadA bounds what can only be a no-load current where no word says so (common practice, no source): motors for
// props of up to 10 inch print 0.1 to 2.5 A.
const mostNoLoadA = 3

// noLoad reads a current at a voltage that is too small to be any other.
func noLoad(m []string) []string {
	if values := all(m); mustNumber(values[0]) <= mostNoLoadA {
		return values
	}
	return nil
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
	{[]string{"stator"}, `(?:stator )?(?:size )?(\d{4}(?:[.,]\d)?)(?:'?s)?(?: (?:stator|size))?`, statorForm},
	{[]string{"stator"}, `(?:stator )?(\d\d)(?:mm)? ?[x×*] ?(\d\d(?:[.,]\d)?)(?:mm)?(?: stator)?`, unequalStator},
	{[]string{"shaft_mm"}, `(?:N(?:mm)?|mN) shafts?|shafts? (?:diameter |dia |ø ?)?[:=]?(?:N(?:mm)?|mN)`, first},
	{[]string{"hole_pattern_mm"}, twoSquares + `(?: (?:holes?|hole pattern|mount))?`, squares(3, 60)},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?(?: (?:holes?|hole pattern|mount))?`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"prop_mount"}, `(?:with )?(?:2|two)[- ]screws?(?: mount)?|(?:with )?screws?[- ]mount|screws?(?:[- ]on)?|t[- ]?mount`, word("screws")},
	{[]string{"prop_mount"}, `(?:m\d )?(?:lock|prop|nyloc)?[- ]?nut(?: mount)?`, word("nut")},
	{[]string{"prop_mount"}, `(?:press|push)(?:[- ]?(?:fit|on))?(?: mount)?`, word("press")},
	{[]string{"no_load_a", "no_load_v"}, `(?:noload|idle|i0|io)(?: current)?[:=]? ?Na(?: ?@ ?| at |/)Nv`, all},
	{[]string{"no_load_a", "no_load_v"}, `Na(?: ?@ ?| at )Nv(?: (?:noload|idle))?`, noLoad},
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
	{[]string{"pitch_in"}, `(\d{1,2}[.,]\d{1,2}) pitch`, first},
	{[]string{"pitch_in"}, `pitch[:=]? ?N(?:in|inch|")?`, first},
	{[]string{"pitch_in"}, `N(?:in|inch|")? pitch`, first},
	{[]string{"size"}, `(\d{1,2}(?:[.,]\d{1,2})?(?:in|inch|"|″|”))(?: (?:diameter|dia))?`, writtenSize},
	{[]string{"bore_mm"}, `(?:N(?:mm)?|mN) (?:bore|hole|shaft|hub)s?|(?:bore|hole|shaft|hub)[:=]? ?(?:N(?:mm)?|mN)`, first},
	{[]string{"mount"}, `(?:with )?(?:2|two)[- ]screws?(?: mount)?|(?:with )?screws?[- ]mount|screws?(?:[- ]on)?|t[- ]?mount`, word("screws")},
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
