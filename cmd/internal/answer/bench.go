package answer

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// MostPoints bounds a bench table.
const MostPoints = 10000

const mostCells = 14 // of a pack

// BenchOptions say what is predicted: motors with props at voltages and throttles or thrusts, or without a motor props
// alone at speeds and airspeeds along their axis. Several motors or props stand side by side.
type BenchOptions struct {
	Motor, Prop  string // ids with commas between
	VoltsV       []float64
	ThrottlesPct []float64
	ThrustsG     []float64 // in place of throttles
	RPMs         []float64
	AirspeedsMPS []float64
	ReadAs       []string // how voltages were read that were given as cells
}

// nominalCellV is the voltage that a lithium cell is called by, V (common practice: 3.7).
const nominalCellV = 3.7

// ParseVolts reads voltages with commas between, each in volts or as a number of cells (6S), which are taken at 3.7 V;
// readAs says so.
func ParseVolts(text string) (voltsV []float64, readAs []string, err error) {
	for word := range strings.SplitSeq(text, ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		if cells, ok := strings.CutSuffix(strings.ToUpper(word), "S"); ok {
			n, err := strconv.Atoi(cells)
			if err != nil || n < 1 || n > mostCells {
				return nil, nil, askf("--volts: %q is no pack: write 1S to %dS, or volts such as 14.8", word, mostCells)
			}
			volts := catalogue.Round(nominalCellV * float64(n))
			voltsV = append(voltsV, volts)
			readAs = append(readAs, catalogue.Say("bench.cells", "cells", n, "volts", catalogue.Raw(volts), "cell",
				catalogue.Raw(nominalCellV)))
			continue
		}
		volts, err := strconv.ParseFloat(strings.TrimSuffix(strings.ToUpper(word), "V"), 64)
		if err != nil {
			return nil, nil, askf("--volts: %q is neither volts nor cells: write 14.8, or 4S", word)
		}
		voltsV = append(voltsV, volts)
	}
	return voltsV, readAs, nil
}

// Bench is the document of bench.
type Bench struct {
	Head
	Motor  string   `json:"motor,omitempty"` // of all points, else each names its own
	Prop   string   `json:"prop,omitempty"`
	ReadAs []string `json:"read_as,omitempty"` // voltages that were given as cells
	Points []Fields `json:"points"`
	// Order says of each two that follow each other at one condition how sure it is that the first is better.
	Order []BenchOrder `json:"order,omitempty"`

	Conditions []BenchColumn `json:"-"` // what is known of the points …
	Predicted  []BenchColumn `json:"-"` // … and what is predicted for them
	Words      BenchWords    `json:"-"`

	sets   []benchSet
	of     []int // of each point, into sets
	given  [][]float64
	values [][]predict.Value // in SI
}

// benchSet is what stands on the bench; motor is nil for a prop alone.
type benchSet struct {
	motor *inventory.Motor
	prop  *inventory.Prop
}

// BenchColumn is a column of the points with the factor from SI.
type BenchColumn struct {
	Key, Name, Unit string
	perSI           float64
}

// BenchWords are the sentences of a bench table.
type BenchWords struct {
	Title     string
	Order     []string // which is better at each condition, and how sure that is
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
	b := &Bench{Head: a.Head, Points: []Fields{}, ReadAs: o.ReadAs}
	b.Drawer, b.Care = d.Name, CareOf(&Scene{Stand: true})
	motors, props := idList(o.Motor), idList(o.Prop)
	if len(motors) == 1 {
		b.Motor = motors[0]
	}
	if len(props) == 1 {
		b.Prop = props[0]
	}
	fill := b.driven
	if len(motors) == 0 {
		motors, fill = []string{""}, b.alone
	}
	for _, motor := range motors {
		for _, prop := range props {
			for _, m := range d.Missing(&inventory.Parts{Motor: motor, Prop: prop}) {
				p := m.Problem()
				return nil, askf("--%s: %w", m.Key, &p)
			}
			b.sets = append(b.sets, benchSet{d.Motor(motor), d.Prop(prop)})
		}
	}
	if n := len(b.sets) * max(len(o.VoltsV)*max(len(o.ThrustsG), len(o.ThrottlesPct)),
		len(o.RPMs)*len(o.AirspeedsMPS)); n > MostPoints {
		return nil, askf("more than %d points: name fewer", MostPoints)
	}
	if err := fill(a, &o); err != nil {
		return nil, AskError{err}
	}
	for i := range b.given {
		b.Points = append(b.Points, b.point(i))
	}
	return b, nil
}

// idList are the ids of a text with commas between, each once.
func idList(text string) []string {
	var list []string
	for id := range strings.SplitSeq(text, ",") {
		if id = strings.TrimSpace(id); id != "" && !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	return list
}

// name names a set by what differs between the sets.
func (b *Bench) name(i int) string {
	s := &b.sets[i]
	switch {
	case s.motor == nil || b.Motor != "" && b.Prop == "":
		return s.prop.ID
	case b.Prop != "" && b.Motor == "":
		return s.motor.ID
	}
	return s.motor.ID + " with " + s.prop.ID
}

// title names all sets.
func (b *Bench) title() string {
	names := make([]string, len(b.sets))
	for i := range names {
		names[i] = b.name(i)
	}
	switch {
	case len(b.sets) == 1:
		return names[0]
	case b.Motor != "":
		return catalogue.Say("bench.with", "motors", b.Motor, "props", names)
	case b.Prop != "":
		return catalogue.Say("bench.with", "motors", names, "props", b.Prop)
	}
	return phrase.Words(names)
}

// driven fills in the points of motors with props.
func (b *Bench) driven(a *Ask, o *BenchOptions) error {
	throttles := make([]float64, len(o.ThrottlesPct))
	for i, pct := range o.ThrottlesPct {
		if !(pct > 0 && pct <= 100) {
			return askf("--throttle-pct: throttle must be over 0 and up to 100 %%, got %g", pct)
		}
		throttles[i] = pct / 100
	}
	thrusts := make([]float64, len(o.ThrustsG))
	for i, g := range o.ThrustsG {
		if !(g > 0 && g <= mostThrustG) {
			return askf("--thrust-g: thrust must be over 0 and up to %g g, got %g", float64(mostThrustG), g)
		}
		thrusts[i] = g / gramsPerNewton()
	}
	if len(thrusts) > 0 {
		throttles = nil
	}
	so := a.Search.Sampling(a.Problem.Drawer)
	if len(b.sets) > 1 {
		so.Draws = cmp.Or(so.Draws, orderDraws)
	}
	found := make([][]predict.StandValue, len(b.sets))
	for i, s := range b.sets {
		var err error
		if found[i], err = predict.ThrustStand(&predict.StandTest{Motor: s.motor, Prop: s.prop, Air: a.Problem.Air,
			VoltsV: o.VoltsV, Throttles: throttles, ThrustsN: thrusts}, so); err != nil {
			return err
		}
		for _, f := range compat.PropMotor(s.prop, s.motor) {
			if f.Severity != compat.Fits {
				b.Words.Remarks = append(b.Words.Remarks, catalogue.Sentences([]string{faults.Finding(&f)})...)
			}
		}
	}
	b.Words.Title = catalogue.Say("bench.on_stand", "title", b.title())
	b.columns(len(thrusts) > 0)
	for k := range found[0] {
		at := make([]int, len(b.sets))
		for i := range at {
			at[i] = i
		}
		slices.SortStableFunc(at, func(i, j int) int { return found[i][k].Better(&found[j][k]) })
		for n, i := range at {
			b.put(i, &found[i][k])
			if n+1 < len(at) {
				b.order(i, at[n+1], &found[i][k], &found[at[n+1]][k])
			}
		}
	}
	return nil
}

// mostThrustG bounds the thrust of one prop on a stand, in grams; orderDraws are the draws that an order takes.
const (
	mostThrustG = 100_000
	orderDraws  = 1600
)

// columns are what is known and what is predicted of motors with props at throttles, or at thrusts.
func (b *Bench) columns(atThrusts bool) {
	throttle := BenchColumn{"throttle_pct", "throttle", "%", 100}
	thrust := BenchColumn{"thrust_g", "thrust", "g", gramsPerNewton()}
	b.Conditions = []BenchColumn{{"volts", "volts", "V", 1}, throttle}
	if atThrusts {
		b.Conditions[1], thrust = thrust, throttle
	}
	b.Predicted = []BenchColumn{{"rpm", "speed", "rpm", rpmPerRadS}, thrust,
		{"torque_mnm", "torque", "mN m", mNmPerNm},
		{"current_a", "current", "A", 1}, {"power_w", "power", "W", 1}, {"thrust_per_power_g_w", "thrust/power", "g/W",
			gramsPerNewton()}}
}

// put adds a point of a set.
func (b *Bench) put(set int, p *predict.StandValue) {
	given, told := 100*p.Throttle, p.ThrustN
	if p.ThrottleNeeded != nil {
		given, told = gramsPerNewton()*p.ThrustN.Value, *p.ThrottleNeeded
	}
	b.of = append(b.of, set)
	b.given = append(b.given, []float64{p.VoltageV, given})
	b.values = append(b.values, []predict.Value{p.SpeedRadS, told, p.TorqueNm, p.CurrentA, p.PowerW, p.EfficiencyNPerW})
}

// BenchOrder is how sure it is that one set is better than the next at one condition: it takes less power for a thrust,
// or gives more thrust at a throttle.
type BenchOrder struct {
	Volts       float64  `json:"volts"`
	ThrustG     *float64 `json:"thrust_g,omitempty"`
	ThrottlePct *float64 `json:"throttle_pct,omitempty"`
	First       string   `json:"first"`
	Second      string   `json:"second"`
	AheadShare  float64  `json:"ahead_share"`
	Lead        string   `json:"lead"`
	Text        string   `json:"text"`
}

// order says how sure it is that one set is better than another at a condition.
func (b *Bench) order(first, second int, p, q *predict.StandValue) {
	share := p.AheadOf(q)
	one := BenchOrder{Volts: catalogue.Round(p.VoltageV), First: b.name(first), Second: b.name(second),
		AheadShare: catalogue.Share(share), Lead: predict.LeadOf(share).String()}
	given := catalogue.Round(100 * p.Throttle)
	if p.ThrottleNeeded != nil {
		given = catalogue.Round(gramsPerNewton() * p.ThrustN.Value)
		one.ThrustG = &given
	} else {
		one.ThrottlePct = &given
	}
	one.Text = catalogue.BenchOrderText(&catalogue.BenchPair{First: one.First, Second: one.Second, VoltsV: one.Volts,
		Given: given, AtThrust: p.ThrottleNeeded != nil, Share: share, Lead: predict.LeadOf(share),
		Unable: q.PowerW.Why != physics.Defined, BothUnable: p.PowerW.Why != physics.Defined})
	b.Order = append(b.Order, one)
	b.Words.Order = append(b.Words.Order, one.Text+".")
}

// alone fills in the points of props alone.
func (b *Bench) alone(a *Ask, o *BenchOptions) error {
	speedsRadS := make([]float64, len(o.RPMs))
	for i, rpm := range o.RPMs {
		speedsRadS[i] = rpm / rpmPerRadS
	}
	b.Conditions = []BenchColumn{{"rpm", "speed", "rpm", 1}, {"airspeed_mps", "airspeed", "m/s", 1}}
	b.Predicted = []BenchColumn{{"ct", "CT", "", 1}, {"cp", "CP", "", 1}, {"thrust_g", "thrust", "g", gramsPerNewton()},
		{"torque_mnm", "torque", "mN m", mNmPerNm}}
	b.Words.Title = catalogue.Say("bench.alone", "title", b.title())
	for i, s := range b.sets {
		points, err := predict.PropAlone(s.prop, a.Problem.Air, speedsRadS, o.AirspeedsMPS,
			a.Search.Sampling(a.Problem.Drawer))
		if err != nil {
			return err
		}
		for k := range points {
			p := &points[k]
			b.of = append(b.of, i)
			b.given = append(b.given, []float64{p.SpeedRadS * rpmPerRadS, p.AirspeedMS})
			b.values = append(b.values, []predict.Value{p.Thrust, p.Power, p.ThrustN, p.TorqueNm})
		}
	}
	return nil
}

// Named are the heads of the columns that name a set: of what differs between the sets.
func (b *Bench) Named() []string {
	var heads []string
	if b.Motor == "" && b.sets[0].motor != nil {
		heads = append(heads, "motor")
	}
	if b.Prop == "" {
		heads = append(heads, "prop")
	}
	return heads
}

// names are the ids under those heads.
func (b *Bench) names(i int) []string {
	var ids []string
	for _, head := range b.Named() {
		if s := &b.sets[b.of[i]]; head == "motor" {
			ids = append(ids, s.motor.ID)
		} else {
			ids = append(ids, s.prop.ID)
		}
	}
	return ids
}

// point is a point as it stands in the document.
func (b *Bench) point(i int) Fields {
	var point Fields
	ids := b.names(i)
	for k, head := range b.Named() {
		point = append(point, Field{Key: head, Value: ids[k]})
	}
	for k, c := range b.Conditions {
		point = append(point, Field{Key: c.Key, Value: catalogue.Round(b.given[i][k])})
	}
	for k, c := range b.Predicted {
		v := b.values[i][k]
		if v.Why != physics.Defined {
			point = append(point, Field{Key: c.Key, Value: Unknown(v.Basis.String(), catalogue.Undefined(v.Why))})
			b.Words.Undefined = catalogue.Say("bench.undefined", "why", catalogue.Undefined(v.Why))
			continue
		}
		point = append(point, Field{Key: c.Key, Value: Known(c.perSI*v.Value, c.perSI*v.Low, c.perSI*v.High,
			v.Basis.String())})
	}
	return point
}

// Texts are the cells of point i as people read them: what names it, the conditions, then each prediction over its
// interval.
func (b *Bench) Texts(i int) []string {
	cells := b.names(i)
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
	rows := &Rows{Keys: b.Named()}
	for _, c := range b.Conditions {
		rows.Keys = append(rows.Keys, c.Key)
	}
	for _, c := range b.Predicted {
		rows.Keys = append(rows.Keys, c.Key, c.Key+"_low", c.Key+"_high")
	}
	for i := range b.given {
		row := b.names(i)
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
