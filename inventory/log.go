package inventory

import (
	"maps"
	"slices"
	"time"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

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
	HoverRPM             *float64 `yaml:"hover_rpm" check:"over=0,max=20000,unit=rpm"`
	HoverPackV           *float64 `yaml:"hover_pack_v" check:"over=0,max=5,unit=V"`
	FlightMinutes        *float64 `yaml:"flight_minutes" check:"over=0,max=60,unit=min"`
	PowerOverHover       *float64 `yaml:"power_over_hover" check:"over=0,max=5"`
	LandingCellV         *float64 `yaml:"landing_cell_v" check:"over=0,max=1,unit=V"`
	EndPackV             *float64 `yaml:"end_pack_v" check:"over=0,max=10,unit=V"`
	UsedMAh              *float64 `yaml:"used_mah" check:"over=0,max=10000,unit=mAh"`
	FullThrottleCurrentA *float64 `yaml:"full_throttle_current_a" check:"over=0,max=500,unit=A"`
	PunchCurrentA        *float64 `yaml:"punch_current_a" check:"over=0,max=500,unit=A"`
	PunchRPM             *float64 `yaml:"punch_rpm" check:"over=0,max=20000,unit=rpm"`
	LoadedCellV          *float64 `yaml:"loaded_cell_v" check:"over=0,max=1,unit=V"`
	PunchPackV           *float64 `yaml:"punch_pack_v" check:"over=0,max=10,unit=V"`
	PackResistanceMohm   *float64 `yaml:"pack_resistance_mohm" check:"over=0,max=5000,unit=milliohm"`
	TopSpeedMps          *float64 `yaml:"top_speed_mps" check:"over=0,max=50,unit=m/s"`
}

// ThrottleKind is what a display shows as throttle.
type ThrottleKind string

// The kinds: motor output above idle or a linear stick, a command that goes with thrust, the signal to the ESC.
const (
	OutputThrottle ThrottleKind = "output"
	ThrustThrottle ThrottleKind = "thrust"
	SignalThrottle ThrottleKind = "signal"
)

// SI is the kind in physics' terms.
func (k ThrottleKind) SI() physics.ThrottleKind {
	switch k {
	case OutputThrottle:
		return physics.OutputThrottle
	case ThrustThrottle:
		return physics.ThrustThrottle
	case SignalThrottle:
		return physics.SignalThrottle
	}
	return physics.UnknownThrottle
}

// RPMSource is how a rotor speed was got.
type RPMSource string

// The sources: counted by the ESCs, or worked out from a recording of the sound.
const (
	ByTelemetry RPMSource = "telemetry"
	Heard       RPMSource = "heard"
)

// NoteThrottleKinds tells every board what a display shows of it as throttle, by the last entry of the log that says
// so; entries that do not say are as their board's.
func (d *Drawer) NoteThrottleKinds() {
	for i := range d.Log {
		if e := &d.Log[i]; e.ThrottleKind != "" {
			if b := d.Board(e.Parts.Board); b != nil {
				b.Throttle = e.ThrottleKind
			}
		}
	}
	for i := range d.Log {
		if e := &d.Log[i]; e.ThrottleKind == "" {
			if b := d.Board(e.Parts.Board); b != nil {
				e.ThrottleKind = b.Throttle
			}
		}
	}
}

// LogEntry is what was measured on one flight or on the scale.
type LogEntry struct {
	strict.Origin
	Date             string   `yaml:"date" check:"len=40"`
	Parts            Parts    `yaml:"parts" check:"required"`
	Air              *Air     `yaml:"air"`
	AllUpG           *float64 `yaml:"all_up_g" check:"min=5,max=20000,unit=g"`
	HoverThrottlePct *float64 `yaml:"hover_throttle_pct" check:"min=1,max=100,unit=%"`
	// ThrottleKind is what the display shows as throttle; "" is not known.
	ThrottleKind  ThrottleKind `yaml:"throttle_kind" check:"oneof=output|thrust|signal,also=stick:output|motor_output:output|thrust_command:thrust|esc_signal:signal"`
	HoverCurrentA *float64     `yaml:"hover_current_a" check:"min=0.1,max=300,unit=A"`
	HoverRPM      *float64     `yaml:"hover_rpm" check:"min=500,max=100000,unit=rpm"`
	// HoverRPMFrom says how the rotor speed was got; "" is by telemetry.
	HoverRPMFrom RPMSource `yaml:"hover_rpm_from" check:"oneof=telemetry|heard,also=log:telemetry|esc:telemetry|sound:heard|recording:heard"`
	// HoverPackV is the pack's voltage at the board while the readings in hover were taken.
	HoverPackV    *float64 `yaml:"hover_pack_v" check:"min=2,max=100,unit=V"`
	FlightMinutes *float64 `yaml:"flight_minutes" check:"min=0.2,max=180,unit=min"`
	Flown         string   `yaml:"flown" check:"len=64"`
	// PowerOverHover is the mean electrical power of a flight over that in hover.
	PowerOverHover       *float64 `yaml:"power_over_hover" check:"min=0.5,max=12"`
	LandingCellV         *float64 `yaml:"landing_cell_v" check:"min=2,max=4.4,unit=V"`
	EndPackV             *float64 `yaml:"end_pack_v" check:"min=2,max=100,unit=V"`
	UsedMAh              *float64 `yaml:"used_mah" check:"min=5,max=50000,unit=mAh"`
	FullThrottleCurrentA *float64 `yaml:"full_throttle_current_a" check:"min=0.3,max=1000,unit=A"`
	PunchCurrentA        *float64 `yaml:"punch_current_a" check:"min=0.3,max=1000,unit=A"`
	PunchRPM             *float64 `yaml:"punch_rpm" check:"min=1000,max=150000,unit=rpm"`
	LoadedCellV          *float64 `yaml:"loaded_cell_v" check:"min=1.5,max=4.4,unit=V"`
	PunchPackV           *float64 `yaml:"punch_pack_v" check:"min=1.5,max=100,unit=V"`
	// PackResistanceMohm is that of the pack in flight, leads and plug included.
	PackResistanceMohm *float64 `yaml:"pack_resistance_mohm" check:"min=0.5,max=5000,unit=milliohm"`
	TopSpeedMps        *float64 `yaml:"top_speed_mps" check:"min=1,max=150,unit=m/s"`
	Within             *Within  `yaml:"within"`
	Note               string   `yaml:"note" check:"len=500"`
}

func (c *FleetCraft) validate(doc *strict.Document) {
	for _, key := range slices.Sorted(maps.Keys(c.Measured)) {
		at := c.Path + ".measured." + strict.Show(key)
		f, known := figure.ByKey(key)
		switch x := c.Measured[key]; {
		case !known:
			p := strict.Problem{Code: "figure.unknown", Way: "figure.such"}
			if near := strict.Nearest(key, figure.Keys()); near != "" {
				p.Way, p.Values = "id.near", strict.Values{"near": near}
			}
			doc.Add(at, p)
		case x <= 0 && f.Positive() && doc.Sound(at):
			doc.Fault(at, "figure.over_zero", strict.Values{"got": strict.Number(x)})
		}
	}
}

// dayLayouts are forms in which pilots write a day and that can be read one way only.
var dayLayouts = [...]string{"2006-1-2", "2006/1/2", "2006.1.2", "20060102", "2.1.2006", "2. 1. 2006",
	"2 January 2006", "2. January 2006", "2 Jan 2006",
	"January 2, 2006", "January 2 2006", "Jan 2, 2006", "Jan 2 2006", "2006-1-2 15:04", "2006-1-2 15:04:05", "2006-1-2T15:04", "2006-1-2T15:04:05", time.RFC3339}

// notADay is the problem of a day that was written some other way.
func notADay(written string) strict.Problem {
	p := strict.Problem{Code: "day", Values: strict.Values{"got": strict.Raw(written)}, Way: "write.it"}
	for _, layout := range dayLayouts {
		if day, err := time.Parse(layout, written); err == nil {
			p.Write = day.Format(time.DateOnly)
			return p
		}
	}
	dayFirst, errDay := time.Parse("2/1/2006", written)
	monthFirst, errMonth := time.Parse("1/2/2006", written)
	switch {
	case errDay == nil && errMonth == nil && !dayFirst.Equal(monthFirst):
		p.Way = "day.either"
		return p.With("day_first", dayFirst.Format(time.DateOnly)).With("month_first", monthFirst.Format(time.DateOnly))
	case errDay == nil:
		p.Write = dayFirst.Format(time.DateOnly)
	case errMonth == nil:
		p.Write = monthFirst.Format(time.DateOnly)
	default:
		p.Way = "day.form"
	}
	return p
}
