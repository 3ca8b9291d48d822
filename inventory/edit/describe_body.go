package edit

import (
	"math"
	"strconv"

	"partsaloft/inventory"
)

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
	{[]string{"chemistry"}, `(?:li[- ]?po |li[- ]?)?hv(?: li[- ]?po)?|high[- ]voltage(?: li[- ]?po)?|4[.,]35v`, word("lihv")},
	{[]string{"chemistry"}, `li[- ]?pos?`, word("lipo")},
	{[]string{"chemistry"}, `li[- ]?ion`, word("liion")},
	{[]string{"cell_resistance_mohm"}, `(?:(?:ir|internal resistance)[:=]? ?)?N(?:mohm|milliohm|mω)(?: (?:a|per) cell|/cell)?`, first},
	{[]string{"cycles"}, `(\d+)(?: )?cycles?`, first},
	{[]string{"condition"}, `condition[:=]? ?sound`, word("sound")},
	{[]string{"condition"}, `(?:condition[:=]? ?)?retired`, word("retired")},
	{[]string{"capacity_mah"}, `(\d{3,5})`, first},
}

// motorWord says that squares are the holes of motors.
const motorWord = `(?:motor )?(?:holes?|motors?|mount)`

// sidesOfStacks are the sides of stacks that are written as a number alone and can be nothing else.
const sidesOfStacks = `(25\.5|26\.5|30\.5)(?:mm)?`

// stackSide reads the side of a stack, of those that there are.
func stackSide(m []string) []string {
	if x := mustNumber(decimal(m[0], 1)); x < 15 || x > 40 {
		return nil
	}
	return first(m)
}

// squareAndSide reads two stacks, of which the second is written as its side alone.
func squareAndSide(m []string) []string {
	return squares(10, 60)([]string{m[0], m[1], m[2], m[2]})
}

// sideAndSquare reads two stacks, of which the first is written as its side alone.
func sideAndSquare(m []string) []string {
	return squares(16, 60)([]string{m[0], m[0], m[1], m[2]})
}

// stackAndHoles reads the stack and the holes of motors.
func stackAndHoles(m []string) []string {
	stack, holes := bounded(10, 60)(m[:2]), bounded(3, 19.9)(m[2:])
	if stack == nil || holes == nil {
		return nil
	}
	return append(stack, holes...)
}

// eitherSquares reads what stands before a word or behind it.
func eitherSquares(m []string) []string {
	if m[0] == "" {
		return squares(10, 60)(m[4:])
	}
	return squares(10, 60)(m)
}

// twoStacks reads the sides of two stacks: 30.5/20.
func twoStacks(m []string) []string {
	a, b := m[0], m[1]
	if a == "" {
		a, b = m[2], m[3]
	}
	a, b = decimal(a, 1), decimal(b, 1)
	for _, side := range []string{a, b} {
		if x := mustNumber(side); x < 10 || x > 60 {
			return nil
		}
	}
	return []string{"[" + a + ", " + b + "]"}
}

// fromMm is a length in inches from one in mm.
func fromMm(m []string) []string {
	return []string{strconv.FormatFloat(math.Round(100*mustNumber(first(m)[0])/inventory.MmPerInch)/100, 'f', -1, 64)}
}

// onStacks are what is bolted to a stack's holes and names them so.
const onStacks = `(?:(?:fc|aio) )?(?:stacks?|aios?|fcs?|boards?)`

var frameForms = []form{
	{[]string{"pack_max_mm"}, `pack(?: max| up to)? ` + boxForm, box},
	{[]string{"max_prop_in"}, `(?:(?:max|up to|for) )?(\d{2,3})mm props?|(?:max )?props? (\d{2,3})mm`, fromMm},
	{[]string{"max_prop_in"}, `(?:(?:max|up to|for) )?N[- ]?(?:in|inch|"|″|”)(?: props?)?|(?:max )?props? N(?:in|inch|"|″|”)?`, first},
	{[]string{"motor_spacing_mm"}, `(?:motor )?spacing N(?:mm)?|Nmm (?:motor )?spacing`, first},
	{[]string{"camera_width_mm"}, `Nmm (?:camera|cam)|(?:camera|cam) N(?:mm)?`, first},
	{[]string{"arm_thickness_mm"}, `Nmm (?:thick )?arms?|arms? N(?:mm)?(?: thick)?`, first},
	{[]string{"hole_pattern_mm"}, motorWord + ` ` + joinedSquares, squares(3, 19.9)},
	{[]string{"hole_pattern_mm"}, `(?:motor )?(?:holes?|mount) ` + squareForm + `(?: m\d)?`, bounded(3, 19.9)},
	{[]string{"stack_mm", "hole_pattern_mm"}, `stacks? ` + squareForm + ` ` + squareForm + `(?: m\d)? ` + motorWord, stackAndHoles},
	{[]string{"hole_pattern_mm"}, twoSquares + ` ` + motorWord, squares(3, 19.9)},
	{[]string{"stack_mm"}, squareForm + `(?:,? and |,? or | ?[&+/] ?)N(?:mm)? ?` + onStacks, squareAndSide},
	{[]string{"stack_mm"}, sidesOfStacks + ` ?` + onStacks, first},
	{[]string{"stack_mm"}, `stacks? ` + joinedSquares + `(?: stacks?)?|` + joinedSquares + ` stacks?`, eitherSquares},
	{[]string{"stack_mm"}, `(16|20|25[.,]5|26[.,]5|30[.,]5)(?:mm)?(?:,? and |,? or | ?[&+/] ?)` + squareForm, sideAndSquare},
	{[]string{"stack_mm"}, squareForm + ` ` + squareForm + ` stacks?`, squares(20, 60)},
	{[]string{"stack_mm"}, squareForm + ` stacks?`, holeSquare},
	{[]string{"stack_mm"}, `N(?:mm)? ?[/&+] ?N(?:mm)? (?:fc )?stacks?|(?:fc )?stacks? N(?:mm)? ?[/&+] ?N(?:mm)?`, twoStacks},
	{[]string{"stack_mm"}, `N(?:mm)? (?:fc )?stacks?`, stackSide},
	{[]string{"stack_mm"}, `stacks? ` + squareForm, holeSquare},
	{[]string{"hole_pattern_mm"}, twoSquares + ` (?:motor )?(?:holes?|motors?|mount)`, squares(3, 60)},
	{[]string{"stack_mm"}, `(?:stacks? )?` + twoSquares + `(?: stacks?)?`, squares(20, 60)},
	{[]string{"hole_pattern_mm"}, twoSquares, squares(3, 19.9)},
	{[]string{"stack_mm"}, `stack N(?:mm)?`, first},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)? (?:motor )?(?:holes?|motors?|mount|pattern)`, holeSquare},
	{[]string{"hole_pattern_mm"}, `holes? N(?:mm)?|Nmm holes?`, first},
	{[]string{"stack_mm"}, squareForm, bounded(20, 60)},
	{[]string{"hole_pattern_mm"}, squareForm + `(?: m\d)?`, bounded(3, 15)},
	{[]string{"rotors"}, `(\d{1,2})[- ]?(?:rotors|motors)`, first},
	{[]string{"rotors"}, `hexa?(?:copter)?`, word("6")},
	{[]string{"stack_mm"}, sidesOfStacks, first},
	{[]string{"ducted"}, `(?:with )?(?:ducted|ducts)`, word("true")},
	{[]string{"open_sides"}, `open[- ](?:sides|sided)`, word("true")},
	{[]string{"body"}, `(?:with )?(?:a )?streamlined(?: body| shell)?`, word("streamlined")},
	{[]string{"body"}, `bare(?: body)?`, word("bare")},
	{[]string{"drag_area_cm2"}, `(?:drag )?N ?(?:cm2|cm²)(?: drag)?`, first},
}

var boardForms = []form{
	{[]string{"esc_current_a", "esc_burst_a"}, `Na?/Na(?: (?:burst|peak|max))?`, all},
	{[]string{"esc_current_a", "esc_burst_a"}, `Na Na(?: (?:burst|peak|max))?`, risingPair},
	{[]string{"esc_burst_a"}, `(?:burst|peak) Na|Na (?:burst|peak)`, first},
	{[]string{"esc_burst_a"}, `N(?:a|amps?) for` + joined + `\d{1,3}s`, first},
	{[]string{"esc_current_a"}, `N(?:a|amps?)(?: (?:continuous|cont))?`, first},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"stack_mm"}, `(?:stack )?` + twoSquares + `(?: (?:stack|holes))?`, squares(10, 60)},
	{[]string{"stack_mm"}, `(?:stack )?` + squareForm + `(?: m\d)?(?: (?:stack|holes|mount|pattern))?`, holeSquare},
	{[]string{"stack_mm"}, `stack N(?:mm)?|Nmm stack|` + sidesOfStacks, first},
	{[]string{"power_w"}, `Nw`, first},
	{[]string{"pwm_khz"}, `(?:pwm )?N ?khz(?: pwm)?`, first},
}

// cameraForms are those of a camera alone: other extras have no width that a frame must take.
var cameraForms = []form{
	{[]string{"width_mm"}, squareForm, bounded(leastCameraMm, mostCameraMm)},
	{[]string{"width_mm"}, `N ?mm(?: wide)?`, cameraWidth},
}

// A camera is from so many to so many mm wide (common practice, no source): 14, 19 and 21, or up to twice that with its
// recorder.
const leastCameraMm, mostCameraMm = 8, 45

func cameraWidth(m []string) []string {
	if x := mustNumber(first(m)[0]); x < leastCameraMm || x > mostCameraMm {
		return nil
	}
	return first(m)
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
	{[]string{"power_w"}, `(?:draws?|takes|uses|consumes|consumption)[:=]? ?Nw|Nw (?:draw|consumption)`, first},
	{[]string{"cells"}, rangeForm, ranged},
	{[]string{"use"}, `always(?: on)?`, word("always")},
	{[]string{"use"}, `optional`, word("optional")},
}
