package faults

import (
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/physics/fault"
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
	"bench.no_thrust": "bench point {n}: at {rpm} rpm and {airspeed} m/s this prop should not pull at all; check speed " +
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
	return phrase.Fill(sentence, f.Values)
}

// craftError puts the sentences of physics' faults in an error in place of their codes in its text.
func craftError(err error, text string) string {
	for _, f := range fault.In(err) {
		text = strings.Replace(text, f.Error(), CraftFault(f), 1)
	}
	return text
}
