package faults

import (
	"fmt"
	"strconv"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/strict"
)

// Finding is what a rule of fit says of two parts.
func Finding(f *compat.Finding) string { return Problem(&f.Problem) }

// hold is how a prop is held: screws on a 1.5 mm bore.
func hold(h compat.Hold, on string) string {
	if h.Mm == nil {
		return string(h.Mount)
	}
	return fmt.Sprintf("%s on a %v mm %s", h.Mount, strict.Number(*h.Mm), on)
}

// plugName is a plug's type, in quotes if it is not known.
func plugName(p inventory.Plug) string {
	if p.Known() {
		return string(p)
	}
	return strconv.Quote(string(p))
}

// fitFindings are of the rules of fit.
var fitFindings = map[strict.Code]string{
	"fit.none_left":  ": of {kind} {id} there are 0, a craft takes 1: get one more",
	"fit.few_motors": ": frame {frame} takes {takes} motors, of {id} there are {has}: get {short:more|more}",
	"fit.few_props":  ": frame {frame} takes {takes} props, of {id} there are {has}: get {short:more|more}",
	"fit.few_of_direction": ": frame {frame} takes {takes} props of each direction, of {id} there are {has} " +
		"{direction}: get {short:more|more}",
	"fit.set_not_needed": ": frame {frame} takes {takes} motors and of {id} alone there are {has}: no mixed set " +
		"with {set} is needed",
	"fit.set_apart": ": motors {a} ({kv_a} rpm/V) and {b} ({kv_b} rpm/V) are {spread} % apart in kV, {limit} " +
		"% or more is too much for one craft: make the set of one kind",
	"fit.set_uneven": ": motors {a} ({kv_a} rpm/V) and {b} ({kv_b} rpm/V) are {spread} % apart in kV: over " +
		"{limit} % one pair works harder and gets hotter",
	"fit.many_cells": ": {kind} {id} takes {cells}, pack {pack} has {has}: too many cells burn parts the " +
		"moment they are plugged in; take a pack of {cells}",
	"fit.few_cells": ": {kind} {id} takes {cells}, pack {pack} has {has}: with too few cells it may not " +
		"start, or give up in flight and burn parts in the crash; take a pack of {cells}",
	"fit.motor_cells_unknown": ": motor {motor}: rated cells not given; {kv} kV of this size is used on {usual}, pack " +
		"{pack} has {has}: check its sheet",
	"fit.motor_cells_high": ": motor {motor}: rated cells not given; {kv} kV of this size is mostly used on " +
		"{usual}, pack {pack} has {has}: it may overheat or lose sync at full throttle; check its sheet, and write cells " +
		"to settle it",
	"fit.board_single_cell": ": board {board} takes up to {most}S, pack {pack} has 1: such boards mostly need 2S to " +
		"start; check its sheet",
	"fit.motor_cells_beyond": ": motor {motor}: rated cells not given; {kv} kV of this size is used on {usual}, pack " +
		"{pack} has {has}: the windings would burn; write cells to overrule",
	"fit.holes": ": motor {motor} has a {holes} hole pattern, frame {frame} takes {takes}: hole patterns " +
		"differ; use a frame with {holes}",
	"fit.holes_unknown": ": motor {motor} gives no hole pattern (its size mostly has {usual}), frame {frame} " +
		"gives none either: measure both before building",
	"fit.motor_holes_unknown": ": motor {motor} gives no hole pattern (its size mostly has {usual}), frame {frame} " +
		"takes {takes}: measure before building",
	"fit.frame_holes_unknown": ": motor {motor} has a {holes} hole pattern, frame {frame} gives none: measure before " +
		"building",
	"fit.mount": ": prop {prop} is held by {prop_hold}, motor {motor} by {motor_hold}: mounts differ; " +
		"use a prop for {mount}",
	"fit.mount_unlike": ": prop {prop} (its size mostly has {usual_prop}) and motor {motor} (mostly " +
		"{usual_motor}) do not say how they are held, and these sizes share no mount: it does not go on; write mount and " +
		"prop_mount to overrule",
	"fit.mount_unknown": ": prop {prop} (its size mostly has {usual_prop}) and motor {motor} (mostly " +
		"{usual_motor}) do not say how they are held: try one on",
	"fit.motor_mount_unknown": ": prop {prop} is held by {prop_hold}, motor {motor} does not say (its size mostly has " +
		"{usual_motor}): try one on",
	"fit.prop_mount_unknown": ": prop {prop} does not say how it is held (its size mostly has {usual_prop}), motor " +
		"{motor} holds it by {motor_hold}: try one on",
	"fit.bore_small": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: bore too small " +
		"for the shaft; use a prop with a {shaft} mm bore",
	"fit.bore_wide_press": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: too loose for a " +
		"press fit; use a prop with a {shaft} mm bore",
	"fit.bore_wide_nut": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: it needs a ring " +
		"to sit in the middle",
	"fit.bore_wide_screws": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: the two screws " +
		"alone keep it in the middle",
	"fit.bore_unknown":  ": prop {prop} gives no bore, motor {motor} has a {shaft} mm shaft: try one on",
	"fit.shaft_unknown": ": prop {prop} has a {bore} mm bore, motor {motor} gives no shaft: try one on",
	"fit.prop_in_duct": ": prop {prop} is {wide} wide, the ducts of frame {frame} {takes}: it hits the duct; " +
		"use a smaller prop",
	"fit.prop_in_frame": ": prop {prop} is {wide} wide, frame {frame} takes at most {takes}: it hits the frame; " +
		"use a smaller prop",
	"fit.props_in_ducts": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm " +
		"apart: {left} mm between the props are no room for ducts, which take {walls}; use a smaller prop, or give " +
		"max_prop_in if they are wider",
	"fit.props_strike": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm " +
		"apart: the blades hit each other; use a smaller prop",
	"fit.props_near": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm " +
		"apart: {left} mm are left for the arms to flex, {better} are better",
	"fit.stack": ": board {board} has a {stack} stack pattern, frame {frame} takes {takes}: hole " +
		"patterns differ; use an adapter that joins the two",
	"fit.stack_bridged": ": board {board} has a {stack} stack pattern, frame {frame} takes {takes}: adapter " +
		"{adapter} joins them",
	"fit.stack_unknown": ": board {board} and frame {frame} give no stack pattern: measure both before building",
	"fit.board_stack_unknown": ": board {board} gives no stack pattern, frame {frame} takes {takes}: measure before " +
		"building",
	"fit.frame_stack_unknown": ": board {board} has a {stack} stack pattern, frame {frame} gives none: measure before " +
		"building",
	"fit.camera": ": camera {camera} is {wide} mm wide, frame {frame} takes {takes} mm: too wide; use a " +
		"camera of at most {takes} mm",
	"fit.camera_unknown": ": camera {camera} and frame {frame} do not say how wide: measure both before building",
	"fit.camera_width_unknown": ": camera {camera} does not say how wide it is, frame {frame} takes {takes} mm: measure " +
		"before building",
	"fit.frame_camera_unknown": ": camera {camera} is {wide} mm wide, frame {frame} does not say what it takes: measure " +
		"before building",
	"fit.plugs": ": pack {pack} has {pack_plug}, board {board} has {board_plug}: use an adapter lead, or " +
		"solder the board's plug to the pack's kind",
	"fit.plugs_bridged": ": pack {pack} has {pack_plug}, board {board} has {board_plug}: adapter {adapter} joins " +
		"them, the weaker plug counts",
	"fit.plugs_unknown": ": pack {pack} and board {board} do not name their plugs: look before building",
	"fit.pack_plug_unknown": ": pack {pack} does not name its plug, board {board} has {board_plug}: look before " +
		"building",
	"fit.board_plug_unknown": ": pack {pack} has {pack_plug}, board {board} does not name its plug: look before building",
	"fit.plug_unrated": ": pack {pack} and board {board} have {pack_plug}: no rating is known for this plug, so " +
		"its amperes are not checked",
	"fit.bay": ": pack {pack} is {size}, frame {frame} takes {takes}: it overhangs; check the strap " +
		"and that the props clear it",
	"fit.bay_unknown":       ": pack {pack} and frame {frame} do not say their pack sizes: check that the pack fits",
	"fit.frame_bay_unknown": ": pack {pack} is {size}, frame {frame} does not say what it takes: lay it on",
	"fit.pack_size_unknown": ": pack {pack} does not say its size, frame {frame} takes {takes}: lay it on",
	"wear.retired":          ": pack {pack}: its condition is retired, so it is left out",
	"wear.noted":            ": pack {pack}: noted as {word}",
	"wear.resistance": ": pack {pack}: {mohm} milliohm a cell, {times} times the {usual} of a new cell of " +
		"{mah} mAh",
	"wear.cycles": ": pack {pack}: {cycles} cycles, where such packs mostly last some {usual}",
}

// wearWays are what to do with a worn pack.
var wearWays = map[strict.Code]string{
	"wear.overruled": ": it can burn in flight or on the charger, and is flown only because its condition is " +
		"given as sound; look it over before each charge",
	"wear.retire_resistance": ": retire it, it is worn out; if the reading is of the whole pack or was taken cold, " +
		"correct it, and if it is sound all the same, say condition: sound",
	"wear.retire": ": retire it, it can burn in flight or on the charger; if it is sound all the same, say " +
		"condition: sound",
	"wear.aging_resistance": ": it is wearing out; measure it again warm, and retire it from about {limit} times on",
	"wear.aging":            ": it is wearing out; measure its cell resistance, and look it over before each charge",
}
