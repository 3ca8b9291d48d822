package cli

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/search/predict"
)

type benchOptions struct {
	motor, prop            string
	volts, throttlesPct    []float64
	rpms, airspeedsMps     []float64
	voltsGiven, rpmsGiven  bool
	throttleGiven, airflow bool
}

// mostPoints bounds a bench table.
const mostPoints = 10000

func newBench(s *session) *cobra.Command {
	o := &benchOptions{}
	c := &cobra.Command{
		Use:   "bench",
		Short: "Predict the thrust-stand table of a motor and a prop, or of a prop alone",
		Long: `bench predicts what a motor with a prop shows on a thrust stand: volts are those at the ESC, from a
bench supply without sag. With --rpm instead of --motor it predicts a prop alone, at an airspeed along
its axis if one is given.`,
		Example: `  partsaloft bench --motor m1507-27 --prop p3.5-26x3 --volts 11.1,14.8 --throttle-pct 25,50,75,100
  partsaloft bench --prop p3.5-26x3 --rpm 8000,16000 --airspeed-mps 0,10`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			o.voltsGiven, o.rpmsGiven = c.Flags().Changed("volts"), c.Flags().Changed("rpm")
			o.throttleGiven, o.airflow = c.Flags().Changed("throttle-pct"), c.Flags().Changed("airspeed-mps")
			return s.bench(c.Context(), o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.motor, "motor", "", "`ID` of the motor")
	f.StringVar(&o.prop, "prop", "", "`ID` of the prop")
	f.Float64SliceVar(&o.volts, "volts", nil, "`V,...` at the ESC")
	f.Float64SliceVar(&o.throttlesPct, "throttle-pct", []float64{25, 50, 75, 100}, "`PERCENT,...` of throttle")
	f.Float64SliceVar(&o.rpms, "rpm", nil, "`RPM,...` of a prop alone")
	f.Float64SliceVar(&o.airspeedsMps, "airspeed-mps", []float64{0}, "`M/S,...` along the axis of a prop alone")
	return c
}

// check says what the flags of bench contradict or lack.
func (o *benchOptions) check() error {
	switch {
	case o.prop == "":
		return usagef("--prop is missing: name a prop of the drawer")
	case o.motor != "" && (o.rpmsGiven || o.airflow):
		return usagef("--motor goes with --volts and --throttle-pct; leave it out for a prop alone at --rpm")
	case o.motor == "" && !o.rpmsGiven:
		return usagef("name a --motor with --volts, or --rpm for the prop alone")
	case o.motor == "" && (o.voltsGiven || o.throttleGiven):
		return usagef("--volts and --throttle-pct take a --motor")
	case o.motor != "" && len(o.volts) == 0:
		return usagef("--volts is missing: name the voltages at the ESC, such as --volts 11.1,14.8")
	case len(o.volts)*len(o.throttlesPct) > mostPoints || len(o.rpms)*len(o.airspeedsMps) > mostPoints:
		return usagef("more than %d points: name fewer", mostPoints)
	}
	return nil
}

func (s *session) bench(ctx context.Context, o *benchOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	drawer, err := s.loadDrawer()
	if err != nil {
		return err
	}
	for _, m := range drawer.Missing(&inventory.Parts{Motor: o.motor, Prop: o.prop}) {
		p := m.Problem()
		return usagef("--%s: %w", m.Key, &p)
	}
	air, err := drawer.Air.SI()
	if err != nil {
		return dataError{err}
	}
	var b benchTable
	if o.motor != "" {
		b, err = standTable(drawer, air, o, s.searchOptions().Sampling())
	} else {
		b, err = propTable(drawer, air, o, s.searchOptions().Sampling())
	}
	if err != nil {
		return usageError{err}
	}
	b.motor, b.prop = o.motor, o.prop
	b.care = answer.CareOf(&answer.Scene{Stand: true})
	return s.deliver(ctx, b.answer(s.head(drawer.Name, "", b.care)))
}

// benchTable is what is known of the points (the conditions) and what is predicted for them.
type benchTable struct {
	title      string
	motor      string
	prop       string
	conditions []benchColumn
	predicted  []benchColumn
	given      [][]float64
	values     [][]predict.Value // in SI
	remarks    []string          // on how the prop sits on the motor
	care       answer.Care
}

// benchColumn is a column with its key, its head, and the factor from SI.
type benchColumn struct {
	key, head string
	perSI     float64
}

const (
	rpmPerRadS = 60 / (2 * math.Pi)
	mNmPerNm   = 1000
)

func gramsPerNewton() float64 { return figure.Of(figure.FullThrottleThrust).PerSI }

func standTable(d *inventory.Drawer, air rotor.Air, o *benchOptions, options predict.Sampling) (benchTable, error) {
	throttles := make([]float64, len(o.throttlesPct))
	for i, pct := range o.throttlesPct {
		if !(pct > 0 && pct <= 100) {
			return benchTable{}, usagef("--throttle-pct: throttle must be over 0 and up to 100 %%, got %g", pct)
		}
		throttles[i] = pct / 100
	}
	motor, prop := d.Motor(o.motor), d.Prop(o.prop)
	points, err := predict.PredictStand(motor, prop, air, o.volts, throttles, options)
	if err != nil {
		return benchTable{}, err
	}
	b := benchTable{
		title:      fmt.Sprintf("%s with %s on a stand", motor.ID, prop.ID),
		conditions: []benchColumn{{"volts", "volts\nV", 1}, {"throttle_pct", "throttle\n%", 100}},
		predicted: []benchColumn{{"rpm", "speed\nrpm", rpmPerRadS}, {"thrust_g", "thrust\ng", gramsPerNewton()}, {"torque_mnm", "torque\nmN m", mNmPerNm},
			{"current_a", "current\nA", 1}, {"power_w", "power\nW", 1}, {"efficiency_g_w", "thrust/power\ng/W", gramsPerNewton()}},
	}
	for _, f := range inventory.PropMotor(prop, motor) {
		if f.Severity != inventory.Fits {
			b.remarks = append(b.remarks, f.Text)
		}
	}
	for i := range points {
		p := &points[i]
		b.given = append(b.given, []float64{p.VoltageV, 100 * p.Throttle})
		b.values = append(b.values, []predict.Value{p.SpeedRadS, p.ThrustN, p.TorqueNm, p.CurrentA, p.PowerW, p.EfficiencyNPerW})
	}
	return b, nil
}

func propTable(d *inventory.Drawer, air rotor.Air, o *benchOptions, options predict.Sampling) (benchTable, error) {
	speedsRadS := make([]float64, len(o.rpms))
	for i, rpm := range o.rpms {
		speedsRadS[i] = rpm / rpmPerRadS
	}
	prop := d.Prop(o.prop)
	points, err := predict.PredictProp(prop, air, speedsRadS, o.airspeedsMps, options)
	if err != nil {
		return benchTable{}, err
	}
	b := benchTable{
		title:      fmt.Sprintf("%s alone", prop.ID),
		conditions: []benchColumn{{"rpm", "speed\nrpm", 1}, {"airspeed_mps", "airspeed\nm/s", 1}},
		predicted: []benchColumn{{"ct", "CT", 1}, {"cp", "CP", 1}, {"thrust_g", "thrust\ng", gramsPerNewton()},
			{"torque_mnm", "torque\nmN m", mNmPerNm}},
	}
	for i := range points {
		p := &points[i]
		b.given = append(b.given, []float64{p.SpeedRadS * rpmPerRadS, p.AirspeedMS})
		b.values = append(b.values, []predict.Value{p.Thrust, p.Power, p.ThrustN, p.TorqueNm})
	}
	return b, nil
}

type benchDocument struct {
	answer.Head
	Motor  string          `json:"motor,omitempty"`
	Prop   string          `json:"prop"`
	Points []answer.Fields `json:"points"`
}

func (b *benchTable) answer(head answer.Head) reply {
	document := benchDocument{Head: head, Motor: b.motor, Prop: b.prop, Points: []answer.Fields{}}
	rows, table := &render.Table{}, &render.Table{}
	undefined := ""
	for _, c := range b.conditions {
		rows.Columns = append(rows.Columns, render.Left(c.key))
		table.Columns = append(table.Columns, render.Right(c.head))
	}
	for _, c := range b.predicted {
		rows.Columns = append(rows.Columns, render.Left(c.key), render.Left(c.key+"_low"), render.Left(c.key+"_high"))
		table.Columns = append(table.Columns, render.Right(c.head))
	}
	for i := range b.given {
		var point answer.Fields
		var row, cells []string
		for k, c := range b.conditions {
			x := catalogue.Round(b.given[i][k])
			point = append(point, answer.Field{Key: c.key, Value: x})
			row, cells = append(row, raw(x)), append(cells, raw(x))
		}
		for k, c := range b.predicted {
			v := b.values[i][k]
			if v.Why != physics.Defined {
				point = append(point, answer.Field{Key: c.key, Value: answer.Unknown(v.Basis.String(), v.Why.String())})
				row, cells = append(row, "", "", ""), append(cells, "–")
				undefined = v.Why.String()
				continue
			}
			value, low, high := c.perSI*v.Value, c.perSI*v.Low, c.perSI*v.High
			point = append(point, answer.Field{Key: c.key, Value: answer.Known(value, low, high, v.Basis.String())})
			row = append(row, raw(catalogue.Round(value)), raw(catalogue.Round(low)), raw(catalogue.Round(high)))
			cells = append(cells, catalogue.Number(value, low, high)+"\n"+catalogue.Interval(value, low, high))
		}
		document.Points = append(document.Points, point)
		rows.Rows, table.Rows = append(rows.Rows, row), append(table.Rows, cells)
	}
	page := render.Page{render.Heading(b.title), table,
		render.Paragraph("Under each prediction: where 8 in 10 such sets lie.")}
	if undefined != "" {
		page.Add(render.Paragraph("Where there is no number " + undefined + "."))
	}
	page.Add(render.Paragraph(strings.Join(sentences(b.remarks), " ")))
	return reply{document, rows, page, b.care}
}
