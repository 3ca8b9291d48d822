package figure

import "math"

// Quantity names one predicted number of a craft.
type Quantity uint8

// The quantities, in the order in which they are shown. What is reckoned at full throttle is static, on a full
// pack, sag included, without a throttle cap unless said; what is reckoned in hover and in level flight is at half
// charge. The unit is that of the value in SI.
const (
	AllUpMass           Quantity = iota // kg
	DiscLoading                         // N/m²
	KineticEnergy                       // J, at the style's speed
	HoverThrottle                       // duty, mid charge
	HoverCurrent                        // A, pack, mid charge
	HoverPower                          // W, from the pack
	HoverSpeed                          // rad/s, of a rotor, mid charge
	FullThrottleThrust                  // N, all rotors
	FullThrottleCurrent                 // A, pack
	PackSafeCurrent                     // A, what the label claims
	PackSagCurrent                      // A, what the resistance allows
	PackCurrentUse                      // full-throttle pack current over the safe one
	BoardCurrentUse                     // full-throttle current of one ESC over its limit
	MotorCurrentUse                     // full-throttle motor current over the motor's limit
	ConnectorCurrentUse                 // full-throttle pack current over the connector's peak
	LoadedCell                          // V, at full throttle
	ThrottleCap                         // largest duty inside all limits
	ThrustToWeight                      // static thrust at the throttle cap over weight
	StyleTime                           // s, the style's segments
	HoverTime                           // s
	CruiseTime                          // s, easy segments
	HardTime                            // s, hard segments
	UsedCharge                          // A s, over the style's flight
	EndThrustToWeight                   // static thrust at the throttle cap over weight, at the end of the style's flight
	EndHoverThrottle                    // duty there; over 1 the voltage that hover needs over the one that there is
	MeanCurrent                         // A, pack, over the style's flight
	TurnThrottle                        // duty of a level turn of load factor 2 at the style's speed, mid charge
	TurnLoadFactor                      // largest level-turn load factor at the style's speed, at the cap
	PullOut                             // m
	Response                            // s, time constant of thrust about hover
	Rise                                // s, from load factor 1 to 2
	ThrustStep                          // thrust over weight for a duty of 1, at hover
	TopSpeed                            // m/s, level, limits held at that speed, at 90 % of the charge
	ForwardAcceleration                 // m/s², left in level flight at the style's speed
	BestEnduranceSpeed                  // m/s
	BestRangeSpeed                      // m/s
	Range                               // m, at best range speed
	MotorHeat                           // W, heat in one motor in the style's hardest steady segment
	MotorTemperature                    // K, winding, at the end of a flight of the style
	PunchTemperature                    // K, winding, after three seconds at the throttle cap on top of that
	ElectricalSpeed                     // rad/s, electrical, at full throttle
	TipMach                             // tip speed at full throttle over the speed of sound
	// Count is the number of quantities.
	Count
)

const (
	gramsPerKilogram = 1000
	gramsPerNewton   = gramsPerKilogram / StandardGravityMS2
	percent          = 100
	minutesPerSecond = 1.0 / 60
	mAhPerCoulomb    = 1 / 3.6
	kmPerMetre       = 1e-3
	msPerSecond      = 1000
	rpmPerRadS       = 60 / (2 * math.Pi)
)

// table holds the figures by quantity: one row each.
var table = [Count]Figure{
	AllUpMass: {
		Key: "all_up_g", Unit: "g", PerSI: gramsPerKilogram, Decimals: 1,
		Name: "all-up weight", Group: WeightGroup, Shown: Headline,
		Meaning: "Weight of the whole craft, ready to fly.",
		Method:  "Sum of all parts, wires and straps.",
		Trust:   "As good as your scale: label if every part was weighed, estimated for what was not.",
	},
	DiscLoading: {
		Key: "disc_loading_n_m2", Unit: "N/m²", PerSI: 1,
		Name: "disc loading", Group: WeightGroup, Shown: Listed,
		Meaning: "Weight over the area of all discs.",
		Method:  "All-up weight by rotors times a quarter of pi times the diameter squared.",
		Trust:   "As all-up weight.",
	},
	KineticEnergy: {
		Key: "kinetic_energy_j", Unit: "J", PerSI: 1, Decimals: 2,
		Name: "kinetic energy", Group: WeightGroup, Shown: Listed,
		Meaning: "Energy of motion at the style's speed: what it hits with.",
		Method:  "Half the all-up weight in kg times the square of the style's speed in m/s.",
		Trust:   "As all-up weight; a craft that flies twice as fast hits four times as hard.",
	},
	HoverThrottle: {
		Key: "hover_throttle_pct", Unit: "%", PerSI: percent, Decimals: 1,
		Name: "hover throttle", Group: HoverGroup, Shown: Headline,
		Meaning: "Throttle that hovers, at half charge; over 100 % it cannot hover.",
		Method:  "Voltage that the motors need for weight, divided by the loaded pack's.",
		Trust: "Depends on prop, motor and the ESC's calibration, for displays show throttle, not duty; " +
			"±10 to 20 %. Read it on the first flight.",
	},
	HoverCurrent: {
		Key: "hover_current_a", Unit: "A", PerSI: 1, Decimals: 1,
		Name: "hover current", Group: HoverGroup, Shown: Compared,
		Meaning: "Current from the pack in hover, at half charge.",
		Method:  "Power in hover divided by the loaded voltage, electronics on top.",
		Trust: "Depends on the prop's torque, which labels say less about than thrust; ±15 to 30 %. Read " +
			"it on the first flight.",
	},
	HoverPower: {
		Key: "hover_power_w", Unit: "W", PerSI: 1, Decimals: 1,
		Name: "hover power", Group: HoverGroup, Shown: Compared,
		Meaning: "Power from the pack in hover, at half charge.",
		Method:  "Current in hover times the loaded voltage.",
		Trust:   "As hover current.",
	},
	HoverSpeed: {
		Key: "hover_rpm", Unit: "rpm", PerSI: rpmPerRadS,
		Name: "hover rpm", Group: HoverGroup, Shown: Compared,
		Meaning: "Rotor speed in hover, the mean of all rotors.",
		Method:  "The speed at which the prop gives each rotor's share of the weight.",
		Trust: "Depends on the prop's thrust alone, by its root: half of what its label leaves open. Read it from the " +
			"ESCs or from the sound: at a known weight it tells the prop's thrust.",
	},
	FullThrottleThrust: {
		Key: "full_throttle_thrust_g", Unit: "g", PerSI: gramsPerNewton,
		Name: "full-throttle thrust", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Static thrust of all rotors at full throttle on a full pack, sag included, without a cap.",
		Method:  "Motor, prop and sagging pack in balance at full throttle.",
		Trust: "Depends on the prop's label; ±10 to 20 %, and a few per cent after one thrust reading. " +
			"Moving air takes some of it.",
	},
	FullThrottleCurrent: {
		Key: "full_throttle_current_a", Unit: "A", PerSI: 1, Decimals: 1,
		Name: "full-throttle current", Group: FullThrottleGroup, Shown: Headline,
		Meaning: "Current from a full pack at full throttle, static, without a cap.",
		Method:  "From the same balance as full-throttle thrust.",
		Trust: "Depends on the prop's torque and the motor's resistance; about ±15 %. A first punch with the " +
			"current in view says more.",
	},
	PackSafeCurrent: {
		Key: "pack_safe_current_a", Unit: "A", PerSI: 1, Decimals: 1,
		Name: "pack's safe current", Group: FullThrottleGroup, Shown: Listed,
		Meaning: "Current that the pack may give all along: capacity times its label's C.",
		Method:  "Of two C ratings that contradict each other the lower counts.",
		Trust:   "Label alone: the voltage under load says whether the pack keeps it.",
	},
	PackSagCurrent: {
		Key: "pack_sag_current_a", Unit: "A", PerSI: 1, Decimals: 1,
		Name: "pack's current by its resistance", Group: FullThrottleGroup, Shown: Listed,
		Meaning: "Current at which a full cell sags to the lowest voltage that it may have under load.",
		Method:  "Full less lowest cell voltage, divided by the resistance of a cell.",
		Trust:   "Depends on the pack's resistance: estimated until a charger's reading stands in the drawer.",
	},
	PackCurrentUse: {
		Key: "pack_current_use_pct", Unit: "%", PerSI: percent,
		Name: "use of the pack's safe current", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Uncapped full-throttle current in per cent of what the pack may give.",
		Method:  "Full-throttle current divided by capacity times label C.",
		Trust:   "The current ±10 to 20 %; what the pack may give is the label's claim.",
	},
	BoardCurrentUse: {
		Key: "board_current_use_pct", Unit: "%", PerSI: percent,
		Name: "use of the ESC's limit", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Uncapped full-throttle current of one motor in per cent of what its ESC may carry.",
		Method:  "Full-throttle current of one motor divided by the ESC's burst rating, or 1.2 times its continuous one.",
		Trust:   "The current ±10 to 20 %; without a burst rating the bound is a rule of thumb.",
	},
	MotorCurrentUse: {
		Key: "motor_current_use_pct", Unit: "%", PerSI: percent,
		Name: "use of the motor's limit", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Uncapped full-throttle current of one motor in per cent of its own limit.",
		Method:  "Full-throttle current of one motor divided by its max_current_a.",
		Trust:   "The current ±10 to 20 %; makers set their limit for some seconds in good air.",
	},
	ConnectorCurrentUse: {
		Key: "connector_current_use_pct", Unit: "%", PerSI: percent,
		Name: "use of the connector's peak", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Uncapped full-throttle current in per cent of what pilots draw through such a plug for seconds.",
		Method:  "Full-throttle current divided by what the weakest plug between pack and board carries for seconds.",
		Trust:   "The current ±10 to 20 %; what pilots draw is common practice, and mostly over the datasheet.",
	},
	LoadedCell: {
		Key: "loaded_cell_v", Unit: "V", PerSI: 1, Decimals: 2,
		Name: "cell voltage under load", Group: FullThrottleGroup, Shown: Headline,
		Meaning: "Voltage of one cell of a full pack at full throttle; a display shows less, by what plug and leads lose.",
		Method:  "Open-circuit voltage less current times resistance.",
		Trust: "Depends on the pack's resistance: estimated until a charger's reading stands in the drawer; cold " +
			"and age lower it.",
	},
	ThrottleCap: {
		Key: "throttle_cap_pct", Unit: "%", PerSI: percent, Decimals: 1,
		Name: "throttle cap", Group: FullThrottleGroup, Shown: Compared,
		Meaning: "Largest throttle that keeps pack, board, connector and motor inside their limits.",
		Method:  "Throttle at which the first of all limits is reached, static, on a full pack.",
		Trust:   "As full-throttle current, and as the label's C, which is usually inflated: stay under it.",
	},
	ThrustToWeight: {
		Key: "thrust_to_weight", PerSI: 1, Decimals: 2,
		Name: "thrust-to-weight", Group: FullThrottleGroup, Shown: Headline,
		Meaning: "Static thrust at the throttle cap over weight, on a full pack.",
		Method:  "Thrust at the throttle cap divided by weight.",
		Trust:   "As full-throttle thrust; good for telling weak from twitchy, not for a second decimal.",
	},
	StyleTime: {
		Key: "style_minutes", Unit: "min", PerSI: minutesPerSecond, Decimals: 1,
		Name: "flying time", Group: FlyingTimeGroup, Shown: Headline,
		Meaning: "Flying time, flown as the style says, until the reserve or the landing voltage.",
		Method:  "The same over the style's segments, until the reserve or the landing voltage.",
		Trust:   "Depends on how you fly: ±25 % is common, ±50 % not rare. A logged flight narrows it most.",
	},
	HoverTime: {
		Key: "hover_minutes", Unit: "min", PerSI: minutesPerSecond, Decimals: 1,
		Name: "flying time in hover", Group: FlyingTimeGroup, Shown: Compared,
		Meaning: "Flying time in hover alone.",
		Method:  "Usable charge over the current in hover, as the voltage falls.",
		Trust:   "As hover current; an upper bound that no flight reaches.",
	},
	CruiseTime: {
		Key: "cruise_minutes", Unit: "min", PerSI: minutesPerSecond, Decimals: 1,
		Name: "flying time, gentle", Group: FlyingTimeGroup, Shown: Compared,
		Meaning: "Flying time, flown gently.",
		Method:  "The same over gentle segments.",
		Trust:   "Depends on how you fly: the segments are a guess until a flight is logged.",
	},
	HardTime: {
		Key: "hard_minutes", Unit: "min", PerSI: minutesPerSecond, Decimals: 1,
		Name: "flying time, hard", Group: FlyingTimeGroup, Shown: Compared,
		Meaning: "Flying time, flown hard.",
		Method:  "The same over hard segments.",
		Trust:   "Depends on how you fly: the segments are a guess until a flight is logged.",
	},
	UsedCharge: {
		Key: "used_mah", Unit: "mAh", PerSI: mAhPerCoulomb,
		Name: "charge used", Group: FlyingTimeGroup, Shown: Compared,
		Meaning: "Charge used in a flight of the style.",
		Method:  "Capacity less what is left at landing.",
		Trust:   "Label capacity, landing voltage and resistance: to a tenth or so.",
	},
	EndThrustToWeight: {
		Key: "thrust_to_weight_end", PerSI: 1, Decimals: 2,
		Name: "thrust-to-weight at landing", Group: FullThrottleGroup, Shown: Listed,
		Meaning: "Static thrust at the throttle cap over weight, with the pack as a flight of the style leaves it.",
		Method:  "As thrust-to-weight, at the charge at landing.",
		Trust:   "As thrust-to-weight, and as the pack's resistance: what is left for the last pull-up.",
	},
	EndHoverThrottle: {
		Key: "hover_throttle_end_pct", Unit: "%", PerSI: percent, Decimals: 1,
		Name: "hover throttle at landing", Group: HoverGroup, Shown: Listed,
		Meaning: "Throttle that hovers, with the pack as a flight of the style leaves it; over 100 % it no longer does.",
		Method:  "As hover throttle, at the charge at landing.",
		Trust:   "As hover throttle, and as the pack's resistance.",
	},
	MeanCurrent: {
		Key: "mean_current_a", Unit: "A", PerSI: 1, Decimals: 1,
		Name: "mean current", Group: FlyingTimeGroup, Shown: Listed,
		Meaning: "Mean current from the pack over a flight of the style.",
		Method:  "Charge used divided by time.",
		Trust:   "As flying time: depends on how you fly.",
	},
	TurnThrottle: {
		Key: "turn_throttle_pct", Unit: "%", PerSI: percent, Decimals: 1,
		Name: "throttle in a 2 g turn", Group: FeelGroup, Shown: Headline,
		Meaning: "Throttle that a level turn of 2 g at the style's speed takes; over 100 % it cannot hold it.",
		Method:  "The same for twice the weight, with the air of the style's speed through the disc.",
		Trust:   "As hover throttle, with the prop in moving air on top: compare crafts by it.",
	},
	TurnLoadFactor: {
		Key: "turn_load_factor", PerSI: 1, Decimals: 2,
		Name: "max g in a level turn", Group: FeelGroup, Shown: Compared,
		Meaning: "Most g in a level turn at the style's speed, at the throttle cap; under 1 it cannot " +
			"hold that speed.",
		Method: "Thrust that is left at that speed divided by weight, drag carried along; under 1 it is the throttle that " +
			"there is over what level flight at that speed takes.",
		Trust: "Depends on the prop in moving air, which labels say least about: compare crafts by it rather than " +
			"take it for a limit.",
	},
	PullOut: {
		Key: "pull_out_m", Unit: "m", PerSI: 1, Decimals: 1,
		Name: "height lost pulling out of a dive", Group: FeelGroup, Shown: Headline,
		Meaning: "Height lost in ending a vertical dive at the style's speed.",
		Method:  "Sink followed in time from a quarter of full rpm, rotor spool-up included.",
		Trust:   "Wakes in descent are unsteady and predicted by their mean: compare crafts by it, and keep a height margin.",
	},
	Response: {
		Key: "response_ms", Unit: "ms", PerSI: msPerSecond, Decimals: 1,
		Name: "response", Group: FeelGroup, Shown: Headline,
		Meaning: "Time constant of thrust after a step of throttle near hover.",
		Method:  "Inertia of bell and prop over what motor and air hold against it, command delay on top.",
		Trust:   "Depends on inertias estimated from mass and size; ±25 %. The controller's filters come on top.",
	},
	Rise: {
		Key: "rise_ms", Unit: "ms", PerSI: msPerSecond, Decimals: 1,
		Name: "rise to twice the thrust", Group: FeelGroup, Shown: Listed,
		Meaning: "Time from hovering thrust to twice that.",
		Method:  "Time to spin up to twice the thrust with the voltage there is.",
		Trust:   "As response.",
	},
	ThrustStep: {
		Key: "thrust_step_pct", Unit: "%", PerSI: 1, Decimals: 2,
		Name: "throttle resolution", Group: FeelGroup, Shown: Headline,
		Meaning: "Thrust in per cent of weight that 1 % of throttle adds at hover: small is fine-grained.",
		Method:  "Slope of thrust over throttle at hover, divided by weight.",
		Trust:   "As hover throttle; the controller's own curve comes on top.",
	},
	TopSpeed: {
		Key: "top_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1,
		Name: "top speed", Group: SpeedAndRangeGroup, Shown: Headline,
		Meaning: "Fastest level flight on a pack at 90 % of its charge.",
		Method: "Speed at which full throttle just carries weight and drag, or at which a limit of pack, board, plug or " +
			"motor is reached there; moving air unloads the props.",
		Trust: "Depends on drag, estimated from the frame's size, and on steep air through the prop: to a tenth " +
			"or two. A timed run narrows it.",
	},
	ForwardAcceleration: {
		Key: "forward_accel_mps2", Unit: "m/s²", PerSI: 1, Decimals: 1,
		Name: "forward acceleration", Group: SpeedAndRangeGroup, Shown: Listed,
		Meaning: "Forward acceleration left in level flight at the style's speed.",
		Method:  "Thrust left beside weight and drag, divided by mass.",
		Trust:   "Depends on drag and on the prop in moving air: compare crafts by it.",
	},
	BestEnduranceSpeed: {
		Key: "best_endurance_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1,
		Name: "speed of longest flight", Group: SpeedAndRangeGroup, Shown: Listed,
		Meaning: "Level speed that takes the least power.",
		Method:  "Lowest point of power over speed.",
		Trust:   "The lowest point is flat: to a few m/s.",
	},
	BestRangeSpeed: {
		Key: "best_range_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1,
		Name: "speed of longest range", Group: SpeedAndRangeGroup, Shown: Compared,
		Meaning: "Level speed that takes the least energy per metre.",
		Method:  "Where a line from the origin touches power over speed.",
		Trust:   "Depends on drag; ±25 %. Wind shifts it.",
	},
	Range: {
		Key: "range_km", Unit: "km", PerSI: kmPerMetre, Decimals: 2,
		Name: "range", Group: SpeedAndRangeGroup, Shown: Headline,
		Meaning: "Distance covered at the best range speed in still air.",
		Method:  "Best range speed times the time that it can be held.",
		Trust:   "In still air at one speed, drag estimated from the frame's size: to a third. Plan for half of it.",
	},
	MotorHeat: {
		Key: "motor_loss_w", Unit: "W", PerSI: 1, Decimals: 1,
		Name: "heat in one motor", Group: HeatGroup, Shown: Listed,
		Meaning: "Heat in one motor in the style's hardest steady segment.",
		Method:  "Copper and iron losses of one motor.",
		Trust:   "Depends on resistance and on how you fly; about ±30 %.",
	},
	MotorTemperature: {
		Key: "motor_temperature_c", Unit: "°C", PerSI: 1, Offset: celsiusAtZeroKelvin,
		Name: "winding temperature", Group: HeatGroup, Shown: Compared,
		Meaning: "Temperature of the windings at the end of a flight of the style.",
		Method:  "Mean losses of the style's segments against cooling by size and prop wash, as the flight goes on.",
		Trust:   "Rough: good to a factor of 1.6. After landing, disarmed and unplugged, check the motors' temperature.",
	},
	PunchTemperature: {
		Key: "punch_temperature_c", Unit: "°C", PerSI: 1, Offset: celsiusAtZeroKelvin,
		Name: "winding temperature after a punch", Group: HeatGroup, Shown: Listed,
		Meaning: "Temperature of the windings after three seconds at the throttle cap at the end of a flight of the style.",
		Method:  "Losses at the cap, static, warm the stator, and the copper on top of it.",
		Trust:   "Rough: good to a factor of 1.6 of what the punch adds. Keep punches short.",
	},
	ElectricalSpeed: {
		Key: "electrical_rpm", Unit: "rpm", PerSI: rpmPerRadS,
		Name: "electrical speed", Group: HeatGroup, Shown: Listed,
		Meaning: "Electrical revolutions a minute at full throttle on a full pack, without a cap.",
		Method:  "Full-throttle rpm times pole pairs: 6 with a stator under 15 mm, 7 from there on, unless poles are given.",
		Trust:   "Depends on kV and on the poles: count the magnets.",
	},
	TipMach: {
		Key: "tip_mach", PerSI: 1, Decimals: 2,
		Name: "tip Mach number", Group: HeatGroup, Shown: Listed,
		Meaning: "Speed of the blade tips at full throttle over the speed of sound.",
		Method:  "Full-throttle rpm times half the diameter; the speed of sound from the air's temperature.",
		Trust:   "Depends on kV; ± a few per cent.",
	},
}
