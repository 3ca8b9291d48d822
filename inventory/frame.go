package inventory

import (
	"math"
	"strconv"
	"strings"

	"partsaloft/inventory/strict"
)

// Frame is a kind of frame in the drawer.
type Frame struct {
	Part `yaml:",inline"`

	MassG          *float64    `yaml:"mass_g" check:"min=1,max=5000,unit=g,also=weight_g|weight|wt|grams"`
	Rotors         *int        `yaml:"rotors" check:"min=3,max=12"`
	MaxPropIn      *float64    `yaml:"max_prop_in" check:"also=size|class|prop_size|prop_in|inches|max_prop|prop|props|size_in,min=0.8,max=20,unit=in"`
	MotorSpacingMm *float64    `yaml:"motor_spacing_mm" check:"also=spacing_mm|spacing,min=20,max=800,unit=mm"`
	HolePatternMm  Lengths     `yaml:"hole_pattern_mm" check:"also=holes|motor_holes|motor_mount|mounting|pattern|holes_mm|hole_pattern,min=3,max=60,unit=mm"`
	StackMm        Lengths     `yaml:"stack_mm" check:"also=mounting|mount|stack_size|fc_mount|stack_pattern,min=10,max=60,unit=mm"`
	DragAreaCm2    *float64    `yaml:"drag_area_cm2" check:"min=2,max=5000,unit=cm²"`
	PackMaxMm      *[3]float64 `yaml:"pack_max_mm" check:"min=2,max=500,unit=mm"`
	CameraWidthMm  *float64    `yaml:"camera_width_mm" check:"min=5,max=60,unit=mm"`
	ArmThicknessMm *float64    `yaml:"arm_thickness_mm" check:"min=0.5,max=20,unit=mm"`
	Ducted         bool        `yaml:"ducted"`
	OpenSides      *bool       `yaml:"open_sides"`
	Body           FrameBody   `yaml:"body" check:"oneof=bare|streamlined,also=shell|canopy|fairing"`
}

// FrameBody is what the wind meets of a craft.
type FrameBody string

// The bodies; "" if not given is bare: plates, arms, pack and camera in the wind. Streamlined is one closed shell
// around them.
const (
	BareBody        FrameBody = "bare"
	StreamlinedBody FrameBody = "streamlined"
)

// RotorCount is the number of rotors, 4 if the drawer does not say.
func (f *Frame) RotorCount() int {
	if f.Rotors == nil {
		return 4
	}
	return *f.Rotors
}

// Board is a kind of flight controller with its speed controllers, one a rotor.
type Board struct {
	Part `yaml:",inline"`

	EscCurrentA float64    `yaml:"esc_current_a" check:"also=amps|current_a|current|continuous_a|continuous|esc_a|esc|esc_amps|rating_a|rating|a,required,min=1,max=200,unit=A"`
	EscBurstA   *float64   `yaml:"esc_burst_a" check:"also=burst|burst_a|peak_a|peak,min=1,max=400,unit=A"`
	Cells       *CellRange `yaml:"cells" check:"required,also=s|lipo|voltage|input|battery"`
	StackMm     Lengths    `yaml:"stack_mm" check:"also=mounting|mount|stack_size|fc_mount|stack_pattern,min=10,max=60,unit=mm"`
	MassG       *float64   `yaml:"mass_g" check:"min=0.5,max=500,unit=g,also=weight_g|weight|wt|grams"`
	Connector   Plug       `yaml:"connector" check:"also=plug|plug_type|connector_type,len=40"`
	PowerW      *float64   `yaml:"power_w" check:"also=watts,min=0,max=50,unit=W"`
	// Throttle is what a display shows as throttle of crafts on this board, as the log says; "" is not known.
	Throttle ThrottleKind `yaml:"-"`
	PwmKHz   *float64     `yaml:"pwm_khz" check:"min=8,max=192,unit=kHz"`
}

// Role is what an extra is for.
type Role string

// The roles.
const (
	Camera    Role = "camera"
	Video     Role = "video"
	Receiver  Role = "receiver"
	Antenna   Role = "antenna"
	Capacitor Role = "capacitor"
	Adapter   Role = "adapter"
	Strap     Role = "strap"
	Hardware  Role = "hardware"
)

// Use says when an extra is on board.
type Use string

// The uses: on every craft; only when asked or to bridge a misfit; with the frames or boards named; and, where the
// drawer says nothing, of cameras, video transmitters, receivers and antennas one of each role on every craft.
const (
	Always   Use = "always"
	Optional Use = "optional"
	With     Use = "with"
	Along    Use = "along"
)

// Extra is a kind of camera, video transmitter, receiver, antenna, capacitor, adapter, strap or
// hardware in the drawer; a craft takes one piece.
type Extra struct {
	Part `yaml:",inline"`

	Role      Role       `yaml:"role" check:"required,oneof=camera|video|receiver|antenna|capacitor|adapter|strap|hardware,also=kind|type|vtx:video|transmitter:video|rx:receiver|cap:capacitor|cam:camera|gps:hardware|buzzer:hardware|screws:hardware|lead:adapter|mount:hardware"`
	MassG     float64    `yaml:"mass_g" check:"required,min=0,max=2000,unit=g,also=weight_g|weight|wt|grams"`
	PowerW    *float64   `yaml:"power_w" check:"also=watts,min=0,max=50,unit=W"`
	WidthMm   *float64   `yaml:"width_mm" check:"also=size_mm|size,min=3,max=80,unit=mm"`
	Cells     *CellRange `yaml:"cells" check:"also=s|lipo|voltage|input|battery"`
	Connector Plug       `yaml:"connector" check:"also=plug|plug_type|connector_type,len=40"`
	Bridges   *Bridge    `yaml:"bridges"`
	Use       Use        `yaml:"use" check:"oneof=always|optional|with"`
	With      []string   `yaml:"with" check:"id,items=1..200"`

	// Choices is how many of its role go along, this one among them; a craft takes one.
	Choices int `yaml:"-"`
}

// Bridge is what an adapter joins: two stack patterns in mm, or two plugs.
type Bridge struct {
	strict.Origin
	What string `yaml:"what" check:"required,oneof=stack_mm|connector"`
	From string `yaml:"from" check:"required,len=40"`
	To   string `yaml:"to" check:"required,len=40"`

	// FromMm and ToMm are set if What is stack_mm.
	FromMm, ToMm float64 `yaml:"-"`
}

// Renamed turns the distance of opposite motors, which pilots know a frame by, into that of neighbours, where it has four
// arms.
func (f *Frame) Renamed(key, value string, others map[string]string) (string, strict.Problem) {
	if rotors := others["rotors"]; rotors != "" && rotors != "4" {
		return "", strict.Problem{}
	}
	switch strings.ToLower(key) {
	case "wheelbase", "wheelbase_mm", "wb", "wb_mm", "diagonal", "diagonal_mm", "motor_to_motor", "motor_to_motor_mm":
	default:
		return "", strict.Problem{}
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.ToLower(value), "mm")), 64)
	if err != nil || x < 50 || x > 800 {
		return "", strict.Problem{}
	}
	const spacing = "motor_spacing_mm"
	mm := strconv.FormatFloat(math.Round(10*x/math.Sqrt2)/10, 'f', -1, 64)
	return spacing, strict.Problem{Code: "frame.wheelbase", Values: strict.Values{"got": strict.Number(x)},
		Way: "write.it", Write: spacing + ": " + mm}
}
