package catalogue

import (
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory/learn"
	"partsaloft/search/predict"
)

// ShownThrottle is the name of the throttle in hover as a display shows it.
const ShownThrottle = "hover throttle on the display"

// WithSpan is a figure with its likely range and unit.
func WithSpan(f *Shown) string { return WithUnit(f.Number()+" ("+f.Span()+")", f.Unit) }

const (
	taughtMost = "Taught most: the {reading} of entry {entry}. Without it, likely ranges would be {pct} % wider on " +
		"average."
	nextBench = "Would teach most next: measure {what}; likely ranges would narrow by {pct} %. It takes {costs}."
	nextRead  = "Would teach most next: the {reading} of the craft of entry {entry}; likely ranges would narrow by {pct} %. " +
		"It takes {costs}."
	firstStays   = "First place in style {style}: unchanged, {build}; {now}."
	firstNow     = "{now}{was}"
	firstWas     = " (was: {was})"
	firstChanged = "First place in style {style}: now {build} ({now}), before {other} ({was})."
)

// readingCosts say what a reading takes: what is needed, and how long.
var readingCosts = map[learn.Key]string{
	learn.AllUp:               "a scale and half a minute",
	learn.HoverThrottle:       "a hover of ten seconds and a look at the display",
	learn.HoverCurrent:        "a hover of ten seconds with a current sensor",
	learn.HoverSpeed:          "a hover of ten seconds: rpm telemetry, or a recording of the sound",
	learn.FlightMinutes:       "one timed flight and the charger's mAh",
	learn.FullThrottleCurrent: "a punch of a second with a current sensor",
	learn.LoadedCell:          "a punch of a second and the lowest voltage on the display",
	learn.PunchSpeed:          "a punch of a second with rpm telemetry or a recording",
	learn.TopSpeed:            "two passes, there and back, with satellite speed",
}

// benchCosts say the same of what is measured of a part by itself.
var benchCosts = map[learn.Bench]string{
	learn.PropBench: "a thrust stand", learn.PackBench: "a charger that reads cell resistance",
	learn.MotorBench: "a rev counter and a known voltage",
}

// ReadingCosts says what a further reading takes.
func ReadingCosts(f *learn.FurtherReading) string {
	if f.Bench != learn.NoBench {
		return benchCosts[f.Bench]
	}
	return readingCosts[f.Key]
}

// TaughtMost names the reading that taught most.
func TaughtMost(t *learn.Taught) string {
	return phrase.Fill(taughtMost, map[string]any{"reading": ReadingName(t.Key), "entry": t.Entry,
		"pct": Fixed(100*t.Wider, 0)})
}

// NextReading names the reading that would teach most yet, and what it takes.
func NextReading(f *learn.FurtherReading) string {
	values := map[string]any{"pct": Fixed(100*(1-f.Left), 0), "costs": ReadingCosts(f), "entry": f.Entry,
		"reading": ReadingName(f.Key)}
	if f.Bench == learn.NoBench {
		return phrase.Fill(nextRead, values)
	}
	values["what"] = phrase.Fill(benches[f.Bench], map[string]any{"id": f.ID})
	return phrase.Fill(nextBench, values)
}

// gainLeads are leads in a sentence on a first place.
var gainLeads = [...]string{predict.TossUp: "too close to call", predict.Likely: "likely ahead",
	predict.Clear: "clearly ahead"}

// FirstPlace says what became of the first place; same says that motor, prop and pack are the same.
func FirstPlace(style string, before, after *predict.Result, same bool) string {
	was, now := gainLeads[predict.LeadOf(before.AheadShare)], gainLeads[predict.LeadOf(after.AheadShare)]
	values := map[string]any{"style": style, "build": BareText(&after.Combination),
		"other": BareText(&before.Combination), "was": was, "now": now}
	if !same {
		return phrase.Fill(firstChanged, values)
	}
	said := ""
	if was != now {
		now, said = "now "+now, phrase.Fill(firstWas, values)
	}
	values["now"] = phrase.Fill(firstNow, map[string]any{"now": now, "was": said})
	return phrase.Fill(firstStays, values)
}
