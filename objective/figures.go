package objective

import (
	"math"

	"partsaloft/physics"
)

// Figure is one number that a pilot sees: a physics quantity in a pilot's unit.
type Figure struct {
	Key      string // the key in files, JSON and CSV
	Unit     string // "" for a plain number
	Quantity physics.Quantity
	PerSI    float64 // the figure is PerSI times the quantity in SI …
	Offset   float64 // … plus Offset
	Decimals int     // that are worth showing
	Meaning  string  // one sentence
}

const (
	gramsPerNewton = 1000 / physics.GravityMS2
	kelvinOffset   = -273.15
)

// figures lists every figure in the order in which it is shown; figures[q] holds quantity q.
var figures = [physics.QuantityCount]Figure{
	physics.AllUpMass:           {Key: "all_up_g", Unit: "g", PerSI: 1000, Decimals: 1, Meaning: "Weight of the whole craft, ready to fly."},
	physics.FullThrottleThrust:  {Key: "full_throttle_thrust_g", Unit: "g", PerSI: gramsPerNewton, Meaning: "Static thrust of all rotors at full throttle on a full pack, sag included, without a cap."},
	physics.ThrustToWeight:      {Key: "thrust_to_weight", PerSI: 1, Decimals: 2, Meaning: "Static thrust at the throttle cap over weight, on a full pack."},
	physics.TurnLoadFactor:      {Key: "turn_load_factor", PerSI: 1, Decimals: 2, Meaning: "Largest load factor of a level turn at the style's speed, at the throttle cap."},
	physics.TipMach:             {Key: "tip_mach", PerSI: 1, Decimals: 2, Meaning: "Speed of the blade tips at full throttle over the speed of sound."},
	physics.HoverThrottle:       {Key: "hover_throttle_pct", Unit: "%", PerSI: 100, Decimals: 1, Meaning: "Throttle that hovers, at half charge."},
	physics.TurnThrottle:        {Key: "turn_throttle_pct", Unit: "%", PerSI: 100, Decimals: 1, Meaning: "Throttle that a level turn of load factor 2 at the style's speed takes."},
	physics.ThrottleCap:         {Key: "throttle_cap_pct", Unit: "%", PerSI: 100, Decimals: 1, Meaning: "Largest throttle that keeps pack, board, connector and motor inside their limits."},
	physics.PackCurrentUse:      {Key: "pack_current_use_pct", Unit: "%", PerSI: 100, Meaning: "Uncapped full-throttle current in per cent of what the pack may give."},
	physics.BoardCurrentUse:     {Key: "board_current_use_pct", Unit: "%", PerSI: 100, Meaning: "Uncapped full-throttle current of one motor in per cent of what its ESC may carry."},
	physics.MotorCurrentUse:     {Key: "motor_current_use_pct", Unit: "%", PerSI: 100, Meaning: "Uncapped full-throttle current of one motor in per cent of its own limit."},
	physics.ConnectorCurrentUse: {Key: "connector_current_use_pct", Unit: "%", PerSI: 100, Meaning: "Uncapped full-throttle current in per cent of what the connector carries for a punch."},
	physics.ThrustStep:          {Key: "thrust_step_pct", Unit: "%", PerSI: 1, Decimals: 2, Meaning: "Thrust in per cent of weight that 1 % of throttle adds at hover: small is fine-grained."},
	physics.HoverCurrent:        {Key: "hover_current_a", Unit: "A", PerSI: 1, Decimals: 1, Meaning: "Current from the pack in hover, at half charge."},
	physics.FullThrottleCurrent: {Key: "full_throttle_current_a", Unit: "A", PerSI: 1, Decimals: 1, Meaning: "Current from a full pack at full throttle, static, without a cap."},
	physics.PackSafeCurrent:     {Key: "pack_safe_current_a", Unit: "A", PerSI: 1, Decimals: 1, Meaning: "Current that the pack may give all along: capacity times its label's C."},
	physics.MeanCurrent:         {Key: "mean_current_a", Unit: "A", PerSI: 1, Decimals: 1, Meaning: "Mean current from the pack over a flight of the style."},
	physics.HoverPower:          {Key: "hover_power_w", Unit: "W", PerSI: 1, Decimals: 1, Meaning: "Power from the pack in hover, at half charge."},
	physics.MotorHeat:           {Key: "motor_loss_w", Unit: "W", PerSI: 1, Decimals: 1, Meaning: "Heat in one motor in the style's hardest steady segment."},
	physics.LoadedCell:          {Key: "loaded_cell_v", Unit: "V", PerSI: 1, Decimals: 2, Meaning: "Voltage of one cell of a full pack at full throttle; a display shows less, by what plug and leads lose."},
	physics.HoverTime:           {Key: "hover_minutes", Unit: "min", PerSI: 1.0 / 60, Decimals: 1, Meaning: "Flying time in hover alone."},
	physics.CruiseTime:          {Key: "cruise_minutes", Unit: "min", PerSI: 1.0 / 60, Decimals: 1, Meaning: "Flying time, flown gently."},
	physics.HardTime:            {Key: "hard_minutes", Unit: "min", PerSI: 1.0 / 60, Decimals: 1, Meaning: "Flying time, flown hard."},
	physics.StyleTime:           {Key: "style_minutes", Unit: "min", PerSI: 1.0 / 60, Decimals: 1, Meaning: "Flying time, flown as the style says, until the reserve or the landing voltage."},
	physics.UsedCharge:          {Key: "used_mah", Unit: "mAh", PerSI: 1 / 3.6, Meaning: "Charge used in a flight of the style."},
	physics.Range:               {Key: "range_km", Unit: "km", PerSI: 1e-3, Decimals: 2, Meaning: "Distance covered at the best range speed in still air."},
	physics.TopSpeed:            {Key: "top_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1, Meaning: "Fastest level flight at the throttle cap, at half charge."},
	physics.BestEnduranceSpeed:  {Key: "best_endurance_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1, Meaning: "Level speed that takes the least power."},
	physics.BestRangeSpeed:      {Key: "best_range_speed_mps", Unit: "m/s", PerSI: 1, Decimals: 1, Meaning: "Level speed that takes the least energy per metre."},
	physics.ForwardAcceleration: {Key: "forward_accel_mps2", Unit: "m/s²", PerSI: 1, Decimals: 1, Meaning: "Forward acceleration left in level flight at the style's speed."},
	physics.PullOut:             {Key: "pull_out_m", Unit: "m", PerSI: 1, Decimals: 1, Meaning: "Height lost in ending a vertical dive at the style's speed."},
	physics.Response:            {Key: "response_ms", Unit: "ms", PerSI: 1000, Decimals: 1, Meaning: "Time constant of thrust after a step of throttle near hover."},
	physics.Rise:                {Key: "rise_ms", Unit: "ms", PerSI: 1000, Decimals: 1, Meaning: "Time from hovering thrust to twice that."},
	physics.DiscLoading:         {Key: "disc_loading_n_m2", Unit: "N/m²", PerSI: 1, Meaning: "Weight over the area of all discs."},
	physics.MotorTemperature:    {Key: "motor_temperature_c", Unit: "°C", PerSI: 1, Offset: kelvinOffset, Meaning: "Temperature of the windings after a flight of the style."},
}

// Figures returns every figure in the order in which it is shown.
func Figures() []Figure {
	all := make([]Figure, len(figures))
	for q := range figures {
		all[q] = FigureOf(physics.Quantity(q))
	}
	return all
}

// FigureOf returns the figure of a quantity.
func FigureOf(q physics.Quantity) Figure {
	f := figures[q]
	f.Quantity = q
	return f
}

// FigureByKey finds a figure by its key.
func FigureByKey(key string) (Figure, bool) {
	for q := range figures {
		if figures[q].Key == key {
			return FigureOf(physics.Quantity(q)), true
		}
	}
	return Figure{}, false
}

// FromSI converts a quantity to the figure's unit.
func (f Figure) FromSI(si float64) float64 { return si*f.PerSI + f.Offset }

// ToSI converts the figure back; infinities stay.
func (f Figure) ToSI(value float64) float64 { return (value - f.Offset) / f.PerSI }

// Round rounds a value to the decimals worth showing.
func (f Figure) Round(value float64) float64 {
	scale := math.Pow10(f.Decimals)
	return math.Round(value*scale) / scale
}

// Of is the figure's value for a performance, with the reason if it is undefined.
func (f Figure) Of(p *physics.Performance) (float64, physics.Reason) {
	si, why := p.Get(f.Quantity)
	if why != physics.Defined {
		return 0, why
	}
	return f.FromSI(si), why
}
