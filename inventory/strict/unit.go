package strict

import "strings"

// pilotUnit is a unit in which pilots write a quantity: times factor, plus offset, it is in the key's.
type pilotUnit struct {
	words          string // as written, in small letters
	factor, offset float64
	slip           string // the unit that a bare number out of range was then meant in, "" if nobody means that
}

// pilotUnits are the units met under a key of a unit, its own first. Factors are exact by definition but
// those of mercury columns (ISO 80000-4).
var pilotUnits = map[string][]pilotUnit{
	"g": {{"g gr gr. gram grams gramm gms gm", 1, 0, ""}, {"kg", 1000, 0, "kg"}, {"mg", 0.001, 0, ""},
		{"oz ounce ounces", 28.349523125, 0, ""}, {"lb lbs pound pounds", 453.59237, 0, ""}},
	"mm": {{"mm millimetre millimetres millimeter millimeters", 1, 0, ""},
		{"in inch inches \" '' ″ ” zoll", 25.4, 0, "inches"}, {"cm", 10, 0, "cm"}, {"m", 1000, 0, "m"}},
	"in":           {{"in inch inches \" '' ″ ” zoll", 1, 0, ""}, {"mm", 1 / 25.4, 0, "mm"}, {"cm", 1 / 2.54, 0, ""}},
	"mAh":          {{"mah", 1, 0, ""}, {"ah", 1000, 0, "Ah"}},
	"milliohm":     {{"mohm mω milliohm milliohms mohms", 1, 0, ""}, {"ohm ohms ω", 1000, 0, "ohm"}},
	"A":            {{"a amp amps ampere amperes", 1, 0, ""}, {"ma", 0.001, 0, "mA"}},
	"V":            {{"v volt volts", 1, 0, ""}, {"mv", 0.001, 0, ""}},
	"W":            {{"w watt watts", 1, 0, ""}, {"mw", 0.001, 0, ""}},
	"C":            {{"c", 1, 0, ""}},
	"rpm per volt": {{"kv rpm/v rpm/volt u/min/v", 1, 0, ""}, {"k", 1000, 0, "thousands"}},
	"rpm":          {{"rpm /min 1/min u/min rev/min", 1, 0, ""}, {"k krpm", 1000, 0, "thousands"}},
	"°C": {{"c °c deg ° celsius degc", 1, 0, ""}, {"f °f fahrenheit degf", 1 / 1.8, -32 / 1.8, "°F"},
		{"k kelvin", 1, -273.15, "K"}},
	"m": {{"m metre metres meter meters", 1, 0, ""}, {"km", 1000, 0, ""}, {"ft feet foot", 0.3048, 0, "feet"}},
	"hPa": {{"hpa mbar mb millibar", 1, 0, ""}, {"kpa", 10, 0, "kPa"}, {"pa", 0.01, 0, "Pa"},
		{"bar", 1000, 0, "bar"}, {"inhg", 33.86389, 0, "inches of mercury"}, {"mmhg torr", 1.333224, 0, ""}},
	"m/s": {{"m/s mps", 1, 0, ""}, {"km/h kmh kph", 1 / 3.6, 0, "km/h"}, {"mph", 0.44704, 0, ""},
		{"kn kt knots", 1852.0 / 3600, 0, ""}},
	"min": {{"min mins min. minute minutes", 1, 0, ""}, {"s sec secs second seconds", 1.0 / 60, 0, "seconds"},
		{"h hours", 60, 0, ""}},
	"%":       {{"% percent pct", 1, 0, ""}, {"", 100, 0, "share"}},
	"degrees": {{"° deg degree degrees", 1, 0, ""}},
	"cm²":     {{"cm² cm2 cm^2", 1, 0, ""}, {"m² m2 m^2", 1e4, 0, "m²"}, {"mm² mm2 mm^2", 0.01, 0, "mm²"}},
	"mN m":    {{"mnm", 1, 0, ""}, {"nm", 1000, 0, ""}, {"ncm", 10, 0, ""}},
	"cells":   {{"s cell cells", 1, 0, ""}},
}

// pieceWords may stand behind a number of pieces.
var pieceWords = wordSet("x × pcs pc pieces off st stk s cells blades blade poles magnets cycles rotors motors props " +
	"packs sets")

func (u *pilotUnit) of(x float64) float64 { return x*u.factor + u.offset }

func unitWord(written string) string {
	return strings.ToLower(strings.ReplaceAll(strings.TrimRight(written, ". "), " ", ""))
}

// unitNamed is the unit that a word means under a key of a unit.
func unitNamed(word, unit string) (*pilotUnit, bool) {
	for i := range pilotUnits[unit] {
		for one := range strings.FieldsSeq(pilotUnits[unit][i].words) {
			if one == word {
				return &pilotUnits[unit][i], true
			}
		}
	}
	return nil, false
}

// inUnit says whether what stands behind a number is the key's own unit.
func inUnit(written, unit string) bool {
	word := unitWord(written)
	u, ok := unitNamed(word, unit)
	return ok && u.factor == 1 && u.offset == 0 || unit == "" && pieceWords[word]
}
