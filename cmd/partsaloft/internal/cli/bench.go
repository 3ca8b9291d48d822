package cli

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
)

type benchOptions struct {
	answer.BenchOptions
	volts                  string
	voltsGiven, rpmsGiven  bool
	throttleGiven, airflow bool
	thrustGiven            bool
}

func newBench(s *commands) *cobra.Command {
	o := &benchOptions{}
	c := &cobra.Command{
		Use:   "bench",
		Short: "Predict the thrust-stand table of a motor and a prop, or of a prop alone",
		Long: `bench predicts what a motor with a prop shows on a thrust stand: volts are those at the ESC, from a
bench supply without sag. --thrust-g asks what a motor takes for a thrust: current, power, speed and
throttle. Several motors or props, with commas between, stand side by side, with how sure their order
is. With --rpm instead of --motor it predicts a prop alone, at an airspeed along its axis if one is
given.`,
		Example: `  partsaloft bench --motor m1507-27 --prop p3.5-26x3 --volts 11.1,14.8 --throttle-pct 25,50,75,100
  partsaloft bench --motor m1507-27 --prop p3.5-26x3,p3.5-23x2 --volts 4S --thrust-g 60,125
  partsaloft bench --prop p3.5-26x3 --rpm 8000,16000 --airspeed-mps 0,10`,
		Args: exit.NoArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			o.voltsGiven, o.rpmsGiven = c.Flags().Changed("volts"), c.Flags().Changed("rpm")
			o.thrustGiven = c.Flags().Changed("thrust-g")
			o.throttleGiven, o.airflow = c.Flags().Changed("throttle-pct"), c.Flags().Changed("airspeed-mps")
			return s.bench(c.Context(), o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.Motor, "motor", "", "`ID,...` of the motor, or of several")
	f.StringVar(&o.Prop, "prop", "", "`ID,...` of the prop, or of several")
	f.StringVar(&o.volts, "volts", "", "`V,...` at the ESC, or cells: 6S")
	f.Float64SliceVar(&o.ThrottlesPct, "throttle-pct", []float64{25, 50, 75, 100}, "`PERCENT,...` of throttle")
	f.Float64SliceVar(&o.ThrustsG, "thrust-g", nil, "`GRAMS,...` of thrust a motor, in place of throttle")
	f.Float64SliceVar(&o.RPMs, "rpm", nil, "`RPM,...` of a prop alone")
	f.Float64SliceVar(&o.AirspeedsMPS, "airspeed-mps", []float64{0}, "`M/S,...` along the axis of a prop alone")
	return s.Take(c, session.UsesDrawer|session.UsesAir|session.UsesLearned|session.UsesSeed|session.UsesResult)
}

// check says what the flags of bench contradict or lack.
func (o *benchOptions) check() error {
	switch {
	case o.Prop == "":
		return exit.Usagef("--prop is missing: name a prop of the drawer")
	case o.Motor != "" && (o.rpmsGiven || o.airflow):
		return exit.Usagef("--motor goes with --volts and --throttle-pct; leave it out for a prop alone at --rpm")
	case o.Motor == "" && !o.rpmsGiven:
		return exit.Usagef("name a --motor with --volts, or --rpm for the prop alone")
	case o.Motor == "" && (o.voltsGiven || o.throttleGiven || o.thrustGiven):
		return exit.Usagef("--volts, --throttle-pct and --thrust-g take a --motor")
	case o.throttleGiven && o.thrustGiven:
		return exit.Usagef("name --throttle-pct or --thrust-g, not both")
	case o.Motor != "" && o.volts == "":
		return exit.Usagef("--volts is missing: name the voltages at the ESC, such as --volts 11.1,14.8 or --volts 4S")
	}
	return nil
}

func (s *commands) bench(ctx context.Context, o *benchOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	var err error
	if o.VoltsV, o.ReadAs, err = answer.ParseVolts(o.volts); err != nil {
		return exit.Asked(err)
	}
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d, err := answer.PredictBench(ask, o.BenchOptions)
	if err != nil {
		return exit.Asked(err)
	}
	return s.Deliver(ctx, d, session.Sheet{Page: benchPage(d)})
}

func benchPage(d *answer.Bench) render.Page {
	t := &render.Table{}
	for _, head := range d.Named() {
		t.Columns = append(t.Columns, render.Left(head))
	}
	head := func(c *answer.BenchColumn) render.Column {
		return render.Right(strings.TrimSuffix(c.Name+"\n"+c.Unit, "\n"))
	}
	for i := range d.Conditions {
		t.Columns = append(t.Columns, head(&d.Conditions[i]).Titled())
	}
	for i := range d.Predicted {
		t.Columns = append(t.Columns, head(&d.Predicted[i]))
	}
	for i := range d.Points {
		t.Add(d.Texts(i)...)
	}
	page := render.Page{render.Heading(d.Words.Title), render.Paragraph(strings.Join(d.ReadAs, " "))}
	if len(d.Words.Order) > 0 {
		page.Add(render.List(d.Words.Order))
	}
	page.Add(t, render.Paragraph("Under each prediction: its likely range."),
		render.Paragraph(d.Words.Undefined), render.Paragraph(strings.Join(d.Words.Remarks, " ")))
	return page
}
