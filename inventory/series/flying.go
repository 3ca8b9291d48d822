package series

import (
	"math"
)

// span of frames, from the first to before the last.
type run struct{ from, to int }

func (r run) frames() int { return r.to - r.from }

// What parts a flight from the ground. Speed of the rotors, and the cube root of power, are compared with their median
// over what is not idle: hover lies at 0.6 to 1 of it in any way of flying, idling at a third or less.
const (
	flyingOverMedian   = 0.55
	throttleOverMedian = 0.40
	activeOverNinth    = 0.35
	bridgeDiveS        = 4 // a dive with the throttle closed is no landing
	shortestRunS       = 3
	packChangeS        = 15
)

// drive is what tells flying from the ground: rotor speed, else the cube root of current, else throttle, with the share
// of its median from which a craft flies. nil if nothing does.
func (f *frames) drive() (x []float64, share float64) {
	switch {
	case f.rpm != nil:
		return f.rpm, flyingOverMedian
	case f.amps != nil:
		base := quantileOf(f.amps, 0.01)
		if !(base > 0 && base < 0.2*medianOf(f.amps)) {
			base = 0
		}
		x = make([]float64, f.n)
		for k, a := range f.amps {
			x[k] = math.Cbrt(math.Max(a-base, 0))
			if math.IsNaN(a) {
				x[k] = math.NaN()
			}
		}
		return x, flyingOverMedian
	case f.throttle != nil:
		return f.throttle, throttleOverMedian
	}
	return nil, 0
}

// flights finds the runs in which the craft flies.
func (f *frames) flights() []run {
	x, share := f.drive()
	if x == nil {
		return nil
	}
	ninth := quantileOf(x, 0.9)
	var active []float64
	for _, v := range x {
		if v > activeOverNinth*ninth {
			active = append(active, v)
		}
	}
	if len(active) == 0 {
		return nil
	}
	bound := share * medianOf(active)
	var runs []run
	for k := 0; k < f.n; k++ {
		if !(x[k] > bound) {
			continue
		}
		end := k
		for end < f.n && x[end] > bound {
			end++
		}
		if n := len(runs); n > 0 && k-runs[n-1].to <= f.over(bridgeDiveS) {
			runs[n-1].to = end
		} else {
			runs = append(runs, run{k, end})
		}
		k = end
	}
	kept := runs[:0]
	for _, r := range runs {
		if r.frames() >= f.over(shortestRunS) {
			kept = append(kept, r)
		}
	}
	return f.onePack(kept)
}

// onePack keeps the longest row of flights that were flown on one pack: between two packs voltage at rest rises back to
// that of a full one.
func (f *frames) onePack(runs []run) []run {
	if f.volts == nil || len(runs) < 2 {
		return runs
	}
	highest := quantileOf(f.volts, 0.999)
	from, best := 0, run{}
	flown := func(a, b int) (n int) {
		for _, r := range runs[a:b] {
			n += r.frames()
		}
		return n
	}
	for i := 1; i <= len(runs); i++ {
		if i < len(runs) {
			a, b := runs[i-1].to, runs[i].from
			rest := f.over(2)
			if b-a < f.over(packChangeS) {
				continue
			}
			before := meanOf(f.volts, a+rest, min(a+2*rest, b))
			after := meanOf(f.volts, max(b-2*rest, a), b-rest)
			if !(after > 0.96*highest && before < 0.93*highest) {
				continue
			}
		}
		if flown(from, i) > flown(best.from, best.to) {
			best = run{from, i}
		}
		from = i
	}
	return runs[best.from:best.to]
}

// thrust is the logarithm of what goes with thrust: the square of rotor speed, power to two thirds, their geometric
// mean where both are there (at one thrust slow cruising takes more torque than hover), or else throttle times voltage
// to 1.6 (thrust over duty on stands, judgement). nil if nothing does.
func (f *frames) thrust() []float64 {
	x := make([]float64, f.n)
	power := func(k int) float64 {
		p := 2.0 / 3 * math.Log(f.amps[k])
		if f.volts != nil {
			p += 2.0 / 3 * math.Log(f.volts[k])
		}
		return p
	}
	switch {
	case f.rpm != nil && f.amps != nil:
		for k, v := range f.rpm {
			x[k] = math.Log(v) + power(k)/2
		}
	case f.rpm != nil:
		for k, v := range f.rpm {
			x[k] = 2 * math.Log(v)
		}
	case f.amps != nil:
		for k := range x {
			x[k] = power(k)
		}
	case f.throttle != nil:
		for k, v := range f.throttle {
			x[k] = 1.6 * math.Log(v)
			if f.volts != nil {
				x[k] += 1.6 * math.Log(f.volts[k])
			}
		}
	default:
		return nil
	}
	for k := range x {
		if math.IsInf(x[k], 0) {
			x[k] = math.NaN()
		}
	}
	return x
}

// smooth is the running mean over some frames, of what is there.
func smooth(x []float64, width int) []float64 {
	y := make([]float64, len(x))
	half := width / 2
	for k := range x {
		y[k] = meanOf(x, max(k-half, 0), min(k-half+width, len(x)))
	}
	return y
}
