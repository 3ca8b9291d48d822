package series

import (
	"math"

	"partsaloft/inventory/strict"
)

// frames are one recording without restarts on steps of equal length. What a file does not tell is nil; what is missing
// is not a number. Powers and sums are of means over a frame.
type frames struct {
	stepS  float64
	startS float64 // of the first, in the file's time
	n      int
	row    []bool // whether any row lies in the frame
	line   []int  // of a row in or before it

	volts, amps, throttle, rpm, speed, height, tilt, used []float64
	lowV, highA                                           []float64 // extremes inside a frame
}

// Steps of frames: no shorter than rows, nor than what shows a punch.
const (
	shortestFrameS = 0.1
	mostFrames     = 60000
	bridgedS       = 2 // over which what is missing lies between what was read
)

// sections are the ranges of bins between restarts.
func (b *bins) sections() [][2]int {
	var list [][2]int
	from := 0
	for i := 1; i <= len(b.list); i++ {
		if i == len(b.list) || b.list[i].cut == behindRestart {
			list = append(list, [2]int{from, i})
			from = i
		}
	}
	return list
}

// of lists the columns of a quantity.
func (r *Record) of(q Quantity) []*Column {
	var list []*Column
	for i := range r.Columns {
		if r.Columns[i].Quantity == q {
			list = append(list, &r.Columns[i])
		}
	}
	return list
}

// frames lays a section out.
func (r *Record) frames(section [2]int) *frames {
	list := r.bins.list[section[0]:section[1]]
	by := r.Columns[0].Factor
	first, last := list[0].first*by, list[len(list)-1].last*by
	span := last - first
	f := &frames{startS: first}
	f.stepS = math.Max(math.Max(shortestFrameS, r.StepS), span/mostFrames)
	var lasts float64
	for i := range list {
		lasts += (list[i].last - list[i].first) * by
	}
	f.stepS = math.Max(f.stepS, lasts/float64(len(list)))
	f.n = int(span/f.stepS) + 1
	f.row, f.line = make([]bool, f.n), make([]int, f.n)
	for i := range list {
		a, b := f.covered(&list[i], by)
		for k := a; k <= b; k++ {
			f.row[k] = true
			if f.line[k] == 0 {
				f.line[k] = list[i].line
			}
		}
	}
	// Frames that no row falls in by rounding are none that are missing.
	for k := 1; k < f.n; k++ {
		if !f.row[k] && f.row[k-1] && k+1 < f.n && f.row[k+1] {
			f.row[k] = true
		}
		if f.line[k] == 0 {
			f.line[k] = f.line[k-1]
		}
	}
	f.fill(r, section)
	return f
}

// covered are the frames that a bin lies in.
func (f *frames) covered(b *bin, by float64) (from, to int) {
	from = int((b.first*by - f.startS) / f.stepS)
	to = int((b.last*by - f.startS) / f.stepS)
	if to-from <= 1 { // a bin goes to the frame of its middle
		from = int(((b.first+b.last)/2*by - f.startS) / f.stepS)
		to = from
	}
	return max(from, 0), min(to, f.n-1)
}

// columnOver is one column over the frames: means, and extremes inside each.
func (f *frames) columnOver(r *Record, section [2]int, c *Column) (means, low, high []float64) {
	sum, weight := make([]float64, f.n), make([]float64, f.n)
	low, high = make([]float64, f.n), make([]float64, f.n)
	for k := range low {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
	}
	by := r.Columns[0].Factor
	for i := section[0]; i < section[1]; i++ {
		p := &r.bins.spans[i*r.bins.columns+c.slot]
		if p.rows == 0 {
			continue
		}
		from, to := f.covered(&r.bins.list[i], by)
		share := 1 / float64(to-from+1)
		x := (p.mean() - c.Offset) * c.Factor
		a, b := (float64(p.low)-c.Offset)*c.Factor, (float64(p.high)-c.Offset)*c.Factor
		for k := from; k <= to; k++ {
			sum[k] += x * float64(p.rows) * share
			weight[k] += float64(p.rows) * share
			low[k], high[k] = math.Min(low[k], math.Min(a, b)), math.Max(high[k], math.Max(a, b))
		}
	}
	for k := range sum {
		if weight[k] > 0 {
			sum[k] /= weight[k]
		} else {
			sum[k], low[k], high[k] = math.NaN(), math.NaN(), math.NaN()
		}
	}
	f.bridge(sum)
	return sum, low, high
}

// bridge draws straight lines over what is missing for a short while.
func (f *frames) bridge(x []float64) {
	most := int(bridgedS/f.stepS) + 1
	last := -1
	for k := range x {
		if math.IsNaN(x[k]) {
			continue
		}
		if gap := k - last; last >= 0 && gap > 1 && gap <= most {
			for j := last + 1; j < k; j++ {
				x[j] = x[last] + (x[k]-x[last])*float64(j-last)/float64(gap)
			}
		}
		last = k
	}
}

// averaged is the mean of the columns of a quantity over the frames, nil if there are none.
func (f *frames) averaged(r *Record, section [2]int, q Quantity) (means, low, high []float64, columns int) {
	list := r.of(q)
	for _, c := range list {
		m, a, b := f.columnOver(r, section, c)
		if means == nil {
			means, low, high = m, a, b
			continue
		}
		for k := range means {
			means[k] += m[k]
			low[k], high[k] = math.Min(low[k], a[k]), math.Max(high[k], b[k])
		}
	}
	for k := range means {
		means[k] /= float64(len(list))
	}
	return means, low, high, len(list)
}

// fill brings the quantities together.
func (f *frames) fill(r *Record, section [2]int) {
	f.volts, f.lowV, _, _ = f.averaged(r, section, Volts)
	if f.volts == nil {
		cell, low, _, n := f.averaged(r, section, CellV)
		if r.options.Pack.Cells > 0 {
			n = r.options.Pack.Cells
		}
		for k := range cell {
			cell[k] *= float64(n)
			low[k] *= float64(n)
		}
		f.volts, f.lowV = cell, low
	}
	f.amps, _, f.highA, _ = f.averaged(r, section, Amps)
	if f.amps == nil {
		esc, _, high, n := f.averaged(r, section, ESCAmps)
		for k := range esc {
			esc[k] *= float64(n)
			high[k] *= float64(n)
		}
		f.amps, f.highA = esc, high
	}
	f.throttle, _, _, _ = f.averaged(r, section, Throttle)
	if f.throttle == nil {
		f.throttle, _, _, _ = f.averaged(r, section, Outputs)
	}
	// A signal of 1000 to 2000 that is off is written as 0.
	for k, x := range f.throttle {
		if x < 0 {
			f.throttle[k] = 0
		}
	}
	f.rpm, _, _, _ = f.averaged(r, section, RPM)
	if f.rpm == nil && r.options.Poles >= 2 {
		f.rpm, _, _, _ = f.averaged(r, section, ERPM)
		for k := range f.rpm {
			f.rpm[k] /= float64(r.options.Poles) / 2
		}
	}
	f.speed, _, _, _ = f.averaged(r, section, Speed)
	f.height, _, _, _ = f.averaged(r, section, Height)
	f.used, _, _, _ = f.averaged(r, section, Used)
	f.tilt, _, _, _ = f.averaged(r, section, Tilt)
	for k, x := range f.tilt {
		f.tilt[k] = math.Abs(x)
	}
	if roll, _, _, _ := f.averaged(r, section, Roll); f.tilt == nil && roll != nil {
		if pitch, _, _, _ := f.averaged(r, section, Pitch); pitch != nil {
			f.tilt = roll
			for k := range roll {
				f.tilt[k] = math.Acos(math.Cos(roll[k]*math.Pi/180)*math.Cos(pitch[k]*math.Pi/180)) * 180 / math.Pi
			}
		}
	}
}

// noteTurns says what is wanting where rpm are electrical.
func (r *Record) noteTurns() {
	for _, c := range r.of(ERPM) {
		if r.options.Poles < 2 && len(r.of(RPM)) == 0 {
			r.note("series.needs_poles", strict.Values{"column": strict.Raw(c.Heading)})
			return
		}
	}
	for _, c := range r.of(RPM) {
		if c.High > 90000 && r.options.Poles < 2 {
			r.note("series.likely_erpm", strict.Values{"column": strict.Raw(c.Heading), "high": strict.Digits(c.High, 3)})
			return
		}
	}
}

// mid is the time of a frame's middle in s from the first.
func (f *frames) mid(k int) float64 { return (float64(k) + 0.5) * f.stepS }

// over is how many frames a time takes, one at least.
func (f *frames) over(s float64) int { return max(int(math.Round(s/f.stepS)), 1) }

// meanOf is the mean of some frames of a quantity, not a number if there is none.
func meanOf(x []float64, from, to int) float64 {
	if x == nil {
		return math.NaN()
	}
	sum, n := 0.0, 0
	for _, v := range x[from:to] {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n == 0 {
		return math.NaN()
	}
	return sum / float64(n)
}
