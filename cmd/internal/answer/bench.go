package answer

import (
	"fmt"
	"math"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// MostPoints bounds a bench table.
const MostPoints = 10000

// BenchOptions say what is predicted: a motor with a prop at voltages and throttles, or without a motor a prop alone at
// speeds and airspeeds along its axis.
type BenchOptions struct {
	Motor, Prop  string
	VoltsV       []float64
	ThrottlesPct []float64
	RPMs         []float64
	AirspeedsMPS []float64
}

// Bench is the document of bench.
type Bench struct {
	Head
	Motor  string   `json:"motor,omitempty"`
	Prop   string   `json:"prop"`
	Points []Fields `json:"points"`

	Conditions []BenchColumn `json:"-"` // what is known of the points …
	Predicted  []BenchColumn `json:"-"` // … and what is predicted for them
	Words      BenchWords    `json:"-"`

	given  [][]float64
	values [][]predict.Value // in SI
}

// BenchColumn is a column of the points with the factor from SI.
type BenchColumn struct {
	Key, Name, Unit string
	perSI           float64
}

// BenchWords are the sentences of a bench table.
type BenchWords struct {
	Title     string
	Undefined string   // why some points have no numbers
	Remarks   []string // on how the prop sits on the motor
}

const (
	rpmPerRadS = 60 / (2 * math.Pi)
	mNmPerNm   = 1000
)

func gramsPerNewton() float64 { return figure.Of(figure.FullThrottleThrust).PerSI }

// PredictBench predicts what a stand would show.
func PredictBench(a *Ask, o BenchOptions) (*Bench, error) {
	d := a.Problem.Drawer
	for _, m := range d.Missing(&inventory.Parts{Motor: o.Motor, Prop: o.Prop}) {
		p := m.Problem()
		return nil, askf("--%s: %w", m.Key, &p)
	}
	b := &Bench{Head: a.Head, Motor: o.Motor, Prop: o.Prop, Points: []Fields{}}
	b.Drawer, b.Care = d.Name, CareOf(&Scene{Stand: true})
	fill := b.alone
	if o.Motor != "" {
		fill = b.driven
	}
	if err := fill(a, &o); err != nil {
		return nil, AskError{err}
	}
	for i := range b.given {
		b.Points = append(b.Points, b.point(i))
	}
	return b, nil
}

// driven fills in the points of a motor with a prop.
func (b *Bench) driven(a *Ask, o *BenchOptions) error {
	throttles := make([]float64, len(o.ThrottlesPct))
	for i, pct := range o.ThrottlesPct {
		if !(pct > 0 && pct <= 100) {
			return askf("--throttle-pct: throttle must be over 0 and up to 100 %%, got %g", pct)
		}
		throttles[i] = pct / 100
	}
	motor, prop := a.Problem.Drawer.Motor(o.Motor), a.Problem.Drawer.Prop(o.Prop)
	points, err := predict.ThrustStand(&predict.StandTest{
		Motor: motor, Prop: prop, Air: a.Problem.Air, VoltsV: o.VoltsV, Throttles: throttles,
	}, a.Search.Sampling(a.Problem.Drawer))
	if err != nil {
		return err
	}
	b.Conditions = []BenchColumn{{"volts", "volts", "V", 1}, {"throttle_pct", "throttle", "%", 100}}
	b.Predicted = []BenchColumn{{"rpm", "speed", "rpm", rpmPerRadS}, {"thrust_g", "thrust", "g", gramsPerNewton()},
		{"torque_mnm", "torque", "mN m", mNmPerNm},
		{"current_a", "current", "A", 1}, {"power_w", "power", "W", 1}, {"efficiency_g_w", "thrust/power", "g/W",
			gramsPerNewton()}}
	b.Words.Title = fmt.Sprintf("%s with %s on a stand", motor.ID, prop.ID)
	for _, f := range compat.PropMotor(prop, motor) {
		if f.Severity != compat.Fits {
			b.Words.Remarks = append(b.Words.Remarks, catalogue.Sentences([]string{catalogue.Finding(&f)})...)
		}
	}
	for i := range points {
		p := &points[i]
		b.given = append(b.given, []float64{p.VoltageV, 100 * p.Throttle})
		b.values = append(b.values, []predict.Value{p.SpeedRadS, p.ThrustN, p.TorqueNm, p.CurrentA, p.PowerW,
			p.EfficiencyNPerW})
	}
	return nil
}

// alone fills in the points of a prop alone.
func (b *Bench) alone(a *Ask, o *BenchOptions) error {
	speedsRadS := make([]float64, len(o.RPMs))
	for i, rpm := range o.RPMs {
		speedsRadS[i] = rpm / rpmPerRadS
	}
	prop := a.Problem.Drawer.Prop(o.Prop)
	points, err := predict.PropAlone(prop, a.Problem.Air, speedsRadS, o.AirspeedsMPS, a.Search.Sampling(a.Problem.Drawer))
	if err != nil {
		return err
	}
	b.Conditions = []BenchColumn{{"rpm", "speed", "rpm", 1}, {"airspeed_mps", "airspeed", "m/s", 1}}
	b.Predicted = []BenchColumn{{"ct", "CT", "", 1}, {"cp", "CP", "", 1}, {"thrust_g", "thrust", "g", gramsPerNewton()},
		{"torque_mnm", "torque", "mN m", mNmPerNm}}
	b.Words.Title = fmt.Sprintf("%s alone", prop.ID)
	for i := range points {
		p := &points[i]
		b.given = append(b.given, []float64{p.SpeedRadS * rpmPerRadS, p.AirspeedMS})
		b.values = append(b.values, []predict.Value{p.Thrust, p.Power, p.ThrustN, p.TorqueNm})
	}
	return nil
}

// point is a point as it stands in the document.
func (b *Bench) point(i int) Fields {
	var point Fields
	for k, c := range b.Conditions {
		point = append(point, Field{Key: c.Key, Value: catalogue.Round(b.given[i][k])})
	}
	for k, c := range b.Predicted {
		v := b.values[i][k]
		if v.Why != physics.Defined {
			point = append(point, Field{Key: c.Key, Value: Unknown(v.Basis.String(), catalogue.Undefined(v.Why))})
			b.Words.Undefined = "Where there is no number " + catalogue.Undefined(v.Why) + "."
			continue
		}
		point = append(point, Field{Key: c.Key, Value: Known(c.perSI*v.Value, c.perSI*v.Low, c.perSI*v.High,
			v.Basis.String())})
	}
	return point
}

// Texts are the cells of point i as people read them: the conditions, then each prediction over its interval.
func (b *Bench) Texts(i int) []string {
	var cells []string
	for k := range b.Conditions {
		cells = append(cells, catalogue.Raw(catalogue.Round(b.given[i][k])))
	}
	for k, c := range b.Predicted {
		v := b.values[i][k]
		if v.Why != physics.Defined {
			cells = append(cells, "–")
			continue
		}
		value, low, high := c.perSI*v.Value, c.perSI*v.Low, c.perSI*v.High
		cells = append(cells, catalogue.Number(value, low, high)+"\n"+catalogue.Interval(value, low, high))
	}
	return cells
}

// Rows is the points as a table of plain values.
func (b *Bench) Rows() *Rows {
	rows := &Rows{}
	for _, c := range b.Conditions {
		rows.Keys = append(rows.Keys, c.Key)
	}
	for _, c := range b.Predicted {
		rows.Keys = append(rows.Keys, c.Key, c.Key+"_low", c.Key+"_high")
	}
	for i := range b.given {
		var row []string
		for k := range b.Conditions {
			row = append(row, catalogue.Raw(catalogue.Round(b.given[i][k])))
		}
		for k, c := range b.Predicted {
			v := b.values[i][k]
			row = append(row, intervalCells(v.Why == physics.Defined, c.perSI*v.Value, c.perSI*v.Low, c.perSI*v.High)...)
		}
		rows.Add(row...)
	}
	return rows
}
