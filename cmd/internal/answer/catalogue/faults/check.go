package faults

import (
	"fmt"
	"strings"

	"partsaloft/inventory/check"
	"partsaloft/inventory/strict"
)

// Note is a remark on a drawer.
func Note(n *check.Note) string { return Problem(&n.Problem) }

// Notes are remarks, a sentence each.
func Notes(list []check.Note) []string {
	texts := make([]string, len(list))
	for i := range list {
		texts[i] = Note(&list[i])
	}
	return texts
}

// Problems are what is wrong, or to be minded, a sentence each.
func Problems(list []strict.Problem) []string {
	texts := make([]string, len(list))
	for i := range list {
		texts[i] = Problem(&list[i])
	}
	return texts
}

// few lists words, not more than fit a few lines.
func few(words check.Few) string {
	if len(words) <= check.Most {
		return strings.Join(words, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:check.Most-1], ", "), len(words)-check.Most+1)
}

// checkNotes are of figures that are possible but unlikely, and of assumptions.
var checkNotes = map[strict.Code]string{
	"check.unusual":    ": {whose}: check {key}, {got}{unit} is unusual; {of} mostly {low} to {high}{unit}",
	"check.motor_mass": ": motor {id} weighs {got} g, a {stator} mostly about {usual} g: weigh it again",
	"check.kv":         ": motor {id} has {got} kV, a {stator} mostly {low} to {high}: check the digits",
	"check.winding": ": motor {id} has {got} mΩ, a {stator} of {kv} kV mostly about {usual} mΩ: check the digits " +
		"and the unit",
	"check.no_load":        ": motor {id} draws {got} A without load, its max current is {most} A: check both",
	"check.bench_prop":     ": prop {id} of this reading is not in the drawer, so the reading is not used",
	"check.benches_unused": ": the readings of prop {id} under its motors are not used: {cause}",
	"check.prop_mass": ": prop {id} weighs {got} g, one of its size mostly about {usual} g: weigh it again, one " +
		"piece",
	"check.steep": ": prop {id} has {pitch} in of pitch on {diameter} in of diameter, unusually steep: check " +
		"their order",
	"check.flat": ": prop {id} has {pitch} in of pitch on {diameter} in of diameter, unusually flat: check " +
		"the unit",
	"check.mount": ": prop {id} has a {bore} mm bore and is held by {mount}, an unusual pair: check both",
	"check.directions": ": prop {id} has {cw} pieces cw and {ccw} ccw, most crafts need as many of each: count " +
		"again",
	"check.pack_mass": ": pack {id} weighs {got} g, {cells}S of {mah} mAh mostly about {usual} g: weigh it again",
	"check.pack_volume": ": pack {id} has {got} cm³, {cells}S of {mah} mAh mostly about {usual} cm³: check the " +
		"digits of size_mm and of the capacity",
	"check.cell_high": ": pack {id} has {got} mΩ a cell, one of {mah} mAh mostly about {usual} mΩ: is it the " +
		"whole pack's, or is the pack worn?",
	"check.cell_low": ": pack {id} has {got} mΩ a cell, one of {mah} mAh mostly about {usual} mΩ: check the " +
		"digits",
	"check.ion_c": ": pack {id} is Li-ion and claims {got}C, cylindrical cells are mostly rated 3 to 15C: " +
		"check the chemistry",
	"check.pack_burst_low": ": pack {id} claims {burst}C burst and {continuous}C continuous, which contradict each " +
		"other: the lower is used",
	"check.pack_burst_high": ": pack {id} claims {burst}C burst and {continuous}C continuous, most claim up to twice: " +
		"check both",
	"check.frame_mass": ": frame {id} weighs {got} g, one for {inches} in props mostly about {usual} g: weigh it " +
		"again without electronics",
	"check.spacing_small": ": frame {id} takes props of {takes} but has motors {spacing} mm apart: check both, " +
		"the stricter one counts",
	"check.spacing_large": ": frame {id} has motors {spacing} mm apart but takes props of {takes} only: is that " +
		"between neighbouring motors, in mm?",
	"check.stack":      ": {whose} has a stack pattern of {got} mm, most have {usual}: check the digits",
	"check.board_mass": ": board {id} weighs {got} g, most 2 to 45 g: weigh it again, without frame and motors",
	"check.board_burst_low": ": board {id} claims {burst} A burst and {continuous} A continuous, which contradict each " +
		"other: the lower is used",
	"check.board_burst_high": ": board {id} claims {burst} A burst and {continuous} A continuous, most claim 1.1 to 1.5 " +
		"times: check both",
	"check.plug":        ": {whose} has the unknown plug {plug}: no rating is checked",
	"check.count":       ": {whose}: {got:piece|pieces}, most drawers have up to {most} of a kind: check the digits",
	"check.temperature": ": the air has {got} °C, few fly under −25 or over 50: check the digits",
	"check.pressure": ": pressure and altitude are both given: pressure is used, as read at the site, not " +
		"corrected to sea level",
	"check.labels": ": measure the cell resistance of {packs}: labels over 75C are usually inflated, resistance " +
		"says more about sag",
	"check.no_rating": ": no C rating is given for {packs}: a low one is assumed, which caps the throttle early; write " +
		"discharge_c from the label",
	"check.no_count": ": no count is given for {parts}: assumed enough for one craft",
	"check.log_part": ": no {kind} is called {id}",
	"twice.motor": ": motor {id} looks like motor {other} entered twice ({stator}, {kv} kV): if so, keep one and " +
		"add the counts",
	"twice.prop": ": prop {id} looks like prop {other} entered twice ({diameter} x {pitch} x {blades}): if " +
		"so, keep one and add the counts",
	"twice.pack": ": pack {id} looks like pack {other} entered twice ({cells}S {mah} mAh {c}C): if so, keep " +
		"one and add the counts",
	"twice.frame": ": frame {id} looks like frame {other} entered twice ({grams} g): if so, keep one and add " +
		"the counts",
	"twice.board": ": board {id} looks like board {other} entered twice ({amps} A, {cells}): if so, keep one " +
		"and add the counts",
	"twice.extra": ": {role} {id} looks like {other} entered twice ({grams} g): if so, keep one and add the " +
		"counts",
	"twice.capitals": ": {kind} {id} differs from {other} in capitals only: give it another id, they are easily " +
		"mixed up",
	"assumed.motor_current": ": motor {id}: max current not given; {amps} A for a few seconds is estimated from " +
		"size and kV; set max_current_a if its sheet says otherwise",
	"assumed.pitch":      ": prop {id}: pitch not given; {inches} in is assumed, as on most such props",
	"assumed.frame_mass": ": frame {id}: mass not given; {grams} g is estimated from its props: weigh it",
	"assumed.pack_c":     ": pack {id}: C rating not given; {c}C is assumed, {amps} A: write discharge_c from its label",
	"assumed.pack_burst": ": pack {id} claims {burst}C burst and {continuous}C continuous: the lower counts",
	"assumed.no_burst": ": board {id}: burst current not given; {times} times its {continuous} A is allowed for " +
		"a punch",
	"assumed.board_burst": ": board {id} claims {burst} A burst and {continuous} A continuous: the lower counts for " +
		"both",
	"assumed.plug": ": no rating known for plug {plug}: its current is not checked",
	"assumed.drawn": ": plug {plug}: limits are what pilots pull through it, {flight} A in flight and {seconds} " +
		"A for a few seconds; its rating is {sheet} ({from})",
	"assumed.drawn_no_sheet": ": plug {plug}: limits are what pilots pull through it, {flight} A in flight and " +
		"{seconds} A for a few seconds; no datasheet at hand",
}

// checkWays are ways out of a log that names parts that are not there.
var checkWays = map[strict.Code]string{
	"check.log_near": "did you mean {near}?; learn refuses the log until this is fixed",
	"check.log_none": "add it, or take the id out here; learn refuses the log until this is fixed",
}

// groups are what parts with a usual range of a figure have in common.
var groups = map[strict.Code]string{
	"of.stator":         "a {stator}",
	"of.motor":          "a {stator} of {kv} kV",
	"of.motors":         "motors of this kind",
	"of.tried":          "motors are tested at",
	"of.speed":          "{kv} kV at {volts} V and {throttle} % throttle",
	"of.current":        "{thrust} g of thrust at {volts} V take",
	"of.thrust":         "{inches} in at {rpm} rpm give",
	"of.torque":         "{inches} in at {rpm} rpm take",
	"of.props":          "such props",
	"of.blades":         "blades of {inches} in",
	"of.ion_cells":      "cylindrical Li-ion cells",
	"of.large_packs":    "large packs",
	"of.packs":          "packs of this size",
	"of.frames_for":     "one for {inches} in props",
	"of.frames":         "frames",
	"of.grams":          "one of {grams} g",
	"of.cells":          "one for {cells}",
	"of.boards":         "boards",
	"of.cameras":        "cameras",
	"of.transmitters":   "video transmitters",
	"of.receivers":      "receivers",
	"of.antennas":       "antennas",
	"of.such_parts":     "such parts",
	"of.extras":         "extras",
	"of.transmitter":    "a transmitter of {grams} g",
	"of.role":           "one of this role",
	"of.role_on_frames": "one of this role on such frames",
	"of.camera":         "a camera {wide} mm wide",
	"of.lead":           "a lead with such plugs",
	"of.places":         "places to fly from lie at",
	"of.flight":         "such a craft on {mah} mAh flies",
	"of.craft":          "such a craft has",
	"of.its_parts":      "its parts weigh",
	"of.flight_on_pack": "a flight on this pack takes",
	"of.craft_flies":    "such a craft flies",
}
