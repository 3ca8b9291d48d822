package catalogue

import (
	"math"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/sound"
)

// notHeard says of each reason why a craft was not heard, and what to do.
var notHeard = [...]struct{ code, why, do string }{
	sound.TooShort: {"too_short", "the recording is too short", "record 5 to 10 s of steady hover"},
	sound.Silent: {"silent", "the recording is silent", "check that the phone records, and that its " +
		"microphone is free"},
	sound.Faint: {"faint", "no rotor tones stand out from the noise", "put the phone closer, 1 to 3 m to " +
		"the side, out of the wind and away from other noise"},
	sound.Interrupted: {"interrupted", "the rotor tones come and go", "hover in one place for 5 to 10 s, with " +
		"nobody talking"},
	sound.AtTheEdge: {"at_the_edge", "the tones leave the range in which this craft can hover", "check the " +
		"craft, its weight and its prop, and hover level without climbing"},
	sound.SteadyTone: {"steady_tone", "what is heard is one steady tone, not rotors: hum, a whistle or a machine",
		"switch it off or record somewhere else"},
	sound.Unsteady: {"unsteady", "the rotor speed varies too much for a hover", "hover still: no climb, no " +
		"yaw, no wind"},
	sound.Disagreeing: {"disagreeing", "parts of the recording give different speeds", "hover still for 10 s " +
		"and record again"},
	sound.LinesMissing: {"lines_missing", "the spacing of the tones does not go with {blades} blades", "check " +
		"the blade count of the prop"},
	sound.OtherBlades: {"other_blades", "the tones go better with {other} blades than with {blades}",
		"check the blade count of the prop and the weight of the craft"},
	sound.SecondGroup: {"second_group", "some rotors seem to run at another speed, but not clearly",
		"move the pack to balance the craft, hover without yaw and record again"},
}

// NotHeardCode is the code of a reason for other programs.
func NotHeardCode(why sound.Reason) string { return notHeard[why].code }

// Sentences of what was heard.
const (
	heardSentence = "Rotors in hover: {rpm} rpm ± {sd} (68 %)"
	heardOne      = ", heard from {from} to {to} s."
	heardTwo      = ", heard from {from} to {to} s. Two groups: {low} and {high} rpm; their root mean " +
		"square carries the weight."
	notHeardSentence = "Not heard: {why}. To do: {do}."
	heardOctave      = "Tones at {lines} times the blade-passing frequency of {hz} " +
		"Hz stand out; half and double of it lie outside the range of a hover."
	heardPredicted = "Predicted: {predicted} rpm ± {sd} % (68 %), {from}."
	heardFar       = "It is {off} % off the prediction. If {blades} blades and the weight are right, the " +
		"prop differs from its label."
	heardAlso  = "The tones fit {other} blades at {rpm} rpm too: check the blade count of the prop."
	heardApart = "The groups are {apart} % apart: move the pack or check the yaw trim; the less they " +
		"differ, the surer the reading."
	heardCut   = "Only the first {seconds} s were listened to."
	heardWeigh = "Weigh the craft ready to fly and give its weight: a rotor speed says how much the prop " +
		"lifts only with the weight."
	heardWeighed  = "Weight: {mass} g, {from}."
	heardBrings   = "Uncertainty of the thrust of {prop} at an rpm: ± {before} % before, ± {after} % after."
	heardConfirms = " It was known about as well before: the reading checks it, and adds little."
	heardFigures  = "What it changes in the builds that use {prop}:"
	heardCannot   = "It cannot tell: single rotors; the prop's torque, the motor's or the pack's losses (a " +
		"hover current or a flying time does); a wrong blade count from five up."
	heardCare = "Recording: phone on the ground 1 to 3 m to the side, craft over four diameters high; " +
		"you stand well back, nobody in the plane of the discs; 4 inch and up outdoors; follow local rules. Never " +
		"run full throttle on a bench for a sound."
)

// NotHeard says why a craft was not heard, and what to do.
func NotHeard(r *sound.Reading, blades int) string {
	w := notHeard[r.Why]
	values := map[string]any{"blades": blades, "other": r.OtherBlades}
	return phrase.Fill(notHeardSentence, map[string]any{"why": phrase.Fill(w.why, values), "do": w.do})
}

// rpmOf is a rotor speed in rpm.
func rpmOf(speedRadS float64) float64 { return speedRadS * 30 / math.Pi }

// Heard says what was heard.
func Heard(r *sound.Reading, lnSD float64) string {
	rpm := rpmOf(r.SpeedRadS)
	sd := rpm * lnSD
	values := map[string]any{"rpm": Number(rpm, rpm-1.28*sd, rpm+1.28*sd), "sd": Number(sd, 0.7*sd, 1.4*sd),
		"from": Fixed(r.FromS, 1), "to": Fixed(r.ToS, 1)}
	form := heardSentence + heardOne
	if len(r.Groups) > 1 {
		form = heardSentence + heardTwo
		for i, key := range [...]string{"low", "high"} {
			x := rpmOf(r.Groups[i])
			values[key] = Number(x, x-1.28*sd, x+1.28*sd)
		}
	}
	return phrase.Fill(form, values)
}

// HowHeard says how a reading was told from octaves, and what may be wrong with it.
func HowHeard(r *sound.Reading, blades int) []string {
	var lines []string
	for _, h := range r.Harmonics {
		lines = append(lines, Raw(float64(h)))
	}
	hz := r.SpeedRadS * float64(blades) / (2 * math.Pi)
	list := []string{phrase.Fill(heardOctave, map[string]any{"lines": lines, "hz": Fixed(hz, 0)})}
	if math.Abs(r.OffLn) > sound.UsualLnSD {
		list = append(list, phrase.Fill(heardFar, map[string]any{"off": SignedFixed(100*(math.Exp(r.OffLn)-1), 0), "blades": blades}))
	}
	if r.OtherBlades > 0 {
		other := rpmOf(r.SpeedRadS) * float64(blades) / float64(r.OtherBlades)
		list = append(list, phrase.Fill(heardAlso, map[string]any{"other": r.OtherBlades, "rpm": Fixed(other, -1)}))
	}
	if len(r.Groups) > 1 {
		if apart := r.Groups[1]/r.Groups[0] - 1; apart > 0.08 {
			list = append(list, phrase.Fill(heardApart, map[string]any{"apart": Fixed(100*apart, 0)}))
		}
	}
	return list
}

// HeardPredicted says what was expected of a craft, and by what.
func HeardPredicted(rpm, lnSD float64, taught bool) string {
	from := "from the figures of the parts"
	if taught {
		from = "by what your log taught"
	}
	return phrase.Fill(heardPredicted, map[string]any{"predicted": Fixed(rpm, -1), "sd": Fixed(100*lnSD, 0), "from": from})
}

// HeardCut says that a recording was not listened to to its end.
func HeardCut(seconds float64) string {
	return phrase.Fill(heardCut, map[string]any{"seconds": Fixed(seconds, 0)})
}

// HeardWeigh asks for the weight; HeardWeighed says which was used, and where it is from.
func HeardWeigh() string { return heardWeigh }

// HeardWeighed says which weight was used.
func HeardWeighed(massG float64, given bool) string {
	from := "from the log"
	if given {
		from = "as given"
	}
	return phrase.Fill(heardWeighed, map[string]any{"mass": Fixed(massG, 1), "from": from})
}

// HeardBrings says what a reading does to the doubt of a prop's thrust, in ln.
func HeardBrings(prop string, before, after float64) string {
	form := heardBrings
	if after > 0.9*before {
		form += heardConfirms
	}
	return phrase.Fill(form, map[string]any{"prop": prop, "before": Fixed(100*before, 1), "after": Fixed(100*after, 1)})
}

// HeardFigures heads what changes; HeardNothing says that nothing does; HeardCannot what a reading cannot tell.
func HeardFigures(prop string) string { return phrase.Fill(heardFigures, map[string]any{"prop": prop}) }

// HeardCannot says what a rotor speed cannot settle.
func HeardCannot() string { return heardCannot }

// HeardCare is what to mind when recording.
func HeardCare() string { return heardCare }
