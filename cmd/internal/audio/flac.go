package audio

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/mewkiz/flac"

	"partsaloft/inventory/sound"
)

// decodeFLAC reads a FLAC file (RFC 9639). Its first block must be the stream's own; all others are skipped.
func decodeFLAC(file []byte) (*sound.Recording, error) {
	if len(file) < 42 || file[4]&0x7f != 0 || file[5] != 0 || file[6] != 0 || file[7] != 34 {
		return nil, fmt.Errorf("%w: its header is cut off", ErrDamaged)
	}
	stream, err := flac.New(bytes.NewReader(file))
	if err != nil {
		return nil, fmt.Errorf("%w: its header is cut off", ErrDamaged)
	}
	full := float64(int64(1) << (stream.Info.BitsPerSample - 1))
	t, err := newTaken(float64(stream.Info.SampleRate), int(stream.Info.NChannels))
	if err != nil {
		return nil, err
	}
	for {
		frame, err := stream.ParseNext()
		if errors.Is(err, io.EOF) {
			return t.end(true)
		}
		if err != nil || len(frame.Subframes) != int(stream.Info.NChannels) {
			return t.end(false)
		}
		for i := range frame.Subframes[0].Samples {
			if !t.add(func(c int) float64 { return float64(frame.Subframes[c].Samples[i]) / full }) {
				return t.end(false)
			}
		}
	}
}
