package edit

import (
	"regexp"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// freeText is what is left of a description to be understood, words between single spaces, with a mark
// for what was understood already.
type freeText struct {
	rest  string
	kind  inventory.Kind
	under heading
	said  []Said
	// readings say how words were read that could be read some other way.
	readings []strict.Problem
}

const understood = "\x00"

// spacedWords puts single spaces around words.
func spacedWords(text string) string {
	plain := strings.NewReplacer(understood, " ", joined, " ").Replace(strict.PlainSpaces(text))
	return " " + strings.Join(strings.Fields(plain), " ") + " "
}

const unitsForm = `g|gr|grams?|kg|oz|mm|kv|mah|ah|a|amps?|c|s|cells?|w|v|volts?|in|inch(?:es)?|"|mohm|milliohm|ohm|rpm/v|` +
	`poles|blades?|bladed|pcs|pieces|cycles|rotors`

var (
	glue = regexp.MustCompile(`(?i)(\d) (` + unitsForm + `)( |$)`)
	// wordBeforeUnit is a number as a word that a unit follows: three inch, two-blade.
	wordBeforeUnit = regexp.MustCompile(`(?i) (` + numberWordsForm +
		`)[ -](inch(?:es)?|blades?|bladed|cells?|pcs|pieces) `)
	cellsColon = regexp.MustCompile(`(?i) cells[:=] ?(\d{1,2}s?[-–~]\d)`)
	tilde      = regexp.MustCompile(` (?:~|≈|(?i:ca|approx|about|around|roughly)\.? ?)(\d)`)
	twoInches  = regexp.MustCompile(`(\d)(?:''|″|”|“)`)
	cellsDash  = regexp.MustCompile(`(?i)( \d{1,2}s(?:1p)?)[-/_](\d{3,5}(?:mah)?)(?:[-/_](\d{1,3}c))?`)
	mahSlash   = regexp.MustCompile(`(?i)(\dmah)[-/_](\d)`)
	slashWord  = regexp.MustCompile(`(?i)(\dc)/([a-z])`)
	bullet     = regexp.MustCompile(`^ (?:[-*•·–]|\d{1,2}[.)]) `)
)

// usualMarks writes the marks between words as the forms have them: inches as ", no bullet before a line, spaces
// between what was written closed up.
func usualMarks(s string) string {
	s = bullet.ReplaceAllString(s, " ")
	s = twoInches.ReplaceAllString(s, `$1"`)
	s = tilde.ReplaceAllString(s, " $1")
	s = cellsColon.ReplaceAllString(s, " $1")
	s = cellsDash.ReplaceAllString(s, "$1 $2 $3")
	s = mahSlash.ReplaceAllString(s, "$1 $2")
	s = slashWord.ReplaceAllString(s, "$1 $2")
	return wordBeforeUnit.ReplaceAllStringFunc(s, func(words string) string {
		m := wordBeforeUnit.FindStringSubmatch(words)
		return " " + wholeNumber(m[1]) + m[2] + " "
	})
}

// gluedUnits takes away the commas between words and the parentheses around them, brackets and quotes
// left alone, and the space between a number and its unit.
func gluedUnits(s string) string {
	var b strings.Builder
	depth, quoted := 0, false
	for i, r := range s {
		open := depth == 0 && !quoted
		switch r {
		case '"':
			// An inch mark stands behind a number.
			quoted = !quoted && (i == 0 || s[i-1] < '0' || s[i-1] > '9')
		case '[', '{':
			depth++
		case ']', '}':
			depth = max(depth-1, 0)
		case '(', ')':
			if open {
				b.WriteByte(' ')
				continue
			}
		case '.', '!':
			if open && (i+2 >= len(s) || s[i+1] == ' ' && i+2 == len(s)) {
				continue
			}
		case ',', ';':
			if open && i+1 < len(s) && s[i+1] == ' ' {
				continue
			}
			if open && i > 0 && (s[i-1] < '0' || s[i-1] > '9') {
				b.WriteByte(' ')
				continue
			}
		}
		b.WriteRune(r)
	}
	s = usualMarks(" " + strings.Join(strings.Fields(b.String()), " ") + " ")
	for glue.MatchString(s) {
		s = glue.ReplaceAllString(s, "$1$2$3")
	}
	return " " + strings.Join(strings.Fields(s), " ") + " "
}

// asides are words that would be misread word by word, with the way out.
var asides = []struct {
	kind inventory.Kind // "" for every kind
	form string
	way  strict.Code
}{
	{"", massWord + `N(?:g|gr|grams?|kg|oz)(?: (?:for|in))? ` +
		`(?:total|together|altogether|(?:the|per|a) set|all(?: (?:four|4|of them))?)`, "free.mass_of_one"},
	{"", massWord + `N(?:g|gr|grams?|kg|oz) for (?:[2-9]|two|four|six|eight)`, "free.mass_of_one"},
	{"", `(?:total|all up) (?:mass |weight )?N(?:g|gr|grams?|kg|oz)`, "free.mass_of_one"},
	{"", `(?:no|not|without|non)[- ][a-z]+`, ""},
	{inventory.KindPack, `N(?:c|a) (?:max )?charg(?:e|ing)(?: rate)?|` + `charg(?:e|ing) (?:rate )?[:=]?N(?:c|a)`, "free.charge"},
	{inventory.KindFrame, lengthways, ""}, {inventory.KindExtra, lengthways, ""},
	{inventory.KindFrame, `N(?:mm)? motor[- ]to[- ]motor|motor[- ]to[- ]motor[:=]? ?N(?:mm)?`, "free.motor_to_motor"},
}

// lengthways is a length of what no key holds.
const lengthways = `N(?:mm|cm)? (?:long|wide|tall|high)|(?:length|width|height)[:=]? ?N(?:mm|cm)?`

// joined stands for a space within words that belong together.
const joined = "\x01"

// putAside joins the words of what is to be asked, so that no form reads a part of them.
func (t *freeText) putAside() {
	for _, a := range asides {
		if a.kind == "" || a.kind == t.kind {
			t.putAsideForm(a.form)
		}
	}
}

func (t *freeText) putAsideForm(f string) {
	t.rest = form{pattern: f}.compiled().ReplaceAllStringFunc(t.rest, func(words string) string {
		return " " + strings.ReplaceAll(strings.TrimSpace(words), " ", joined) + " "
	})
}

// asideWay is the way out of words that were put aside, "" of others.
func asideWay(kind inventory.Kind, words string) strict.Code {
	for _, a := range asides {
		if (a.kind == "" || a.kind == kind) && (form{pattern: a.form}).compiled().MatchString(" "+words+" ") {
			return a.way
		}
	}
	return ""
}
