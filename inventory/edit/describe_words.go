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

const unitsForm = `g|gr|grams?|grammes?|kg|oz|mm|kv|mah|ah|a|amps?|c|s|cells?|w|v|volts?|in|inch(?:es)?|"|mohm|milliohm|mω|ohm|mohm/cell|mω/cell|rpm/v|` +
	`poles|blades?|bladed|pcs?|pieces|stk|off|cycles|rotors`

var (
	glue = regexp.MustCompile(`(?i)(\d) (` + unitsForm + `)( |$)`)
	// wordBeforeUnit is a number as a word that a unit follows: three inch, two-blade.
	wordBeforeUnit = regexp.MustCompile(`(?i) (` + numberWordsForm +
		`)[ -](inch(?:es)?|blades?|bladed|cells?|pcs|pieces) `)
	cellsColon      = regexp.MustCompile(`(?i) cells[:=] ?(\d{1,2}s?[-–~]\d)`)
	tilde           = regexp.MustCompile(` (?:~|≈|(?i:ca|approx|about|around|roughly)\.? ?)(\d)`)
	twoInches       = regexp.MustCompile(`(\d)(?:''|″|”|“)`)
	cellsDash       = regexp.MustCompile(`(?i)( \d{1,2}s(?:1p)?)[-/_](\d{3,5}(?:mah)?)(?:[-/_](\d{1,3}c))?`)
	mahSlash        = regexp.MustCompile(`(?i)(\dmah)[-/_](\d)`)
	slashWord       = regexp.MustCompile(`(?i)(\dc)/([a-z])`)
	noLoadWords     = regexp.MustCompile(`(?i) no[- ]load(?: current)?[:=]? `)
	aloneInBrackets = regexp.MustCompile(`\( ?(\d{1,2}) ?\)`)
	// version is what makers write behind a size: 5x4.3x3v2.
	version = regexp.MustCompile(`(?i)([x×*-]\d|\d{4})(v\d[a-z]?) `)
	bagOf   = regexp.MustCompile(`(?i) (?:packs?|bags?|box|boxes|packets?|bundles?|lots?) of (\d{1,3}|` + numberWordsForm + `) `)
	// A rating is for so many seconds, which are no cells.
	forSeconds    = regexp.MustCompile(`(?i) (?:for|over|in) (\d{1,3}) ?(?:s|secs?|seconds?) `)
	bareSeconds   = regexp.MustCompile(`(?i)[ /](\d{1,3}) ?(?:secs?|seconds?) `)
	slashSeconds  = regexp.MustCompile(`(?i)(\d ?(?:a|amps?|c))[/@](\d{2,3}) ?s `)
	burstSeconds  = regexp.MustCompile(`(?i)( (?:burst|peak|max)(?: \d+(?:\.\d+)? ?(?:a|c))?) (\d{2,3}) ?s `)
	secondsBefore = regexp.MustCompile(`(?i) (\d{2,3}) ?s (burst|peak) `)
	bullet        = regexp.MustCompile(`^ (?:[-*•·–]|\d{1,2}[.)]) `)
	// numbered is what stands before the point that numbers a line.
	numbered = regexp.MustCompile(`^ ?\d{1,2}$`)
)

// usualMarks writes the marks between words as the forms have them: inches as ", no bullet before a line, spaces
// between what was written closed up.
func usualMarks(s string) string {
	s = bullet.ReplaceAllString(s, " ")
	s = version.ReplaceAllString(s, "$1 $2 ")
	s = bagOf.ReplaceAllString(s, " set of $1 ")
	s = noLoadWords.ReplaceAllString(s, " noload ")
	seconds := " for" + joined
	s = slashSeconds.ReplaceAllString(s, "$1"+seconds+"${2}s ")
	s = forSeconds.ReplaceAllString(s, seconds+"${1}s ")
	s = bareSeconds.ReplaceAllString(s, seconds+"${1}s ")
	s = burstSeconds.ReplaceAllString(s, "$1"+seconds+"${2}s ")
	s = secondsBefore.ReplaceAllString(s, " $2"+seconds+"${1}s ")
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
	s = aloneInBrackets.ReplaceAllString(s, " x$1 ")
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
		case '.', '!', '?':
			if open && (i+2 >= len(s) || s[i+1] == ' ' && !numbered.MatchString(s[:i])) {
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
	{inventory.KindBoard, `u?bec[:=]? (?:Nv(?:[ /@,x]*Na)?|Na(?:[ /@,x]*Nv)?)`, "free.bec"},
	{inventory.KindBoard, `(?:Nv[ /@,x]*)?(?:Na )?u?bec`, "free.bec"},
	{inventory.KindMotor, screwsAlong, "free.screws"}, {inventory.KindProp, screwsAlong, "free.screws"},
	{inventory.KindFrame, lengthways, ""}, {inventory.KindExtra, lengthways, ""},
	{inventory.KindFrame, `N(?:mm)? motor[- ]to[- ]motor|motor[- ]to[- ]motor[:=]? ?N(?:mm)?`, "free.motor_to_motor"},
}

// screwsAlong are screws that come with a part, which need not hold the prop.
const screwsAlong = `(?:with|incl(?:uding|\.)?|plus|and|\+) (?:the )?(?:spare |mounting |motor |m\d )?(?:screws|hardware|bolts)`

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
