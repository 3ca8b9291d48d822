package catalogue

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// small are small numbers in words.
var small = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
	"twelve"}

// numberWord is a small whole number in words.
func numberWord(n int) string {
	if n >= 0 && n < len(small) {
		return small[n]
	}
	return strconv.Itoa(n)
}

// roleWords are the roles of extras in words, in the order in which they are told.
var roleWords = [...]struct {
	role inventory.Role
	word string
}{
	{inventory.Camera, "camera"}, {inventory.Video, "video transmitter"}, {inventory.Receiver, "receiver"},
	{inventory.Antenna, "antenna"}, {inventory.Capacitor, "capacitor"}, {inventory.Adapter, "adapter"},
	{inventory.Hardware, "other hardware"}, {inventory.Strap, "strap"},
}

// RoleText is a role of an extra in words.
func RoleText(role inventory.Role) string {
	for _, one := range roleWords {
		if one.role == role {
			return one.word
		}
	}
	return string(role)
}

// BuildText names a build by what its parts are, as pilots say it; no ids.
func BuildText(c *inventory.Combination) string {
	values := map[string]any{"motors": motorsText(c), "props": propsText(c.Prop), "pack": packSizeText(c.Pack),
		"frame": frameClassText(c.Frame), "board": boardText(c.Board), "carried": "", "lacks": ""}
	if roles := carriedRoles(c); len(roles) > 0 {
		values["carried"] = Answer("build.carried").Sentence(map[string]any{"roles": roles})
	}
	var lacks []string
	for _, role := range c.Lacking() {
		lacks = append(lacks, RoleText(role))
	}
	if len(lacks) > 0 {
		values["lacks"] = Answer("build.lacks").Sentence(map[string]any{"roles": alternatives(lacks)})
	}
	return Answer("build").Sentence(values)
}

// alternatives joins words: "a, b or c".
func alternatives(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// boardText is a board by the current of its ESCs.
func boardText(b *inventory.Board) string {
	return Answer("build.board").Sentence(map[string]any{"amps": plainNumber(b.EscCurrentA)})
}

// motorsText is a set of motors by size and kV.
func motorsText(c *inventory.Combination) string {
	m := c.Motor
	if m.Mixed == nil {
		return Answer("build.motors").Sentence(map[string]any{"stator": m.Stator, "kv": plainNumber(m.KV)})
	}
	a, b := m.Mixed.Pieces(c.Rotors())
	return Answer("build.mixed").Sentence(map[string]any{"stator": m.Stator, "first": numberWord(a),
		"first_kv": plainNumber(m.Mixed.A.KV), "second": numberWord(b), "second_kv": plainNumber(m.Mixed.B.KV)})
}

// leastInches is the diameter under which a prop that is no tidy number of inches is named in mm, and whoopInches that
// under which ducts make a whoop.
const (
	leastInches   = 3.0
	whoopInches   = 2.0
	mmPerInch     = 25.4
	tidyTolerance = 0.005 // in
)

// propsText is a prop's size as the trade says it, with its blades: "5.1x3.4 three-blade props", "31 mm four-blade
// props".
func propsText(p *inventory.Prop) string {
	size := inchText(p.DiameterIn) + "x" + inchText(p.PitchIn)
	if p.PitchEstimated {
		size = inchText(p.DiameterIn) + "-inch"
	}
	if p.DiameterIn < leastInches && math.Abs(p.DiameterIn-math.Round(10*p.DiameterIn)/10) > tidyTolerance {
		size = Fixed(mmPerInch*p.DiameterIn, 0) + " mm"
	}
	return Answer("build.props").Sentence(map[string]any{"size": size, "blades": numberWord(p.Blades)})
}

// inchText is a length in inches, to a hundredth.
func inchText(inches float64) string { return plainNumber(math.Round(100*inches) / 100) }

// packSizeText is a pack's cells, capacity and chemistry.
func packSizeText(p *inventory.Pack) string {
	chemistry := chemistries[cmp.Or(p.Chemistry, inventory.LiPo)]
	return Answer("build.pack").Sentence(map[string]any{"cells": plainNumber(float64(p.Cells)),
		"capacity": plainNumber(p.CapacityMAh), "chemistry": chemistry})
}

// classStep is the step in which classes of frames come, in inches; a frame for props of up to classSlack more is
// of the class below.
const (
	classStep  = 0.5
	classSlack = 0.25
)

// frameClassText is a frame's class: "5-inch frame", "ducted 3-inch frame", "65 mm whoop frame".
func frameClassText(f *inventory.Frame) string {
	class := ""
	if n := f.RotorCount(); n != 4 {
		class += Answer("build.rotors").Sentence(map[string]any{"rotors": numberWord(n)})
	}
	size := f.MaxPropIn
	switch {
	case f.Ducted && size != nil && *size < whoopInches:
		if f.MotorSpacingMm != nil {
			class += Answer("build.span").Sentence(map[string]any{"span": Fixed(math.Sqrt2**f.MotorSpacingMm, 0)})
		}
		return Answer("build.frame").Sentence(map[string]any{"class": class + Answer("build.whoop").Template()})
	case f.Ducted:
		class += Answer("build.ducted").Template()
	}
	if size != nil {
		inches := *size
		if step := classStep * math.Floor(inches/classStep+1e-9); inches >= whoopInches && inches-step <= classSlack+1e-9 {
			inches = step
		}
		class += Answer("build.inch").Sentence(map[string]any{"inches": inchText(inches)})
	}
	return Answer("build.frame").Sentence(map[string]any{"class": class})
}

// carriedRoles are what the extras on board are, each once; a strap goes without saying.
func carriedRoles(c *inventory.Combination) []string {
	var list []string
	for _, one := range roleWords {
		is := func(x *inventory.Extra) bool { return x.Role == one.role }
		if one.role != inventory.Strap && slices.ContainsFunc(c.Extras, is) {
			list = append(list, one.word)
		}
	}
	return list
}

// IDsSentence names a build's parts by their ids.
func IDsSentence(c *inventory.Combination) string {
	p := c.Parts()
	var parts []string
	for _, kind := range inventory.Kinds() {
		if id := p.ID(kind); id != "" {
			parts = append(parts, KindAndID(kind, id))
		}
	}
	if len(p.Extras) > 0 {
		parts = append(parts, "extras "+strings.Join(p.Extras, " "))
	}
	return Answer("build.ids").Sentence(map[string]any{"parts": strings.Join(parts, ", ")})
}

// BuildSentence says to build a combination, and to read its dangers first if it has any.
func BuildSentence(r *predict.Result) string {
	which := Answer("build.this")
	if r.Endangered() {
		which = "build.dangerous"
	}
	return which.Sentence(map[string]any{"build": BuildText(&r.Combination)})
}

// mostGivenUp is how many points of score a build without dangers may lack to be advised before the first that has some
// (judgement): what a pilot does not notice, and far less than how well scores are known.
const mostGivenUp = leastTold

// Advised is the place, counted from 0, of the build to advise: the first, or where that has dangers the best without any,
// if hardly anything is given up for it.
func Advised(best []predict.Result) int {
	for i := range best {
		if best[0].Evaluation.Score-best[i].Evaluation.Score >= mostGivenUp {
			break
		}
		if !best[i].Endangered() {
			return i
		}
	}
	return 0
}

// AdvisedSentence says to build the one that is advised before the first, at a place counted from 0.
func AdvisedSentence(best []predict.Result, at int) string {
	return Answer("build.advised").Sentence(map[string]any{"rank": at + 1, "build": BuildText(&best[at].Combination)})
}

// FirstSentence names the first of a ranking before which another, at a place counted from 0, is advised.
func FirstSentence(best []predict.Result, at int) string {
	which, points := Answer("build.first"), best[0].Evaluation.Score-best[at].Evaluation.Score
	if points < 0.05 {
		which = "build.first_even"
	}
	return which.Sentence(map[string]any{"points": PointsText(points), "build": BuildText(&best[0].Combination)})
}

// SaferSentence names the first of the listed that has no dangers, where the best one has some; "" where there is none.
func SaferSentence(best []predict.Result) string {
	if len(best) == 0 || !best[0].Endangered() {
		return ""
	}
	for i := range best {
		if best[i].Endangered() {
			continue
		}
		behind := Fixed(best[0].Evaluation.Score-best[i].Evaluation.Score, 1)
		which := Answer("build.safer")
		if behind == Fixed(0, 1) {
			which = "build.safer_even"
		}
		return which.Sentence(map[string]any{"rank": i + 1, "behind": behind, "build": BuildText(&best[i].Combination)})
	}
	return ""
}

// RankedSentence names the build at a rank; 0 is none.
func RankedSentence(rank int, c *inventory.Combination) string {
	which, values := Answer("build.ranked"), map[string]any{"rank": rank, "build": BuildText(c)}
	if rank == 0 {
		which = "build.plain"
	}
	return which.Sentence(values)
}

// NamedSentence names a build after what it was asked for.
func NamedSentence(name string, c *inventory.Combination) string {
	return Answer("build.named").Sentence(map[string]any{"name": name, "build": BuildText(c)})
}

// ExpectSentence names what a pilot notices first, flown in a style, with likely ranges.
func ExpectSentence(r *predict.Result, style string) string {
	values := map[string]any{}
	put := func(name string, q figure.Quantity, said, none Answer) {
		f := ShownOf(r, q)
		if !f.Defined() {
			values[name] = none.Sentence(map[string]any{"why": Undefined(f.Why)})
			return
		}
		text := f.String()
		if span := f.Span(); span != "" {
			text += " (" + span + ")"
		}
		values[name] = said.Sentence(map[string]any{"value": text, "style": style})
	}
	put("mass", figure.AllUpMass, "expect.mass", "expect.no_mass")
	put("time", figure.StyleTime, "expect.time", "expect.no_time")
	put("ratio", figure.ThrustToWeight, "expect.ratio", "expect.no_ratio")
	put("speed", figure.TopSpeed, "expect.speed", "expect.no_speed")
	return Answer("expect").Sentence(values)
}
