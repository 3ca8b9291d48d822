package catalogue

import (
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// LearnLog says what a log holds and how its table reads.
func LearnLog(drawer string, r *learn.Report) string {
	readings := 0
	for _, e := range r.Entries {
		readings += len(e.Readings)
	}
	benches := ""
	if len(r.Bench) > 0 {
		benches = phrase.Fill(learnBenches, map[string]any{"n": len(r.Bench)})
	}
	return phrase.Fill(learnLog, map[string]any{"drawer": drawer, "entries": len(r.Entries), "readings": readings,
		"benches": benches})
}

const (
	learnBenches = ", plus {n:bench reading|bench readings}"
	learnLog     = "The log of {drawer} holds {entries:entry|entries} with {readings:reading|readings}{benches}. " +
		"before: predicted from the drawer alone. after: with everything learned. left out: predicted from the " +
		"other entries only. In brackets the likely range; a star marks a reading that does not fit."
)

// inputNames are learned inputs in words: what grows with the factor.
var inputNames = map[uncertain.Input]string{
	uncertain.MotorSpeed: "kV", uncertain.MotorResistance: "resistance at work", uncertain.MotorLoss: "loss torque",
	uncertain.RotorModel: "current with any prop", uncertain.MotorMass: "mass",
	uncertain.PropThrust: "thrust", uncertain.PropPower: "torque", uncertain.PropZeroThrust: "zero-thrust advance ratio",
	uncertain.PropMass: "mass", uncertain.PropThrustSpeed: "growth of thrust with rpm",
	uncertain.PropPowerSpeed: "growth of torque with rpm",
	uncertain.PackResistance: "resistance", uncertain.PackCapacity: "usable capacity", uncertain.PackMass: "mass",
	uncertain.DragArea: "drag area", uncertain.FrameMass: "mass with wires and tape",
	uncertain.FlyingPower:      "power taken in flight",
	uncertain.ElectronicsPower: "electronics' power", uncertain.ThrottleScale: "throttle calibration",
	uncertain.BoardMass: "mass", uncertain.PartThrottle: "current at low throttle", uncertain.Ripple: "PWM ripple",
}

// LearnedInput is a learned input in words.
func LearnedInput(i uncertain.Input) string { return inputNames[i] }

// changeWords say of an input what a part does, with the words for more and for less, and against what that stands.
var changeWords = map[uncertain.Input]struct{ does, more, less, than string }{
	uncertain.PropThrust:     {"pulls", "more", "less", "its label suggests"},
	uncertain.PropPower:      {"takes", "more torque", "less torque", "its label suggests"},
	uncertain.PropZeroThrust: {"keeps its thrust up to", "more airspeed", "less airspeed", "its label suggests"},
	uncertain.PropMass:       {"weighs", "more", "less", "its figures suggest"},
	uncertain.PropThrustSpeed: {"gains, over nearly three times the rpm,", "more thrust", "less thrust",
		"its label suggests"},
	uncertain.PropPowerSpeed: {"gains, over nearly three times the rpm,", "more torque", "less torque",
		"its label suggests"},
	uncertain.MotorSpeed:      {"turns", "faster per volt", "slower per volt", "its label suggests"},
	uncertain.MotorResistance: {"has", "more resistance at work", "less resistance at work", "its figures suggest"},
	uncertain.MotorLoss: {"loses", "more torque to friction and iron loss", "less torque to friction and iron loss",
		"its figures suggest"},
	uncertain.RotorModel:     {"needs", "more current with any prop", "less current with any prop", "its figures suggest"},
	uncertain.MotorMass:      {"weighs", "more", "less", "its figures suggest"},
	uncertain.PackResistance: {"has", "more resistance", "less resistance", "its figures suggest"},
	uncertain.PackCapacity:   {"gives", "more charge", "less charge", "its label suggests"},
	uncertain.PackMass:       {"weighs", "more", "less", "its figures suggest"},
	uncertain.DragArea:       {"has", "more drag", "less drag", "its figures suggest"},
	uncertain.FrameMass: {"weighs", "more, with the wires and tape of its craft,",
		"less, with the wires and tape of its craft,",
		"its figures suggest"},
	uncertain.ElectronicsPower: {"and the other electronics take", "more power", "less power", "their figures suggest"},
	uncertain.BoardMass:        {"weighs", "more", "less", "its figures suggest"},
	uncertain.PartThrottle:     {"draws", "more at low throttle", "less at low throttle", "usual ESCs"},
	uncertain.Ripple:           {"costs its motors", "more PWM ripple", "less PWM ripple", "usual ESCs"},
	uncertain.FlyingPower:      {"takes", "more power in the air", "less power in the air", "its segments say"},
}

const (
	changeSentence   = "{does} {by} % {more} than {given} ({low} to {high} %{doubt})"
	doubtFalls       = "; uncertainty down from {before} to {after}"
	throttleSentence = "shows {by:point|points} {more} throttle than usual at {duty} % ({low} to {high})"
	framesAlike      = "others flown alike"
	partSentence     = "{part} {changes}, {from}."
	fromReadings     = "from {n:reading|readings}"
	fromSeries       = "from others of its series {series}"
	surerPart        = "{part} ({changes})"
	surerChange      = "{input} {before} → {after}"
	surerSentence    = "As given, now more certain: {parts}."
	asGivenSentence  = "{part} stays as given: the readings say little about it."
)

// changeText says what was learned of one input, without the part's name.
func changeText(kind inventory.Kind, c *learn.Change) string {
	low, high := c.LnInterval()
	if c.Input == uncertain.ThrottleScale {
		at := learn.ThrottlePoints(c.LnFactor)
		return phrase.Fill(throttleSentence, map[string]any{
			"by": int(math.RoundToEven(math.Abs(at))), "more": side(at, "more", "less"), "duty": Fixed(100*learn.ThrottleDuty,
				0),
			"low": SignedFixed(learn.ThrottlePoints(low), 0), "high": SignedFixed(learn.ThrottlePoints(high), 0),
		})
	}
	w := changeWords[c.Input]
	if kind == inventory.KindFrame && c.Input == uncertain.FlyingPower {
		w.than = framesAlike
	}
	doubt := ""
	if before, after := plusMinus(c.LnSDBefore), plusMinus(c.LnSDAfter); before != after {
		doubt = phrase.Fill(doubtFalls, map[string]any{"before": before, "after": after})
	}
	return phrase.Fill(changeSentence, map[string]any{
		"does": w.does, "by": Fixed(math.Abs(percentOf(c.LnFactor)), 0), "more": side(c.LnFactor, w.more,
			w.less), "given": w.than,
		"low": SignedFixed(percentOf(low), 0), "high": SignedFixed(percentOf(high), 0), "doubt": doubt,
	})
}

// side is the one word over 0, the other under it.
func side(x float64, over, under string) string {
	if x < 0 {
		return under
	}
	return over
}

// plusMinus is half the width of an 80 % interval in per cent.
func plusMinus(lnSD float64) string {
	return "±" + Fixed(percentOf(uncertain.HalfWidth()*lnSD), 0) + " %"
}

// percentOf is a factor as a change in per cent.
func percentOf(lnFactor float64) float64 { return 100 * math.Expm1(lnFactor) }

// LearnedPart is the sentence on a part some of whose figures turned out other than given, "" for others.
func LearnedPart(d *inventory.Drawer, r *learn.Report, p *learn.Part) string {
	var said []string
	most := 0
	for i := range p.Changes {
		if c := &p.Changes[i]; c.Finding() == learn.Shifted {
			said = append(said, changeText(p.Kind, c))
			most = max(most, c.Readings)
		}
	}
	if said == nil {
		return ""
	}
	from := phrase.Fill(fromReadings, map[string]any{"n": most})
	if p.Kind == inventory.KindProp && !r.Read(p.ID) {
		if prop := d.Prop(p.ID); prop != nil && prop.Series != "" {
			from = phrase.Fill(fromSeries, map[string]any{"series": prop.Series})
		}
	}
	return phrase.Fill(partSentence, map[string]any{"part": partAtStart(p.Kind, p.ID), "changes": strings.Join(said, "; it "),
		"from": from})
}

// SurerPart lists what of a part is as given but surer, "" if nothing is.
func SurerPart(p *learn.Part) string {
	var said []string
	for i := range p.Changes {
		if c := &p.Changes[i]; c.Finding() == learn.Surer {
			said = append(said, phrase.Fill(surerChange, map[string]any{
				"input": LearnedInput(c.Input), "before": plusMinus(c.LnSDBefore), "after": plusMinus(c.LnSDAfter)}))
		}
	}
	if said == nil {
		return ""
	}
	name := partAtStart(p.Kind, p.ID)
	return phrase.Fill(surerPart, map[string]any{"part": strings.ToLower(name[:1]) + name[1:],
		"changes": strings.Join(said, ", ")})
}

// SurerParts is the sentence on parts that are as given but surer.
func SurerParts(parts []string) string {
	return phrase.Fill(surerSentence, map[string]any{"parts": parts})
}

// UnshiftedPart is the sentence on a part that is as it was given.
func UnshiftedPart(p *learn.Part) string {
	if surer := SurerPart(p); surer != "" {
		return SurerParts([]string{surer})
	}
	return phrase.Fill(asGivenSentence, map[string]any{"part": partAtStart(p.Kind, p.ID)})
}

// partAtStart names a part at the beginning of a sentence.
func partAtStart(kind inventory.Kind, id string) string {
	return strings.ToUpper(string(kind[:1])) + string(kind[1:]) + " " + id
}

const (
	inputOfPart    = "the {input} of {kind} {id}"
	inputOfFlying  = "the {input} of flying {id}"
	inseparableTwo = "These readings cannot separate {a} from {b}: more of one with {more} of the other fits as " +
		"well (correlation {r}). {best}"
	noReadingTells = "No single further reading of these crafts would separate them."
	benchTells     = "Best next reading: {what}, which leaves {left} % of the uncertainty."
	readingTells   = "Best next reading: the {what} of the craft in entry {entry}, which leaves {left} % of the " +
		"uncertainty."
)

// benches are measurements of a part by itself.
var benches = map[learn.Bench]string{
	learn.PropBench:  "thrust and torque of prop {id} at a known rpm",
	learn.PackBench:  "the cell resistance of pack {id} on a charger",
	learn.MotorBench: "the rpm of motor {id} at a known voltage, prop off",
}

// Inseparable says what cannot be told apart and what would tell.
func Inseparable(x *learn.Inseparable) string {
	input := func(p *learn.PartInput) string {
		sentence := inputOfPart
		if p.Kind == learn.KindFlying {
			sentence = inputOfFlying
		}
		return phrase.Fill(sentence, map[string]any{"input": LearnedInput(p.Input), "kind": string(p.Kind), "id": p.ID})
	}
	best := noReadingTells
	left := Fixed(100*x.Best.Left, 0)
	switch {
	case x.Best.Bench != learn.NoBench:
		what := phrase.Fill(benches[x.Best.Bench], map[string]any{"id": x.Best.ID})
		best = phrase.Fill(benchTells, map[string]any{"what": what, "left": left})
	case x.Best.Key != "":
		best = phrase.Fill(readingTells, map[string]any{"what": ReadingName(x.Best.Key), "entry": Fixed(float64(x.Best.Entry), 0),
			"left": left})
	}
	return phrase.Fill(inseparableTwo, map[string]any{
		"a": input(&x.A), "b": input(&x.B), "more": side(x.Correlation, "more", "less"), "r": SignedFixed(x.Correlation,
			2), "best": best})
}

// stands are readings that are no figures of a craft, in words and with their units.
var stands = map[learn.Key]struct{ name, unit string }{
	learn.PunchSpeed: {"rpm in a punch", ""}, learn.PackResistance: {"pack resistance in flight", "mΩ"}, learn.PowerOverHover: {"power over hover", ""},
	learn.HoverSpeed: {"hover rpm", ""}, learn.FlightMinutes: {"flying time", "min"}, learn.StandSpeed: {"rpm",
		""}, learn.StandCurrent: {"current", "A"},
	learn.StandThrust: {"thrust", "g"}, learn.LabelThrust: {"thrust vs label",
		""}, learn.LabelTorque: {"torque vs label", ""},
}

// ReadingName is a reading in words: the figure's name, if it is one.
func ReadingName(k learn.Key) string {
	if f, ok := figure.ByKey(string(k)); ok {
		return f.Name
	}
	return stands[k].name
}

// ReadingUnit is the unit of a reading, "" if it has none.
func ReadingUnit(k learn.Key) string {
	if f, ok := figure.ByKey(string(k)); ok {
		return f.Unit
	}
	return stands[k].unit
}

// ReadingHead is a reading in words with its unit, which the name may hold already.
func ReadingHead(k learn.Key) string {
	name, unit := ReadingName(k), ReadingUnit(k)
	if strings.HasSuffix(name, " "+unit) {
		return name
	}
	return WithUnit(name, unit)
}

// crossChecks say how entries fare that are left out.
var crossChecks = map[learn.CheckKind]string{
	learn.NoCheck:  "",
	learn.OneEntry: "With one entry there is nothing to check against: log a second flight.",
	learn.NothingLearned: "Nothing was learned: check that each entry names the right craft. The entries do not " +
		"agree: predicted from the others, they are off by {stated_after} times what their figures allow, and " +
		"by {stated_before} without learning.",
	learn.Scattered: "The readings scatter more than usual, so each counts as {inflation} times less certain. " +
		"Entries predicted from the others are then off by {after} times what is expected, and by {before} " +
		"without learning.",
	learn.NoGain: "Entries predicted from the others are no better than before (off by {before} times what is " +
		"expected): they share too few parts to help each other.",
	learn.Holds: "Entries predicted from the others are off by {after} times what is expected, and by {before} " +
		"without learning.",
}

// CrossCheck says how entries fare that are left out, "" if none could be.
func CrossCheck(r *learn.Report) string {
	return phrase.Fill(crossChecks[r.Check()], map[string]any{
		"before": Fixed(r.CrossCheck.Before, 2), "after": Fixed(r.CrossCheck.After, 2), "inflation": r.Inflation,
		"stated_before": Fixed(r.AsStated.Before, 2), "stated_after": Fixed(r.AsStated.After, 2),
	})
}

const (
	conflictSentence = "Read it again: entries {a} and {b} contradict each other. {reading} reads {value_a} and " +
		"{value_b} on a craft with the same parts; one is wrong, or something was changed in between. Take the " +
		"wrong one out."
	misfitSentence = "{where}: read the {reading} again. {value} is {off} standard deviations {more} than " +
		"expected and counts little{expected}."
	entryAtLine = "Entry {entry} (line {line})"
	entryUnkept = "Entry {entry}"
	restExpects = " (the rest says {interval})"
)

// Conflict names two readings that contradict each other.
func Conflict(x *learn.Conflict) string {
	value := func(v float64) string { return WithUnit(Number(v, v, v), ReadingUnit(x.Key)) }
	return phrase.Fill(conflictSentence, map[string]any{
		"a": x.A, "b": x.B, "reading": ReadingName(x.Key), "value_a": value(x.ValueA), "value_b": value(x.ValueB)})
}

// Misfit names a reading that does not go with the rest.
func Misfit(e *learn.Entry, c *learn.Compared) string {
	where := e.What
	if e.Number > 0 {
		form := entryAtLine
		if e.Line == 0 {
			form = entryUnkept // it is not in the file yet
		}
		where = phrase.Fill(form, map[string]any{"entry": e.Number, "line": e.Line})
	}
	unit, expected := ReadingUnit(c.Key), ""
	if x := &c.Expected; x.Known {
		expected = phrase.Fill(restExpects, map[string]any{"interval": WithUnit(Interval(x.Value, x.Low, x.High), unit)})
	}
	return phrase.Fill(misfitSentence, map[string]any{
		"where": where, "reading": ReadingName(c.Key), "value": WithUnit(Number(c.Measured, c.Measured-c.SD,
			c.Measured+c.SD), unit),
		"expected": expected, "off": Fixed(math.Abs(c.Off), 0), "more": side(c.Off, "more", "less"),
	})
}

// AsksForStand reports whether what would tell best is read while a prop or a motor turns on a stand.
func AsksForStand(r *learn.Report) bool {
	return slices.ContainsFunc(r.Inseparable, func(x learn.Inseparable) bool {
		return x.Best.Bench == learn.PropBench || x.Best.Bench == learn.MotorBench
	})
}
