package audio

import (
	"fmt"

	"partsaloft/inventory/sound"
)

// mostSamples of all channels are kept: a minute of stereo at 96 kHz. At higher rates less than a minute is.
const mostSamples = 2 * 96000 * sound.LongestS

// taken are samples as they come from a decoder.
type taken struct {
	recording *sound.Recording
	most      int // samples of a channel
}

// newTaken begins a recording; channels beyond sound.MostChannels are left out.
func newTaken(rateHz float64, channels int) (*taken, error) {
	if !(rateHz >= sound.LowestRateHz && rateHz <= sound.HighestRateHz) {
		return nil, fmt.Errorf("%w: %g samples a second", ErrForm, rateHz)
	}
	if channels < 1 {
		return nil, fmt.Errorf("%w: it has no channel", ErrDamaged)
	}
	channels = min(channels, sound.MostChannels)
	return &taken{&sound.Recording{RateHz: rateHz, Channels: make([][]float64, channels)},
		min(int(sound.LongestS*rateHz), mostSamples/channels)}, nil
}

// add appends a sample of each channel, by their number; it reports whether there is room for more.
func (t *taken) add(sample func(channel int) float64) bool {
	for c := range t.recording.Channels {
		t.recording.Channels[c] = append(t.recording.Channels[c], sample(c))
	}
	return len(t.recording.Channels[0]) < t.most
}

// end is the recording; whole says that the file ended by itself.
func (t *taken) end(whole bool) (*sound.Recording, error) {
	if len(t.recording.Channels[0]) == 0 {
		return nil, fmt.Errorf("%w: it has no samples", ErrDamaged)
	}
	if !whole {
		t.recording.CutToS = t.recording.Seconds()
	}
	return t.recording, nil
}
