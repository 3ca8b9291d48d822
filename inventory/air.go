package inventory

import "partsaloft/inventory/strict"

// Air is where the pilot flies, or flew; what is not given is standard.
type Air struct {
	strict.Origin
	AltitudeM    *float64 `yaml:"altitude_m" check:"min=-500,max=9000,unit=m"`
	TemperatureC *float64 `yaml:"temperature_c" check:"min=-40,max=60,unit=°C"`
	PressureHPa  *float64 `yaml:"pressure_hpa" check:"min=300,max=1100,unit=hPa"`
}

// Parts names a combination by the ids of its parts.
type Parts struct {
	strict.Origin
	Motor  string   `yaml:"motor" check:"required,len=129"`
	Prop   string   `yaml:"prop" check:"required,id"`
	Pack   string   `yaml:"pack" check:"required,id"`
	Frame  string   `yaml:"frame" check:"required,id"`
	Board  string   `yaml:"board" check:"required,id"`
	Extras []string `yaml:"extras" check:"id,items=0..50"`
}

// ID is the id that is named for a kind other than extra.
func (p *Parts) ID(kind Kind) string {
	switch kind {
	case KindMotor:
		return p.Motor
	case KindProp:
		return p.Prop
	case KindPack:
		return p.Pack
	case KindFrame:
		return p.Frame
	case KindBoard:
		return p.Board
	}
	return ""
}

// FleetCraft is a craft that flies already.
type FleetCraft struct {
	strict.Origin
	Name  string `yaml:"name" check:"required,len=64"`
	Parts Parts  `yaml:"parts" check:"required"`
	// Keeps says whether its parts are out of the drawer's counts; if not given they are.
	Keeps    *bool              `yaml:"keeps"`
	Measured map[string]float64 `yaml:"measured"`
}

// KeepsParts says whether the craft's parts are out of the drawer's counts.
func (c *FleetCraft) KeepsParts() bool { return c.Keeps == nil || *c.Keeps }

// Within says how well the readings of an entry are known where it is not as usual: standard
// deviations in the units of the keys.
type Within struct {
	strict.Origin
	AllUpG               *float64 `yaml:"all_up_g" check:"over=0,max=500,unit=g"`
	HoverThrottlePct     *float64 `yaml:"hover_throttle_pct" check:"over=0,max=30,unit=%"`
	HoverCurrentA        *float64 `yaml:"hover_current_a" check:"over=0,max=100,unit=A"`
	FlightMinutes        *float64 `yaml:"flight_minutes" check:"over=0,max=60,unit=min"`
	LandingCellV         *float64 `yaml:"landing_cell_v" check:"over=0,max=1,unit=V"`
	UsedMAh              *float64 `yaml:"used_mah" check:"over=0,max=10000,unit=mAh"`
	FullThrottleCurrentA *float64 `yaml:"full_throttle_current_a" check:"over=0,max=500,unit=A"`
	LoadedCellV          *float64 `yaml:"loaded_cell_v" check:"over=0,max=1,unit=V"`
	TopSpeedMps          *float64 `yaml:"top_speed_mps" check:"over=0,max=50,unit=m/s"`
}

// LogEntry is what was measured on one flight or on the scale.
type LogEntry struct {
	strict.Origin
	Date                 string   `yaml:"date" check:"len=40"`
	Parts                Parts    `yaml:"parts" check:"required"`
	Air                  *Air     `yaml:"air"`
	AllUpG               *float64 `yaml:"all_up_g" check:"min=5,max=20000,unit=g"`
	HoverThrottlePct     *float64 `yaml:"hover_throttle_pct" check:"min=1,max=100,unit=%"`
	HoverCurrentA        *float64 `yaml:"hover_current_a" check:"min=0.1,max=300,unit=A"`
	FlightMinutes        *float64 `yaml:"flight_minutes" check:"min=0.2,max=180,unit=min"`
	Flown                string   `yaml:"flown" check:"len=64"`
	LandingCellV         *float64 `yaml:"landing_cell_v" check:"min=2,max=4.4,unit=V"`
	UsedMAh              *float64 `yaml:"used_mah" check:"min=5,max=50000,unit=mAh"`
	FullThrottleCurrentA *float64 `yaml:"full_throttle_current_a" check:"min=0.3,max=1000,unit=A"`
	LoadedCellV          *float64 `yaml:"loaded_cell_v" check:"min=1.5,max=4.4,unit=V"`
	TopSpeedMps          *float64 `yaml:"top_speed_mps" check:"min=1,max=150,unit=m/s"`
	Within               *Within  `yaml:"within"`
	Note                 string   `yaml:"note" check:"len=500"`
}
