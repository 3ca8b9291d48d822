package rotor

import (
	"errors"
	"math"
	"slices"

	"partsaloft/physics/fault"
)

// stationCount is the number of blade stations, placed closer towards the tip.
const stationCount = 14

const (
	rootRadius = 0.15 // where the blade begins, r/R
	hubRadius  = 0.13 // where the hub's loss begins, r/R
)

// station is one strip of the blade, lengths in parts of the radius.
type station struct {
	radius, width, chord float64
	pitchRad             float64
}

// Blade is the geometry of a rotor in parts of its radius.
type Blade struct {
	Blades  int
	RadiusM float64
	// SoftTwist is the share of pitch that a soft blade loses per pascal of the tip's dynamic
	// pressure times (R/c)² at 75 % of the radius: pitch is divided by 1 + SoftTwist q (R/c)². Zero
	// is a stiff blade.
	SoftTwist float64
	stations  []station // never changed in place: copies share it
}

// stationRadii returns midpoint and width of each station, r/R: edges at
// 0.15 + 0.85 (1 − (1 − i/14)^1.4).
func stationRadii() (mid, width [stationCount]float64) {
	edge := func(i int) float64 {
		return rootRadius + (1-rootRadius)*(1-math.Pow(1-float64(i)/stationCount, 1.4))
	}
	for i := range stationCount {
		mid[i] = (edge(i) + edge(i+1)) / 2
		width[i] = edge(i+1) - edge(i)
	}
	return mid, width
}

// BladeLaw estimates a blade from its label: diameter D and pitch P in metres, B blades, x = r/R.
//
//	chord  c/R = s(x) exp(Chord + ChordBlades ln(B/2) + ChordDiameter ln(D/5 in) + ChordPitch ln((P/D)/0.7))
//	pitch  Pe/D = PitchShift + PitchScale ((P/D)/0.7)^PitchPower,  angle = atan(Pe/D p(x)/(pi x))
type BladeLaw struct {
	Chord, ChordBlades, ChordDiameter, ChordPitch float64
	PitchShift, PitchScale, PitchPower            float64
	ChordShape, PitchShape                        [stationCount]float64
}

// Where along the radius a station may be measured, with what a ruler may be off by.
const (
	LeastStation     = 0.10
	StationTolerance = 0.01
)

const (
	metresPerInch     = 0.0254
	typicalPitchRatio = 0.7 // P/D at which the laws' factors are 1
	typicalDiameterM  = 5 * metresPerInch
)

// Blade is the law's blade for a label.
func (l *BladeLaw) Blade(diameterM, pitchM float64, blades int) (Blade, error) {
	if err := checkLabel(diameterM, pitchM, blades); err != nil {
		return Blade{}, err
	}
	ratio := pitchM / diameterM / typicalPitchRatio
	chord := math.Exp(l.Chord + l.ChordBlades*math.Log(float64(blades)/2) +
		l.ChordDiameter*math.Log(diameterM/typicalDiameterM) + l.ChordPitch*math.Log(ratio))
	effective := l.PitchShift + l.PitchScale*math.Pow(ratio, l.PitchPower)
	b := Blade{Blades: blades, RadiusM: diameterM / 2, stations: make([]station, stationCount)}
	mid, width := stationRadii()
	for i := range b.stations {
		b.stations[i] = station{mid[i], width[i], chord * l.ChordShape[i],
			math.Atan(effective * l.PitchShape[i] / (math.Pi * mid[i]))}
	}
	return b, nil
}

func checkLabel(diameterM, pitchM float64, blades int) error {
	var errs []error
	if !(diameterM >= 0.02 && diameterM <= 1) {
		errs = append(errs, fault.New("prop.diameter", fault.Values{"low": 0.02, "high": 1.0, "got": diameterM}))
	}
	if !(pitchM > 0 && pitchM <= 2*diameterM) {
		errs = append(errs, fault.New("prop.pitch", fault.Values{"got": pitchM}))
	}
	if blades < 1 || blades > 8 {
		errs = append(errs, fault.New("prop.blades", fault.Values{"low": 1, "high": 8, "got": blades}))
	}
	return errors.Join(errs...)
}

// Measurement is chord and pitch angle of a blade at one radius, lengths in metres. An AngleRad
// of zero means that only the chord was measured.
type Measurement struct {
	RadiusM, ChordM, AngleRad float64
}

// Measured bends the blade to measured stations: chord and angle are scaled by the ratio of
// measured to present at each station, the ratio being linear in between and constant outside.
// With a single station the whole blade scales.
func (b Blade) Measured(points []Measurement) (Blade, error) {
	type ratio struct{ radius, chord, angle float64 }
	var ratios []ratio
	if len(points) == 0 {
		return b, nil
	}
	for i, p := range points {
		x := p.RadiusM / b.RadiusM
		if !(x >= LeastStation*(1-StationTolerance) && x <= 1+StationTolerance) {
			return b, fault.New("station.radius", fault.Values{"n": i + 1, "got": p.RadiusM * 1e3,
				"low": fault.Digits(b.RadiusM*LeastStation*1e3, 3), "high": fault.Digits(b.RadiusM*1e3, 3)})
		}
		if !(p.ChordM > 0 && p.ChordM < b.RadiusM) {
			return b, fault.New("station.chord", fault.Values{"n": i + 1, "got": p.ChordM * 1e3})
		}
		if len(ratios) > 0 && x <= ratios[len(ratios)-1].radius {
			return b, fault.New("station.order", fault.Values{"n": i + 1})
		}
		chord, angle := b.At(x)
		r := ratio{x, p.ChordM / b.RadiusM / chord, 1}
		if p.AngleRad > 0 {
			r.angle = math.Tan(p.AngleRad) / math.Tan(angle)
		}
		ratios = append(ratios, r)
	}
	b.stations = slices.Clone(b.stations)
	for i := range b.stations {
		s := &b.stations[i]
		k := 0
		for k < len(ratios) && ratios[k].radius < s.radius {
			k++
		}
		var chord, angle float64
		switch {
		case k == 0:
			chord, angle = ratios[0].chord, ratios[0].angle
		case k == len(ratios):
			chord, angle = ratios[k-1].chord, ratios[k-1].angle
		default:
			lo, hi := ratios[k-1], ratios[k]
			t := (s.radius - lo.radius) / (hi.radius - lo.radius)
			chord, angle = lo.chord+t*(hi.chord-lo.chord), lo.angle+t*(hi.angle-lo.angle)
		}
		s.chord *= chord
		s.pitchRad = math.Atan(math.Tan(s.pitchRad) * angle)
	}
	return b, nil
}

// ruled is the label's blade bent to measured stations. Where they are many it is the mean of the blade bent to all of
// them and of the one bent to the chord nearest to 75 % of the radius alone, which errs less than either.
func (b Blade) ruled(points []Measurement, many bool) (Blade, error) {
	all, err := b.Measured(points)
	if err != nil || !many {
		return all, err
	}
	near := points[0]
	for _, p := range points {
		if math.Abs(p.RadiusM-0.75*b.RadiusM) < math.Abs(near.RadiusM-0.75*b.RadiusM) {
			near = p
		}
	}
	near.AngleRad = 0
	one, err := b.Measured([]Measurement{near})
	if err != nil {
		return b, err
	}
	for i := range all.stations {
		s, t := &all.stations[i], &one.stations[i]
		s.chord = (s.chord + t.chord) / 2
		s.pitchRad = math.Atan((math.Tan(s.pitchRad) + math.Tan(t.pitchRad)) / 2)
	}
	return all, nil
}

// scaled returns the blade with the tangents of its pitch angles and its chords multiplied.
func (b Blade) scaled(pitch, chord float64) Blade {
	b.stations = slices.Clone(b.stations)
	for i := range b.stations {
		s := &b.stations[i]
		s.pitchRad = math.Atan(math.Tan(s.pitchRad) * pitch)
		s.chord *= chord
	}
	return b
}

// twistLeft is the share of pitch that is left at a dynamic pressure of the tip in pascal.
func (b *Blade) twistLeft(tipPa float64) float64 {
	if b.SoftTwist == 0 {
		return 1
	}
	chord, _ := b.At(0.75)
	return 1 / (1 + b.SoftTwist*tipPa/(chord*chord))
}

// At returns chord (in parts of the radius) and pitch angle at x = r/R, linear between stations.
func (b *Blade) At(x float64) (chord, pitchRad float64) {
	s := b.stations
	if x <= s[0].radius {
		return s[0].chord, s[0].pitchRad
	}
	for i := 1; i < len(s); i++ {
		if x <= s[i].radius {
			t := (x - s[i-1].radius) / (s[i].radius - s[i-1].radius)
			return s[i-1].chord + t*(s[i].chord-s[i-1].chord), s[i-1].pitchRad + t*(s[i].pitchRad-s[i-1].pitchRad)
		}
	}
	return s[len(s)-1].chord, s[len(s)-1].pitchRad
}

// Solidity is the blade area over the disc area.
func (b *Blade) Solidity() float64 {
	var area float64
	for _, s := range b.stations {
		area += s.chord * s.width
	}
	return area * float64(b.Blades) / math.Pi
}

// StationRadii are the midpoints of the blade's stations, r/R.
func StationRadii() []float64 {
	mid, _ := stationRadii()
	return mid[:]
}
