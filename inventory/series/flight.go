package series

import (
	"math"

	"partsaloft/inventory/strict"
	"partsaloft/physics"
)

// Flight is what a recording says of one flight.
type Flight struct {
	Record *Record
	// StartS and EndS of the flight in s from the first row of its recording; Cut says that the recording ends in the
	// air, Begun that it begins there. AirborneS leaves out what lies between hops.
	StartS, EndS, AirborneS float64
	Begun, Cut              bool
	Hops                    int
	FirstLine, LastLine     int

	Hover   Hover
	Steady  []Stretch
	Punches []Stretch
	Pack    PackLine

	Charge Charge
	Load   Load
	Traces Traces
}

// Hover is how the craft hovers.
type Hover struct {
	ThrottlePct, RPM, CurrentA, PackV, PowerW *Figure
	SecondsS                                  float64
	Why                                       Why // why there is none
	// Sure says that speed, tilt or height was there to tell hover from slow cruising.
	Sure bool
}

// Charge is what was taken out of the pack.
type Charge struct {
	UsedMAh *Figure
	// FromColumn says that the file counts the charge itself; IntegralMAh is what its current adds up to.
	FromColumn  bool
	IntegralMAh *Figure
	Cells       int
	CellsKnown  bool // not told by the voltage alone
	// StartShare and EndShare are the states of charge that the open voltages speak for; LeftShare is what the capacity
	// leaves.
	StartShare, EndShare, LeftShare *Figure
	// EndPackV is under the load of the last seconds in the air, RestPackV after landing.
	EndPackV, RestPackV *Figure
}

// Load is what the flight asked of the pack.
type Load struct {
	LargestA   *Figure
	LargestS   float64 // for how long at 90 % of it and more
	LowestV    *Figure
	LowestS    float64 // for how long within 0.1 V a cell of it, or 3 %
	MeanPowerW *Figure
	// OverHover is the mean power over that of hover, and its distribution in the flight.
	OverHover                    *Figure
	TenthOver, MedianOver, Ninth float64
	// FullA, FullV and FullRPM are current, voltage and rotor speed at full throttle, in the hardest punch.
	FullA, FullV, FullRPM *Figure
	PunchWhy              Why
}

// Traces are what a plot shows, on frames of one length; what is not there is nil.
type Traces struct {
	StepS                       float64
	Volts, Amps, Throttle, RPM  []float64
	LevelThrottle, LevelCurrent float64 // of hover, not a number if there is none
}

// Flight finds the flight in a recording; of several it takes the longest. Its error is strict.Faults.
func (r *Record) Flight() (*Flight, error) {
	var f *frames
	var flights []run
	others := 0
	for _, section := range r.bins.sections() {
		one := r.frames(section)
		found := one.flights()
		if len(found) == 0 {
			continue
		}
		others++
		if f == nil || airborne(found)*one.stepS > airborne(flights)*f.stepS {
			f, flights = one, found
		}
	}
	if f == nil {
		return nil, strict.Faults{{Problem: strict.Problem{Code: "series.no_flight"}}}
	}
	if others > 1 {
		r.note("series.other_flights", strict.Values{"n": others - 1})
	}
	r.noteTurns()
	x := &Flight{Record: r, Hops: len(flights), AirborneS: airborne(flights) * f.stepS}
	first, last := flights[0], flights[len(flights)-1]
	x.StartS, x.EndS = float64(first.from)*f.stepS, float64(last.to)*f.stepS
	x.Begun, x.Cut = first.from <= f.over(0.5), last.to >= f.n-f.over(0.5)
	x.FirstLine, x.LastLine = f.line[first.from], f.line[min(last.to, f.n-1)]
	x.Steady = f.steady(flights)
	level, hovers := 0.0, false
	if len(x.Steady) > 0 {
		level, hovers = f.judge(x.Steady, flights)
	}
	_ = level
	x.hover(f, hovers)
	x.Pack = f.packLine(flights)
	x.charge(f, flights)
	x.load(f, flights)
	x.Traces = Traces{StepS: f.stepS, Volts: f.volts, Amps: f.amps, Throttle: f.throttle, RPM: f.rpm,
		LevelThrottle: math.NaN(), LevelCurrent: math.NaN()}
	if x.Hover.ThrottlePct != nil {
		x.Traces.LevelThrottle = x.Hover.ThrottlePct.Value
	}
	if x.Hover.CurrentA != nil {
		x.Traces.LevelCurrent = x.Hover.CurrentA.Value
	}
	return x, nil
}

func airborne(flights []run) float64 {
	n := 0
	for _, r := range flights {
		n += r.frames()
	}
	return float64(n)
}

// hoverBlockS is how long a block is whose mean counts as one reading of hover.
const hoverBlockS = 2

// What a stretch of hover differs by from hover in still air, as a whole: hands let a craft rise or sink by some 0.2 m/s,
// which is two to three hundredths of the induced velocity of 7 to 10 m/s, and so of power (judgement); throttle and rpm
// go with its half and its fifth.
const (
	stillPower    = 0.02
	stillThrottle = 0.01
	stillRPM      = 0.004
)

// hover reads the stretches that are hover.
func (x *Flight) hover(f *frames, hovers bool) {
	h := &x.Hover
	h.Sure = f.speed != nil || f.tilt != nil
	if !hovers {
		h.Why = NoHover
		return
	}
	width := f.over(hoverBlockS)
	stretches := 0
	for i := range x.Steady {
		if s := &x.Steady[i]; s.Verdict == Hovers {
			h.SecondsS += s.ToS - s.FromS
			stretches++
		}
	}
	read := func(q []float64) *Figure {
		if q == nil {
			return nil
		}
		var at, blocks []float64
		for i := range x.Steady {
			s := &x.Steady[i]
			if s.Verdict != Hovers {
				continue
			}
			for a := s.run.from; a+width/2 < s.run.to; a += width {
				if m := meanOf(q, a, min(a+width, s.run.to)); !math.IsNaN(m) {
					at, blocks = append(at, f.mid(a)), append(blocks, m)
				}
			}
		}
		value, sd := meanWithDoubt(at, blocks)
		if len(blocks) == 1 {
			sd = 0.03 * value
		}
		return known(value, sd)
	}
	each := 1 / math.Sqrt(float64(stretches))
	if h.ThrottlePct = read(f.throttle); h.ThrottlePct != nil {
		h.ThrottlePct.widen(stillThrottle * each * h.ThrottlePct.Value)
	}
	if h.RPM = read(f.rpm); h.RPM != nil {
		h.RPM.widen(stillRPM * each * h.RPM.Value)
	}
	if h.CurrentA = read(f.amps); h.CurrentA != nil {
		h.CurrentA.widen(math.Hypot(ampsOffsetSDA, math.Hypot(ampsGainSD, stillPower*each)*h.CurrentA.Value))
	}
	if h.PackV = read(f.volts); h.PackV != nil { // it is the mean of what was there: only the sensor leaves doubt
		h.PackV.SD = voltsGainSD * h.PackV.Value
	}
	if f.amps != nil && f.volts != nil {
		power := make([]float64, f.n)
		for k := range power {
			power[k] = f.amps[k] * f.volts[k]
		}
		h.PowerW = read(power) // gains are added where it stands for itself
	}
}

// charge tells what was used and what is left.
func (x *Flight) charge(f *frames, flights []run) {
	c := &x.Charge
	pack := x.Record.options.Pack
	end := flights[len(flights)-1].to
	if f.amps != nil {
		var sum, seconds, last float64
		for _, a := range f.amps[:end] {
			if !math.IsNaN(a) {
				last = a
			}
			sum += last * f.stepS
			seconds += f.stepS
		}
		c.IntegralMAh = known(sum/3.6, math.Hypot(ampsGainSD*sum, ampsOffsetSDA*seconds)/3.6)
		c.UsedMAh = c.IntegralMAh
	}
	if used := usedOver(f, end); used > 0 {
		c.FromColumn = true
		sd := ampsGainSD * used
		c.UsedMAh = known(used, math.Hypot(sd, ampsOffsetSDA*float64(end)*f.stepS/3.6))
		if c.IntegralMAh != nil && math.Abs(math.Log(c.IntegralMAh.Value/used)) > 0.1 {
			x.Record.note("series.charge_differs", strict.Values{"column": strict.Digits(used, 3),
				"integral": strict.Digits(c.IntegralMAh.Value, 3)})
		}
	}
	if c.UsedMAh != nil && pack.CapacityAs > 0 {
		left := 1 - c.UsedMAh.Value*3.6/pack.CapacityAs
		c.LeftShare = known(left, c.UsedMAh.SD*3.6/pack.CapacityAs)
	}
	if f.volts == nil {
		return
	}
	last := flights[len(flights)-1]
	if from := max(last.to-f.over(4), last.from); from < last.to-f.over(1) {
		v := meanOf(f.volts, from, last.to-f.over(0.5))
		c.EndPackV = known(v, math.Hypot(voltsGainSD*v, 0.005*v))
	}
	if from := end + f.over(4); from+f.over(2) <= f.n {
		v := meanOf(f.volts, from, f.n)
		c.RestPackV = known(v, voltsGainSD*v)
	}
	c.Cells, c.CellsKnown = pack.Cells, pack.Cells > 0
	highest := quantileOf(f.volts, 0.995)
	if x.Pack.OpenV != nil {
		highest = math.Max(highest, x.Pack.OpenV.Value)
	}
	if c.Cells == 0 {
		c.Cells = cellsOf(highest)
	}
	if c.Cells == 0 {
		return
	}
	if !c.CellsKnown && (c.Cells > 6 || math.Abs(highest/float64(c.Cells)-4.17) > 0.15) {
		return // another number of cells is as likely
	}
	c.StartShare = shareAt(x.Pack.OpenV, c.Cells, pack.Chemistry)
	c.EndShare = shareAt(x.Pack.EndOpenV, c.Cells, pack.Chemistry)
}

// usedOver is what a counter of charge gained up to a frame, in mAh; counters may be set back to 0.
func usedOver(f *frames, end int) float64 {
	var sum, last float64
	started := false
	for _, x := range f.used[:min(end, len(f.used))] {
		if math.IsNaN(x) {
			continue
		}
		if started && x > last {
			sum += x - last
		}
		last, started = x, true
	}
	return sum
}

// cellsOf is the number of cells whose full voltage is nearest, 0 if none is near.
func cellsOf(volts float64) int {
	best, least := 0, math.Inf(1)
	for n := 1; n <= 8; n++ {
		if cell := volts / float64(n); cell > 3.5 && cell < highestCellV && math.Abs(cell-4.17) < least {
			best, least = n, math.Abs(cell-4.17)
		}
	}
	return best
}

// shareAt is the state of charge at which a cell rests at a voltage.
func shareAt(v *Figure, cells int, chemistry physics.Chemistry) *Figure {
	if v == nil {
		return nil
	}
	invert := func(volts float64) float64 {
		low, high := 0.0, 1.0
		for range 40 {
			mid := (low + high) / 2
			if chemistry.CellV(mid)*float64(cells) < volts {
				low = mid
			} else {
				high = mid
			}
		}
		return (low + high) / 2
	}
	// Cells of one chemistry differ by some hundredths of a volt at one state of charge (common practice, no source).
	sd := math.Hypot(v.SD, 0.02*float64(cells))
	share := invert(v.Value)
	return known(share, math.Max((invert(v.Value+sd)-invert(v.Value-sd))/2, 0.01))
}
