package series

import (
	"math"
	"slices"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

// Pack is what is known of the pack that was flown.
type Pack struct {
	Cells      int // 0 if not known
	Chemistry  physics.Chemistry
	CapacityAs float64 // 0 if not known
}

// Rates and spans of what can be a flight.
const (
	slowestHz    = 0.5
	fastestHz    = 1e4
	longestS     = 4 * 3600
	shortestS    = 5
	highestCellV = 4.45
	lowestCellV  = 2.3
)

// spread is how the values of a column lie, of the bins' means.
type spread struct {
	low, tenth, median, ninth, high float64
	rows                            int // that hold a value
	early, late                     float64
}

func (r *Record) spreadOf(slot int) spread {
	var means []float64
	var s spread
	s.low, s.high = math.Inf(1), math.Inf(-1)
	for i := range r.bins.list {
		p := &r.bins.spans[i*r.bins.columns+slot]
		if p.rows == 0 {
			continue
		}
		means = append(means, p.mean())
		s.rows += int(p.rows)
		s.low, s.high = math.Min(s.low, float64(p.low)), math.Max(s.high, float64(p.high))
	}
	if len(means) == 0 {
		return spread{}
	}
	quarter := max(len(means)/4, 1)
	s.early, s.late = mean(means[:quarter]), mean(means[len(means)-quarter:])
	slices.Sort(means)
	s.tenth, s.median, s.ninth = quantile(means, 0.1), quantile(means, 0.5), quantile(means, 0.9)
	return s
}

// scale brings time and every column into its own unit.
func (rd *reading) scale() *strict.Fault {
	r := rd.record
	if fault := rd.scaleTime(); fault != nil {
		return fault
	}
	spreads := make([]spread, len(rd.kept))
	for i := range rd.kept {
		spreads[i] = r.spreadOf(i)
	}
	rd.guess(spreads)
	rd.time.Unit = unitName(rd.time.Unit)
	r.Columns = append(r.Columns, rd.time)
	for i := range rd.kept {
		c := rd.kept[i]
		s := &spreads[i]
		switch {
		case c.Quantity == "":
			if c.Heading != "" {
				r.Unused = append(r.Unused, c.Heading)
			}
			continue
		case s.rows == 0 || s.low == s.high && c.Quantity != CellV && c.Quantity != Height:
			r.note("series.dead_column", strict.Values{"column": strict.Raw(c.Heading), "quantity": string(c.Quantity)})
			continue
		}
		if !rd.unitFor(&c, s) {
			r.note("series.odd_range", strict.Values{"column": strict.Raw(c.Heading), "quantity": string(c.Quantity),
				"low": strict.Digits(s.low, 3), "high": strict.Digits(s.high, 3)})
			continue
		}
		c.Missing = 1 - float64(s.rows)/float64(r.Rows)
		c.Low, c.High = (s.low-c.Offset)*c.Factor, (s.high-c.Offset)*c.Factor
		c.Unit = unitName(c.Unit)
		r.Columns = append(r.Columns, c)
	}
	for _, c := range r.Columns {
		if c.Quantity != Time && c.Quantity != Speed && c.Quantity != Height && c.Quantity != Tilt {
			return nil
		}
	}
	return rd.noColumns("series.no_columns")
}

func (r *Record) note(code strict.Code, values strict.Values) {
	if len(r.Notes) < 100 {
		r.Notes = append(r.Notes, Note{code, values})
	}
}

// scaleTime tells the unit of time: the one that the heading says, or the largest in which rows and file are of a
// length that a flight's can have.
func (rd *reading) scaleTime() *strict.Fault {
	r := rd.record
	c := &rd.time
	var span float64
	for i := range r.bins.list {
		b := &r.bins.list[i]
		span += b.last - b.first
		if i > 0 && b.cut == runsOn {
			span += b.first - r.bins.list[i-1].last
		}
	}
	step := r.bins.meanStep()
	if !(span > 0) || !(step > 0) || math.IsInf(span, 0) {
		return rd.badTime("series.time_stands", 0)
	}
	fits := func(by float64) bool {
		return step*by <= 1/slowestHz && step*by >= 1/fastestHz && span*by >= shortestS && span*by <= longestS
	}
	switch {
	case c.Number == 0:
	case rd.layout.clocks[c.Number-1]:
		c.Unit, c.Factor = "clock", 1
	default:
		if by, ok := unitOf(c.head.unit, Time); ok {
			c.Unit, c.Factor = c.head.unit, by*c.head.factor
			break
		}
		for _, u := range [...]string{"s", "ms", "us", "ns"} {
			if by, _ := unitOf(u, Time); fits(by) {
				c.Unit, c.Factor = u, by
				break
			}
		}
		if c.Unit == "" {
			return rd.badTime("series.time_unit", step)
		}
	}
	r.StepS = step * c.Factor
	if r.StepS > 1/slowestHz {
		return rd.badTime("series.too_slow", r.StepS)
	}
	if span*c.Factor < shortestS {
		return rd.badTime("series.too_short", span*c.Factor)
	}
	first, last := r.bins.list[0].first, r.bins.list[len(r.bins.list)-1].last
	c.Low, c.High = first*c.Factor, last*c.Factor
	return nil
}

func (rd *reading) badTime(code strict.Code, got float64) *strict.Fault {
	return faultAt(max(rd.layout.headAt, 1), code, strict.Values{"column": strict.Raw(rd.time.Heading),
		"got": strict.Digits(got, 3), "slowest": strict.Number(slowestHz), "shortest": strict.Number(shortestS)})
}

// unitFor tells the unit of a column: the one that the heading says, or by range. It returns false where no unit makes
// the values what they are said to be.
func (rd *reading) unitFor(c *Column, s *spread) bool {
	if by, ok := unitOf(c.head.unit, c.Quantity); ok && c.Quantity != Throttle && c.Quantity != Outputs {
		c.Unit, c.Factor = c.head.unit, by*c.head.factor
		return true
	}
	if c.head.factor != 1 && c.Quantity != Throttle && c.Quantity != Outputs {
		c.Unit, c.Factor = c.Quantity.si(), c.head.factor
		return true
	}
	c.Unit, c.Factor = c.Quantity.si(), 1
	set := func(unit string, by float64) bool {
		c.Unit, c.Factor = unit, by
		return true
	}
	switch c.Quantity {
	case Volts, CellV:
		return rd.unitOfVolts(c, s)
	case Amps, ESCAmps:
		// A whoop's 9 A are 9000 mA, a 5-inch craft's 90 A are 9000 cA: 20 A and more in mA has five digits.
		switch {
		case s.high <= 400:
		case s.high > 20000 || s.high > 2000 && rd.fewCells():
			return set("mA", 1e-3)
		default:
			return set("cA", 0.01)
		}
	case Throttle, Outputs:
		return throttleUnit(c, s)
	case RPM, ERPM:
		switch {
		case s.high > 0 && s.high < 1000:
			return set("100 rpm", 100)
		case s.high <= 0:
			return false
		}
	case Speed:
		if s.high > 300 {
			return set("cm/s", 0.01)
		}
	case Height:
		if s.high-s.low > 2000 {
			return set("cm", 0.01)
		}
	case Tilt, Roll, Pitch:
		switch most := math.Max(math.Abs(s.low), math.Abs(s.high)); {
		case most <= 1.6:
			by, _ := unitOf("rad", Tilt)
			return set("rad", by)
		case most > 1800:
			return set("cdeg", 0.01)
		case most > 181:
			return set("ddeg", 0.1)
		}
	case Used:
		if s.high < 30 && !rd.record.integer[c.slot] {
			return set("Ah", 1000)
		}
	}
	return true
}

// fewCells reports whether the pack has one or two cells, by what is known of it or by the volts themselves.
func (rd *reading) fewCells() bool {
	if n := rd.record.options.Pack.Cells; n > 0 {
		return n <= 2
	}
	for i := range rd.record.Columns {
		if c := &rd.record.Columns[i]; c.Quantity == Volts {
			return c.High < 2*highestCellV
		}
	}
	return false
}

func (rd *reading) unitOfVolts(c *Column, s *spread) bool {
	cells := rd.record.options.Pack.Cells
	if c.Quantity == CellV {
		cells = 1
	}
	for _, u := range [...]struct {
		name string
		by   float64
	}{{"V", 1}, {"dV", 0.1}, {"cV", 0.01}, {"mV", 1e-3}} {
		low, high := lowestCellV, 8*highestCellV // packs of up to 8 cells
		if cells > 0 {
			low, high = lowestCellV*float64(cells), highestCellV*float64(cells)
		}
		// 2.5 to 4.5 thousand are one cell in mV, not a pack of 6 to 10 in hundredths.
		if cells == 0 && u.name == "cV" && s.ninth > 2560 {
			continue
		}
		if v := s.ninth * u.by; v >= low && v <= high {
			c.Unit, c.Factor = u.name, u.by
			return true
		}
	}
	return false
}

// throttleUnit tells 0 to 1, 0 to 100, 1000 to 2000, and the shares of 1000, 2000 and 2047.
func throttleUnit(c *Column, s *spread) bool {
	set := func(unit string, by, offset float64) bool {
		c.Unit, c.Factor, c.Offset = unit, by, offset
		return true
	}
	switch {
	case s.low >= -1.05 && s.high <= 1.05 && s.low < -0.5:
		return set("-1 to 1", 50, -1)
	case s.low >= -0.3 && s.high <= 1.05:
		return set("0 to 1", 100, 0)
	case s.low < -50 && s.low >= -105 && s.high <= 105:
		return set("-100 to 100", 0.5, -100)
	case s.low >= -5 && s.high <= 105:
		return set("%", 1, 0)
	case s.high <= 2250 && s.high > 1050 && s.median >= 900:
		return set("1000 to 2000", 0.1, 1000)
	case s.low >= -50 && s.high <= 1050:
		return set("0 to 1000", 0.1, 0)
	case s.low >= 0 && s.high <= 2010:
		return set("0 to 2000", 0.05, 0)
	case s.low >= 0 && s.high <= 2050:
		return set("0 to 2047", 100.0/2047, 0)
	}
	return false
}

// guess gives columns without meaning the quantity that their range and course speak for.
func (rd *reading) guess(spreads []spread) {
	has := map[Quantity]bool{}
	for i := range rd.kept {
		has[rd.kept[i].Quantity] = true
	}
	claim := func(q Quantity, fits func(s *spread, c *Column) bool) int {
		for i := range rd.kept {
			if c := &rd.kept[i]; c.Quantity == "" && spreads[i].rows > 0 && spreads[i].high > spreads[i].low &&
				fits(&spreads[i], c) {
				c.Quantity = q
				return i
			}
		}
		return -1
	}
	volts := func(s *spread, c *Column) bool {
		test := *c
		test.Quantity = Volts
		return s.low > 0.5*s.high && s.early > s.late && s.late > 0.7*s.early && rd.unitOfVolts(&test, s)
	}
	if !has[Volts] && !has[CellV] {
		claim(Volts, volts)
	}
	signal := func(s *spread, c *Column) bool {
		test := *c
		switch {
		case !throttleUnit(&test, s):
			return false
		case test.Unit == "0 to 1":
			return s.high > 0.2 && s.low >= 0
		case test.Unit == "1000 to 2000":
			return s.high-s.low > 200 && s.low >= 800
		}
		return false
	}
	if !has[Throttle] && !has[Outputs] {
		has[Throttle] = claim(Throttle, signal) >= 0
	}
	rpm := func(s *spread, _ *Column) bool { return s.low >= 0 && s.ninth > 2500 && s.high < 150000 }
	for !has[RPM] && !has[ERPM] && claim(RPM, rpm) >= 0 {
	}
	// Amps and percent look alike. At half of its throttle a craft draws a fifth of its largest current, so that the
	// median lies deeper in the range of amps.
	loads := func(s *spread, _ *Column) bool {
		return s.low >= -2 && s.low < 0.5*s.median && s.high > 1 && s.high <= 300
	}
	first := claim(Amps, loads)
	if first < 0 {
		return
	}
	if second := claim(Amps, loads); second >= 0 {
		a, b := &spreads[first], &spreads[second]
		if a.median/a.high > b.median/b.high {
			first, second = second, first
		}
		rd.kept[second].Quantity = ""
		if !has[Throttle] && spreads[second].high <= 105 {
			rd.kept[second].Quantity = Throttle
		}
	}
	if has[Amps] || has[ESCAmps] {
		rd.kept[first].Quantity = ""
	}
}
