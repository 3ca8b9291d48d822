package cli

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/search"
)

// names are the figures in words, as they stand in tables and sentences.
var names = map[string]string{
	"all_up_g":                  "all-up weight",
	"full_throttle_thrust_g":    "full-throttle thrust",
	"thrust_to_weight":          "thrust-to-weight",
	"turn_load_factor":          "largest turn load factor",
	"tip_mach":                  "tip Mach number",
	"hover_throttle_pct":        "hover throttle",
	"turn_throttle_pct":         "turn throttle",
	"throttle_cap_pct":          "throttle cap",
	"pack_current_use_pct":      "use of the pack's safe current",
	"board_current_use_pct":     "use of the ESC's limit",
	"motor_current_use_pct":     "use of the motor's limit",
	"connector_current_use_pct": "use of the connector's peak",
	"thrust_step_pct":           "thrust step",
	"hover_current_a":           "hover current",
	"full_throttle_current_a":   "full-throttle current",
	"pack_safe_current_a":       "pack's safe current",
	"mean_current_a":            "mean current",
	"hover_power_w":             "hover power",
	"motor_loss_w":              "heat in one motor",
	"loaded_cell_v":             "loaded cell voltage",
	"hover_minutes":             "flying time in hover",
	"cruise_minutes":            "flying time, gentle",
	"hard_minutes":              "flying time, hard",
	"style_minutes":             "flying time",
	"used_mah":                  "charge used",
	"range_km":                  "range",
	"top_speed_mps":             "top speed",
	"best_endurance_speed_mps":  "speed of longest flight",
	"best_range_speed_mps":      "speed of longest range",
	"forward_accel_mps2":        "forward acceleration",
	"pull_out_m":                "pull-out",
	"response_ms":               "response",
	"rise_ms":                   "rise to twice the thrust",
	"disc_loading_n_m2":         "disc loading",
	"motor_temperature_c":       "winding temperature",
	objective.BoardMeanKey:      "use of the ESC's continuous current in the hardest segment",
	objective.ConnectorMeanKey:  "use of the connector's continuous current in the hardest segment",
}

// nameOf is a figure in words.
func nameOf(key string) string {
	if name, ok := names[key]; ok {
		return name
	}
	return key
}

// brief are the limits that can bind the throttle cap, in a word for tables.
var brief = [...]string{
	physics.NoLimit: "–", physics.PackLimit: "pack", physics.CellLimit: "cell V", physics.BoardLimit: "ESC",
	physics.ConnectorLimit: "plug", physics.MotorLimit: "motor",
}

// fallen says in words what candidates fall to, by the reason's name.
var fallen = map[string]string{
	"count": "too few pieces", "worn pack": "packs to retire", "cells": "cells out of range", "holes": "motor holes", "prop mount": "the prop's mount", "prop size": "the prop's size",
	"stack": "the board's stack", "camera": "the camera's width", "connector": "the connector", "bay": "the battery bay",
	"currents": "currents", "hover": "hover", "thrust": "thrust", "style limits": "the style's limits",
}

func fallenTo(reason string) string {
	if words, ok := fallen[reason]; ok {
		return words
	}
	return reason
}

// combinationText names a combination in one line by its parts' ids.
func combinationText(c *inventory.Combination) string {
	p := c.Parts()
	text := strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " ")
	if len(p.Extras) > 0 {
		text += " with " + strings.Join(p.Extras, ", ")
	}
	return text
}

// twoLines names a combination in a table's cell; extras are left out.
func twoLines(c *inventory.Combination) string {
	p := c.Parts()
	return p.Motor + " " + p.Prop + "\n" + p.Pack + " " + p.Frame + " " + p.Board
}

// bareText names a combination in one line without its extras.
func bareText(c *inventory.Combination) string {
	p := c.Parts()
	return strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " ")
}

// changed names the parts of b that a has not: "pack → k4s-850, board → b20-24".
func changed(a, b *inventory.Combination) string {
	p, q := a.Parts(), b.Parts()
	var words []string
	for _, part := range [...][3]string{
		{"motor", p.Motor, q.Motor}, {"prop", p.Prop, q.Prop}, {"pack", p.Pack, q.Pack}, {"frame", p.Frame, q.Frame}, {"board", p.Board, q.Board},
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
	return strings.Join(words, ", ")
}

// brokenSentence says which rule is broken, what was found and what it may be.
func brokenSentence(b *objective.Broken) string {
	if b.Why != physics.Defined {
		return fmt.Sprintf("%s: %s", nameOf(b.Key), b.Why)
	}
	side := "at least"
	if b.Over() {
		side = "at most"
	}
	gap := math.Abs(b.Value - b.Bound)
	digits := max(render.Decimals(b.Value, b.Value-gap, b.Value+gap), 0)
	if math.Abs(b.Value) < 10 {
		digits = max(digits, 1)
	}
	return fmt.Sprintf("%s is %s, must be %s %s", nameOf(b.Key), withUnit(render.Fixed(b.Value, digits), b.Unit), side, withUnit(raw(render.Round(b.Bound)), b.Unit))
}

// grouped writes a whole number with its thousands apart.
func grouped(n int64) string {
	s := fmt.Sprint(n)
	var b strings.Builder
	for i, r := range s {
		if i > 0 && (len(s)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// sureness is a share of draws in words.
func sureness(share float64) string {
	if lead := search.Lead(share); lead != "toss-up" {
		return lead
	}
	return "a toss-up"
}

// pct is a share in whole per cent, rounded down so that a share under a bound does not seem to reach it.
func pct(share float64) string { return fmt.Sprintf("%.0f %%", math.Floor(100*share+1e-9)) }

func plural(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return grouped(n) + " " + many
}
