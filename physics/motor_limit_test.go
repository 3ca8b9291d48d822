package physics

import (
	"math"
	"slices"
	"testing"

	"partsaloft/physics/uncertain"
)

// Published: largest currents in A that makers print for small multirotor motors, by size, label kV and
// mass; sheets mean some seconds. The estimate lies about them as far as it says.
func TestMotorCurrentLimitAgainstPrinted(t *testing.T) {
	law := DefaultMotorLaw()
	printed := []struct {
		size               string
		kv, grams, largest float64
	}{
		{"1103", 11000, 3.8, 9.2}, {"1104", 5500, 5.3, 7.7}, {"1104", 7200, 5.3, 10.2}, {"1303.5", 5500, 6.5, 8.7},
		{"1303.5", 5500, 7.15, 8.9}, {"1404", 4600, 9.34, 20}, {"1804", 3500, 13.3, 24.5}, {"2207", 1850, 31.4, 33},
		{"2207", 1750, 37.3, 34.6}, {"2507", 1800, 43.2, 42},
	}
	var off []float64
	for _, m := range printed {
		e := law.CurrentLimit(law.TorqueConstant(m.kv).Value, m.grams/1000)
		ln := math.Log(e.Value / m.largest)
		off = append(off, ln)
		if math.Abs(ln) > 2*e.LnSD {
			t.Errorf("%s of %g rpm/V: %.1f A estimated, %g A printed, over two standard deviations apart", m.size, m.kv,
				e.Value, m.largest)
		}
	}
	slices.Sort(off)
	if median := off[len(off)/2]; math.Abs(median) > 0.12 {
		t.Errorf("the median of estimated over printed is %.2f", math.Exp(median))
	}
}

// Published: general sheets print limits that are held for longer. The copper heat that they allow in the winding of
// the law is under that of a punch and about that of steady flight.
func TestGeneralSheetsAllowLessHeat(t *testing.T) {
	law := DefaultMotorLaw()
	var heat []float64
	for _, m := range []struct{ kv, grams, largest float64 }{
		{1400, 23, 8}, {1100, 45, 12}, {2550, 42, 34}, {400, 46, 9.4}, {650, 46, 12.3}, {1450, 47, 23}, {300, 53, 9}, {400,
			53, 12}, {1150, 60, 25},
		{1400, 60, 30}, {780, 65, 13}, {920, 65, 15}, {380, 68, 16}, {800, 75, 18}, {965, 75, 26}, {885, 75, 24}, {950, 93,
			30},
	} {
		winding := law.Winding(law.TorqueConstant(m.kv).Value, m.grams/1000).Value
		heat = append(heat, m.largest*m.largest*winding/(m.grams/1000))
	}
	slices.Sort(heat)
	if median := heat[len(heat)/2]; median < MeanHeatWKg/2 || median > 1.5*MeanHeatWKg {
		t.Errorf("they allow %.0f W/kg at the median, steady flight %.0f", median, MeanHeatWKg)
	}
}

// Independent: the current at which a note is due, worked out by hand from I = √(q m) Km/ke for four sizes.
func TestMotorCurrentLimitBySize(t *testing.T) {
	law := DefaultMotorLaw()
	for _, m := range []struct {
		size                string
		kv, grams, currentA float64
	}{{"0802", 19000, 1.95, 5.4}, {"1103", 11000, 3.8, 8.1}, {"1404", 4600, 9.34, 12}, {"2207", 1750, 32, 27}} {
		e := law.CurrentLimit(law.TorqueConstant(m.kv).Value, m.grams/1000)
		noted := e.Value * math.Sqrt(NotedHeatWKg/PunchHeatWKg)
		if math.Abs(noted/m.currentA-1) > 0.03 {
			t.Errorf("%s of %g rpm/V: noted from %.2f A on, want %g", m.size, m.kv, noted, m.currentA)
		}
		limited := Motor{MaxCurrentA: e.Value, LimitEstimated: e.Basis == uncertain.Estimated}
		if mean := limited.MeanLimitA(); math.Abs(mean/noted-math.Sqrt(1.0/3)) > 1e-9 {
			t.Errorf("%s: %.2f A all along", m.size, mean)
		}
	}
}

// An estimated limit caps the throttle as a printed one does, is drawn apart from all else, and is noted before
// it is reached.
func TestEstimatedLimitCaps(t *testing.T) {
	law := DefaultMotorLaw()
	c := nimble(t)
	c.Pack.Cells, c.Pack.SafeCurrentA = 4, 200
	c.Board.ContinuousA, c.Board.BurstA, c.Connector = 60, 60, Connector{}
	limit := law.CurrentLimit(c.Motor.TorqueConstantNmA, c.Motor.MassKg)
	printed := c
	printed.Motor.MaxCurrentA, printed.Motor.LimitEstimated = limit.Value, false
	c.Motor.MaxCurrentA, c.Motor.LimitEstimated = limit.Value, true
	a, b := evaluated(c, 12), evaluated(printed, 12)
	if a.Cap != MotorLimit || a.si != b.si || math.Abs(a.PeakMotorA/limit.Value-1) > 1e-5 {
		t.Errorf("held back by %v at %.2f A of %.2f", a.Cap, a.PeakMotorA, limit.Value)
	}
	if !warned(&c, DrivenHard) || warned(&printed, DrivenHard) {
		t.Error("a motor at its estimated limit is noted, one at a printed limit is not")
	}
	c.Pack.Cells = 1
	if warned(&c, DrivenHard) {
		t.Error("one cell on a motor for two is noted")
	}
	c.Uncertainty.Set(uncertain.MotorCurrentLimit, limit)
	var normal [uncertain.InputCount]float64
	normal[uncertain.MotorCurrentLimit] = 1
	d := c.Uncertainty.Deviation(&normal)
	moved := c.Deviate(&d)
	if got := math.Log(moved.Motor.MaxCurrentA / limit.Value); math.Abs(got-0.25) > 1e-12 ||
		moved.Motor.TorqueConstantNmA != c.Motor.TorqueConstantNmA {
		t.Errorf("one standard deviation moves the limit by ln %.3f", got)
	}
}
