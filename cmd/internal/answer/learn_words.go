package answer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/physics/uncertain"
)

// changeWords say of an input what a part does, with the words for more and for less, and against
// what that stands.
var changeWords = map[uncertain.Input]struct{ does, more, less, than string }{
	uncertain.PropThrust:       {"pulls", "more", "less", "its label suggests"},
	uncertain.PropPower:        {"takes", "more torque", "less torque", "its label suggests"},
	uncertain.PropZeroThrust:   {"keeps its thrust up to", "more airspeed", "less airspeed", "its label suggests"},
	uncertain.PropMass:         {"weighs", "more", "less", "its figures suggest"},
	uncertain.MotorSpeed:       {"turns", "faster per volt", "slower per volt", "its label suggests"},
	uncertain.MotorResistance:  {"has", "more resistance at work", "less resistance at work", "its figures suggest"},
	uncertain.MotorLoss:        {"loses", "more torque in iron and bearings", "less torque in iron and bearings", "its figures suggest"},
	uncertain.RotorModel:       {"needs", "more current with any prop", "less current with any prop", "its figures suggest"},
	uncertain.MotorMass:        {"weighs", "more", "less", "its figures suggest"},
	uncertain.PackResistance:   {"has", "more resistance", "less resistance", "its figures suggest"},
	uncertain.PackCapacity:     {"gives", "more charge", "less charge", "its label suggests"},
	uncertain.PackMass:         {"weighs", "more", "less", "its figures suggest"},
	uncertain.DragArea:         {"has", "more drag", "less drag", "its figures suggest"},
	uncertain.FrameMass:        {"weighs", "more, with the wires and tape of its craft,", "less, with the wires and tape of its craft,", "its figures suggest"},
	uncertain.ElectronicsPower: {"and what else is on board take", "more power", "less power", "their figures suggest"},
	uncertain.BoardMass:        {"weighs", "more", "less", "its figures suggest"},
	uncertain.FlyingPower:      {"takes", "more power in the air", "less power in the air", "its segments say"},
}

// Bounds of what is worth a word: a shift over the doubt that is left, and in per cent, for a
// sentence; the share of the doubt taken away for a mention. ESCs are compared at a duty.
const (
	tellingShift  = 0.5
	tellingPct    = 0.5
	tellingNarrow = 0.15
	scaleAtDuty   = 0.3
)

// shifted says whether a figure turned out other than it was given.
func shifted(c *learn.Change) bool {
	if c.Input == uncertain.ThrottleScale && math.Abs(pointsAt(c.LnFactor)) < 1 {
		return false
	}
	return math.Abs(c.LnFactor) > tellingShift*c.LnSDAfter && math.Abs(factorPct(c.LnFactor)) >= tellingPct
}

// changeText says what was learned of one input, without the part's name.
func changeText(kind inventory.Kind, c *learn.Change) string {
	if c.Input == uncertain.ThrottleScale {
		return scaleText(c)
	}
	w := changeWords[c.Input]
	if kind == inventory.KindFrame && c.Input == uncertain.FlyingPower {
		w.than = "others flown alike"
	}
	word := w.more
	if c.LnFactor < 0 {
		word = w.less
	}
	low, high := c.LnFactor-tenthSD*c.LnSDAfter, c.LnFactor+tenthSD*c.LnSDAfter
	doubt := ""
	if before, after := plusMinus(c.LnSDBefore), plusMinus(c.LnSDAfter); before != after {
		doubt = fmt.Sprintf("; the doubt falls from %s to %s", before, after)
	}
	return fmt.Sprintf("%s %.0f %% %s than %s (%s to %s %%%s)", w.does, math.Abs(factorPct(c.LnFactor)), word, w.than,
		catalogue.SignedFixed(factorPct(low), 0), catalogue.SignedFixed(factorPct(high), 0), doubt)
}

// pointsAt is how many points more throttle an ESC shows than it gives, from the logarithm of the
// exponent of its duty over throttle.
func pointsAt(lnExponent float64) float64 {
	return 100 * (math.Pow(scaleAtDuty, math.Exp(-lnExponent)) - scaleAtDuty)
}

// scaleText says how an ESC's throttle stands to its duty.
func scaleText(c *learn.Change) string {
	at := pointsAt(c.LnFactor)
	word := "more"
	if at < 0 {
		word = "less"
	}
	points := "points"
	if number := catalogue.Fixed(math.Abs(at), 0); number == "1" {
		points = "point"
	}
	return fmt.Sprintf("shows %.0f %s %s throttle than it gives at %.0f %% duty (%s to %s)", math.Abs(at), points, word, 100*scaleAtDuty,
		catalogue.SignedFixed(pointsAt(c.LnFactor-tenthSD*c.LnSDAfter), 0), catalogue.SignedFixed(pointsAt(c.LnFactor+tenthSD*c.LnSDAfter), 0))
}

// tenthSD is the distance of the 10 % point from the mean in standard deviations.
const tenthSD = 1.2815515655446004

// plusMinus is half the width of an 80 % interval in per cent.
func plusMinus(lnSD float64) string { return fmt.Sprintf("±%.0f %%", factorPct(tenthSD*lnSD)) }

// factorPct is a factor as a change in per cent.
func factorPct(lnFactor float64) float64 { return 100 * (math.Exp(lnFactor) - 1) }

// partText is the sentence on a part whose figures turned out other than given, "" for others.
func partText(d *inventory.Drawer, r *learn.Report, p *learn.Part) string {
	var said []string
	most := 0
	for i := range p.Changes {
		if c := &p.Changes[i]; shifted(c) {
			said = append(said, changeText(p.Kind, c))
			most = max(most, c.Readings)
		}
	}
	if said == nil {
		return ""
	}
	from := "from " + catalogue.Plural(int64(most), "reading", "readings")
	if p.Kind == inventory.KindProp && !read(r, p.ID) {
		if prop := d.Prop(p.ID); prop != nil && prop.Series != "" {
			from = "through its series " + prop.Series
		}
	}
	return fmt.Sprintf("%s %s, %s.", partName(p.Kind, p.ID), strings.Join(said, "; it "), from)
}

// surerText lists what of a part is as given but surer, "" if nothing is.
func surerText(p *learn.Part) string {
	var said []string
	for i := range p.Changes {
		if c := &p.Changes[i]; !shifted(c) && c.Narrowed() > tellingNarrow {
			said = append(said, fmt.Sprintf("%s %s → %s", learn.InputWords(p.Kind, c.Input), plusMinus(c.LnSDBefore), plusMinus(c.LnSDAfter)))
		}
	}
	if said == nil {
		return ""
	}
	name := partName(p.Kind, p.ID)
	return fmt.Sprintf("%s (%s)", strings.ToLower(name[:1])+name[1:], strings.Join(said, ", "))
}

// unshiftedText is the sentence on a part that is as it was given.
func unshiftedText(p *learn.Part, surer string) string {
	name := partName(p.Kind, p.ID)
	if surer == "" {
		return name + " is as given; the readings tell little of it."
	}
	return fmt.Sprintf("As given, but surer now: %s.", surer)
}

// read says whether any reading was taken with a prop itself.
func read(r *learn.Report, prop string) bool {
	with := func(e learn.Entry) bool { return e.Parts.Prop == prop }
	return slices.ContainsFunc(r.Entries, with) || slices.ContainsFunc(r.Bench, with)
}

// partName names a part at the beginning of a sentence.
func partName(kind inventory.Kind, id string) string {
	switch kind {
	case learn.KindFlying:
		return "Flying " + id
	case inventory.KindFrame:
		return "Frame " + id
	}
	return strings.ToUpper(string(kind[:1])) + string(kind[1:]) + " " + id
}

// whichText names an input of a part.
func whichText(w *learn.Which) string {
	of := string(w.Kind) + " " + w.ID
	if w.Kind == learn.KindFlying {
		of = "the way of flying " + w.ID
	}
	return "the " + learn.InputWords(w.Kind, w.Input) + " of " + of
}

// benchWords are benches of a part in words.
var benchWords = map[learn.Bench]string{
	learn.PropBench:  "thrust and torque of prop %s at a known rpm",
	learn.PackBench:  "the cell resistance of pack %s on a charger",
	learn.MotorBench: "the rpm of motor %s at a known voltage, prop off",
}

// doubtText says what cannot be told apart and what would tell.
func doubtText(x *learn.Doubt) string {
	other := "less"
	if x.Correlation > 0 {
		other = "more"
	}
	text := fmt.Sprintf("These readings do not tell %s from %s: the more of the one, the %s of the other (correlation %s).",
		whichText(&x.A), whichText(&x.B), other, catalogue.SignedFixed(x.Correlation, 2))
	left := fmt.Sprintf("%.0f %% of the doubt", 100*x.Tells.Left)
	switch {
	case x.Tells.Bench != learn.NoBench:
		return fmt.Sprintf("%s What would tell best: measure %s, which leaves %s.", text, fmt.Sprintf(benchWords[x.Tells.Bench], x.Tells.ID), left)
	case x.Tells.Key != "":
		return fmt.Sprintf("%s What would tell best: read the %s of the craft of entry %d, which leaves %s.", text, ReadingName(x.Tells.Key), x.Tells.Entry, left)
	}
	return text + " No single further reading of these crafts would tell."
}

// readingNames are readings in words.
var readingNames = map[learn.Key]string{
	learn.AllUp: "all-up weight", learn.HoverThrottle: "hover throttle", learn.HoverCurrent: "hover current", learn.FlightMinutes: "flying time",
	learn.UsedCharge: "charge used", learn.FullThrottleCurrent: "full-throttle current", learn.LoadedCell: "loaded cell voltage", learn.TopSpeed: "top speed",
	learn.StandSpeed: "rpm", learn.StandCurrent: "current", learn.StandThrust: "thrust", learn.LabelThrust: "thrust over label", learn.LabelTorque: "torque over label",
}

// readingUnits are the units of readings.
var readingUnits = map[learn.Key]string{
	learn.AllUp: "g", learn.HoverThrottle: "%", learn.HoverCurrent: "A", learn.FlightMinutes: "min", learn.UsedCharge: "mAh", learn.FullThrottleCurrent: "A",
	learn.LoadedCell: "V", learn.TopSpeed: "m/s", learn.StandCurrent: "A", learn.StandThrust: "g",
}

// ReadingName is a reading in words.
func ReadingName(k learn.Key) string {
	if name, ok := readingNames[k]; ok {
		return name
	}
	return string(k)
}

// leftOutText says how entries fare that are left out.
func leftOutText(r *learn.Report) string {
	l := r.LeftOut
	if l.Readings == 0 {
		return ""
	}
	if len(r.Entries) < 2 {
		return "With one entry there is no other to predict it from: a second flight would show whether what was learned holds."
	}
	sd := func(x float64) string { return catalogue.Fixed(x, 2) }
	switch {
	case r.Widened == 0:
		return fmt.Sprintf("Nothing is learned: predicted from the others, each entry in turn would be off by %s of what its parts' figures let one expect, against %s without learning. The entries do not go together: check whether they are of the crafts they name.",
			sd(r.AsStated.After), sd(r.AsStated.Before))
	case r.Widened > 1:
		return fmt.Sprintf("With the readings as sure as stated, learning would make left-out entries worse (off by %s against %s, in units of what one may expect): they scatter more than that. Each is taken as %g times less sure; then it is %s against %s.",
			sd(r.AsStated.After), sd(r.AsStated.Before), r.Widened, sd(l.After), sd(l.Before))
	case l.After > l.Before-5e-3:
		return fmt.Sprintf("Left out in turn, entries are predicted as well after learning as before (off by %s, in units of what one may expect): they share too little to teach each other.", sd(l.Before))
	}
	return fmt.Sprintf("Left out in turn and predicted from the others, entries are off by %s on average, against %s by the parts' figures alone (in units of what one may expect).", sd(l.After), sd(l.Before))
}

// clashText names two readings that contradict each other.
func clashText(x *learn.Clash) string {
	value := func(v float64) string { return catalogue.WithUnit(catalogue.Number(v, v, v), readingUnits[x.Key]) }
	return fmt.Sprintf("Entries %d and %d contradict each other: %s reads %s and %s on a craft of the same parts. One is wrong, or something was changed in between: read it again, and take the wrong one out.",
		x.A, x.B, ReadingName(x.Key), value(x.ValueA), value(x.ValueB))
}

// misfitText names a reading that does not go with the rest.
func misfitText(e *learn.Entry, c *learn.Compared) string {
	where := e.What
	if e.Number > 0 {
		where = fmt.Sprintf("Entry %d (line %d)", e.Number, e.Line)
	}
	than := "more"
	if c.Off < 0 {
		than = "less"
	}
	expected := ""
	if c.Expected.Known {
		expected = fmt.Sprintf(", where all the rest expects %s", catalogue.WithUnit(catalogue.Interval(c.Expected.Value, c.Expected.Low, c.Expected.High), readingUnits[c.Key]))
	}
	return fmt.Sprintf("%s: the %s reads %s%s. It is %.0f standard deviations %s and counts little: read it again.", where, ReadingName(c.Key),
		catalogue.WithUnit(catalogue.Number(c.Measured, c.Measured-c.SD, c.Measured+c.SD), readingUnits[c.Key]), expected, math.Abs(c.Off), than)
}

// ReadingUnit is the unit of a reading, "" if it has none.
func ReadingUnit(k learn.Key) string { return readingUnits[k] }
