package sound

import "math"

// Spectrum is the mean short-time spectrum of a recording.
type Spectrum struct {
	BinHz   float64
	LevelDB []float64 // over the noise floor, by bin
}

func (s *spectra) spectrum() Spectrum {
	m := Spectrum{BinHz: s.binHz, LevelDB: make([]float64, len(s.power))}
	for i, p := range s.power {
		m.LevelDB[i] = 10 * math.Log10(math.Max(p, 1e-3))
	}
	return m
}
