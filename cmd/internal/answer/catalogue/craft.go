package catalogue

import (
	"fmt"
	"math"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// craftCautions are what a craft's own numbers warn of: the value, the bound that it exceeds.
var craftCautions = [physics.CautionEnd]string{
	physics.HotWinding: "motors will overheat: windings may reach {value} by the end of a flight in this style, " +
		"keep them under {bound}; land after a minute, disarm, unplug and check motor temperature",
	physics.HotPunch: "keep punches short and let the motors cool: windings may reach {value} after a few " +
		"seconds at the throttle cap, late in a flight",
	physics.FastElectrical: "ESCs may desync: eRPM reaches {value} thousand at full throttle, over {bound} thousand is " +
		"doubtful",
	physics.FastTip: "blade tips reach Mach {value} at full throttle; over {bound} the prediction is too " +
		"optimistic",
	physics.TwitchyHover: "twitchy: it hovers at {value} % throttle; under {bound} % height is hard to hold",
	physics.WeakHover: "weak: it hovers at {value} % throttle; over {bound} % little is left for turns and " +
		"gusts",
	physics.OverdrawnPlug: "the plug gets hot: punches draw {value} A, its datasheet says {bound} A (pilots do " +
		"go over it)",
	physics.WarmPlug: "check plug temperature after landing: the hardest part of the flight draws {value} A, its " +
		"datasheet says {bound} A continuous (pilots do go over it)",
	physics.DrivenHard: "ask the maker for the max motor current before flying, set max_current_a, and keep " +
		"punches short: a punch at the throttle cap takes {value} A a motor, and {bound} A is only an estimate",
}

// cautionUnits turn SI values of cautions into those of their sentences, with the decimals shown.
var cautionUnits = [physics.CautionEnd]struct {
	perSI    float64
	decimals int
}{
	physics.FastElectrical: {60e-3 / (2 * math.Pi), 0},
	physics.FastTip:        {1, 2}, physics.TwitchyHover: {100, 0}, physics.WeakHover: {100, 0}, physics.OverdrawnPlug: {1,
		0}, physics.WarmPlug: {1, 1}, physics.DrivenHard: {1, 1},
}

// CraftCaution is a caution of physics in words, without a capital and a full stop.
func CraftCaution(w physics.Warning) string {
	return phrase.Fill(craftCautions[w.Caution], cautionValues(w))
}

// CraftCautionForm is a caution of physics with {} in place of its values, and these in their order.
func CraftCautionForm(w physics.Warning) (form string, values []string) {
	return phrase.Form(craftCautions[w.Caution], cautionValues(w))
}

func cautionValues(w physics.Warning) map[string]any {
	u := cautionUnits[w.Caution]
	if w.Caution == physics.HotWinding || w.Caution == physics.HotPunch {
		return map[string]any{"value": HeatBand(w.Value - rotor.ZeroCelsiusK),
			"bound": HeatBand(w.Bound - rotor.ZeroCelsiusK)}
	}
	number := func(si float64) string { return fmt.Sprintf("%.*f", u.decimals, si*u.perSI) }
	return map[string]any{"value": number(w.Value), "bound": number(w.Bound)}
}

// HeatBand is a temperature of windings in °C in words: a band from 150 °C on, for the law of heat tells no more.
func HeatBand(temperatureC float64) string {
	switch {
	case temperatureC > 300:
		return "over 300 °C, more than any winding survives"
	case temperatureC > 200:
		return "200 to 300 °C"
	case temperatureC > 150:
		return "150 to 200 °C"
	}
	return fmt.Sprintf("%.0f °C", temperatureC)
}

// undefined says why a figure is not given.
var undefined = [physics.ReasonEnd]string{
	physics.Defined:         "defined",
	physics.CannotHover:     "it cannot hover on this pack",
	physics.NotEnoughThrust: "it has too little thrust for that",
	physics.NoLimitKnown:    "no limit is known",
	physics.NoDescentArrest: "full throttle does not stop the sink",
	physics.NoStyleSpeed:    "the style sets no speed",
	physics.NotAsked:        "it was not asked for",
	physics.Windmilling:     "the prop windmills at this airspeed",
	physics.CellsCollapse:   "its cells cannot deliver that current: their voltage would collapse",
	physics.WindingsBurn:    "the windings would burn",
}

// Undefined says why a figure is not given.
func Undefined(why physics.Reason) string { return undefined[why] }
