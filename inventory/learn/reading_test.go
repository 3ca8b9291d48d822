package learn

import (
	"math"
	"partsaloft/physics/uncertain"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// Independent and published: each reading is known about as well as what it is taken with allows, so that half or
// twice the figure would be wrong. The errors of instruments are worked out from their steps and tolerances, the
// scatter of flights and of stands from figures of other people.
func TestReadingsAreKnownAsWellAsInstruments(t *testing.T) {
	uniform := func(halfWidth float64) float64 { return halfWidth / math.Sqrt(3) }
	for _, c := range []struct {
		key       Key
		low, high float64 // of the standard deviation, in the unit or relative as the table has it
		source    string
	}{
		{AllUp, uniform(0.5), uniform(1),
			"OIML R 76-1 (2006): a class III scale of 1 g steps shows to half a step and may err by 1 g in service up to 500 g"},
		{HoverThrottle, 1.4, 2.8, "two displays of one hover, stick and motor output, differ by 1.9 points (published " +
			"build write-up); the pilot's hand adds as much (common practice, no source)"},
		{FlightMinutes, flightScatter(), 1.4 * flightScatter(),
			"scatter of published flying times, below; above, what the pilot's way of flying adds"},
		{StandSpeed, standScatter(func(r standRow) float64 { return r.rpm }, 1), 0.02,
			"repeated runs on one stand; above, rows of one motor scatter by 1.3 % (fit STEP motor)"},
		{StandCurrent, standScatter(func(r standRow) float64 { return r.currentA }, 1.5), 0.06,
			"the same; above, rows of one motor scatter by 3.6 %"},
		{StandThrust, standScatter(func(r standRow) float64 { return r.thrustG }, 2), 0.08,
			"the same; above, one prop on seven motors, mislabelled rows among them (Cao & Strawson 2018)"},
		{HoverCurrent, 0.03, 0.08, "judgement: a shunt of 1 % in copper that warms by 10 to 20 K, never calibrated"},
		{HoverSpeed, 0.01, 0.03, "judgement: an ESC counts its turns to 1 % and less; four rotors' mean wanders in hover"},
		{FullThrottleCurrent, 0.03, 0.08, "judgement: the same as in hover"},
		{UsedCharge, 0.03, 0.08, "judgement: the same current, summed up"},
		{PunchSpeed, 0.02, 0.05, "judgement: counted as in hover, but a prop that climbs turns a few per cent faster"},
		{TopSpeed, 0.03, 0.08, "judgement: a receiver of satellites at 0.5 m/s, and wind that two ways do not quite cancel"},
		{PowerOverHover, flightScatter(), 1.4 * flightScatter(), "as flying times, which differ by the power of a flight"},
		{PackResistance, 0.05, 0.15, "judgement: what relaxes within a punch and what does not, and current to 5 %"},
		{LoadedCell, cellError(), 2 * cellError(),
			"a divider of two resistors of 1 %, a reference of 1 %, a display of 0.1 V for three cells"},
	} {
		w := readings[c.key]
		if !(c.low <= w.sd && w.sd < c.high) {
			t.Errorf("%s is known to %.4g, want %.4g to %.4g: %s", c.key, w.sd, c.low, c.high, c.source)
		}
	}
	if !(landingCellSD >= cellError() && landingCellSD < 2*cellError()) {
		t.Errorf("a landing voltage is known to %g V, its display errs by %.3g", landingCellSD, cellError())
	}
	if alone := math.Hypot(flightSD, timedSD); math.Abs(alone-readings[FlightMinutes].sd) > 1e-3 || timedSD != powerSD {
		t.Errorf("time of one flight among others is known to %.4f, alone to %.4f", alone, readings[FlightMinutes].sd)
	}
	for key, w := range readings {
		r := read(key, 40)
		if want := map[bool]float64{false: w.sd, true: 40 * w.sd}[w.relative]; r.SD != want ||
			math.Abs(r.unscaled(r.scaled(40))-40) > 1e-9 {
			t.Errorf("%s of 40 is known to %g, want %g", key, r.SD, want)
		}
	}
}

// cellError is the standard deviation of a cell's voltage of 3.6 V on a display.
func cellError() float64 {
	const divider, reference, step = 0.01, 0.01, 0.1
	share := math.Hypot(divider*math.Sqrt2/math.Sqrt(3), reference/math.Sqrt(3))
	return math.Hypot(3.6*share, step/math.Sqrt(12)/3)
}

// flightScatter is by how much flights of one craft, pack and way differ (published build write-ups and threads):
// of ranges, taken as holding 8 of 10 flights, and of pairs.
func flightScatter() float64 {
	var squares []float64
	for _, r := range [...][2]float64{{4, 5}, {3, 3.5}, {4, 4.5}, {4, 5}, {8, 9}, {6, 8}, {2, 3}, {4.5, 5.25}} {
		squares = append(squares, math.Pow(math.Log(r[1]/r[0])/(2*uncertain.HalfWidth()), 2))
	}
	return math.Sqrt(stat.Mean(squares, nil))
}

// standRow is a row of a stand.
type standRow struct{ rpm, thrustG, currentA, voltageV float64 }

// standScatter is by how much three runs of a motor of 5200 rpm/V with a 2-inch four-blade prop differ at the same
// throttle, once the volts are allowed for by a power (public student thrust-stand runs, 2020).
func standScatter(of func(standRow) float64, power float64) float64 {
	var sum, n float64
	for _, runs := range [...][3]standRow{
		{{16806, 19.18, 1.244, 11.815}, {17300, 20.38, 1.242, 12.13}, {17571, 20.44, 1.267, 12.313}},
		{{19960, 27.69, 1.622, 11.741}, {20406, 28.75, 1.693, 12.029}, {20663, 29.58, 1.71, 12.197}},
		{{22868, 36.02, 2.024, 11.662}, {23195, 38.98, 2.098, 11.941}, {23579, 39.5, 2.138, 12.094}},
		{{25610, 46.63, 2.448, 11.584}, {25807, 49.28, 2.517, 11.852}, {26657, 51.14, 2.698, 11.97}},
		{{28768, 60.21, 2.869, 11.506}, {29315, 62.86, 2.926, 11.761}, {29267, 62.72, 2.984, 11.883}},
		{{31422, 74.03, 3.298, 11.429}, {32026, 75.28, 3.356, 11.663}, {32415, 78.39, 3.41, 11.785}},
		{{34238, 88.36, 3.813, 11.338}, {34455, 90.94, 3.887, 11.553}, {34691, 91.34, 3.901, 11.675}},
	} {
		var x []float64
		for _, r := range runs {
			x = append(x, math.Log(of(r))-power*math.Log(r.voltageV))
		}
		sum += stat.Variance(x, nil) * float64(len(x)-1)
		n += float64(len(x) - 1)
	}
	return math.Sqrt(sum / n)
}
