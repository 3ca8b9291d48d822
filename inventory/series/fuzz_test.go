package series

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"partsaloft/inventory/strict"
)

// Property: whatever a file of a flight holds, it is read to finite figures or refused with faults that have a code.
func FuzzFlight(f *testing.F) {
	f.Add("time (s),volts (V),amps (A),throttle (%)\n0,16.4,0.3,0\n0.1,16.3,6,31\n0.2,16.2,6.1,32\n", "", 0.0)
	f.Add("zeit;spannung\n0,0;16,4\n0,1;16,3\n", "", 0.0)
	f.Add("# a remark\n\nt\tV\tA\n1e9\tnan\t-inf\n", "volts=V [mV]", 10.0)
	f.Add("\"a\"\"b\",volts\n1,2\n", "volts=2", 100.0)
	f.Add(steadyFile(200), "", 0.0)
	f.Fuzz(func(t *testing.T, file, column string, rateHz float64) {
		o := Options{Poles: 14, Pack: Pack{Cells: 4}}
		if rateHz >= 0.5 && rateHz <= 1e4 {
			o.RateHz = rateHz
		}
		if column != "" {
			named, err := NamedColumns([]string{column})
			if err != nil {
				return
			}
			o.Columns = named
		}
		stated := func(err error) {
			var faults strict.Faults
			var problem *strict.Problem
			switch {
			case errors.As(err, &faults):
				for i := range faults {
					if faults[i].Code == "" {
						t.Fatalf("a fault without a code: %v", faults[i])
					}
				}
			case !errors.As(err, &problem):
				t.Fatalf("an error of nobody: %v", err)
			}
		}
		r, err := Read("flight.csv", strings.NewReader(file), o)
		if err != nil {
			stated(err)
			return
		}
		flight, err := r.Flight()
		if err != nil {
			stated(err)
			return
		}
		finite := func(name string, x *Figure) {
			if x != nil && (math.IsNaN(x.Value+x.SD) || math.IsInf(x.Value+x.SD, 0) || x.SD < 0) {
				t.Fatalf("%s: %+v", name, x)
			}
		}
		h := &flight.Hover
		finite("hover throttle", h.ThrottlePct)
		finite("hover current", h.CurrentA)
		finite("hover rpm", h.RPM)
		finite("hover volts", h.PackV)
		finite("resistance", flight.Pack.ResistanceOhm)
		finite("charge", flight.Charge.UsedMAh)
		finite("voltage at the end", flight.Charge.EndPackV)
		finite("full current", flight.Load.FullA)
		finite("power over hover", flight.Load.OverHover)
		if flight.AirborneS < 0 || flight.EndS < flight.StartS {
			t.Fatalf("in the air for %g s, from %g to %g", flight.AirborneS, flight.StartS, flight.EndS)
		}
	})
}

// steadyFile is a flight of so many rows, a hundred a second: on the ground, a hover with a punch every ten seconds, and
// on the ground.
func steadyFile(rows int) string {
	var b bytes.Buffer
	b.WriteString("time (s),volts (V),amps (A),throttle (%),rpm\n")
	for i := range rows {
		seconds, amps, throttle := float64(i)/100, 6.0, 31.0
		switch {
		case i < rows/50 || i > rows-rows/50:
			amps, throttle = 0.3, 0
		case i%1000 > 930:
			amps, throttle = 40, 100
		}
		wave := math.Sin(float64(i) / 17)
		row := [...]float64{seconds, 16.4 - 0.03*amps - 1.5*float64(i)/float64(rows), amps + 0.2*wave, throttle + wave,
			12000*math.Sqrt(amps/6) + 40*wave}
		for k, x := range row {
			if k > 0 {
				b.WriteByte(',')
			}
			b.Write(strconv.AppendFloat(nil, x, 'f', 2, 64))
		}
		b.WriteByte('\n')
	}
	return b.String()
}
