package series

import "math"

// What a punch is, and over what its current is averaged.
const (
	punchS         = 0.3
	punchOfTop     = 0.95 // of the largest throttle of the flight
	fullPct        = 97
	punchLeastPct  = 75
	punchOfCurrent = 0.85
	punchOverHover = 2.5
	// What filters of sensors and the length of a punch leave open of its current and voltage (judgement).
	peakShare      = 0.04
	peakVoltsShare = 0.01
)

// load tells largest current, lowest voltage, punches and mean power.
func (x *Flight) load(f *frames, flights []run) {
	from, to := flights[0].from, flights[len(flights)-1].to
	l := &x.Load
	width := f.over(punchS)
	var amps, volts []float64
	if f.amps != nil {
		amps = smooth(f.amps, width)
		if k := extreme(amps, from, to, 1); k >= 0 {
			l.LargestA = known(amps[k], math.Hypot(ampsOffsetSDA, math.Hypot(ampsGainSD, peakShare)*amps[k]))
			l.LargestS = f.stepS * float64(countOver(amps[from:to], 0.9*amps[k]))
		}
	}
	if f.volts != nil {
		volts = smooth(f.volts, width)
		if k := extreme(volts, from, to, -1); k >= 0 {
			l.LowestV = known(volts[k], voltsGainSD*volts[k])
			bound := 1.03 * volts[k]
			if x.Charge.Cells > 0 {
				bound = volts[k] + 0.1*float64(x.Charge.Cells)
			}
			l.LowestS = f.stepS * (float64(to-from) - float64(countOver(volts[from:to], bound)))
		}
	}
	x.punches(f, run{from, to}, amps, volts)
	x.power(f, flights)
}

// extreme is the index of the largest (sign 1) or smallest (−1) value, −1 if there is none.
func extreme(x []float64, from, to int, sign float64) int {
	best := -1
	for k := from; k < to; k++ {
		if !math.IsNaN(x[k]) && (best < 0 || sign*x[k] > sign*x[best]) {
			best = k
		}
	}
	return best
}

func countOver(x []float64, bound float64) (n int) {
	for _, v := range x {
		if v >= bound {
			n++
		}
	}
	return n
}

// punches finds what was flown at the top of the throttle, or of the current where no throttle is there.
func (x *Flight) punches(f *frames, flight run, amps, volts []float64) {
	l := &x.Load
	var hard func(k int) bool
	switch {
	case f.throttle != nil:
		top := quantileOf(f.throttle[flight.from:flight.to], 1)
		bound := math.Max(punchOfTop*top, punchLeastPct)
		hard = func(k int) bool { return f.throttle[k] >= bound }
	case amps != nil && x.Hover.CurrentA != nil && l.LargestA != nil:
		bound := math.Max(punchOfCurrent*l.LargestA.Value, punchOverHover*x.Hover.CurrentA.Value)
		hard = func(k int) bool { return amps[k] >= bound }
	default:
		l.PunchWhy = NoThrottle
		return
	}
	best := -1
	for k := flight.from; k < flight.to; k++ {
		if !hard(k) {
			continue
		}
		end := k
		for end < flight.to && hard(end) {
			end++
		}
		if end-k >= f.over(punchS) {
			p := Stretch{FromS: float64(k) * f.stepS, ToS: float64(end) * f.stepS, run: run{k, end},
				ThrottlePct: meanOf(f.throttle, k, end), RPM: meanOf(f.rpm, k, end), CurrentA: meanOf(f.amps, k, end),
				PackV: meanOf(f.volts, k, end), SpeedMS: math.NaN(), TiltDeg: math.NaN(), ClimbMS: math.NaN()}
			x.Punches = append(x.Punches, p)
			if amps != nil {
				late := extreme(amps, k, min(end+f.over(0.3), flight.to), 1)
				if late >= 0 && (best < 0 || amps[late] > amps[best]) && (f.throttle == nil || p.ThrottlePct >= fullPct) {
					best = late
				}
			}
		}
		k = end
	}
	switch {
	case len(x.Punches) == 0, best < 0 && amps != nil:
		l.PunchWhy = NoPunch
	case best < 0:
		l.PunchWhy = NoAmps
	case f.throttle != nil:
		l.FullA = known(amps[best], math.Hypot(ampsOffsetSDA, math.Hypot(ampsGainSD, peakShare)*amps[best]))
		if at := min(max(best-int(math.Round(math.Min(math.Max(x.Pack.LagS, 0), 1)/f.stepS)), 0), f.n-1); volts != nil {
			l.FullV = known(volts[at], math.Hypot(voltsGainSD, peakVoltsShare)*volts[at])
		}
		if f.rpm != nil {
			rpm := smooth(f.rpm, f.over(punchS))[best]
			l.FullRPM = known(rpm, peakVoltsShare*rpm)
		}
	}
}

// power tells the mean power in the air, and how it lies over that of hover.
func (x *Flight) power(f *frames, flights []run) {
	if f.amps == nil || f.volts == nil {
		return
	}
	var power []float64
	var sum, amps float64
	for _, r := range flights {
		for k := r.from; k < r.to; k++ {
			if p := f.amps[k] * f.volts[k]; !math.IsNaN(p) {
				power = append(power, p)
				sum += p
				amps += f.amps[k]
			}
		}
	}
	if len(power) == 0 {
		return
	}
	n := float64(len(power))
	l := &x.Load
	l.MeanPowerW = known(sum/n, math.Hypot(ampsGainSD*sum/n, ampsOffsetSDA*sum/amps))
	h := &x.Hover
	if h.PowerW == nil || h.CurrentA == nil || !(h.PowerW.Value > 0) {
		return
	}
	ratio := sum / n / h.PowerW.Value
	stretches := 0.0
	for i := range x.Steady {
		if x.Steady[i].Verdict == Hovers {
			stretches++
		}
	}
	each := 1 / math.Sqrt(stretches)
	offset := ampsOffsetSDA * math.Abs(n/amps-1/h.CurrentA.Value)
	l.OverHover = known(ratio, ratio*math.Hypot(stillPower*each, math.Hypot(h.PowerW.SD/h.PowerW.Value, offset)))
	l.TenthOver = quantileOf(power, 0.1) / h.PowerW.Value
	l.MedianOver = quantileOf(power, 0.5) / h.PowerW.Value
	l.Ninth = quantileOf(power, 0.9) / h.PowerW.Value
}
