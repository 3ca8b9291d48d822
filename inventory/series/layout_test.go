package series

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"partsaloft/inventory/strict"
)

// column is how an invented file writes one quantity.
type column struct {
	head  string
	unit  string // in a row of its own, if the file has one
	value func(t float64, y *sample) string
}

func fixed(digits int, of func(t float64, y *sample) float64) func(float64, *sample) string {
	return func(t float64, y *sample) string { return strconv.FormatFloat(of(t, y), 'f', digits, 64) }
}

// as writes a quantity times a factor plus an offset.
func as(head string, digits int, by, offset float64, of func(y *sample) float64) column {
	return column{head: head, value: fixed(digits, func(_ float64, y *sample) float64 { return by*of(y) + offset })}
}

func voltsOf(y *sample) float64    { return y.volts }
func ampsOf(y *sample) float64     { return y.amps }
func throttleOf(y *sample) float64 { return y.duty }
func rpmOf(y *sample) float64      { return y.rpm }
func speedOf(y *sample) float64    { return y.speed }
func tiltOf(y *sample) float64     { return y.tilt }
func usedOf(y *sample) float64     { return y.used }
func heightOf(y *sample) float64   { return y.height }

func clockText(layout string, shift time.Duration) func(float64, *sample) string {
	start := time.Date(2031, 5, 1, 12, 0, 0, 0, time.UTC).Add(shift)
	return func(t float64, _ *sample) string {
		return start.Add(time.Duration(math.Round(t*1000)) * time.Millisecond).Format(layout)
	}
}

func timeAs(head string, digits int, by, offset float64) column {
	return column{head: head, value: fixed(digits, func(t float64, _ *sample) float64 { return t*by + offset })}
}

// habit is one way in which a file may be written.
type habit struct {
	name      string
	separator string
	comma     bool // decimal comma
	before    string
	noHead    bool
	units     []string
	behind    string // each line
	end       string
	quote     bool
	columns   []column
	options   Options
	damage    func(lines []string) []string
}

func habits() []habit {
	plain := []column{timeAs("time (s)", 3, 1, 0), as("voltage (V)", 2, 1, 0, voltsOf), as("current (A)", 1, 1, 0, ampsOf),
		as("throttle (%)", 1, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)}
	with := func(h habit, columns ...column) habit {
		h.columns = columns
		return h
	}
	list := []habit{
		{name: "plain", columns: plain},
		with(habit{name: "milliseconds, 1000 to 2000, millivolts"}, timeAs("ms", 0, 1000, 0), as("Pack mV", 0, 1000, 0, voltsOf),
			as("Pack mA", 0, 1000, 0, ampsOf), as("Throttle", 0, 10, 1000, throttleOf), as("RPM", 0, 1, 0, rpmOf)),
		with(habit{name: "microseconds from a large number, hundredths"}, timeAs("timestamp", 0, 1e6, 4.2e9),
			as("batt_voltage", 0, 100, 0, voltsOf), as("batt_current", 0, 100, 0, ampsOf), as("thr", 3, 0.01, 0, throttleOf),
			as("rpm_1", 0, 1, 0, rpmOf), as("rpm_2", 0, 1, 0, rpmOf), as("rpm_3", 0, 1, 0, rpmOf)),
		with(habit{name: "semicolon and decimal comma", separator: ";", comma: true}, timeAs("Zeit [s]", 3, 1, 0),
			as("Spannung [V]", 2, 1, 0, voltsOf), as("Strom [A]", 2, 1, 0, ampsOf), as("Gas [%]", 1, 1, 0, throttleOf),
			as("Drehzahl [U/min]", 0, 1, 0, rpmOf)),
		with(habit{name: "tabs, decimal comma, a row of units", separator: "\t", comma: true, units: []string{"s", "V", "A", "%",
			"1/min"}}, timeAs("t", 2, 1, 0), as("U", 3, 1, 0, voltsOf), as("I", 2, 1, 0, ampsOf),
			as("throttle", 1, 1, 0, throttleOf), as("n rpm", 0, 1, 0, rpmOf)),
		{name: "remarks above and between", before: "# flown by hand\n# craft,gull\n", columns: plain,
			damage: func(l []string) []string {
				return append(append(append([]string{}, l[:40]...), "# a remark, with, commas, in, it"), l[40:]...)
			}},
		{name: "headings in a remark", before: "# time (s), voltage (V), current (A), throttle (%), rpm\n", noHead: true,
			columns: plain},
		{name: "settings above", before: "craft,gull\nfirmware,none\nrate,50\nnote,\"two, with comma\"\n\n", columns: plain},
		with(habit{name: "clock times"}, column{head: "clock", value: clockText("15:04:05.000", 0)},
			as("Volts", 2, 1, 0, voltsOf), as("Amps", 1, 1, 0, ampsOf), as("Throttle %", 0, 1, 0, throttleOf),
			as("RPM", 0, 1, 0, rpmOf)),
		with(habit{name: "days and times over midnight"},
			column{head: "Time", value: clockText("2006-01-02 15:04:05.000", 12*time.Hour-30*time.Second)},
			as("Voltage", 2, 1, 0, voltsOf), as("Current", 1, 1, 0, ampsOf), as("Throttle", 0, 1, 0, throttleOf),
			as("RPM", 0, 1, 0, rpmOf)),
		with(habit{name: "clock without a day over midnight"},
			column{head: "Time", value: clockText("15:04:05.000", 12*time.Hour-30*time.Second)},
			as("Voltage", 2, 1, 0, voltsOf), as("Current", 1, 1, 0, ampsOf), as("Throttle", 0, 1, 0, throttleOf),
			as("RPM", 0, 1, 0, rpmOf)),
		with(habit{name: "a voltage a cell"}, timeAs("elapsed", 3, 1, 0), as("cell voltage", 3, 0.25, 0, voltsOf),
			as("current", 2, 1, 0, ampsOf), as("throttle", 0, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)),
		with(habit{name: "each cell"}, timeAs("time", 3, 1, 0), as("cell 1 (V)", 3, 0.25, 0.01, voltsOf),
			as("cell 2 (V)", 3, 0.25, -0.01, voltsOf), as("cell 3 (V)", 3, 0.25, 0.02, voltsOf),
			as("cell 4 (V)", 3, 0.25, -0.02, voltsOf), as("current (A)", 2, 1, 0, ampsOf),
			as("throttle (%)", 0, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)),
		with(habit{name: "electrical rpm", options: Options{Poles: 12}}, timeAs("time_us", 0, 1e6, 0),
			as("voltage_v", 2, 1, 0, voltsOf), as("current_a", 2, 1, 0, ampsOf), as("throttle_pct", 1, 1, 0, throttleOf),
			as("eRPM 1", 0, 6, 0, rpmOf), as("eRPM 2", 0, 6, 0, rpmOf)),
		with(habit{name: "electrical rpm in hundreds", options: Options{Poles: 14}}, timeAs("time_ms", 0, 1e3, 0),
			as("voltage_v", 2, 1, 0, voltsOf), as("current_a", 2, 1, 0, ampsOf), as("throttle", 0, 10, 0, throttleOf),
			as("erpm/100", 0, 0.07, 0, rpmOf)),
		with(habit{name: "current of each ESC, outputs"}, timeAs("Time (ms)", 0, 1e3, 0), as("Battery (V)", 2, 1, 0, voltsOf),
			as("ESC 1 current", 2, 0.25, 0, ampsOf), as("ESC 2 current", 2, 0.25, 0, ampsOf),
			as("ESC 3 current", 2, 0.25, 0, ampsOf), as("ESC 4 current", 2, 0.25, 0, ampsOf),
			as("motor 1", 0, 20, 0, throttleOf), as("motor 2", 0, 20, 0, throttleOf), as("rpm 1", 0, 1, 0, rpmOf)),
		with(habit{name: "no headings", noHead: true}, timeAs("", 3, 1, 0), as("", 2, 1, 0, voltsOf), as("", 2, 1, 0, ampsOf),
			as("", 3, 0.01, 0, throttleOf), as("", 0, 1, 0, rpmOf)),
		with(habit{name: "no headings, named by number", noHead: true, options: Options{Columns: map[Quantity][]string{
			Throttle: {"2"}, Volts: {"4 [mV]"}, Amps: {"3"}, RPM: {"5"}}}}, timeAs("", 3, 1, 0),
			as("", 0, 1, 0, throttleOf), as("", 2, 1, 0, ampsOf), as("", 0, 1000, 0, voltsOf), as("", 0, 1, 0, rpmOf)),
		with(habit{name: "units behind values"}, column{"time", "", func(t float64, _ *sample) string {
			return fmt.Sprintf("%.0f ms", t*1000)
		}}, column{"voltage", "", func(_ float64, y *sample) string { return fmt.Sprintf("%.2fV", y.volts) }},
			column{"current", "", func(_ float64, y *sample) string { return fmt.Sprintf("%.1f A", y.amps) }},
			column{"throttle", "", func(_ float64, y *sample) string { return fmt.Sprintf("%.1f%%", y.duty) }},
			as("rpm", 0, 1, 0, rpmOf)),
		{name: "quoted, Windows line ends", quote: true, end: "\r\n", columns: plain},
		{name: "quoted decimal commas", quote: true, comma: true, columns: plain},
		{name: "a separator at every end, byte order mark", behind: ",", before: "\ufeff", columns: plain},
		{name: "a line that names the separator", before: "sep=;\n", separator: ";", columns: plain},
		with(habit{name: "blanks between", separator: "   "}, timeAs("time_s", 3, 1, 0), as("volts", 2, 1, 0, voltsOf),
			as("amps", 1, 1, 0, ampsOf), as("throttle", 1, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)),
		with(habit{name: "bars between", separator: "|"}, timeAs("time", 3, 1, 0), as("volts", 2, 1, 0, voltsOf),
			as("amps", 1, 1, 0, ampsOf), as("throttle", 1, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)),
		with(habit{name: "many others beside"}, as("loop iteration", 0, 0, 7, ampsOf), timeAs("timeSec", 3, 1, 0),
			as("gyro roll rate", 2, 3, 0, tiltOf), as("roll stick", 2, 0.3, 0, tiltOf), as("setpoint throttle", 0, 1, 5, throttleOf),
			as("5V rail (V)", 3, 0, 5.02, ampsOf), as("receiver voltage", 2, 0, 5, ampsOf), as("pack voltage", 2, 1, 0, voltsOf),
			as("current altitude (m)", 1, 1, 0, heightOf), as("pack current", 1, 1, 0, ampsOf),
			as("motor temperature 1", 1, 0.1, 30, ampsOf), as("vertical speed", 1, 0.1, 0, speedOf),
			as("ground speed (km/h)", 2, 3.6, 0, speedOf), as("throttle command", 1, 1, 0, throttleOf),
			as("consumed mAh", 0, 1, 0, usedOf), as("remaining mAh", 0, -1, 600, usedOf), as("motor speed rpm", 0, 1, 0, rpmOf)),
		{name: "damage", columns: plain, damage: func(l []string) []string {
			list := append([]string{}, l...)
			for i := 20; i < len(list)-10; i += 97 {
				f := strings.Split(list[i], ",")
				f[1+i%4] = []string{"", "NaN", "nan", "-"}[i%4]
				list[i] = strings.Join(f, ",")
			}
			list[500] = list[499]                        // a time that stands twice
			list[600], list[601] = list[601], list[600]  // two rows in the wrong order
			list[len(list)-1] = list[len(list)-1][:3]    // cut off
			return append(list[:700:700], list[760:]...) // a gap
		}},
		{name: "strung together", columns: plain, damage: func(l []string) []string {
			short := append([]string{}, l[1:200]...) // a recording that ended before it flew for long
			return append(append(append([]string{l[0]}, short...), l[0]), l[1:]...)
		}},
		with(habit{name: "slow columns between blanks"}, timeAs("time", 3, 1, 0),
			column{"voltage", "", func(t float64, y *sample) string {
				if int(math.Round(t*20))%4 != 0 {
					return ""
				}
				return fmt.Sprintf("%.2f", y.volts)
			}}, as("current", 1, 1, 0, ampsOf), as("throttle", 1, 1, 0, throttleOf), as("rpm", 0, 1, 0, rpmOf)),
		with(habit{name: "thousands parted"}, timeAs("time", 3, 1, 0), as("voltage", 2, 1, 0, voltsOf),
			as("current", 1, 1, 0, ampsOf), as("throttle", 1, 1, 0, throttleOf), column{"rpm", "", func(_ float64, y *sample) string {
				n := int(math.Round(y.rpm))
				if n < 1000 {
					return fmt.Sprint(n)
				}
				return fmt.Sprintf("\"%d,%03d\"", n/1000, n%1000)
			}}),
	}
	return list
}

func (h *habit) write(at []float64, list []sample) string {
	separator := h.separator
	if separator == "" {
		separator = ","
	}
	end := h.end
	if end == "" {
		end = "\n"
	}
	var lines []string
	row := func(text func(c *column) string) {
		var f []string
		for i := range h.columns {
			x := text(&h.columns[i])
			if h.comma {
				x = strings.Replace(x, ".", ",", 1)
			}
			if h.quote {
				x = `"` + x + `"`
			}
			f = append(f, x)
		}
		lines = append(lines, strings.Join(f, separator)+h.behind)
	}
	if !h.noHead {
		row(func(c *column) string { return c.head })
	}
	if h.units != nil {
		lines = append(lines, strings.Join(h.units, separator))
	}
	for i := range list {
		row(func(c *column) string { return c.value(at[i], &list[i]) })
	}
	if h.damage != nil {
		lines = h.damage(lines)
	}
	return h.before + strings.Join(lines, end) + end
}

// exampleFlight is a short flight of the 3-inch craft at 20 Hz.
func exampleFlight(t testing.TB) (*simulator, []float64, []sample) {
	c := crafts(t)[2]
	s := newSimulator(&c, rand.New(rand.NewPCG(3, 4)))
	hover := func(x float64) phase { return phase{kind: "hover", lastsS: x, lift: 1, unrest: 0.02, tiltDeg: 2} }
	s.run([]phase{{kind: "ground", lastsS: 4, lift: 0.01}, {kind: "idle", lastsS: 2, lift: 0.03},
		{kind: "climb", lastsS: 1, lift: 1.15}, hover(12), {kind: "hard", lastsS: 10, lift: 1.6, unrest: 0.3, torque: 1.1,
			speedMS: 12, tiltDeg: 40}, {kind: "punch", lastsS: 1, lift: 50}, {kind: "descent", lastsS: 1, lift: 0.3}, hover(8),
		{kind: "cruise", lastsS: 15, lift: 1.3, unrest: 0.08, torque: 1.2, speedMS: 9, tiltDeg: 25}, {kind: "punch", lastsS: 1.2,
			lift: 50}, hover(6), {kind: "idle", lastsS: 1, lift: 0.03}, {kind: "ground", lastsS: 8, lift: 0.01}})
	o := sensors{rateHz: 20, voltsGain: 1, ampsGain: 1, ampsNoise: 0.01, voltsStep: 0.001, ampsStep: 0.01, throttleStep: 0.1,
		rpmNoise: 0.003}
	at, list := s.shown(&o)
	return s, at, list
}

// Property: one flight, written in the ways of other files, gives the same readings.
func TestHabitsOfFiles(t *testing.T) {
	_, at, list := exampleFlight(t)
	var want *Flight
	all := habits()
	if len(all) < 21 {
		t.Fatal(len(all))
	}
	for _, h := range all {
		text := h.write(at, list)
		o := h.options
		o.Pack.Cells = 4
		r, err := Read("flight.csv", strings.NewReader(text), o)
		if err != nil {
			t.Errorf("%s: %v\n%.300s", h.name, err, text)
			continue
		}
		f, err := r.Flight()
		if err != nil {
			t.Errorf("%s: %v\n%.300s", h.name, err, text)
			continue
		}
		if want == nil {
			want = f
		}
		for _, c := range [...]struct {
			what      string
			got, want *Figure
			within    float64
		}{{"hover throttle", f.Hover.ThrottlePct, want.Hover.ThrottlePct, 0.03}, {"hover current", f.Hover.CurrentA,
			want.Hover.CurrentA, 0.03}, {"hover volts", f.Hover.PackV, want.Hover.PackV, 0.01}, {"hover rpm", f.Hover.RPM,
			want.Hover.RPM, 0.01}, {"resistance", f.Pack.ResistanceOhm, want.Pack.ResistanceOhm, 0.08}, {"used",
			f.Charge.UsedMAh, want.Charge.UsedMAh, 0.06}, {"largest", f.Load.LargestA, want.Load.LargestA, 0.08}} {
			if c.got == nil || c.want == nil || math.Abs(c.got.Value/c.want.Value-1) > c.within {
				t.Errorf("%s: %s is %v, want %v\n%s\n%.300s", h.name, c.what, c.got, c.want, columnsText(r), text)
				break
			}
		}
		if x := f.AirborneS / want.AirborneS; math.Abs(x-1) > 0.06 {
			t.Errorf("%s: %.1f s in the air, want %.1f", h.name, f.AirborneS, want.AirborneS)
		}
	}
}

func columnsText(r *Record) string {
	var b strings.Builder
	for _, c := range r.Columns {
		fmt.Fprintf(&b, "  %s %q %d %s %g (%g) %s %g to %g\n", c.Quantity, c.Heading, c.Number, c.Unit, c.Factor, c.Offset, c.How,
			c.Low, c.High)
	}
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "  note %s %v\n", n.Code, n.Values)
	}
	return b.String()
}

// Property: files that are none, or not whole, are told with a line.
func TestBadFilesAreTold(t *testing.T) {
	_, at, list := exampleFlight(t)
	plain := habits()[0]
	text := plain.write(at, list)
	lines := strings.Split(strings.TrimSpace(text), "\n")
	change := func(f func(l []string)) string {
		l := append([]string{}, lines...)
		f(l)
		return strings.Join(l, "\n")
	}
	named := func(q Quantity, name string) Options { return Options{Columns: map[Quantity][]string{q: {name}}} }
	for _, c := range []struct {
		name, text string
		options    Options
		code       strict.Code
		line       int
	}{
		{"nothing", "", Options{}, "series.empty", 0},
		{"blank lines", "\n\n \n", Options{}, "series.empty", 0},
		{"prose", "this is a letter\nto a friend\n", Options{}, "series.no_rows", 0},
		{"two bytes a letter", "\xff\xfet\x00i\x00", Options{}, "series.utf16", 1},
		{"binary", "time,volts\n1,2\n\x00\x01\x02", Options{}, "series.binary", 3},
		{"one long line", "time,volts\n" + strings.Repeat("1,", 1<<20), Options{}, "series.long_line", 2},
		{"few rows", strings.Join(lines[:8], "\n"), Options{}, "series.few_rows", 0},
		{"no time", change(func(l []string) { l[0] = "a,voltage,current,throttle,rpm" }), Options{}, "series.no_time", 1},
		{"nothing known", "time,hue,mood\n" + numbered(30, ",7,calm"), Options{}, "series.no_columns", 1},
		{"no such column", text, named(Volts, "Voltt"), "series.no_such_column", 1},
		{"no such unit", text, named(Volts, "voltage (V) [miles]"), "series.unit", 1},
		{"commas part all", "time,volts,amps\n" + strings.Repeat("0,1,16,8,3,2\n", 30), Options{}, "series.comma_twice", 2},
		{"words for numbers", change(func(l []string) {
			for i := 1; i < len(l); i++ {
				f := strings.Split(l[i], ",")
				f[2] = "many"
				l[i] = strings.Join(f, ",")
			}
		}), Options{}, "series.not_numbers", 2},
		{"short rows", change(func(l []string) {
			for i := 400; i < len(l); i += 3 {
				l[i] = "1,2"
			}
		}), Options{}, "series.bad_rows", 401},
		{"other headings further on", change(func(l []string) { l[300] = "time (s),height,mode,name,volts" }), Options{},
			"series.other_headings", 301},
		{"time stands", change(func(l []string) {
			for i := 1; i < len(l); i++ {
				l[i] = "5" + l[i][strings.IndexByte(l[i], ','):]
			}
		}), Options{Columns: map[Quantity][]string{Time: {"1"}}}, "series.time_stands", 1},
		{"time runs wild", change(func(l []string) {
			for i := 1; i < len(l); i++ {
				l[i] = strconv.Itoa(i*7919%1000) + l[i][strings.IndexByte(l[i], ','):]
			}
		}), Options{Columns: map[Quantity][]string{Time: {"1"}}}, "series.restarts", 0},
		{"a row in ten seconds", change(func(l []string) {
			for i := 1; i < len(l); i++ {
				l[i] = strconv.Itoa(i*10) + l[i][strings.IndexByte(l[i], ','):]
			}
		}), Options{}, "series.too_slow", 1},
	} {
		_, err := Read("flight.csv", strings.NewReader(c.text), c.options)
		faults, ok := err.(strict.Faults)
		if !ok || len(faults) != 1 || faults[0].Code != c.code || c.line > 0 && faults[0].Line != c.line {
			t.Errorf("%s: %v, want %s at line %d", c.name, err, c.code, c.line)
		}
	}
	r, err := Read("ground.csv", strings.NewReader(strings.Join(lines[:60], "\n")), Options{})
	if err == nil {
		_, err = r.Flight()
	}
	if faults, ok := err.(strict.Faults); !ok || faults[0].Code != "series.no_flight" && faults[0].Code != "series.too_short" {
		t.Errorf("on the ground: %v", err)
	}
}

func numbered(n int, behind string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%d%s\n", i, behind)
	}
	return b.String()
}
