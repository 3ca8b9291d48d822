package edit

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// habit is a form whose meaning is the trade's and not in its words; reading is the code that says how it was read.
type habit struct {
	form
	reading strict.Code
}

// habits are tried behind the forms of a kind.
func (t *freeText) habits() []habit {
	switch t.kind {
	case inventory.KindFrame:
		return []habit{
			{form{[]string{"motor_spacing_mm", "ducted"}, `(\d{2,3})(?:mm)?(?: (?:ducted|with ducts|brushless))? whoop(?: frames?)?`,
				func(m []string) []string {
					if values := t.neighbourSpacing(m); values != nil {
						return append(values, "true")
					}
					return nil
				}}, "free.read_whoop"},
			{form{[]string{"ducted"}, `(?:cine)?whoop(?: frames?)?`, word("true")}, "free.read_ducts"},
			{form{[]string{"motor_spacing_mm"}, `wheelbase[:=]? ?N(?:mm)?|N(?:mm)? (?:wheelbase|wb|diagonal)|wb ?N(?:mm)?`,
				t.neighbourSpacing}, "free.read_wheelbase"},
			{form{[]string{"motor_spacing_mm"}, `(\d{2,3})mm`, t.neighbourSpacing}, "free.read_wheelbase"},
		}
	case inventory.KindMotor:
		return []habit{{form{[]string{"shaft_mm", "prop_mount"}, `m5`, propThread}, "free.read_thread"},
			{form{[]string{"shaft_mm"}, `m5`, propThread}, "free.read_thread"},
			{form{[]string{"kv"}, understood + ` (\d{4,5})`, first}, "free.read_kv"}}
	case inventory.KindProp:
		return []habit{{form{[]string{"bore_mm"}, `m5`, propThread}, "free.read_thread"},
			{form{[]string{"bore_mm"}, `(0[.,]8|1(?:[.,]0)?|1[.,]5|2(?:[.,]0)?)mm`, first}, "free.read_bore"}}
	case inventory.KindPack:
		return []habit{{form{[]string{"cells"}, `(\d{1,2})s[2-9]p`, first}, "free.read_parallel"}}
	case inventory.KindBoard:
		return []habit{{form{[]string{"esc_current_a"}, `4[x×]Na`, first}, "free.read_four_outputs"}}
	}
	return nil
}

// propThread reads M5 as the shaft of 5 mm that large motors hold their props on with a nut: motors are bolted down with
// M2 and M3.
func propThread([]string) []string { return []string{"5", string(inventory.Nut)} }

// applyHabits is apply for habits, with a note on how each was read.
func (t *freeText) applyHabits() {
	for _, h := range t.habits() {
		t.applyForm(h.form, h.reading)
	}
}

// neighbourSpacing is the distance of neighbouring motors from that of opposite ones, as pilots give the size of a
// frame: sin(π/n) of it on a regular one of n arms, four if not given. With an odd number no motors are opposite.
func (t *freeText) neighbourSpacing(m []string) []string {
	x, err := strconv.ParseFloat(first(m)[0], 64)
	arms := 4.0
	if given := t.valueOf("rotors"); given != "" {
		arms = t.numberOf("rotors")
	}
	if err != nil || x < 50 || x > 800 || arms < 4 || math.Mod(arms, 2) != 0 {
		return nil
	}
	return []string{strconv.FormatFloat(math.Round(10*x*math.Sin(math.Pi/arms))/10, 'f', -1, 64)}
}

// readAs notes how words were read.
func (t *freeText) readAs(code strict.Code, words string) {
	values := strict.Values{"words": words}
	for _, s := range t.said {
		values[s.Key] = strings.Trim(s.Value, `"`)
	}
	t.readings = append(t.readings, strict.Problem{Code: code, Values: values})
}

// valueOf is what a key was given, "" if it was not.
func (t *freeText) valueOf(key string) string {
	if i := slices.IndexFunc(t.said, func(s Said) bool { return s.Key == key }); i >= 0 {
		return strings.Trim(t.said[i].Value, `"`)
	}
	return ""
}

func (t *freeText) numberOf(key string) float64 {
	x, _ := strconv.ParseFloat(t.valueOf(key), 64)
	return x
}

// propCode is the size of a prop in digits alone, with what may stand around it.
var propCode = regexp.MustCompile(`(?i) ([a-z]?(\d{4,5})(?:[x*/-]([2-8]))?) `)

// takePropCode reads 51433 as 5.1x4.3 with three blades, and 5143 as the same without its blades. A code that can be
// two sizes, or none that a prop has, is left alone.
func (t *freeText) takePropCode() {
	diameter := t.diameterAlone()
	if t.kind != inventory.KindProp || t.valueOf("size") != "" && diameter == 0 || t.valueOf("diameter_in") != "" ||
		diameter != 0 && t.valueOf("pitch_in") != "" {
		return
	}
	m := propCode.FindStringSubmatchIndex(t.rest)
	if m == nil {
		return
	}
	digits, blades := submatch(t.rest, m, 2), submatch(t.rest, m, 3)
	words, said := submatch(t.rest, m, 1), t.valueOf("blades")
	var size string
	switch {
	case len(digits) == 4:
		size = codedSize(digits)
	case blades == "" && (said == "" && strings.Contains("234", digits[4:]) || said == digits[4:]):
		size, blades = codedSize(digits[:4]), digits[4:]
	case blades == "" && said != "" || blades != "" && said == "":
		// The blades are given besides: the last digit is the pitch in hundredths.
		if size = codedSize(digits[:4]); size != "" {
			size += digits[4:]
		}
	}
	if size == "" || said != "" && blades != "" && said != blades {
		return
	}
	if blades != "" {
		size += "x" + blades
	}
	if inventory.PropSizeProblem(size) != nil || diameter != 0 && !sameClass(diameter, size) {
		return
	}
	if i := slices.IndexFunc(t.said, func(s Said) bool { return s.Key == "size" }); i >= 0 {
		t.said[i].Value, t.said[i].Words = strict.Scalar(size), t.said[i].Words+" "+words
	} else if !t.say("size", strict.Scalar(size), words) {
		return
	}
	t.cut(m[0], m[1])
	t.readAs("free.read_code", words)
}

// diameterAlone is a prop's size in inches where nothing but that was read of it, 0 where there is none or more.
func (t *freeText) diameterAlone() float64 {
	m := inchesAlone.FindStringSubmatch(t.valueOf("size"))
	if m == nil {
		return 0
	}
	return mustNumber(decimal(m[1], 1))
}

var inchesAlone = regexp.MustCompile(`(?i)^(\d{1,2}(?:\.\d{1,2})?)(?:in|inch|"|″|”|\\)$`)

// sameClass reports whether the diameter of a size is one of a class in inches: 5.1 of 5.
func sameClass(class float64, size string) bool {
	diameter, _, _ := strings.Cut(size, "x")
	return math.Abs(mustNumber(diameter)/class-1) <= 0.06
}

// Limits of the pitch of a prop for its diameter, of those that a code can mean (common practice, no source): those on
// sale for multirotors have 0.4 to 1.7.
const leastPitchShare, mostPitchShare = 0.2, 1.75

// codedSize is the size that four digits mean, "" if that is not plain: 5143 is 5.1x4.3, 1045 is 10x4.5.
func codedSize(digits string) string {
	var found string
	for _, form := range [...]struct {
		diameter string
	}{{digits[:1] + "." + digits[1:2]}, {digits[:2]}} {
		pitch := digits[2:3] + "." + digits[3:4]
		diameterIn, _ := strconv.ParseFloat(form.diameter, 64)
		pitchIn, _ := strconv.ParseFloat(pitch, 64)
		share := pitchIn / diameterIn
		if diameterIn < 1 || diameterIn > 20 || share < leastPitchShare || share > mostPitchShare {
			continue
		}
		if found != "" {
			return ""
		}
		found = form.diameter + "x" + pitch
	}
	return found
}

var (
	packVolts  = regexp.MustCompile(`(?i) (\d{1,2}(?:[.,]\d{1,2})?)v(?:olts?)? `)
	cellFormat = regexp.MustCompile(`(?i) (18[356]50|20700|21700|26650) `)
)

// Nominal volts of a cell, as labels have them.
const lipoCellV, lihvCellV, liionCellV = 3.7, 3.8, 3.6

// Volts of a full cell.
const fullLiPoV, fullLiHVV = 4.2, 4.35

// takeCellFormat keeps the form of a cell in the note: 21700 is no capacity.
func (t *freeText) takeCellFormat() {
	m := cellFormat.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindPack || m == nil {
		return
	}
	format := submatch(t.rest, m, 1)
	if t.say("note", strict.Scalar(format+" cells"), format) {
		t.cut(m[0], m[1])
		t.readAs("free.read_format", format)
	}
}

// takeRoundCells takes round cells to be Li-ion where nothing else is said.
func (t *freeText) takeRoundCells() {
	note := t.valueOf("note")
	if t.kind == inventory.KindPack && t.valueOf("chemistry") == "" && cellFormat.MatchString(" "+note+" ") {
		t.say("chemistry", string(inventory.LiIon), note)
	}
}

// takeVolts reads a pack's cells, and what they are, from the nominal volts on its label. Volts that say otherwise than
// its cells are left alone.
func (t *freeText) takeVolts() {
	m := packVolts.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindPack || m == nil || t.valueOf("size") != "" {
		return
	}
	words := strings.TrimSpace(t.rest[m[0]:m[1]])
	volts, _ := strconv.ParseFloat(decimal(submatch(t.rest, m, 1), 1), 64)
	for _, c := range [...]struct {
		chemistry inventory.Chemistry
		cellV     float64
	}{{inventory.LiPo, lipoCellV}, {inventory.LiHV, lihvCellV}, {inventory.LiIon, liionCellV}} {
		cells := math.Round(volts / c.cellV)
		chemistry := t.valueOf("chemistry")
		if cells < 1 || cells > 14 || math.Abs(volts-cells*c.cellV) > 0.051 ||
			chemistry != "" && chemistry != string(c.chemistry) && c.chemistry != inventory.LiPo {
			continue
		}
		written := strconv.Itoa(int(cells))
		if t.valueOf("cells") == "" && fullOfOthers(volts, cells) {
			return
		}
		if given := t.valueOf("cells"); given != "" && given != written {
			return
		}
		news := t.say("cells", written, words)
		if chemistry == "" && c.chemistry != inventory.LiPo {
			news = t.say("chemistry", string(c.chemistry), words)
		}
		if t.cut(m[0], m[1]); news {
			t.readAs("free.read_volts", words)
		} else {
			t.said[slices.IndexFunc(t.said, func(s Said) bool { return s.Key == "cells" })].Words += " " + words
		}
		return
	}
}

// fullOfOthers reports whether volts are those of a full pack of another number of cells: 25.2 V are six full ones as
// well as the nominal volts of seven of Li-ion.
func fullOfOthers(volts, cells float64) bool {
	for _, cellV := range [...]float64{fullLiPoV, fullLiHVV} {
		full := math.Round(volts / cellV)
		if full != cells && math.Abs(volts-full*cellV) < 0.051 {
			return true
		}
	}
	return false
}

// radioPower is a power of a video transmitter that is that of its radio, in the mW that pilots know it by.
var radioPower = regexp.MustCompile(`(?i)\d ?mw `)

var (
	// largestProp is the largest prop that a frame takes, in inches. Without its unit it has tenths.
	largestProp = regexp.MustCompile(`(?i) (?:(?:max|up to)(?: props?)? (\d{1,2}(?:[.,]\d)?)` + inchForm + `(?: props?)?|` +
		`(\d{1,2}(?:[.,]\d)?)` + inchForm + ` (?:props? )?max|(?:max|up to) (\d{1,2}[.,]\d)|(\d{1,2}[.,]\d) max) `)
	inches = regexp.MustCompile(`(?i) (\d{1,2}(?:[.,]\d)?)` + inchForm + ` `)
)

const inchForm = `[- ]?(?:in|inch|"|″|”)`

// takeLargestProp reads the largest prop of a frame where it is given besides the class: 5" freestyle, max 5.1".
func (t *freeText) takeLargestProp() {
	m := largestProp.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindFrame || m == nil {
		return
	}
	words := strings.TrimSpace(t.rest[m[0]:m[1]])
	most := decimal(submatch(t.rest, m, 1)+submatch(t.rest, m, 2)+submatch(t.rest, m, 3)+submatch(t.rest, m, 4), 1)
	if mustNumber(most) < 1 || !t.say("max_prop_in", most, words) {
		return
	}
	t.cut(m[0], m[1])
	if m := inches.FindStringSubmatchIndex(t.rest); m != nil &&
		math.Abs(mustNumber(most)/mustNumber(decimal(submatch(t.rest, m, 1), 1))-1) <= mostOverClass {
		t.cut(m[0], m[1])
	}
}

// mostOverClass is by how much the largest prop of a frame is over its class at most: 7.5 inch on one of 7 (common
// practice, no source).
const mostOverClass = 0.1

// massAndMass are the masses of two things that are one part: a transmitter 4g + camera 6g.
var massAndMass = regexp.MustCompile(`(?i) ` + numberForm + `g ?(?:\+|plus|and) ((?:[a-z-]+ ){1,3})` + numberForm + `g `)

var oneMass = regexp.MustCompile(`(?i) ` + numberForm + `g `)

// takeMassAndMass adds them up, the second's name left where it was.
func (t *freeText) takeMassAndMass() {
	m := massAndMass.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindExtra && t.kind != inventory.KindBoard || m == nil {
		return
	}
	if oneMass.MatchString(t.rest[:m[0]+1]) || oneMass.MatchString(t.rest[m[1]-1:]) {
		return // of both together: 28g (fc 9g + esc 19g)
	}
	words := strings.TrimSpace(t.rest[m[0]:m[1]])
	both := sum([]string{decimal(submatch(t.rest, m, 1), 1), decimal(submatch(t.rest, m, 3), 1)})
	if !t.say("mass_g", both[0], words) {
		return
	}
	t.rest = t.rest[:m[0]] + " " + understood + " " + submatch(t.rest, m, 2) + understood + " " + t.rest[m[1]:]
	t.rest = " " + strings.Join(strings.Fields(t.rest), " ") + " "
	t.readAs("free.read_masses", words)
}

var bareWatts = form{[]string{"power_w"}, `Nw`, first}

// mostRadioW is the strongest radio of a video transmitter, in W (common practice, no source).
const mostRadioW = 5

// takePower reads watts of an extra as what it takes from the pack. Those of a video transmitter can be its radio's,
// unless that is given besides or they are more than a radio has.
func (t *freeText) takePower() {
	if t.kind != inventory.KindExtra {
		return
	}
	watts := bareWatts
	if t.valueOf("role") == string(inventory.Video) && !radioPower.MatchString(t.rest) {
		watts.read = func(m []string) []string {
			if mustNumber(first(m)[0]) <= mostRadioW {
				return nil
			}
			return first(m)
		}
	}
	t.applyForm(watts, "")
}

var loneSquare = regexp.MustCompile(`(?i) (\d{1,2}(?:[.,]\d)?)(?:mm)?[x×*](\d{1,2}(?:[.,]\d)?)(?:mm)?(?: m\d)? `)

// Squares from this to under that are motor holes of large frames and stacks of small ones, in mm.
const leastSharedMm, mostSharedMm = 15.0, 20.0

// takeLoneSquare reads 16x16 of a frame without a word beside it as its motor holes, where its stack is given or the
// frame is too large for a stack as small.
func (t *freeText) takeLoneSquare() {
	m := loneSquare.FindStringSubmatchIndex(t.rest)
	if t.kind != inventory.KindFrame || m == nil || t.valueOf("hole_pattern_mm") != "" ||
		t.valueOf("stack_mm") == "" && t.numberOf("max_prop_in") < 4.5 && t.numberOf("motor_spacing_mm") < 140 {
		return
	}
	side := holeSquare([]string{submatch(t.rest, m, 1), submatch(t.rest, m, 2)})
	if side == nil || mustNumber(side[0]) < leastSharedMm || mustNumber(side[0]) >= mostSharedMm {
		return
	}
	words := strings.TrimSpace(t.rest[m[0]:m[1]])
	if t.say("hole_pattern_mm", side[0], words) {
		t.cut(m[0], m[1])
		t.readAs("free.read_motor_holes", words)
	}
}

// mustNumber is a number that decimal has written, 0 if it is none.
func mustNumber(s string) float64 {
	x, _ := strconv.ParseFloat(s, 64)
	return x
}

var (
	controllerWord = regexp.MustCompile(`(?i) (?:fcs?|flight controllers?) `)
	withESCsWord   = regexp.MustCompile(`(?i) (?:escs?|aios?|boards?|4 ?-?in-? ?1|stacks?) `)
)

// controllerAlone reports whether a text describes a flight controller that carries no ESCs.
func (t *freeText) controllerAlone(text string) bool {
	words := spacedWords(text)
	return t.kind == inventory.KindBoard && t.valueOf("esc_current_a") == "" && t.valueOf("cells") == "" &&
		controllerWord.MatchString(words) && !withESCsWord.MatchString(words)
}
