package catalogue

import "partsaloft/cmd/internal/answer/catalogue/phrase"

// asks are the questions for readings, with the unit that a bare number is taken in.
var asks = map[string]struct{ text, unit string }{
	"all_up_g":             {"Weight ready to fly", "g"},
	"hover_throttle_pct":   {"Throttle in hover, as the display shows it", "%"},
	"throttle_kind":        {"What the display shows: output, thrust or signal", ""},
	"hover_pack_v":         {"Pack voltage in that hover", "V"},
	"hover_current_a":      {"Current in hover", "A"},
	"hover_rpm":            {"Rotor speed in hover, mean of all rotors", "rpm"},
	"hover_rpm_from":       {"How that was read: telemetry or heard", ""},
	"punch_current_a":      {"Current at full throttle, in a short punch", "A"},
	"punch_rpm":            {"Rotor speed at the start of a punch, mean of all rotors", "rpm"},
	"punch_pack_v":         {"Pack voltage at full throttle, in a short punch", "V"},
	"loaded_cell_v":        {"One cell on the display at full throttle, in a short punch", "V"},
	"landing_cell_v":       {"One cell on the display at landing, in flight", "V"},
	"pack_resistance_mohm": {"Resistance of the pack in flight", "mΩ"},
	"flight_minutes":       {"Flying time from a full pack, minutes or 5:20", "min"},
	"flown":                {"How it was flown: hover, cruise, hard or a style", ""},
	"used_mah":             {"Charge put back after that flight", "mAh"},
	"end_pack_v":           {"Pack voltage at landing", "V"},
	"power_over_hover":     {"Mean power over that in hover", ""},
	"top_speed_mps":        {"Top speed in level flight", "m/s"},
	"note":                 {"Anything else", ""},
}

// AskFor is the question for a reading by its key in the log, with the unit of a bare number.
func AskFor(key string) (question, unit string) {
	q := asks[key]
	return q.text, q.unit
}

const (
	recordedSentence = "Recorded as entry {entry} of the log in {drawer}{craft}. Run learn to use it."
	recordedOf       = ", of {craft}"
	learnsNothing    = "With this entry nothing can be learned from the log: {problem}."
)

// RecordedAs says where a record went.
func RecordedAs(entry int, drawer, craft string) string {
	of := ""
	if craft != "" {
		of = phrase.Fill(recordedOf, map[string]any{"craft": craft})
	}
	return phrase.Fill(recordedSentence, map[string]any{"entry": entry, "drawer": drawer, "craft": of})
}

// LearnsNothing says that a log with a new entry teaches nothing.
func LearnsNothing(problem string) string {
	return phrase.Fill(learnsNothing, map[string]any{"problem": problem})
}
