package catalogue

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/series"
	"partsaloft/inventory/strict"
)

// FlownFigureRow is a figure that was read from a recording, nil with why if it is not there.
type FlownFigureRow struct {
	Key, Name, Unit string
	Figure          *series.Figure
	Why             series.Why
}

// FlownFigures are the figures of a flight in the order in which they are told.
func FlownFigures(f *series.Flight) []FlownFigureRow {
	times := func(f *series.Figure, by float64) *series.Figure {
		if f == nil {
			return nil
		}
		return &series.Figure{Value: by * f.Value, SD: by * f.SD}
	}
	h, l, c := &f.Hover, &f.Load, &f.Charge
	why := func(lacks series.Why) series.Why {
		if h.Why != "" {
			return h.Why
		}
		return lacks
	}
	return []FlownFigureRow{
		{"flight_minutes", "time in the air", "min", &series.Figure{Value: f.AirborneS / 60, SD: airborneSD / 60}, ""},
		{"hover_throttle_pct", "throttle in hover", "%", h.ThrottlePct, why(series.NoThrottle)},
		{"hover_rpm", "rpm in hover", "", h.RPM, why(series.NoRPM)},
		{"hover_current_a", "current in hover", "A", h.CurrentA, why(series.NoAmps)},
		{"hover_pack_v", "pack voltage in hover", "V", h.PackV, why(series.NoVolts)},
		{"pack_resistance_mohm", "pack resistance in flight", "mΩ", times(f.Pack.ResistanceOhm, 1e3), f.Pack.Why},
		{"open_pack_v", "open voltage at take-off", "V", f.Pack.OpenV, f.Pack.Why},
		{"end_open_pack_v", "open voltage at landing", "V", f.Pack.EndOpenV, f.Pack.Why},
		{"end_pack_v", "voltage at landing, loaded", "V", c.EndPackV, series.NoVolts},
		{"used_mah", "charge used", "mAh", c.UsedMAh, series.NoAmps},
		{"left_pct", "charge left, by capacity", "%", times(c.LeftShare, 100), series.NoCapacity},
		{"left_by_voltage_pct", "charge left, by voltage", "%", times(c.EndShare, 100), series.NoCells},
		{"largest_current_a", "largest current", "A", l.LargestA, series.NoAmps},
		{"lowest_pack_v", "lowest voltage under load", "V", l.LowestV, series.NoVolts},
		{"punch_current_a", "current at full throttle", "A", l.FullA, l.PunchWhy},
		{"punch_pack_v", "pack voltage at full throttle", "V", l.FullV, l.PunchWhy},
		{"punch_rpm", "rpm at full throttle", "", l.FullRPM, l.PunchWhy},
		{"mean_power_w", "mean power", "W", l.MeanPowerW, series.NoAmps},
		{"power_over_hover", "mean power over hover's", "", l.OverHover, why(series.NoAmps)},
	}
}

// airborneSD is how well the ends of a flight are found, in s (frames of a tenth, and what lies between ground and air).
const airborneSD = 0.5

// flownWhys are why a figure is not there.
var flownWhys = map[series.Why]string{
	"":                   "not in the file",
	series.NoVolts:       "no column of volts",
	series.NoAmps:        "no column of amps",
	series.NoThrottle:    "no column of throttle",
	series.NoRPM:         "no column of rpm",
	series.NoHover:       "no steady stretch is hover",
	series.NoPunch:       "no punch to full throttle",
	series.SteadyCurrent: "the current hardly varies: fly a few punches",
	series.Unclear:       "voltage does not follow the current closely enough",
	series.NoCapacity:    "name the craft for its pack's capacity",
	series.NoCells:       "number of cells unknown, or resistance not found: name the craft",
}

// FlownWhy says why a figure is not there.
func FlownWhy(w series.Why) string { return flownWhys[w] }

// FlownTitle says what was read and where the flight lies.
func FlownTitle(rows int, rateHz float64, f *series.Flight) string {
	hops := ""
	if f.Hops > 1 {
		hops = phrase.Fill(" in {n:hop|hops}", map[string]any{"n": f.Hops})
	}
	text := phrase.Fill("{air} in the air{hops}, from {from} to {to} of the recording (lines {first} to {last}); {rows:row|rows}, "+
		"{rate} a second.", map[string]any{"air": minutes(f.AirborneS), "hops": hops, "from": minutes(f.StartS),
		"to": minutes(f.EndS), "first": f.FirstLine, "last": f.LastLine, "rows": rows,
		"rate": strict.Digits(rateHz, 3).String()})
	switch {
	case f.Begun && f.Cut:
		text += " It begins and ends in the air."
	case f.Begun:
		text += " The take-off is not in the file."
	case f.Cut:
		text += " The landing is not in the file."
	}
	return text
}

// minutes writes seconds as minutes and seconds: 4:07.
func minutes(s float64) string {
	n := int(math.Round(s))
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// verdicts say why a steady stretch is not hover.
var verdicts = []struct {
	verdict series.Verdict
	text    string
}{
	{series.Moves, "{n} moving over the ground"}, {series.Tilted, "{n} tilted"}, {series.Climbs, "{n} climbing or sinking"},
	{series.OffLevel, "{n} with more or less thrust than the others"},
	{series.OverMean, "{n} with more thrust than the flight's mean, which hover never takes"},
	{series.EdgeOf, "{n} at take-off or landing"},
}

// FlownHover says what was taken for hover, and what not.
func FlownHover(f *series.Flight) []string {
	var taken []string
	counts := map[series.Verdict]int{}
	for i := range f.Steady {
		s := &f.Steady[i]
		counts[s.Verdict]++
		if s.Verdict == series.Hovers {
			taken = append(taken, minutes(s.FromS)+"–"+minutes(s.ToS))
		}
	}
	if len(taken) > 8 {
		taken = append(taken[:7], fmt.Sprintf("%d more", len(taken)-7))
	}
	var list, others []string
	if n := counts[series.Hovers]; n > 0 {
		list = append(list, phrase.Fill("Hover: {seconds} s in {n:stretch|stretches}, {times}: steady at the lowest thrust that "+
			"the craft keeps coming back to.", map[string]any{"seconds": int(math.Round(f.Hover.SecondsS)), "n": n,
			"times": phrase.Words(taken)}))
	} else {
		list = append(list, "No hover was found: hold the craft still for 3 seconds or more, several times.")
	}
	for _, v := range verdicts {
		if n := counts[v.verdict]; n > 0 {
			others = append(others, phrase.Fill(v.text, map[string]any{"n": n}))
		}
	}
	if others != nil {
		list = append(list, "Steady but not taken for hover: "+strings.Join(others, "; ")+".")
	}
	if counts[series.Hovers] > 0 && !f.Hover.Sure {
		list = append(list, "Without a column of speed or tilt slow cruising can pass for hover; check the times above.")
	}
	return list
}

// FlownAbsent lists what is not there, with why, reasons that are alike together.
func FlownAbsent(f *series.Flight) []string {
	var reasons []string
	names := map[string][]string{}
	for _, one := range FlownFigures(f) {
		if one.Figure != nil {
			continue
		}
		why := FlownWhy(one.Why)
		if names[why] == nil {
			reasons = append(reasons, why)
		}
		names[why] = append(names[why], one.Name)
	}
	var list []string
	for _, why := range reasons {
		list = append(list, phrase.Fill("Not found: {names} ({why}).", map[string]any{"names": phrase.Words(names[why]),
			"why": why}))
	}
	return list
}

// FlownPack says how the pack was loaded.
func FlownPack(f *series.Flight) []string {
	var list []string
	l := &f.Load
	if l.LargestA != nil && l.LowestV != nil {
		list = append(list, phrase.Fill("The current was within 10 % of its largest for {a} s, the voltage near its lowest for "+
			"{v} s.", map[string]any{"a": Fixed(l.LargestS, 1), "v": Fixed(l.LowestS, 1)}))
	}
	if l.OverHover != nil {
		list = append(list, phrase.Fill("Power over hover's: a tenth of the flight under {low}, half under {mid}, a tenth over "+
			"{high}.", map[string]any{"low": Fixed(l.TenthOver, 2), "mid": Fixed(l.MedianOver, 2),
			"high": Fixed(l.Ninth, 2)}))
	}
	c := &f.Charge
	if c.LeftShare != nil && c.EndShare != nil {
		apart := math.Abs(c.LeftShare.Value - c.EndShare.Value)
		if apart > 2*math.Hypot(c.LeftShare.SD, c.EndShare.SD)+0.05 {
			list = append(list, phrase.Fill("By capacity {left} % is left, by voltage {open} %: the pack was not full at take-off, "+
				"has lost capacity, or the current sensor is off.", map[string]any{"left": Fixed(100*c.LeftShare.Value, 0),
				"open": Fixed(100*c.EndShare.Value, 0)}))
		}
	}
	if lag := f.Pack.LagS; f.Pack.ResistanceOhm != nil && math.Abs(lag) > 0.15 {
		list = append(list, phrase.Fill("The current is shown some {lag} s after the voltage, which is allowed for.",
			map[string]any{"lag": Fixed(lag, 1)}))
	}
	return list
}

// flownLacks say what an entry of the log lacks.
var flownLacks = map[string]string{
	"craft":  "Name the craft of your drawer's fleet behind the file, and the entry gets its parts.",
	"weight": "Weigh the craft as flown and give it with --weight: most readings tell more with it.",
	"flown":  "Say how it was flown with --flown (hover, cruise, hard or a style), and time, charge and mean power go in.",
	"whole":  "Take-off or landing is not in the file, so flying time stays out.",
	"charge": "Neither charge nor voltage is in the file, so flying time stays out.",
}

// FlownLacks says what an entry of the log lacks.
func FlownLacks(what string) string { return flownLacks[what] }

// FlownBad says that rows could not be read.
func FlownBad(n, first int) string {
	return phrase.Fill("{n:row|rows} could not be read, the first in line {line}.", map[string]any{"n": n, "line": first})
}

// FlownFault says why an entry teaches nothing.
func FlownFault(f *strict.Fault) string {
	return "learn refuses the entry: " + faults.FaultHere(f) + "."
}

// Sentence begins a text with a capital and ends it with a full stop.
func Sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + strings.TrimRight(text[n:], ".") + "."
}

// quantityNames are what columns of a recording hold.
var quantityNames = map[series.Quantity]string{
	series.Time: "time", series.Volts: "pack voltage", series.CellV: "cell voltage", series.Amps: "pack current",
	series.ESCAmps: "current of an ESC", series.Throttle: "throttle", series.Outputs: "output to a motor",
	series.RPM: "rpm", series.ERPM: "electrical rpm", series.Speed: "speed", series.Height: "height", series.Tilt: "tilt",
	series.Roll: "roll", series.Pitch: "pitch", series.Used: "charge used",
}

// QuantityName is what a column holds.
func QuantityName(quantity string) string { return quantityNames[series.Quantity(quantity)] }

// RecognisedBy says how a column was recognised.
func RecognisedBy(how string) string {
	return map[series.How]string{series.Named: "as you said", series.ByWords: "heading",
		series.ByRange: "range of values; check"}[series.How(how)]
}

// FlightPlotTitle is the title of a plot.
func FlightPlotTitle(file string, airborneS float64) string {
	return phrase.Fill("{file}: {air} in the air", map[string]any{"file": file, "air": minutes(airborneS)})
}
