package sound

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
)

// otherSound is a sound that is no craft.
type otherSound int

const (
	noOther otherSound = iota
	speech
	music
	heldChord
	heldNote
	mains
	wind
	chirps
	engine
	fan
	vacuum
	sweep
	beeps
	pink

	nearSilence
)

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
			sin, cos := math.Sincos(phase)
			once := complex(cos, sin)
			for h, turn := 0, once; h < len(level) && f*float64(h+1) < 0.45*s.rateHz; h, turn = h+1, turn*once {
				out[i] += envelope * level[h] * imag(turn)
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
	case heldNote:
		root := 110 * math.Pow(2, float64(r.IntN(36))/12)
		voice(0, n, root, root, 3+4*r.Float64(), 0.004*r.Float64()*float64(r.IntN(2)))
	case engine, fan, vacuum:
		s.machine(r, out)
	case sweep:
		f := 100 * math.Exp(3*r.Float64())
		voice(0, n, f, f*math.Exp(1.5*r.NormFloat64()), 2+6*r.Float64(), 0)
	case beeps:
		p, gap := 300*math.Exp(2.3*r.Float64()), samples(0.05+0.3*r.Float64())
		for i, length := 0, samples(0.05+0.4*r.Float64()); i < n; i += length + gap {
			voice(i, i+length, p, p, 6+8*r.Float64(), 0)
		}
	case pink:
		for octave := range 12 {
			low := slowNoise(r, n, s.rateHz, 0.2*math.Pow(0.5, float64(octave)))
			for i := range out {
				out[i] += low[i]
			}
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

// machine is one shaft with its orders: an engine at idle with half orders and uneven firing, a fan of few blades in
// its own rush, a vacuum cleaner with its shaft and blade tones. Its speed wanders less than a craft's.
func (s *scene) machine(r *rand.Rand, out []float64) {
	n := len(out)
	var rev, wander float64
	level := map[float64]float64{}
	switch s.other {
	case engine:
		rev, wander = 12+50*r.Float64(), 0.01
		firing := []float64{0.5, 1, 1.5, 2, 3}[r.IntN(5)]
		for order := 0.5; order <= 30; order += 0.5 {
			level[order] = math.Exp(0.7*r.NormFloat64()) / (1 + order/6)
			if math.Mod(order, firing) == 0 {
				level[order] *= 4
			}
		}
	case fan:
		rev, wander = 10+35*r.Float64(), 0.002
		blades := float64(3 + r.IntN(5))
		for h := 1.0; h <= 8; h++ {
			level[h*blades] = math.Exp(0.5*r.NormFloat64()) / h
			level[h] += 0.2 * math.Exp(0.5*r.NormFloat64()) / h
		}
	case vacuum:
		rev, wander = 330+330*r.Float64(), 0.003
		blades := float64(7 + r.IntN(5))
		for h := 1.0; h <= 6; h++ {
			level[h] += math.Exp(0.7*r.NormFloat64()) / h
			level[h*blades] += math.Exp(0.7*r.NormFloat64()) / h
		}
	}
	slow := slowNoise(r, n, s.rateHz, 0.5)
	var orders []complex128                 // level and phase of 0, a half, 1 and so on
	for twice := 0; twice <= 200; twice++ { // in this order, so that the sound is always the same
		order := float64(twice) / 2
		if a := level[order]; a > 0 && order*rev < 0.45*s.rateHz {
			orders = append(orders, make([]complex128, twice+1-len(orders))...)
			orders[twice] = cmplx.Rect(a, 2*math.Pi*r.Float64())
		}
	}
	theta := 0.0
	for i := range out {
		theta += 2 * math.Pi * rev * math.Exp(wander*slow[i]) / s.rateHz
		half := cmplx.Rect(1, theta/2)
		turn := complex(1, 0)
		for _, a := range orders {
			out[i] += imag(a * turn)
			turn *= half
		}
	}
}
