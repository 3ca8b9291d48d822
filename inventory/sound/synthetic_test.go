package sound

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

// scene is a synthetic recording with known truth. It is made rotor by rotor in the time domain, from phases that are
// integrals of wandering speeds, and shares nothing with what the detector assumes: no stationary lines, no white
// noise, no equal rotors. It is a model nevertheless: what real crafts add to it (gusts through the disc, other
// machines, odd phones) no test here can show.
type scene struct {
	rateHz, seconds float64
	blades          int
	rpm             float64 // root mean square of the rotors in hover
	within          float64 // range of the rotors of a group, relative
	apart           float64 // distance of two pairs, ln; 0 is one group
	wander          float64 // standard deviation of each rotor's own slow wander, relative
	gust            float64 // of what moves all rotors together
	course          course
	pattern         pattern
	snrDB           float64 // tones over noise, 100 Hz to 10 kHz; NaN for no tones at all
	colour          float64 // of the noise: 0 white to 1 brown
	fallDB          float64 // level lost from harmonic to harmonic
	lowPassHz       float64 // of a codec, 0 for none
	clip            float64 // share of the peak that is cut off
	hum             float64 // level of the mains' comb over the tones', amplitude
	whine           float64 // level of motor tones over the tones', amplitude
	imbalance       float64 // level of shaft orders 1 to 5 over the fundamental's, amplitude
	reverb          float64 // level of the tail
	gain            bool    // automatic gain
	steps           bool    // the gain jumps
	antiphase       bool    // two channels of opposite sign
	silentS         float64 // digital silence before the sound
	neighbour       float64 // level of a second craft over the first's, amplitude
	other           otherSound
	otherLevel      float64 // amplitude over the tones' or, without tones, over the noise's
	seed            uint64
}

// course is how the speed of all rotors goes over the recording.
type course int

const (
	hovers      course = iota
	climbsAway         // in the last 30 %
	startsLands        // spins up, overshoots, hovers from 30 to 80 %, descends and stops
	ramps              // through 2 % from beginning to end
)

// at is the deviation in ln speed at a share of the recording, and whether that is hover.
func (c course) at(share float64) (ln float64, hover bool) {
	clamp := func(x float64) float64 { return math.Max(0, math.Min(1, x)) }
	switch c {
	case climbsAway:
		return 0.12 * clamp((share-0.7)/0.1), share <= 0.7
	case startsLands:
		switch {
		case share < 0.1:
			return -1.2, false
		case share < 0.2:
			return -1.2 + 1.35*clamp((share-0.1)/0.1), false
		case share < 0.3:
			return 0.15 * (1 - clamp((share-0.2)/0.1)), false
		case share <= 0.8:
			return 0, true
		case share < 0.92:
			return -0.07 * clamp((share-0.8)/0.03), false
		}
		return -0.07 - 1.5*clamp((share-0.92)/0.06), false
	case ramps:
		return 0.02 * (share - 0.5), true
	}
	return 0, true
}

// pattern is how the level goes from harmonic to harmonic, before each rotor's own scatter.
type pattern int

const (
	falls pattern = iota
	secondStrong
	fundamentalMissing
	oneDominates // by 15 dB, one of the second to fourth
	level
	patterns
)

func (p pattern) db(harmonic int, fallDB float64, one int) float64 {
	fall := -fallDB * float64(harmonic-1)
	switch {
	case p == secondStrong && harmonic == 2:
		return 10
	case p == fundamentalMissing && harmonic == 1:
		return -40
	case p == oneDominates && harmonic == one:
		return 15 + fall
	case p == level:
		return 0
	}
	return fall
}

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
	if s.neighbour > 0 {
		t := *s
		t.rpm *= math.Exp(0.4 * r.NormFloat64())
		t.blades, t.course, t.apart = 2+r.IntN(5), hovers, 0
		tones := make([]float64, n)
		t.rotors(r, tones)
		add(out, tones, s.neighbour*toneRMS/rms(tones))
	}
	if s.reverb > 0 {
		reverberate(r, out, s.rateHz, s.reverb)
	}
	if s.lowPassHz > 0 {
		lowPass(out, s.rateHz, s.lowPassHz)
	}
	if s.steps {
		jumpingGain(r, out, s.rateHz)
	}
	if s.gain {
		automaticGain(out, s.rateHz)
	}
	if s.other == nearSilence {
		for i := range out {
			out[i] = math.Round(out[i]*3) / 32767
		}
		return &Recording{RateHz: s.rateHz, Channels: [][]float64{out}}, truth
	}
	clear(out[:int(s.silentS*s.rateHz)])
	quantise(out, s.clip)
	channels := [][]float64{out}
	if s.antiphase {
		second := make([]float64, n)
		for i, x := range out {
			second[i] = -x
		}
		channels = append(channels, second)
	}
	return &Recording{RateHz: s.rateHz, Channels: channels}, truth
}

// rotors adds four rotors, each with its own speed, wander, harmonics, motor and imbalance. The sound pressure of
// a rotor goes about with the square of its speed (loading noise; from memory).
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
	one := 2
	if s.pattern == oneDominates {
		one += r.IntN(3)
	}
	var square float64
	var counted int
	for k := range off {
		own := slowNoise(r, n, s.rateHz, 0.3+0.5*r.Float64())
		var inPhase, quadrature [harmonics]float64
		loud := r.NormFloat64() * 2.5
		for h := range inPhase {
			db := loud + s.pattern.db(h+1, s.fallDB, one) + 4*r.NormFloat64()
			sin, cos := math.Sincos(2 * math.Pi * r.Float64())
			inPhase[h], quadrature[h] = math.Pow(10, db/20)*cos, math.Pow(10, db/20)*sin
		}
		fade := slowNoise(r, n, s.rateHz, 0.2)
		orders := [...]int{1, 2, 3, 4, 5, 7, 14, 21}
		var shaft [len(orders)]complex128 // level and phase
		for j, o := range orders {
			a := s.imbalance
			if o >= 7 {
				a = s.whine
			}
			level := a * math.Exp(0.5*r.NormFloat64())
			shaft[j] = cmplx.Rect(level, 2*math.Pi*r.Float64())
		}
		theta := 2 * math.Pi * r.Float64()
		for i := range out {
			ln, hover := s.course.at(float64(i) / float64(n))
			rev := s.rpm / 60 * math.Exp(off[k]-shift+s.wander*own[i]+s.gust*gust[i]+ln)
			if hover {
				square += rev * rev
				counted++
			}
			theta += 2 * math.Pi * rev * dt
			sin, cos := math.Sincos(theta)
			turn := powers(complex(cos, sin)) // e^(i order theta)
			cos, sin = real(turn[s.blades]), imag(turn[s.blades])
			re, im := cos, sin
			var x float64
			for h := range inPhase {
				if rev*float64(s.blades*(h+1)) < 0.49*s.rateHz {
					x += inPhase[h]*re - quadrature[h]*im
				}
				re, im = re*cos-im*sin, re*sin+im*cos
			}
			x *= math.Exp(0.35*fade[i] + 2*ln)
			if s.imbalance > 0 || s.whine > 0 {
				for j, o := range orders {
					if rev*float64(o) < 0.49*s.rateHz {
						x += imag(shaft[j] * turn[o])
					}
				}
			}
			out[i] += x
		}
	}
	return 60 * math.Sqrt(square/float64(counted))
}

// powers are those of a number from 0 to 21, each the product of two that are near half of it.
func powers(z complex128) (of [22]complex128) {
	of[0], of[1] = 1, z
	for k := 2; k < len(of); k++ {
		of[k] = of[k/2] * of[k-k/2]
	}
	return of
}
