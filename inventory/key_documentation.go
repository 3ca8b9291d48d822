package inventory

// abouts say what each key of a drawer means, by its path without indices; a unit follows from the
// key's rule.
var abouts = map[string]string{
	"air":               "Where you fly; what is left out is the standard atmosphere.",
	"air.altitude_m":    "Height of the flying site over the sea.",
	"air.temperature_c": "Temperature of the air there.",
	"air.pressure_hpa":  "Pressure as read at the site, not reduced to the sea; it overrules the altitude.",

	"motors":                    "Kinds of motor that you own.",
	"motors.[].id":              "Your name for it, unique among the motors: letters, digits, - _ and a dot.",
	"motors.[].count":           "How many pieces; left out it is assumed enough for one craft.",
	"motors.[].stator":          "Width and height of the stator, two digits each: 1404 or 2207.5.",
	"motors.[].kv":              "Label kV, the speed that a volt turns it at without load.",
	"motors.[].mass_g":          "Mass of one motor with its leads.",
	"motors.[].shaft_mm":        "Diameter of the shaft that the prop sits on.",
	"motors.[].prop_mount":      "How a prop is held: screws beside the shaft, a nut on it, or pressed on.",
	"motors.[].hole_pattern_mm": "Square of its mounting holes, one number or all that it takes.",
	"motors.[].cells": "The least and the most cells that it is made for, or 4S for up to four; left out, " +
		"size and kV decide.",
	"motors.[].poles":             "Magnets in the bell.",
	"motors.[].resistance_mohm":   "Winding resistance as printed, between two leads.",
	"motors.[].no_load_a":         "Current without a prop at no_load_v.",
	"motors.[].no_load_v":         "Voltage that the no-load current belongs to.",
	"motors.[].max_current_a":     "The largest current that its maker allows.",
	"motors.[].bench":             "Readings on a thrust stand.",
	"motors.[].bench.[].prop":     "Id of the prop that it turned.",
	"motors.[].bench.[].volts":    "Voltage at the ESC while it turned.",
	"motors.[].bench.[].rpm":      "Speed of the prop.",
	"motors.[].bench.[].thrust_g": "Thrust of the one prop.",
	"motors.[].note":              "Anything else; it is not used.",

	"motors.[].bench.[].throttle_pct": "Throttle of the reading.",
	"motors.[].bench.[].current_a":    "Current into the ESC.",

	"props":                "Kinds of prop that you own.",
	"props.[].id":          "Your name for it, unique among the props.",
	"props.[].count":       "How many pieces of both directions together.",
	"props.[].diameter_in": "Diameter of the disc.",
	"props.[].pitch_in":    "Pitch as on the label; whoop props under 2.5 inch may leave it out.",
	"props.[].blades":      "Blades of one prop.",
	"props.[].size": "Diameter x pitch x blades instead of the three keys: 5.1x4.3x3 or 65mm x " +
		"1.2 x 3; 31mm beside blades.",
	"props.[].mass_g":  "Mass of one prop.",
	"props.[].bore_mm": "Diameter of the hole in the hub.",
	"props.[].mount":   "How it is held: screws, nut or press.",
	"props.[].blade":   "Where a blade carries its mass: at the root, even, or at the tip.",
	"props.[].flex":    "How stiff a blade is under load: soft, medium or stiff.",
	"props.[].made_for": "What a prop of two blades and 2.5 to 7 inch was made for: multirotor, " +
		"taken if left out, or conventional (a model aeroplane); others are classed by blades and size.",
	"props.[].directions":     "Pieces that turn each way; they add up to the count.",
	"props.[].directions.cw":  "Pieces that turn clockwise seen from above.",
	"props.[].directions.ccw": "Pieces that turn counterclockwise.",
	"props.[].series": "Line of props that it belongs to, in your words: props of one line share " +
		"their errors.",
	"props.[].blade_stations": "A blade measured by ruler, root to tip; one station at 75 % of the radius " +
		"helps most.",
	"props.[].bench":                 "Readings of the prop on a stand.",
	"props.[].bench.[].rpm":          "Speed of the prop.",
	"props.[].bench.[].thrust_g":     "Thrust of the prop.",
	"props.[].bench.[].torque_mnm":   "Torque that turns it.",
	"props.[].bench.[].airspeed_mps": "Speed of the air along the axis; left out it stands still.",
	"props.[].note":                  "Anything else; it is not used.",
	"packs":                          "Kinds of battery pack that you own.",
	"packs.[].id":                    "Your name for it, unique among the packs.",
	"packs.[].count":                 "How many of them.",
	"packs.[].cells":                 "Cells in series.",
	"packs.[].capacity_mah":          "Label capacity.",
	"packs.[].discharge_c":           "Continuous label rating, in multiples of the capacity; left out, 25 is assumed, of Li-ion 5.",
	"packs.[].discharge_a":           "Continuous label rating in amps, where the label has no C, as on Li-ion.",
	"packs.[].size": "Cells, mAh and C instead of the three keys: 4S 1300 100C; 6S 4000 beside " +
		"discharge_a.",
	"packs.[].burst_c":              "Label rating for a burst; it only adds a note.",
	"packs.[].chemistry":            "lipo (if left out), lihv or liion.",
	"packs.[].mass_g":               "Mass with leads and plug.",
	"packs.[].connector":            "Type of the plug: XT30, XT60, PH 2.0 …",
	"packs.[].cell_resistance_mohm": "Internal resistance of one cell, as a charger shows it.",
	"packs.[].cycles":               "Flights that it has behind it; it wears the estimated resistance.",
	"packs.[].condition": "sound: it flies whatever its note, its resistance and its cycles say; " +
		"retired: it never flies. Left out, these three decide.",
	"packs.[].size_mm": "Length, width and height.",
	"packs.[].note": "Anything else. A pack noted as puffed, swollen, dented or damaged should " +
		"be retired.",
	"frames":          "Kinds of frame that you own.",
	"frames.[].id":    "Your name for it, unique among the frames.",
	"frames.[].count": "How many of them.",
	"frames.[].mass_g": "Mass with its screws, without electronics; left out, the size of its props " +
		"decides.",
	"frames.[].rotors": "Number of rotors; 4 if left out.",
	"frames.[].max_prop_in": "Diameter of the largest prop that fits. In whole or half inches it is a " +
		"class: 5 takes 5.1 and 5.2; ducts take no more than they say.",
	"frames.[].motor_spacing_mm": "Distance of neighbouring motors, shaft to shaft.",
	"frames.[].hole_pattern_mm":  "Square of the holes for a motor, one number or all that it takes.",
	"frames.[].stack_mm":         "Square of the holes for the board, one number or all that it takes.",
	"frames.[].drag_area_cm2":    "Drag coefficient times frontal area of the whole craft, if you know it.",
	"frames.[].pack_max_mm":      "Length, width and height of the largest pack that fits.",
	"frames.[].camera_width_mm":  "Width between the side plates.",
	"frames.[].arm_thickness_mm": "Thickness of an arm.",
	"frames.[].ducted":           "Whether the props run in ducts.",
	"frames.[].open_sides":       "Whether a pack may stick out of the bay.",
	"frames.[].body": "streamlined: one closed shell around pack, board and camera; bare (if left " +
		"out): they stand in the wind.",
	"frames.[].note":          "Anything else; it is not used.",
	"boards":                  "Kinds of flight controller with its ESCs.",
	"boards.[].id":            "Your name for it, unique among the boards.",
	"boards.[].count":         "How many of them.",
	"boards.[].esc_current_a": "Continuous current of one ESC.",
	"boards.[].esc_burst_a":   "What one ESC carries for a punch.",
	"boards.[].cells": "The least and the most cells that it is made for, or 4S for up to four; " +
		"more burn it.",
	"boards.[].stack_mm":  "Square of its holes, one number or all that it takes.",
	"boards.[].mass_g":    "Mass with its leads.",
	"boards.[].connector": "Type of the plug on its lead.",
	"boards.[].power_w":   "What it takes for itself.",
	"boards.[].pwm_khz": "Switching frequency that its ESCs are set to; 24 kHz if left out. Higher " +
		"ones cost small motors less current ripple.",
	"boards.[].note": "Anything else; it is not used.",
	"extras": "Cameras, video transmitters, receivers, antennas, capacitors, adapters, " +
		"straps, hardware.",
	"extras.[].id": "Your name for it, unique among the extras.",
	"extras.[].count": "How many of them; a craft takes one. Left out, one that is always on board " +
		"or on board by itself is enough for all crafts.",
	"extras.[].role":         "What it is for.",
	"extras.[].mass_g":       "Mass of one.",
	"extras.[].power_w":      "Electric power that it takes.",
	"extras.[].width_mm":     "Width of a camera.",
	"extras.[].cells":        "Input voltage range: the least and the most cells, or 4S for up to four.",
	"extras.[].connector":    "Type of its plug.",
	"extras.[].bridges":      "What an adapter joins.",
	"extras.[].bridges.what": "stack_mm for two hole squares, connector for two plugs.",
	"extras.[].bridges.from": "One end: a square in mm, or a plug.",
	"extras.[].bridges.to":   "The other end.",
	"extras.[].use": "always: on every craft; optional: when asked for, or to bridge a misfit; " +
		"with: with the frames or boards named. Left out, one camera, video transmitter, receiver and antenna is on board, " +
		"the lightest that fits; all else is optional.",
	"extras.[].with": "Ids of the frames or boards that it goes with.",
	"extras.[].note": "Anything else; it is not used.",
	"fleet":          "Crafts that fly already.",
	"fleet.[].name":  "Your name for the craft.",
	"fleet.[].parts": "Its parts by id; without extras those that go along are on board.",
	"fleet.[].keeps": "true (if left out): its parts are not in the drawer's counts; false: they " +
		"may be taken.",
	"fleet.[].measured": "What was measured on it, by the keys of the figures.",
	"log":               "What was measured, a flight or a weighing an entry; learn reads it.",
	"log.[].date":       "Day, such as 2031-05-09.",
	"log.[].parts": "The parts of the craft by id; without extras those that go along are on " +
		"board.",
	"log.[].air":                "The air of that day, if not the drawer's.",
	"log.[].all_up_g":           "Weight ready to fly.",
	"log.[].hover_throttle_pct": "Throttle in hover, pack half empty or at hover_pack_v.",
	"log.[].throttle_kind": "What the display shows as throttle: output (motor output above idle, or a " +
		"linear stick), thrust (a command that goes with thrust), signal (to the ESC). Left out it is as in other entries " +
		"with the board, or not known.",
	"log.[].hover_current_a": "Current in hover, pack half empty or at hover_pack_v.",
	"log.[].hover_rpm": "Rotor speed in hover, the mean of all rotors: from the ESCs' telemetry or " +
		"the sound.",
	"log.[].hover_rpm_from": "How the rpm was got: telemetry (if left out; known to 2 %) or heard (from a recording of the " +
		"sound; to 1 %).",
	"log.[].hover_pack_v": "Pack voltage in hover as the display shows it, when the readings in hover were taken. With " +
		"hover_current_a, punch_current_a and punch_pack_v of the same minute it gives the pack's resistance.",
	"log.[].flight_minutes": "Time from a full pack to landing. With neither landing voltage nor charge the flight is " +
		"taken to end as crafts of its class usually do.",
	"log.[].flown": "How: hover, cruise, hard or a style's name.",
	"log.[].power_over_hover": "Mean electrical power of the flight over that in hover, from a flight file; needs " +
		"flown.",
	"log.[].landing_cell_v":          "Cell voltage at landing, in the air, as the display shows it.",
	"log.[].end_pack_v":              "Pack voltage at landing, likewise; the same as landing_cell_v times the cells.",
	"log.[].used_mah":                "Charge put back after the flight.",
	"log.[].full_throttle_current_a": "Current at full throttle.",
	"log.[].punch_current_a":         "The same as full_throttle_current_a: the current in a short punch.",
	"log.[].punch_rpm":               "Rotor speed at the start of that punch, the mean of all rotors.",
	"log.[].punch_pack_v": "Pack voltage in that punch as the display shows it; the same as loaded_cell_v times the " +
		"cells.",
	"log.[].pack_resistance_mohm": "Resistance of the pack in flight with its plug and leads: how far the voltage falls " +
		"over how far the current rises.",
	"log.[].loaded_cell_v": "Cell voltage at full throttle as the display shows it: what reaches the " +
		"board, over the cells.",
	"log.[].top_speed_mps":                 "Top speed in level flight.",
	"log.[].note":                          "Anything else; it is not used.",
	"props.[].blade_stations.[].radius_mm": "Distance from the axis.",
	"props.[].blade_stations.[].chord_mm":  "Width of the blade there.",
	"props.[].blade_stations.[].angle_deg": "Angle of the blade to the disc there; may be left out.",

	"log.[].within": "How well the readings are known where it is not as usual: standard " +
		"deviations.",
	"log.[].within.all_up_g":                "Standard deviation of the weight.",
	"log.[].within.hover_throttle_pct":      "Standard deviation of the hover throttle.",
	"log.[].within.hover_current_a":         "Standard deviation of the hover current.",
	"log.[].within.hover_rpm":               "Standard deviation of the hover rpm.",
	"log.[].within.hover_pack_v":            "Standard deviation of the pack voltage in hover.",
	"log.[].within.power_over_hover":        "Standard deviation of the power over that in hover.",
	"log.[].within.end_pack_v":              "Standard deviation of the pack voltage at landing.",
	"log.[].within.punch_current_a":         "Standard deviation of the current in a punch.",
	"log.[].within.punch_rpm":               "Standard deviation of the rpm in a punch.",
	"log.[].within.punch_pack_v":            "Standard deviation of the pack voltage in a punch.",
	"log.[].within.pack_resistance_mohm":    "Standard deviation of the pack's resistance.",
	"log.[].within.flight_minutes":          "Standard deviation of the time.",
	"log.[].within.landing_cell_v":          "Standard deviation of the cell voltage at landing.",
	"log.[].within.used_mah":                "Standard deviation of the charge.",
	"log.[].within.full_throttle_current_a": "Standard deviation of the full-throttle current.",
	"log.[].within.loaded_cell_v":           "Standard deviation of the cell voltage at full throttle.",
	"log.[].within.top_speed_mps":           "Standard deviation of the top speed.",
}

// About says what a key of a drawer means, by its path without indices, such as motors.[].kv.
func About(path string) string { return abouts[path] }
