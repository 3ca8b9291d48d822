package inventory

import (
	"partsaloft/inventory/strict"
	"partsaloft/physics/rotor"
)

// Blade says where a prop's blades carry their mass.
type Blade string

// Where the mass of a blade sits; "" if not given.
const (
	BladeRoot Blade = "root"
	BladeEven Blade = "even"
	BladeTip  Blade = "tip"
)

// Flex is how stiff a blade is under load.
type Flex string

// The stiffnesses; "" if not given.
const (
	FlexSoft   Flex = "soft"
	FlexMedium Flex = "medium"
	FlexStiff  Flex = "stiff"
)

// MadeFor is the kind of aircraft that a prop was made for.
type MadeFor string

// The kinds of aircraft; "" if not given, which counts as multirotor where it matters.
const (
	MadeForMultirotor   MadeFor = "multirotor"
	MadeForConventional MadeFor = "conventional"
)

// Prop is a kind of prop in the drawer; Count is in pieces.
type Prop struct {
	Part `yaml:",inline"`

	DiameterIn float64        `yaml:"diameter_in" check:"also=dia|dia_in,min=0.8,max=20,unit=in"`
	PitchIn    float64        `yaml:"pitch_in" check:"min=0.2,max=20,unit=in"`
	Blades     int            `yaml:"blades" check:"also=blade_count|no_of_blades,min=2,max=8"`
	Size       string         `yaml:"size"`
	MassG      *float64       `yaml:"mass_g" check:"min=0.05,max=200,unit=g,also=weight_g|weight|wt|grams"`
	BoreMm     *float64       `yaml:"bore_mm" check:"also=hole_mm|shaft_mm|hole|shaft|hub|hub_mm,min=0.5,max=12,unit=mm"`
	Mount      Mount          `yaml:"mount" check:"oneof=screws|nut|press,also=prop_mount|t-mount:screws|tmount:screws|t mount:screws|screw:screws|m5:nut|lock nut:nut|press fit:press|push fit:press|push:press"`
	Blade      Blade          `yaml:"blade" check:"oneof=root|even|tip"`
	Flex       Flex           `yaml:"flex" check:"oneof=soft|medium|stiff"`
	MadeFor    MadeFor        `yaml:"made_for" check:"oneof=multirotor|conventional"`
	Directions *Directions    `yaml:"directions"`
	Series     string         `yaml:"series" check:"len=64"`
	Stations   []BladeStation `yaml:"blade_stations" check:"items=1..40"`
	Bench      []PropBench    `yaml:"bench"`

	// PitchEstimated says that PitchIn is what such props mostly have: the label gives none.
	PitchEstimated bool `yaml:"-"`

	stand            []rotor.BenchPoint // thrusts that it gave on the drawer's motors
	benchDensityKgM3 float64            // air of its bench readings; 0 if there is no drawer
	maps             *rotor.Maps        // those of the drawer; nil if there is none
}

// Directions counts the pieces that turn each way.
type Directions struct {
	Clockwise        int `yaml:"cw" check:"required,min=0,max=10000"`
	Counterclockwise int `yaml:"ccw" check:"required,min=0,max=10000"`
}

// BladeStation is a blade measured at one radius.
type BladeStation struct {
	strict.Origin
	RadiusMm float64  `yaml:"radius_mm" check:"required,min=1,max=260,unit=mm"`
	ChordMm  float64  `yaml:"chord_mm" check:"required,min=0.5,max=100,unit=mm"`
	AngleDeg *float64 `yaml:"angle_deg" check:"min=1,max=75,unit=degrees"`
}

// PropBench is one reading of a prop alone.
type PropBench struct {
	strict.Origin
	RPM         float64  `yaml:"rpm" check:"required,min=100,max=120000,unit=rpm"`
	ThrustG     float64  `yaml:"thrust_g" check:"required,min=0.1,max=20000,unit=g"`
	TorqueMNm   *float64 `yaml:"torque_mnm" check:"min=0.01,max=5000,unit=mN m"`
	AirspeedMps *float64 `yaml:"airspeed_mps" check:"min=0,max=100,unit=m/s"`
}
