package audio

import (
	"errors"
	"testing"

	"partsaloft/inventory/sound"
)

// Property: whatever a file holds, what comes back is sound or an error that is stated, within a minute of samples.
func anything(f *testing.F, seeds ...[]byte) {
	for _, file := range seeds {
		f.Add(file[:min(len(file), 6000)])
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		r, err := Decode(file)
		if err != nil {
			for _, known := range []error{ErrBrowser, ErrUnknown, ErrForm, ErrDamaged, sound.ErrNotWAV, sound.ErrWAVFormat,
				sound.ErrWAVDamaged} {
				if errors.Is(err, known) {
					return
				}
			}
			t.Fatalf("an error of nobody: %v", err)
		}
		if len(r.Channels) < 1 || len(r.Channels) > sound.MostChannels || r.Seconds() > sound.LongestS ||
			len(r.Channels[0]) == 0 {
			t.Fatalf("%d channels, %g s", len(r.Channels), r.Seconds())
		}
		for _, c := range r.Channels {
			if len(c) != len(r.Channels[0]) {
				t.Fatal("channels of different lengths")
			}
		}
	})
}

func FuzzWAV(f *testing.F) { anything(f, wav(8000, 2, []int16{1, 2, 3, 4})) }

func FuzzFLAC(f *testing.F) { anything(f, fixture(f, "hover.flac")) }

func FuzzMP3(f *testing.F) { anything(f, fixture(f, "hover.mp3"), fixture(f, "hover-mpeg2.mp3")) }

func FuzzVorbis(f *testing.F) { anything(f, fixture(f, "hover.ogg")) }

func FuzzOpus(f *testing.F) { anything(f, fixture(f, "hover.opus"), fixture(f, "hover-speech.opus")) }
