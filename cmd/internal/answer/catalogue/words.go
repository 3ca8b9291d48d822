package catalogue

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
)

// Brief are the limits that can bind the throttle cap, in a word for tables.
var Brief = [...]string{
	physics.NoLimit: "–", physics.PackLimit: "pack", physics.CellLimit: "cell V", physics.BoardLimit: "ESC",
	physics.ConnectorLimit: "plug", physics.MotorLimit: "motor",
}

// fallen says in words what rules candidates out, by the reason's name.
var fallen = map[string]string{
	"count": "too few pieces", "worn pack": "packs to retire", "cells": "cell count", "holes": "motor hole pattern",
	"prop mount": "prop mount", "prop size": "prop size", "stack": "stack pattern", "camera": "camera width",
	"connector": "plug", "bay": "battery bay", "currents": "current", "electrical speed": "electrical rpm",
	"heat": "motor temperature", "hover": "hover throttle", "thrust": "thrust", "style limits": "the style's limits",
}

// FallenTo is what rules candidates out in words, by the reason's name.
func FallenTo(reason string) string {
	if words, ok := fallen[reason]; ok {
		return words
	}
	return reason
}

// CombinationText names a combination in one line by its parts' ids.
func CombinationText(c *inventory.Combination) string {
	p := c.Parts()
	text := strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " ")
	if len(p.Extras) > 0 {
		text += " with " + strings.Join(p.Extras, ", ")
	}
	return text
}

// BareText names a combination in one line without its extras.
func BareText(c *inventory.Combination) string {
	p := c.Parts()
	return strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " ")
}

// changed names the parts of b that a has not: "pack → k4s-850, board → b20-24".
func changed(a, b *inventory.Combination) []string {
	p, q := a.Parts(), b.Parts()
	var words []string
	for _, part := range [...][3]string{
		{"motor", p.Motor, q.Motor}, {"prop", p.Prop, q.Prop}, {"pack", p.Pack, q.Pack}, {"frame", p.Frame, q.Frame},
		{"board", p.Board, q.Board},
		{"extras", strings.Join(p.Extras, "+"), strings.Join(q.Extras, "+")},
	} {
		// Extras follow frame and board: they are named where nothing else changes.
		if part[1] != part[2] && (part[0] != "extras" || len(words) == 0) {
			to := part[2]
			if to == "" {
				to = "none"
			}
			words = append(words, part[0]+" → "+to)
		}
	}
	return words
}

// Sureness is how sure it is that a result stays ahead, in words.
func Sureness(r *predict.Result) string { return Answer("lead." + r.Lead().String()).Template() }

// shareStep is the step to which shares of draws are rounded where they are told: as fine as their sampling allows.
const shareStep = 5

// About is a share as a count of 100, no finer than sampling allows: "about 55", "over 95". It is rounded down, so that
// a share under a bound does not seem to reach it.
func About(share float64) string {
	switch n := shareStep * int(math.Floor(100*share/shareStep+1e-9)); {
	case n >= 95:
		return "over 95"
	case n <= 0:
		return "under 5"
	default:
		return "about " + strconv.Itoa(n)
	}
}

// Share is a share rounded down to the step that its sampling allows, for documents.
func Share(share float64) float64 {
	return math.Floor(100*share/shareStep+1e-9) * shareStep / 100
}

// Percent is a share in per cent as a table shows it, as fine as its sampling allows.
func Percent(share float64) string {
	switch n := 100 * Share(share); {
	case n >= 95:
		return ">95 %"
	case n <= 0:
		return "<5 %"
	default:
		return fmt.Sprintf("%.0f %%", n)
	}
}

// MotorText says what a motor is, in the trade's terms.
func MotorText(m *inventory.Motor) string {
	return fmt.Sprintf("%s, %s kV", m.Stator, plainNumber(m.KV))
}

// PropText says what a prop is.
func PropText(p *inventory.Prop) string {
	if p.PitchEstimated {
		return fmt.Sprintf("%s in, pitch not given, %d blades", plainNumber(p.DiameterIn), p.Blades)
	}
	return fmt.Sprintf("%s × %s in, %d blades", plainNumber(p.DiameterIn), plainNumber(p.PitchIn), p.Blades)
}

var chemistries = map[inventory.Chemistry]string{
	inventory.LiPo: "LiPo", inventory.LiHV: "LiHV", inventory.LiIon: "Li-ion",
}

// PackText says what a pack is.
func PackText(p *inventory.Pack) string {
	rating := plainNumber(p.DischargeC) + "C"
	if p.DischargeA != nil {
		rating = plainNumber(*p.DischargeA) + " A"
	}
	if p.AssumedC {
		rating = "C rating not given"
	}
	words := []string{
		fmt.Sprintf("%dS %s mAh", p.Cells, plainNumber(p.CapacityMAh)), rating, chemistries[p.Chemistry],
	}
	if p.Connector != "" {
		words = append(words, string(p.Connector))
	}
	return strings.Join(words, ", ")
}

// FrameText says what a frame is.
func FrameText(f *inventory.Frame) string {
	text := fmt.Sprintf("%d rotors", f.RotorCount())
	if f.MaxPropIn != nil {
		text += fmt.Sprintf(", props up to %s in", plainNumber(*f.MaxPropIn))
	}
	return text
}

// BoardText says what a board is.
func BoardText(b *inventory.Board) string {
	text := fmt.Sprintf("%s A ESCs", plainNumber(b.EscCurrentA))
	switch {
	case b.Cells == nil:
	case b.Cells.UpTo:
		text += fmt.Sprintf(", up to %dS", b.Cells.Max)
	default:
		text += fmt.Sprintf(", %d to %dS", b.Cells.Min, b.Cells.Max)
	}
	if b.Connector != "" {
		text += ", " + string(b.Connector)
	}
	return text
}

// ExtraText says what an extra is.
func ExtraText(x *inventory.Extra) string {
	if x.Bridges == nil {
		return string(x.Role)
	}
	unit := ""
	if x.Bridges.What == "stack_mm" {
		unit = " mm"
	}
	return fmt.Sprintf("%s, %s%s to %s%s", x.Role, x.Bridges.From, unit, x.Bridges.To, unit)
}

// MixedText says how many of which motor a mixed set takes for a number of rotors.
func MixedText(m *inventory.Mix, rotors int) string {
	a, b := m.Pieces(rotors)
	return fmt.Sprintf("%d of %s, %d of %s", a, m.A.ID, b, m.B.ID)
}

// plainNumber writes a number that somebody wrote, with six digits at most.
func plainNumber(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// Doing says what is being done while one waits.
func Doing(d progress.Doing) string {
	return Answer([progress.Doings]string{progress.Preparing: "doing.preparing", progress.Searching: "doing.searching",
		progress.Doubting: "doing.doubting", progress.Detailing: "doing.detailing", progress.Varying: "doing.varying",
		progress.Purchasing: "doing.purchasing", progress.Planning: "doing.planning"}[d]).Template()
}
