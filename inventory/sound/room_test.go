package sound

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

// slowNoise is an Ornstein-Uhlenbeck process of unit standard deviation, smoothed, with a correlation time in s.
func slowNoise(r *rand.Rand, n int, rateHz, timeS float64) []float64 {
	const every = 64
	out := make([]float64, n)
	a := math.Exp(-every / rateHz / timeS)
	x := r.NormFloat64()
	next := x
	for i := range out {
		if i%every == 0 {
			x = next
			next = a*next + math.Sqrt(1-a*a)*r.NormFloat64()
		}
		f := float64(i%every) / every
		out[i] = x + f*(next-x)
	}
	return out
}

// colouredNoise is between white and brown, with a slow gustiness.
func colouredNoise(r *rand.Rand, n int, rateHz, colour float64) []float64 {
	out := make([]float64, n)
	slow := slowNoise(r, n, rateHz, 0.5)
	var brown float64
	a := math.Exp(-2 * math.Pi * 150 / rateHz)
	gain := math.Sqrt(1 - a*a)
	for i := range out {
		w := r.NormFloat64()
		brown = a*brown + gain*r.NormFloat64()
		out[i] = ((1-colour)*w + colour*brown*2) * math.Exp(0.15*slow[i])
	}
	return out
}

func humming(r *rand.Rand, n int, rateHz float64) []float64 {
	out := make([]float64, n)
	base := []float64{50, 60}[r.IntN(2)] * 2
	for h := 1; h <= 12; h++ {
		level := math.Exp(0.7*r.NormFloat64()) / float64(h)
		at, step := cmplx.Rect(level, 2*math.Pi*r.Float64()), cmplx.Rect(1, 2*math.Pi*base*float64(h)/rateHz)
		for i := range out {
			out[i] += imag(at)
			at *= step
		}
	}
	return out
}

func add(to, from []float64, level float64) {
	for i := range to {
		to[i] += level * from[i]
	}
}

func rms(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(x)))
}

// bandRMS is the level of what lies between about 100 Hz and 10 kHz.
func bandRMS(x []float64, rateHz float64) float64 {
	low := append([]float64(nil), x...)
	lowPass(low, rateHz, math.Min(10000, 0.45*rateHz))
	a := math.Exp(-2 * math.Pi * 100 / rateHz)
	slow, sum := 0.0, 0.0
	for _, v := range low {
		slow = a*slow + (1-a)*v
		sum += (v - slow) * (v - slow)
	}
	return math.Sqrt(sum / float64(len(x)))
}

// lowPass is two Butterworth sections in a row, in place.
func lowPass(x []float64, rateHz, cutHz float64) {
	w := 2 * math.Pi * math.Min(cutHz, 0.47*rateHz) / rateHz
	for _, q := range [...]float64{0.541, 1.307} {
		alpha, cos := math.Sin(w)/(2*q), math.Cos(w)
		b0, b1 := (1-cos)/2/(1+alpha), (1-cos)/(1+alpha)
		a1, a2 := -2*cos/(1+alpha), (1-alpha)/(1+alpha)
		var x1, x2, y1, y2 float64
		for i, v := range x {
			y := b0*(v+x2) + b1*x1 - a1*y1 - a2*y2
			x2, x1, y2, y1 = x1, v, y1, y
			x[i] = y
		}
	}
}

// reverberate adds echoes of walls and a comb of a small room.
func reverberate(r *rand.Rand, x []float64, rateHz, level float64) {
	dry := append([]float64(nil), x...)
	for range 14 {
		delay := int(rateHz * (0.003 + 0.12*r.Float64()*r.Float64()))
		gain := level * r.NormFloat64() * 0.6
		for i := delay; i < len(x); i++ {
			x[i] += gain * dry[i-delay]
		}
	}
}

func automaticGain(x []float64, rateHz float64) {
	level := 1e-9
	attack, release := 1-math.Exp(-1/(0.005*rateHz)), 1-math.Exp(-1/(0.3*rateHz))
	for i, v := range x {
		if a := math.Abs(v); a > level {
			level += attack * (a - level)
		} else {
			level += release * (a - level)
		}
		x[i] = v / math.Pow(level+1e-6, 0.7)
	}
}

// jumpingGain changes the level by up to 9 dB either way each half second or so.
func jumpingGain(r *rand.Rand, x []float64, rateHz float64) {
	for i := 0; i < len(x); {
		end := min(len(x), i+int(rateHz*(0.3+0.7*r.Float64())))
		gain := math.Pow(10, 18*(r.Float64()-0.5)/20)
		for ; i < end; i++ {
			x[i] *= gain
		}
	}
}

// quantise brings a sound to 0.9 of full scale at 16 bit, with a share of its peak cut off.
func quantise(x []float64, clip float64) {
	peak := 0.0
	for _, v := range x {
		peak = math.Max(peak, math.Abs(v))
	}
	if peak == 0 {
		return
	}
	limit := peak * (1 - clip)
	for i, v := range x {
		x[i] = math.Round(math.Max(-limit, math.Min(limit, v))/limit*0.9*32767) / 32767
	}
}
