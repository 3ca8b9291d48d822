// Package audio decodes sound files to samples, by what stands in them, not by their names.
package audio

import (
	"bytes"
	"errors"
	"fmt"

	"partsaloft/inventory/sound"
)

// MostBytes is the largest file that is read.
const MostBytes = 64 << 20

// The faults of a file.
var (
	// ErrBrowser is of a form that only a browser decodes.
	ErrBrowser = errors.New("this kind of sound or video file is not read here")
	ErrUnknown = errors.New("not a sound file that is known")
)

// Decode reads a recording, at most sound.LongestS long.
func Decode(file []byte) (*sound.Recording, error) {
	at := func(offset int, mark string) bool {
		return len(file) >= offset+len(mark) && string(file[offset:offset+len(mark)]) == mark
	}
	switch {
	case len(file) == 0:
		return nil, fmt.Errorf("%w: it is empty", ErrUnknown)
	case at(0, "RIFF") || at(0, "RF64"):
		return sound.ReadWAV(file)
	case at(4, "ftyp"), at(0, "\x1aE\xdf\xa3"), at(0, "caff"), at(0, "#!AMR"), at(0, "FORM"), at(0, "0&\xb2u"):
		return nil, ErrBrowser
	}
	for _, d := range decoders {
		if d.knows(file) {
			return d.decode(file)
		}
	}
	return nil, ErrUnknown
}

// decoder is a form of file with what reads it.
type decoder struct {
	knows  func(file []byte) bool
	decode func(file []byte) (*sound.Recording, error)
}

var decoders = [...]decoder{
	{func(file []byte) bool { return bytes.HasPrefix(file, []byte("OggS")) },
		func([]byte) (*sound.Recording, error) { return nil, ErrBrowser }},
}
