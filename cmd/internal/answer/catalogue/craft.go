package catalogue

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/fault"
	"partsaloft/physics/rotor"
)

// craftFaults are of what no blade, craft, air or way of flying can be.
var craftFaults = map[string]string{
	"air.altitude":    "altitude must be from {low} to {high} m, got {got}",
	"air.pressure":    "pressure must be from {low} to {high} Pa, got {got}",
	"air.temperature": "temperature must be from {low} to {high} °C, got {got}",
	"prop.diameter":   "prop diameter must be from {low} to {high} m, got {got}",
	"prop.pitch":      "prop pitch must be over 0 and at most twice the diameter, got {got} m",
	"prop.blades":     "blades must be from {low} to {high}, got {got}",
	"prop.mass":       "prop mass must be from 0 (unknown) to {high} g, got {got} g",
	"prop.class":      "unknown mass place {place} or flex class {flex}",
	"prop.tip": "the blade tip must move at {low} to {high} m/s ({low_rpm} to {high_rpm} rpm for this prop), " +
		"got {got} m/s",
	"prop.windmilling": "airspeed must be from 0 to {high} m/s at this rpm, beyond which the prop windmills, got {got}",
	"station.radius":   "station {n}: radius {got} mm lies outside the blade, which reaches from {low} to {high} mm",
	"station.chord":    "station {n}: chord must be over 0 and under the radius, got {got} mm",
	"station.order":    "station {n}: radii must grow from root to tip",
	"blade.none":       "blade has no stations",
	"blade.no_lift":    "the blade lifts nothing at hover: pitch is too small for its section",
	"blade.unsolved":   "the blade-element solution does not reach from hover to zero thrust",
	"bench.tip": "bench point {n}: {rpm} rpm is a tip speed of {tip} m/s; it must be from {low} to {high} m/s " +
		"(check rpm and pole count)",
	"bench.thrust":   "bench point {n}: thrust must be over 0, got {got} N",
	"bench.torque":   "bench point {n}: torque must be over 0, or left out, got {got} N m",
	"bench.airspeed": "bench point {n}: airspeed must be from 0 to half the tip speed of {tip} m/s, got {got}",
	"bench.density":  "bench point {n}: air density must be from {low} to {high} kg/m³, got {got}",
	"bench.no_thrust": "bench point {n}: at {rpm} rpm and {airspeed} m/s this prop should give no thrust; check speed " +
		"and airspeed",
	"bench.thrust_far": "measured thrust is {times} times what a prop of this size, pitch and blade count gives; check " +
		"rpm, pole count, units and label",
	"bench.torque_far": "measured torque is {times} times what a prop of this size, pitch and blade count gives; check " +
		"its unit, or leave it out",
	"bench.ideal": "bench point {n}: thrust takes at least {ideal} W at this diameter but torque and rpm give " +
		"{got} W; check them, or leave the torque out",
	"bench.contradict": "bench points {a} and {b} contradict each other: CT differs by a factor of {times}; check their " +
		"rpm and thrust, or leave one out",
	"bench.open":      "bench points do not determine the prop",
	"bench.outside":   "bench points lie outside what the prop can do",
	"flying.speed":    "flying speed must be from 0 to {high} m/s, got {got}",
	"flying.reserve":  "reserve must be from 0 to under {high} %, got {got} %",
	"flying.landing":  "landing voltage must be from {low} to {high} V a cell, got {got}",
	"flying.segments": "a way of flying has 1 to {high} segments, got {got}",
	"flying.shares":   "the segments' shares must add up to 100 %, got {got} %",
	"segment.parts":   "segment {n}: parts of the speed and of the thrust must be from 0 to 100 %",
	"segment.range":   "segment {n}: share must be over 0, speed from 0 to {speed} m/s, load factor from 1 to {load}",
	"craft.positive":  "{what} must be over 0, got {got}",
	"craft.rotors":    "rotors must be from {low} to {high}, got {got}",
	"craft.no_map":    "the propeller has no rotor map",
	"craft.stick":     "the top of the stick must be from 0 to 1 of full duty, got {got}",
	"craft.negative": "loss torque, ESC resistance, part-throttle loss, electronics' power, extras' and board's mass " +
		"and lead resistance must not be under 0",
	"stand.thrust":   "thrust must be over 0 and up to 10000 N, got {got}",
	"stand.volts":    "volts must be over 0 and up to {high}, got {got}",
	"stand.throttle": "throttle must be over 0 and up to 100 %, got {got} %",
	"stand.still":    "the motor does not turn this prop at that voltage",
}

// CraftFault is a fault of physics in words.
func CraftFault(f *fault.Fault) string {
	sentence, ok := craftFaults[f.Code]
	if !ok {
		return f.Error()
	}
	return Fill(sentence, f.Values)
}

// craftError puts the sentences of physics' faults in an error in place of their codes in its text.
func craftError(err error, text string) string {
	for _, f := range fault.In(err) {
		text = strings.Replace(text, f.Error(), CraftFault(f), 1)
	}
	return text
}

// craftCautions are what a craft's own numbers warn of: the value, the bound that it exceeds.
var craftCautions = [physics.CautionEnd]string{
	physics.HotWinding: "motors will overheat: windings may reach {value} by the end of a flight in this style, keep " +
		"them under {bound}; " +
		"after a minute land, disarm, unplug and check motor temperature",
	physics.HotPunch: "motors may overheat in punches: windings may reach {value} after a few seconds at the throttle " +
		"cap at the end of " +
		"a flight; keep punches short and let the motors cool",
	physics.FastElectrical: "ESCs may desync: eRPM reaches {value} thousand at full throttle, over {bound} thousand is " +
		"doubtful",
	physics.FastTip:      "blade tips reach Mach {value} at full throttle; over {bound} the prediction is too good",
	physics.TwitchyHover: "it hovers at {value} % throttle; under {bound} % it is hard to hold a height",
	physics.WeakHover:    "it hovers at {value} % throttle; over {bound} % little is left for turns and gusts",
	physics.OverdrawnPlug: "punches draw {value} A through the plug, over the {bound} A of its datasheet; pilots do " +
		"so, and such plugs get hot",
	physics.WarmPlug: "the hardest part of the flight draws {value} A through the plug, over the {bound} A continuous " +
		"of its datasheet; " +
		"pilots do so; check plug temperature after landing",
	physics.DrivenHard: "max motor current not given: a punch at the throttle cap takes {value} A a motor, {bound} A is " +
		"estimated; ask the " +
		"maker before flying, give max_current_a, and keep punches short",
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
	return Fill(craftCautions[w.Caution], cautionValues(w))
}

// CraftCautionForm is a caution of physics with {} in place of its values, and these in their order.
func CraftCautionForm(w physics.Warning) (form string, values []string) {
	return Form(craftCautions[w.Caution], cautionValues(w))
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
		return "over 300 °C, more than any enamel holds"
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
	physics.NoStyleSpeed:    "the style names no speed",
	physics.NotAsked:        "it was not asked for",
	physics.Windmilling:     "the prop windmills at this airspeed",
	physics.CellsCollapse:   "its cells cannot hold that current: their voltage would be gone",
	physics.WindingsBurn:    "the windings would burn",
}

// Undefined says why a figure is not given.
func Undefined(why physics.Reason) string { return undefined[why] }
