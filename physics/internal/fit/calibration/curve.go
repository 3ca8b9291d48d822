// Package calibration measures how far physics can tell stands apart and how true its doubts are: the order of pairs of
// motors and props, the shares of draws behind that order, intervals, and what a reading brings.
package calibration

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/rotor"
)

// Curve is one motor with one prop on one stand and one supply, its rows by rising thrust.
type Curve struct {
	Stand, Motor, Esc, Prop string
	StatorM, TallM, LabelKV float64
	Spec                    rotor.Spec
	SupplyV                 float64
	Rows                    []rig.Row
	ThrustScaled            bool // the stand's thrust scale was corrected: good for pairs alone
	WholeThrottle           bool // the throttle that was read ends at full duty
}

// Known faults of the stands, see the notes of the reference figures.
const (
	lowThrustScale = 0.72 // of the 14.7 V runs
	limitedSupply  = 0.96 // of the largest voltage: below, the supply's current limit holds it down
	microIdleA     = 0.17 // of ESC and stand, at rest
	microPitchIn   = 1.0  // of the 40 mm props, as of the 40 mm two-blade prop of Cox & Dantsker 2026
	microInch      = 1.575
	wholeThrottle  = 0.95 // at which full duty counts as the end of the throttle
	newSupply      = 1.10 // a row of a run belongs to another supply from this ratio of voltages on
)

// Load reads the curves of every stand.
func Load(folder string) ([]Curve, error) {
	set, err := rig.Load(folder)
	if err != nil {
		return nil, err
	}
	var all []Curve
	micro := false
	for _, list := range [][]*rig.Rig{set.Rigs, set.LabelOnly} {
		for _, r := range list {
			micro = micro || r.Source() == microStand
			all = append(all, curvesOf(r)...)
		}
	}
	if micro {
		return all, nil
	}
	curves, err := loadMicro(folder)
	return append(all, curves...), err
}

const microStand = "stand-micro-1s"

// curvesOf are a rig's runs, parted by supply.
func curvesOf(r *rig.Rig) []Curve {
	var out []Curve
	whole := false
	for i := range r.Runs {
		for k := range r.Runs[i].Rows {
			row := &r.Runs[i].Rows[k]
			whole = whole || row.Full && row.Throttle > wholeThrottle && !r.Runs[i].LowReading
		}
	}
	for i := range r.Runs {
		run := &r.Runs[i]
		rows := slices.DeleteFunc(slices.Clone(run.Rows), func(x rig.Row) bool { return !(x.ThrustN > 0 && x.CurrentA > 0) })
		slices.SortStableFunc(rows, func(a, b rig.Row) int { return cmp.Compare(b.VoltageV, a.VoltageV) })
		for len(rows) > 0 {
			n := len(rows)
			if r.Source() == "stand-2in-2020" { // many supplies in one run
				n = 0
				for n < len(rows) && rows[n].VoltageV > rows[0].VoltageV/newSupply {
					n++
				}
			}
			c := Curve{Stand: r.Source(), Esc: strings.TrimSpace(strings.TrimPrefix(r.Stand(), r.Source())),
				Motor: r.Name, Prop: run.Prop, StatorM: r.StatorM, TallM: r.TallM, LabelKV: r.LabelKV, Spec: run.Spec,
				SupplyV: rows[0].VoltageV, Rows: rows[:n:n], WholeThrottle: whole && !run.LowReading}
			rows = rows[n:]
			if r.Source() == "cao-strawson-2018" {
				c.Rows = slices.DeleteFunc(c.Rows, func(x rig.Row) bool { return x.VoltageV < limitedSupply*c.SupplyV })
			}
			if run.LowReading {
				if c.SupplyV < 14.6 || c.SupplyV > 14.8 {
					continue
				}
				c.ThrustScaled, c.Stand = true, c.Stand+" 14.7 V"
				for k := range c.Rows {
					c.Rows[k].ThrustN /= lowThrustScale
				}
			}
			if c.sorted() {
				out = append(out, c)
			}
		}
	}
	return out
}

// sorted brings the rows into rising thrust and reports whether there are any.
func (c *Curve) sorted() bool {
	slices.SortStableFunc(c.Rows, func(a, b rig.Row) int { return cmp.Compare(a.ThrustN, b.ThrustN) })
	return len(c.Rows) > 0
}

// loadMicro reads the stand of two small motors on one cell. Each sweep ends at its largest thrust: after it a prop or
// motor had come loose.
func loadMicro(folder string) ([]Curve, error) {
	t, err := reference.Read(folder, "stand_micro_1s.csv", "motor", "kv_rpm_per_v", "prop", "blades", "esc_signal_us",
		"thrust_g", "voltage_v", "current_a")
	if err != nil {
		return nil, err
	}
	sweep, last := 0, math.Inf(-1)
	out, err := group(t, microStand, func(i int) string {
		if at := t.Number(i, "esc_signal_us"); at < last {
			sweep++
		}
		last = t.Number(i, "esc_signal_us")
		return fmt.Sprint(t.Text(i, "motor"), sweep)
	}, func(i int) rotor.Spec { return props.Label(microInch, microPitchIn, int(t.Number(i, "blades"))) },
		func(i int) rig.Row {
			return rig.Row{VoltageV: t.Number(i, "voltage_v"), CurrentA: t.Number(i, "current_a") - microIdleA,
				ThrustN: t.Number(i, "thrust_g") * props.NewtonPerGram}
		})
	for k := range out {
		most := 0
		for i, row := range out[k].Rows {
			if row.ThrustN > out[k].Rows[most].ThrustN {
				most = i
			}
		}
		out[k].Rows = out[k].Rows[:most+1]
		out[k].sorted()
	}
	return out, err
}

// group gathers a table's rows into curves by key.
func group(t *reference.Table, stand string, key func(i int) string, spec func(i int) rotor.Spec,
	read func(i int) rig.Row) ([]Curve, error) {
	var out []Curve
	index := map[string]int{}
	for i := range t.Rows {
		k, ok := index[key(i)]
		if !ok {
			name := t.Text(i, "motor")
			d, h, err := rig.StatorOf(name)
			if err != nil {
				return nil, err
			}
			k = len(out)
			index[key(i)] = k
			out = append(out, Curve{Stand: stand, Motor: name, Prop: t.Text(i, "prop"), StatorM: d, TallM: h,
				LabelKV: t.Number(i, "kv_rpm_per_v"), Spec: spec(i)})
		}
		c := &out[k]
		row := read(i)
		c.Rows = append(c.Rows, row)
		c.SupplyV = math.Max(c.SupplyV, row.VoltageV)
	}
	return out, t.Err()
}

// Reading is what a stand shows, by interpolation between its rows in logarithms.
type Reading struct {
	VoltageV, ThrustN, PowerW, CurrentA, SpeedRadS, Throttle float64
	Duty                                                     float64 // of the bus, known at full throttle alone
}

func readingOf(r *rig.Row) Reading {
	return Reading{VoltageV: r.VoltageV, ThrustN: r.ThrustN, PowerW: r.VoltageV * r.CurrentA, CurrentA: r.CurrentA,
		SpeedRadS: r.SpeedRadS, Throttle: r.Throttle, Duty: r.Duty}
}

func between(a, b *rig.Row, share float64) Reading {
	p, q := readingOf(a), readingOf(b)
	mix := func(x, y float64) float64 {
		if !(x > 0 && y > 0) {
			return 0
		}
		return math.Exp((1-share)*math.Log(x) + share*math.Log(y))
	}
	out := Reading{VoltageV: mix(p.VoltageV, q.VoltageV), ThrustN: mix(p.ThrustN, q.ThrustN),
		CurrentA: mix(p.CurrentA, q.CurrentA), SpeedRadS: mix(p.SpeedRadS, q.SpeedRadS), Throttle: mix(p.Throttle,
			q.Throttle)}
	out.PowerW = out.VoltageV * out.CurrentA
	return out
}

// AtThrust reads the curve at a thrust inside its rows.
func (c *Curve) AtThrust(thrustN float64) (Reading, bool) {
	for i := 1; i < len(c.Rows); i++ {
		a, b := &c.Rows[i-1], &c.Rows[i]
		if a.ThrustN <= thrustN && thrustN <= b.ThrustN && a.ThrustN < b.ThrustN {
			return between(a, b, math.Log(thrustN/a.ThrustN)/math.Log(b.ThrustN/a.ThrustN)), true
		}
	}
	return Reading{}, false
}

// AtThrottle reads the curve at a throttle inside its rows.
func (c *Curve) AtThrottle(throttle float64) (Reading, bool) {
	rows := slices.DeleteFunc(slices.Clone(c.Rows), func(r rig.Row) bool { return !(r.Throttle > 0) })
	slices.SortStableFunc(rows, func(a, b rig.Row) int { return cmp.Compare(a.Throttle, b.Throttle) })
	for i := 1; i < len(rows); i++ {
		a, b := &rows[i-1], &rows[i]
		if a.Throttle <= throttle && throttle <= b.Throttle && a.Throttle < b.Throttle {
			return between(a, b, math.Log(throttle/a.Throttle)/math.Log(b.Throttle/a.Throttle)), true
		}
	}
	return Reading{}, false
}

// Full is the row of full throttle, its current that of the supply.
func (c *Curve) Full() (Reading, bool) {
	for i := len(c.Rows) - 1; i >= 0; i-- {
		if c.Rows[i].Full {
			return readingOf(&c.Rows[i]), true
		}
	}
	return Reading{}, false
}

// MostN is the largest thrust of the curve.
func (c *Curve) MostN() float64 { return c.Rows[len(c.Rows)-1].ThrustN }

func (c *Curve) String() string {
	return strings.TrimSpace(fmt.Sprintf("%s %s %s %s %.1f V", c.Stand, c.Motor, c.Prop, c.Esc, c.SupplyV))
}

// PropClass sorts props by size, in the words of the tables.
func PropClass(diameterM float64) string {
	switch d := diameterM / props.MetresPerInch; {
	case d < 2.5:
		return "under 2.5 in"
	case d < 4.2:
		return "2.5-4.2 in"
	case d < 6.5:
		return "4.2-6.5 in"
	}
	return "6.5 in and more"
}

// MotorClass sorts motors by their stator's diameter.
func MotorClass(statorM float64) string {
	switch d := statorM * 1000; {
	case d < 11.5:
		return "8 to 11 mm"
	case d < 20.5:
		return "12 to 20 mm"
	}
	return "22 to 25 mm"
}
