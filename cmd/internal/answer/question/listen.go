package question

import (
	"context"
	"encoding/binary"
	"math"

	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/inventory/sound"
)

// Listened is the document of a recording with what a screen shows of it.
type Listened struct {
	*readings.Listened
	Words    readings.ListenWords `json:"words"`
	Spectrum *Spectrum            `json:"spectrum"` // null of a recording that is too short for one
}

// Spectrum is the mean spectrum of a recording, and where the tones of the rotors lie in it: those that were heard, or
// those that were expected.
type Spectrum struct {
	StepHz  float64   `json:"step_hz"` // from one level to the next; the first is at 0
	LevelDB []float64 `json:"level_db"`
	Tones   []Tone    `json:"tones"`
}

// Tone is a multiple of a blade-passing frequency.
type Tone struct {
	Group  int     `json:"group"` // 1, or 2 of a second group of rotors
	Times  int     `json:"times"`
	Hz     float64 `json:"hz"`
	Strong bool    `json:"strong"` // it stands out
}

// listen reads the rotor speed of a hovering craft from the samples that are attached: 32-bit floating point, little
// endian, one channel after the other. The reply's text is the drawer with the reading in its log, if it was heard.
// Without samples it says what to expect of the craft: predicted speed, blades and weight.
func listen(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		Craft    string  `json:"craft"`
		Pick     string  `json:"pick"`
		Weight   string  `json:"weight"`
		Date     string  `json:"date"`
		RateHz   float64 `json:"rate_hz"`
		Channels int     `json:"channels"`
		CutToS   float64 `json:"cut_to_s"` // how long the samples are, if the recording went on
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	switch {
	case o.Craft != "" && o.Pick != "":
		return nil, wrong("craft", "name the craft or its parts, not both")
	case !inside(o.RateHz, sound.LowestRateHz, sound.HighestRateHz):
		return nil, wrong("rate_hz", "must be from %d to %d, got %g", sound.LowestRateHz, sound.HighestRateHz, o.RateHz)
	case o.Channels < 1 || o.Channels > sound.MostChannels:
		return nil, wrong("channels", "must be from 1 to %d, got %d", sound.MostChannels, o.Channels)
	case len(a.Attached)%(4*o.Channels) != 0:
		return nil, wrong("attached", "must be samples of 4 bytes for each of %d channels, got %d bytes", o.Channels,
			len(a.Attached))
	case !inside(o.CutToS, 0, sound.LongestS):
		return nil, wrong("cut_to_s", "must be from 0 to %d, got %g", sound.LongestS, o.CutToS)
	}
	ask, c, err := a.ask(&o.Shared)
	if err != nil {
		return nil, err
	}
	recording := &sound.Recording{RateHz: o.RateHz, Channels: samples(a.Attached, o.Channels), CutToS: o.CutToS}
	a.Attached = nil
	l := readings.Listen{Recording: recording, Name: a.file(), Text: []byte(a.Drawer), Craft: o.Craft, Pick: o.Pick,
		Weight: o.Weight, Date: o.Date, Ways: a.logWays(c.drawer, &ask.Problem.Style)}
	d, text, err := l.Answer(ctx, ask)
	if err != nil {
		return nil, err
	}
	return made(&Listened{Listened: d, Words: d.Words, Spectrum: spectrumOf(d)}, text, ctx.Err())
}

// samples are those of each channel.
func samples(content []byte, channels int) [][]float64 {
	list := make([][]float64, channels)
	n := len(content) / 4 / channels
	for c := range list {
		list[c] = make([]float64, n)
		for i := range list[c] {
			at := 4 * (c*n + i)
			list[c][i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(content[at : at+4])))
		}
	}
	return list
}

// mostLevels of a spectrum that is drawn: further ones would share a pixel.
const mostLevels = 800

// mostTones of a group are shown.
const mostTones = 8

func spectrumOf(d *readings.Listened) *Spectrum {
	whole := &d.Reading.Spectrum
	if len(whole.LevelDB) < 2 {
		return nil
	}
	groups := d.Groups
	if !d.Heard {
		groups = []float64{d.PredictedRPM}
	}
	end := float64(len(whole.LevelDB)) * whole.BinHz
	s := &Spectrum{Tones: []Tone{}}
	highest := 0.0
	for g, rpm := range groups {
		passing := rpm / 60 * float64(d.Blades)
		highest = math.Max(highest, (mostTones+1.5)*passing)
		for times := 1; times <= mostTones && float64(times)*passing < end; times++ {
			tone := Tone{Group: g + 1, Times: times, Hz: math.Round(float64(times)*passing*10) / 10}
			for _, strong := range d.Harmonics {
				tone.Strong = tone.Strong || d.Heard && strong == times
			}
			s.Tones = append(s.Tones, tone)
		}
	}
	bins := min(len(whole.LevelDB), int(highest/whole.BinHz)+1)
	by := (bins + mostLevels - 1) / mostLevels
	s.StepHz = float64(by) * whole.BinHz
	// The two lowest bins hold what is left of the mean.
	for from := 0; from < bins; from += by {
		top := 0.0
		for i := max(from, 2); i < min(from+by, bins); i++ {
			top = math.Max(top, whole.LevelDB[i])
		}
		s.LevelDB = append(s.LevelDB, math.Round(top*10)/10)
	}
	return s
}
