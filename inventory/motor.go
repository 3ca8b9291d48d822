package inventory

import "partsaloft/inventory/strict"

// Mount is how a prop sits on a motor.
type Mount string

// The mounts: on the shaft with two screws, under a nut, pressed on.
const (
	Screws Mount = "screws"
	Nut    Mount = "nut"
	Press  Mount = "press"
)

// Motor is a kind of motor in the drawer.
type Motor struct {
	Part `yaml:",inline"`

	Stator         string       `yaml:"stator" check:"required,also=size|type|motor_size|stator_size"`
	KV             float64      `yaml:"kv" check:"required,also=rpm_per_volt|rpm_v,min=50,max=60000,unit=rpm per volt"`
	MassG          *float64     `yaml:"mass_g" check:"min=0.3,max=1000,unit=g,also=weight_g|weight|wt|grams"`
	ShaftMm        *float64     `yaml:"shaft_mm" check:"also=shaft_diameter|shaft_diameter_mm,min=0.5,max=12,unit=mm"`
	PropMount      Mount        `yaml:"prop_mount" check:"oneof=screws|nut|press,also=mount|t-mount:screws|tmount:screws|t mount:screws|screw:screws|m5:nut|lock nut:nut|press fit:press|push fit:press|push:press"`
	HolePatternMm  Lengths      `yaml:"hole_pattern_mm" check:"also=holes|mounting|mounting_holes|pattern|holes_mm|hole_pattern,min=3,max=60,unit=mm"`
	Cells          *CellRange   `yaml:"cells" check:"also=s|lipo|voltage|battery"`
	Poles          *int         `yaml:"poles" check:"also=magnets,min=2,max=60"`
	ResistanceMohm *float64     `yaml:"resistance_mohm" check:"min=2,max=20000,unit=milliohm"`
	NoLoadA        *float64     `yaml:"no_load_a" check:"min=0.01,max=20,unit=A"`
	NoLoadV        *float64     `yaml:"no_load_v" check:"min=0.5,max=60,unit=V"`
	MaxCurrentA    *float64     `yaml:"max_current_a" check:"also=max_a|amps|max_amps|peak_a|current_a,min=0.3,max=300,unit=A"`
	Bench          []MotorBench `yaml:"bench"`

	// StatorDiameterMm and StatorHeightMm are what Stator says.
	StatorDiameterMm, StatorHeightMm float64 `yaml:"-"`
	// Mixed names the two kinds that a derived motor a~b is made of; nil for an owned kind.
	Mixed *Mix `yaml:"-"`
}

// MotorBench is one reading of a motor with a prop on a thrust stand.
type MotorBench struct {
	strict.Origin
	Prop        string   `yaml:"prop" check:"required,id"`
	Volts       float64  `yaml:"volts" check:"required,min=1,max=60,unit=V"`
	ThrottlePct float64  `yaml:"throttle_pct" check:"required,over=0,max=100,unit=%"`
	RPM         *float64 `yaml:"rpm" check:"min=100,max=120000,unit=rpm"`
	ThrustG     *float64 `yaml:"thrust_g" check:"min=0.1,max=20000,unit=g"`
	CurrentA    *float64 `yaml:"current_a" check:"min=0.01,max=300,unit=A"`
}
