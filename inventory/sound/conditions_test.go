package sound

import (
	"math"
	"math/rand/v2"
)

// phone is a craft at phone quality: 44.1 kHz, 4 to 6 s, tones 3 dB under to 18 dB over the noise, one group of
// rotors within 6 %.
func phone(r *rand.Rand) scene {
	return scene{
		rateHz: 44100, seconds: 4 + 2*r.Float64(), blades: 2 + r.IntN(5),
		rpm: 3000 * math.Exp(r.Float64()*math.Log(50000.0/3000)), within: 0.06 * r.Float64(),
		wander: 0.002 + 0.008*r.Float64(), gust: 0.002 + 0.010*r.Float64(), snrDB: -3 + 21*r.Float64(),
		colour: r.Float64(), fallDB: 1 + 5*r.Float64(), imbalance: 0.5 * r.Float64() * r.Float64(),
		whine:     0.5 * r.Float64() * r.Float64(),
		lowPassHz: []float64{0, 8000, 12000, 16000}[r.IntN(4)],
		reverb:    0.5 * r.Float64() * float64(r.IntN(2)), gain: r.IntN(2) == 0,
		clip: 0.3 * r.Float64() * float64(r.IntN(2)), seed: r.Uint64(),
	}
}

// condition is a row of the grid.
type condition struct {
	name    string
	change  func(s *scene, r *rand.Rand)
	prior   float64 // factor on the prior; 0 draws it with its standard deviation
	blades  int     // by which the count that is said is off
	noCraft bool
}

func otherSounds(kind otherSound) func(s *scene, r *rand.Rand) {
	return func(s *scene, r *rand.Rand) {
		s.snrDB, s.other, s.otherLevel = math.NaN(), kind, math.Exp(r.NormFloat64()+0.7)
	}
}

func patterned(p pattern) func(s *scene, r *rand.Rand) {
	return func(s *scene, r *rand.Rand) { s.pattern = p }
}

// shafts sets how loud the shaft orders are. Small rotors measured alone show them 10 to 30 dB under the blade tones,
// from imbalance, the motor and blades that differ (from memory of papers on small rotors' noise, such as Zawodny,
// Boyd and Burley 2016).
func shafts(level float64) func(s *scene, r *rand.Rand) {
	return func(s *scene, r *rand.Rand) { s.imbalance = level }
}

var conditions = []condition{
	{name: "phone, one group"},
	{name: "two groups 4-22 % apart", change: func(s *scene, r *rand.Rand) {
		s.apart, s.within = math.Log(1.04+0.18*r.Float64()), 0.03*r.Float64()
	}},
	{name: "noise 3 to 18 dB over", change: func(s *scene, r *rand.Rand) { s.snrDB = -3 - 15*r.Float64() }},
	{name: "leaves the hover", change: func(s *scene, r *rand.Rand) { s.course = climbsAway }},
	{name: "drifts 2-4 %", change: func(s *scene, r *rand.Rand) { s.gust = 0.02 + 0.02*r.Float64() }},
	{name: "codec cuts at 3.4 kHz", change: func(s *scene, r *rand.Rand) { s.lowPassHz = 3400 }},
	{name: "half clipped", change: func(s *scene, r *rand.Rand) { s.clip = 0.5 + 0.3*r.Float64() }},
	{name: "mains hum as loud", change: func(s *scene, r *rand.Rand) { s.hum = 1 }},
	{name: "motor whine as loud", change: func(s *scene, r *rand.Rand) { s.whine = 1 }},
	{name: "someone talks as loud", change: func(s *scene, r *rand.Rand) { s.other, s.otherLevel = speech, 1 }},
	{name: "music as loud", change: func(s *scene, r *rand.Rand) { s.other, s.otherLevel = music, 1 }},
	{name: "prior 20 % high", prior: 1.2},
	{name: "prior 20 % low", prior: 0.8},
	{name: "said one blade more", blades: 1},
	{name: "said one blade less", blades: -1},
	{name: "one more, no shaft lines", blades: 1, change: shafts(0)},
	{name: "one more, shaft -10 dB", blades: 1, change: shafts(0.3)},
	{name: "one less, shaft -10 dB", blades: -1, change: shafts(0.3)},
	{name: "second harmonic strong", change: patterned(secondStrong)},
	{name: "fundamental missing", change: patterned(fundamentalMissing)},
	{name: "one harmonic dominates", change: patterned(oneDominates)},
	{name: "harmonics level", change: patterned(level)},
	{name: "wind as loud", change: func(s *scene, r *rand.Rand) { s.other, s.otherLevel = wind, 1 }},
	{name: "gain jumps", change: func(s *scene, r *rand.Rand) { s.steps = true }},
	{name: "small bare room", change: func(s *scene, r *rand.Rand) { s.reverb = 0.6 + 0.4*r.Float64() }},
	{name: "8 kHz", change: func(s *scene, r *rand.Rand) { s.rateHz, s.lowPassHz = 8000, 0 }},
	{name: "antiphase channels", change: func(s *scene, r *rand.Rand) { s.antiphase = true }},
	{name: "starts, hovers, lands", change: func(s *scene, r *rand.Rand) {
		s.course, s.seconds = startsLands, 8+4*r.Float64()
	}},
	{name: "1.5 s silence first", change: func(s *scene, r *rand.Rand) {
		s.silentS, s.seconds = 1.5, 5.5+2*r.Float64()
	}},
	{name: "second craft, -12 dB", change: func(s *scene, r *rand.Rand) { s.neighbour = 0.25 }},
	{name: "whoop, 40-50 krpm", change: func(s *scene, r *rand.Rand) {
		s.rpm, s.blades = 40000+10000*r.Float64(), 3+r.IntN(2)
	}},
	{name: "7 inch, 2 blades, 5 krpm", change: func(s *scene, r *rand.Rand) {
		s.rpm, s.blades = 4500+1000*r.Float64(), 2
	}},
	{name: "steady rotors, 1-4 % apart", change: func(s *scene, r *rand.Rand) {
		s.wander, s.gust, s.within = 0, 0, 0.01+0.03*r.Float64()
	}},
	{name: "ramps by 2 %", change: func(s *scene, r *rand.Rand) { s.course = ramps }},
	{name: "2.2 to 3 s", change: func(s *scene, r *rand.Rand) { s.seconds = 2.2 + 0.8*r.Float64() }},
	{name: "20 s", change: func(s *scene, r *rand.Rand) { s.seconds = 20 }},
	{name: "noise alone", change: otherSounds(noOther), noCraft: true},
	{name: "pink noise", change: otherSounds(pink), noCraft: true},
	{name: "near silence", change: otherSounds(nearSilence), noCraft: true},
	{name: "speech", change: otherSounds(speech), noCraft: true},
	{name: "music", change: otherSounds(music), noCraft: true},
	{name: "held chord", change: otherSounds(heldChord), noCraft: true},
	{name: "held note", change: otherSounds(heldNote), noCraft: true},
	{name: "mains hum", change: otherSounds(mains), noCraft: true},
	{name: "wind", change: otherSounds(wind), noCraft: true},
	{name: "birds", change: otherSounds(chirps), noCraft: true},
	{name: "engine at idle", change: otherSounds(engine), noCraft: true},
	{name: "fan", change: otherSounds(fan), noCraft: true},
	{name: "vacuum cleaner", change: otherSounds(vacuum), noCraft: true},
	{name: "sweeping tone", change: otherSounds(sweep), noCraft: true},
	{name: "beeps", change: otherSounds(beeps), noCraft: true},
}
