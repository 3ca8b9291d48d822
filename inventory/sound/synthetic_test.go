package sound

import (
	"math"
	"math/rand/v2"
)

// scene is a synthetic recording with known truth. It is made rotor by rotor in the time domain, from phases that are
// integrals of wandering speeds, and shares nothing with what the detector assumes: no stationary lines, no white
// noise, no equal rotors.
type scene struct {
	rateHz, seconds float64
	blades          int
	rpm             float64 // root mean square of the rotors in hover
	within          float64 // range of the rotors of a group, relative
	apart           float64 // distance of two pairs, ln; 0 is one group
	wander          float64 // standard deviation of each rotor's own slow wander, relative
	gust            float64 // of what moves all rotors together
	leaves          bool    // climbs away in the last 30 %
	snrDB           float64 // tones over noise, 100 Hz to 10 kHz; NaN for no tones at all
	colour          float64 // of the noise: 0 white to 1 brown
	fallDB          float64 // level lost from harmonic to harmonic
	lowPassHz       float64 // of a codec, 0 for none
	clip            float64 // share of the peak that is cut off
	hum             float64 // level of the mains' comb over the tones', amplitude
	whine           float64 // level of motor tones over the tones', amplitude
	imbalance       float64 // level of shaft orders
	reverb          float64 // level of the tail
	gain            bool    // automatic gain
	other           otherSound
	otherLevel      float64 // amplitude over the tones' or, without tones, over the noise's
	seed            uint64
}

type otherSound int

const (
	noOther otherSound = iota
	speech
	music
	heldChord
	mains
	wind
	chirps
)

// make renders the scene and returns it with the true root mean square rpm of the hover.
func (s *scene) make() (*Recording, float64) {
	r := rand.New(rand.NewPCG(s.seed, 77))
	n := int(s.rateHz * s.seconds)
	tones := make([]float64, n)
	truth := s.rpm
	if !math.IsNaN(s.snrDB) {
		truth = s.rotors(r, tones)
	}
	noise := colouredNoise(r, n, s.rateHz, s.colour)
	out := make([]float64, n)
	toneRMS := rms(tones)
	level := 1.0
	if toneRMS > 0 {
		level = toneRMS / bandRMS(noise, s.rateHz) * math.Pow(10, -s.snrDB/20)
	} else {
		toneRMS = rms(noise)
	}
	for i := range out {
		out[i] = tones[i] + level*noise[i]
	}
	if s.other != noOther {
		add(out, s.otherTones(r, n), s.otherLevel*toneRMS)
	}
	if s.hum > 0 {
		add(out, humming(r, n, s.rateHz), s.hum*toneRMS)
	}
	if s.reverb > 0 {
		reverberate(r, out, s.rateHz, s.reverb)
	}
	if s.lowPassHz > 0 {
		lowPass(out, s.rateHz, s.lowPassHz)
	}
	if s.gain {
		automaticGain(out, s.rateHz)
	}
	peak := 0.0
	for _, x := range out {
		peak = math.Max(peak, math.Abs(x))
	}
	if peak > 0 {
		limit := peak * (1 - s.clip)
		for i, x := range out {
			x = math.Max(-limit, math.Min(limit, x)) / limit * 0.9
			out[i] = math.Round(x*32767) / 32767
		}
	}
	return &Recording{RateHz: s.rateHz, Channels: [][]float64{out}}, truth
}

// rotors adds four rotors, each with its own speed, wander, harmonics, motor and imbalance.
func (s *scene) rotors(r *rand.Rand, out []float64) float64 {
	const count, harmonics = 4, 12
	var off [count]float64
	for i := range off {
		off[i] = s.within * (r.Float64() - 0.5)
		if i%2 == 0 {
			off[i] += s.apart / 2
		} else {
			off[i] -= s.apart / 2
		}
	}
	mean := 0.0
	for _, x := range off {
		mean += math.Exp(2 * x)
	}
	shift := 0.5 * math.Log(mean/count)
	n, dt := len(out), 1/s.rateHz
	gust := slowNoise(r, n, s.rateHz, 0.7)
	climb := func(i int) float64 {
		if !s.leaves {
			return 0
		}
		x := (float64(i)/float64(n) - 0.7) / 0.1
		return 0.12 * math.Max(0, math.Min(1, x))
	}
	var square float64
	var counted int
	for k := range off {
		own := slowNoise(r, n, s.rateHz, 0.3+0.5*r.Float64())
		var inPhase, quadrature [harmonics]float64
		loud := r.NormFloat64() * 2.5
		for h := range inPhase {
			db := loud - s.fallDB*float64(h) + 4*r.NormFloat64()
			sin, cos := math.Sincos(2 * math.Pi * r.Float64())
			inPhase[h], quadrature[h] = math.Pow(10, db/20)*cos, math.Pow(10, db/20)*sin
		}
		fade := slowNoise(r, n, s.rateHz, 0.2)
		orders := [...]float64{1, 2, 3, 4, 5, 7, 14, 21}
		var shaftLevel, shaftPhase [len(orders)]float64
		for j, o := range orders {
			a := s.imbalance
			if o >= 7 {
				a = s.whine
			}
			shaftLevel[j], shaftPhase[j] = a*math.Exp(0.5*r.NormFloat64()), 2*math.Pi*r.Float64()
		}
		theta := 2 * math.Pi * r.Float64()
		for i := range out {
			rev := s.rpm / 60 * math.Exp(off[k]-shift+s.wander*own[i]+s.gust*gust[i]+climb(i))
			if climb(i) == 0 {
				square += rev * rev
				counted++
			}
			theta += 2 * math.Pi * rev * dt
			sin, cos := math.Sincos(theta * float64(s.blades))
			re, im := cos, sin
			var x float64
			for h := range inPhase {
				if rev*float64(s.blades*(h+1)) < 0.49*s.rateHz {
					x += inPhase[h]*re - quadrature[h]*im
				}
				re, im = re*cos-im*sin, re*sin+im*cos
			}
			x *= math.Exp(0.35 * fade[i])
			if s.imbalance > 0 || s.whine > 0 {
				for j, o := range orders {
					if shaftLevel[j] > 0 && rev*o < 0.49*s.rateHz {
						x += shaftLevel[j] * math.Sin(theta*o+shaftPhase[j])
					}
				}
			}
			out[i] += x
		}
	}
	return 60 * math.Sqrt(square/float64(counted))
}

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
		level, phase := math.Exp(0.7*r.NormFloat64())/float64(h), 2*math.Pi*r.Float64()
		for i := range out {
			out[i] += level * math.Sin(2*math.Pi*base*float64(h)*float64(i)/rateHz+phase)
		}
	}
	return out
}

// otherTones are sounds that are no craft, of some unit level.
func (s *scene) otherTones(r *rand.Rand, n int) []float64 {
	out := make([]float64, n)
	voice := func(from, to int, f0, f1 float64, fall float64, vibrato float64) {
		if to > n {
			to = n
		}
		phase := 0.0
		var level [12]float64
		for h := range level {
			level[h] = math.Pow(10, (-fall*float64(h)+5*r.NormFloat64())/20)
		}
		rate := 4 + 3*r.Float64()
		for i := from; i < to; i++ {
			share := float64(i-from) / float64(to-from)
			f := f0 * math.Pow(f1/f0, share) * (1 + vibrato*math.Sin(2*math.Pi*rate*float64(i)/s.rateHz))
			phase += 2 * math.Pi * f / s.rateHz
			envelope := math.Min(1, math.Min(share, 1-share)*12)
			for h := range level {
				if f*float64(h+1) < 0.45*s.rateHz {
					out[i] += envelope * level[h] * math.Sin(phase*float64(h+1))
				}
			}
		}
	}
	samples := func(t float64) int { return int(t * s.rateHz) }
	switch s.other {
	case speech:
		pitch := 90 * math.Exp(r.Float64())
		for i := samples(0.3 * r.Float64()); i < n; {
			length := samples(0.12 + 0.3*r.Float64())
			p := pitch * math.Exp(0.15*r.NormFloat64())
			voice(i, i+length, p, p*math.Exp(0.12*r.NormFloat64()), 2+3*r.Float64(), 0)
			i += length + samples(0.25*r.Float64()*r.Float64())
		}
	case music:
		for part := 0; part < 3; part++ {
			for i := 0; i < n; {
				length := samples([]float64{0.15, 0.25, 0.4, 0.8}[r.IntN(4)])
				p := 110 * math.Pow(2, float64(r.IntN(36))/12)
				voice(i, i+length, p, p, 3+4*r.Float64(), 0.004*r.Float64())
				i += length
			}
		}
	case heldChord:
		root := 110 * math.Pow(2, float64(r.IntN(30))/12)
		for _, third := range []float64{0, []float64{3, 4}[r.IntN(2)], 7} {
			voice(0, n, root*math.Pow(2, third/12), root*math.Pow(2, third/12), 3+4*r.Float64(), 0.002*r.Float64())
		}
	case mains:
		copy(out, humming(r, n, s.rateHz))
	case wind:
		low := slowNoise(r, n, s.rateHz, 0.01)
		strength := slowNoise(r, n, s.rateHz, 0.4)
		for i := range out {
			out[i] = low[i] * math.Exp(strength[i])
		}
	case chirps:
		for i := 0; i < n; {
			length := samples(0.03 + 0.08*r.Float64())
			p := 2000 + 4000*r.Float64()
			voice(i, i+length, p, p*(0.8+0.4*r.Float64()), 12, 0)
			i += length + samples(0.3*r.Float64())
		}
	}
	if level := rms(out); level > 0 {
		for i := range out {
			out[i] /= level
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
