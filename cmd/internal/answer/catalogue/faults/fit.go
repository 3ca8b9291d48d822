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
	"fit.none_left":  ": no {kind} {id} left, get one",
	"fit.few_motors": ": frame {frame} needs {takes} motors, you have {has} of {id}: get {short:more|more}",
	"fit.few_props":  ": frame {frame} needs {takes} props, you have {has} of {id}: get {short:more|more}",
	"fit.few_of_direction": ": frame {frame} needs {takes} props of each direction, you have {has} {direction} " +
		"of {id}: get {short:more|more}",
	"fit.set_not_needed": ": no mixed set with {set} needed: frame {frame} takes {takes} motors and you have " +
		"{has} of {id}",
	"fit.set_apart": ": motors {a} ({kv_a} kV) and {b} ({kv_b} kV) are {spread} % apart in kV, {limit} % or more " +
		"is too much for one craft: use one kind",
	"fit.set_uneven": ": motors {a} ({kv_a} kV) and {b} ({kv_b} kV) are {spread} % apart in kV: over {limit} % " +
		"one pair works harder and gets hotter",
	"fit.many_cells": ": {kind} {id} takes {cells}, pack {pack} has {has}: too many cells burn parts the moment " +
		"you plug in; use a pack of {cells}",
	"fit.few_cells": ": {kind} {id} takes {cells}, pack {pack} has {has}: it may not start, or quit in flight; " +
		"use a pack of {cells}",
	"fit.motor_cells_unknown": ": check the largest S of motor {motor} before plugging in: cell rating missing; " +
		"{kv} kV in this size usually flies on {usual}, pack {pack} has {has}",
	"fit.motor_cells_high": ": check the sheet of motor {motor} and set cells: cell rating missing; {kv} kV in " +
		"this size usually flies on {usual}, pack {pack} has {has}, so it may overheat or desync at full " +
		"throttle",
	"fit.board_single_cell": ": check the sheet of board {board}: it takes up to {most}S, pack {pack} has 1, and " +
		"most such boards need 2S to start",
	"fit.motor_cells_beyond": ": motor {motor}: cell rating missing; {kv} kV in this size flies on {usual}, pack " +
		"{pack} has {has}: the windings would burn; if its sheet allows it, set cells",
	"fit.holes": ": motor {motor} has a {holes} hole pattern, frame {frame} takes {takes}: hole patterns " +
		"differ; use a frame with {holes}",
	"fit.holes_unlike": ": the holes of motor {motor} are not given; its size usually has {usual}, frame {frame} takes " +
		"{takes}: too far apart; if they do fit, set hole_pattern_mm",
	"fit.holes_unknown": ": measure the holes of motor {motor} (its size usually has {usual}) and of frame " +
		"{frame} before building: neither is given",
	"fit.motor_holes_unknown": ": measure the holes of motor {motor} before building: not given (its size " +
		"usually has {usual}), frame {frame} takes {takes}",
	"fit.frame_holes_unknown": ": measure the motor holes of frame {frame} before building: not given, motor " +
		"{motor} has {holes}",
	"fit.mount": ": prop {prop} is held by {prop_hold}, motor {motor} by {motor_hold}: mounts differ; " +
		"use a prop for {mount}",
	"fit.mount_unlike": ": prop {prop} (usually {usual_prop}) and motor {motor} (usually {usual_motor}): mounts " +
		"not given, and these sizes share none; if they do fit, set mount and prop_mount",
	"fit.mount_unknown": ": try prop {prop} (usually {usual_prop}) on motor {motor} (usually {usual_motor}): " +
		"mounts not given",
	"fit.motor_mount_unknown": ": try prop {prop} ({prop_hold}) on motor {motor}: its mount is not given " +
		"(usually {usual_motor})",
	"fit.prop_mount_unknown": ": try prop {prop} on motor {motor} ({motor_hold}): the prop's mount is not given " +
		"(usually {usual_prop})",
	"fit.bore_small": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: bore too small " +
		"for the shaft; use a prop with a {shaft} mm bore",
	"fit.bore_wide_press": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: too loose for a " +
		"press fit; use a prop with a {shaft} mm bore",
	"fit.bore_wide_nut": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: use a ring to " +
		"centre it",
	"fit.bore_wide_screws": ": prop {prop} has a {bore} mm bore, motor {motor} a {shaft} mm shaft: only the two " +
		"screws centre it",
	"fit.bore_unknown":  ": try prop {prop} on motor {motor} ({shaft} mm shaft): bore not given",
	"fit.shaft_unknown": ": try prop {prop} ({bore} mm bore) on motor {motor}: shaft not given",
	"fit.prop_in_duct": ": prop {prop} is {wide} wide, the ducts of frame {frame} {takes}: it hits the duct; " +
		"use a smaller prop",
	"fit.prop_in_frame": ": prop {prop} is {wide} wide, frame {frame} takes at most {takes}: it hits the frame; " +
		"use a smaller prop",
	"fit.props_in_ducts": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm " +
		"apart: {left} mm between the props leave no room for ducts, which need {walls} mm; use a smaller prop, " +
		"or set max_prop_in if the ducts are wider",
	"fit.props_strike": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm " +
		"apart: the blades hit each other; use a smaller prop",
	"fit.props_near": ": prop {prop} is {wide_mm} mm wide, the motors of frame {frame} stand {spacing} mm apart: " +
		"{left} mm are left for the arms to flex, {better} mm are better",
	"fit.stack": ": board {board} has a {stack} stack pattern, frame {frame} takes {takes}: hole patterns " +
		"differ; use an adapter",
	"fit.stack_bridged": ": board {board} has a {stack} stack pattern, frame {frame} takes {takes}: adapter " +
		"{adapter} joins them",
	"fit.stack_unknown": ": measure the stack holes of board {board} and frame {frame} before building: neither " +
		"is given",
	"fit.board_stack_unknown": ": measure the stack holes of board {board} before building: not given, frame " +
		"{frame} takes {takes}",
	"fit.frame_stack_unknown": ": measure the stack holes of frame {frame} before building: not given, board " +
		"{board} has {stack}",
	"fit.camera": ": camera {camera} is {wide} mm wide, frame {frame} takes {takes} mm: too wide; use a " +
		"camera of at most {takes} mm",
	"fit.camera_unknown": ": measure the width of camera {camera} and of frame {frame} before building: neither " +
		"is given",
	"fit.camera_width_unknown": ": measure camera {camera} before building: width not given, frame {frame} takes " +
		"{takes} mm",
	"fit.frame_camera_unknown": ": measure the camera width of frame {frame} before building: not given, camera " +
		"{camera} is {wide} mm wide",
	"fit.plugs": ": pack {pack} has {pack_plug}, board {board} has {board_plug}: use an adapter lead, or solder " +
		"the pack's kind of plug to the board",
	"fit.plugs_bridged": ": pack {pack} has {pack_plug}, board {board} has {board_plug}: adapter {adapter} joins " +
		"them, the weaker plug counts",
	"fit.plugs_unknown": ": check the plugs of pack {pack} and board {board} before building: neither is given",
	"fit.pack_plug_unknown": ": check the plug of pack {pack} before building: not given, board {board} has " +
		"{board_plug}",
	"fit.board_plug_unknown": ": check the plug of board {board} before building: not given, pack {pack} has " +
		"{pack_plug}",
	"fit.plug_unrated": ": pack {pack} and board {board} have {pack_plug}: no rating known for this plug, so its " +
		"current is not checked",
	"fit.bay": ": pack {pack} is {size}, frame {frame} takes {takes}: it overhangs; check the strap " +
		"and that the props clear it",
	"fit.bay_unknown": ": check that pack {pack} fits frame {frame}: sizes not given",
	"fit.frame_bay_unknown": ": check that pack {pack} ({size}) fits frame {frame}: the frame's room for a pack " +
		"is not given",
	"fit.pack_size_unknown": ": check that pack {pack} fits frame {frame}, which takes {takes}: pack size not " +
		"given",
	"fit.pack_heavy": ": pack {pack} weighs {times} times as much as frame {frame}, most carry two to eight times: " +
		"check that frame and strap hold it",
	"wear.retired":    ": pack {pack}: its condition is retired, so it is left out",
	"wear.noted":      ": pack {pack}: noted as {word}",
	"wear.resistance": ": pack {pack}: {mohm} mΩ a cell, {times} times the {usual} mΩ of a new {mah} mAh cell",
	"wear.cycles":     ": pack {pack}: {cycles} cycles, such packs last about {usual}",
}

// wearWays are what to do with a worn pack.
var wearWays = map[strict.Code]string{
	"wear.overruled": ": look it over before each charge; it can burn in flight or on the charger, and is used " +
		"only because you set condition: sound",
	"wear.retire_resistance": ": retire it, it is worn out (correct the reading if it was of the whole pack or " +
		"taken cold; if the pack is sound anyway, set condition: sound)",
	"wear.retire": ": retire it, it can burn in flight or on the charger (if it is sound anyway, set condition: " +
		"sound)",
	"wear.aging_resistance": ": it is wearing out; measure it again warm, and retire it at about {limit} times",
	"wear.aging":            ": it is wearing out; measure its cell resistance, and look it over before each charge",
}
