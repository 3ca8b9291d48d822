// Package audio decodes sound files to samples, by what stands in them, not by their names: WAV, FLAC, MP3, Ogg Vorbis
// and Ogg Opus. Whatever a file claims, it takes bounded time and memory.
package audio

import (
	"errors"
	"fmt"

	"partsaloft/inventory/sound"
)

// MostBytes is the largest file that is read.
const MostBytes = 64 << 20

// The faults of a file. Those that wrap them say what was found.
var (
	// ErrBrowser is of a kind that only a browser decodes.
	ErrBrowser = errors.New("this kind of sound or video file is not read here")
	ErrUnknown = errors.New("not a sound file that is known")
	ErrForm    = errors.New("a form of this kind of sound file that is not read here")
	ErrDamaged = errors.New("damaged sound file")
)

// Decode reads a recording, at most sound.LongestS long. A file that breaks off, or is damaged behind its beginning, is
// read as far as it goes.
func Decode(file []byte) (*sound.Recording, error) {
	file = file[:min(len(file), MostBytes)]
	if len(file) == 0 {
		return nil, fmt.Errorf("%w: it is empty", ErrUnknown)
	}
	body := withoutTags(file)
	switch {
	case has(file, 0, "RIFF") || has(file, 0, "RF64"):
		return sound.ReadWAV(file)
	case has(body, 0, "fLaC"):
		return guarded(body, decodeFLAC)
	case has(file, 0, "OggS"):
		return guarded(file, decodeOgg)
	case has(file, 4, "ftyp"), has(file, 4, "moov"), has(file, 4, "mdat"), has(file, 4, "wide"), has(file, 0, "\x1aE\xdf\xa3"),
		has(file, 0, "caff"), has(file, 0, "#!AMR"), has(file, 0, "FORM"), has(file, 0, "0&\xb2u"), isADTS(body):
		return nil, ErrBrowser
	case isMP3(body):
		return guarded(body, decodeMP3)
	}
	return nil, ErrUnknown
}

// has reports whether a mark stands at an offset.
func has(file []byte, offset int, mark string) bool {
	return len(file) >= offset+len(mark) && string(file[offset:offset+len(mark)]) == mark
}

// withoutTags leaves out the ID3v2 tags before the sound: ten bytes each, of which the last four hold the length of the
// rest in seven bits a byte.
func withoutTags(file []byte) []byte {
	for has(file, 0, "ID3") && len(file) >= 10 {
		size := 10
		for i, b := range file[6:10] {
			size += int(b&0x7f) << (7 * (3 - i))
		}
		if file[5]&0x10 != 0 {
			size += 10 // a footer
		}
		file = file[min(size, len(file)):]
	}
	return file
}

// guarded decodes by a library. What makes a library panic is a damaged file.
func guarded(file []byte, decode func(file []byte) (*sound.Recording, error)) (r *sound.Recording, err error) {
	defer func() {
		if p := recover(); p != nil {
			r, err = nil, fmt.Errorf("%w: it cannot be decoded", ErrDamaged)
		}
	}()
	return decode(file)
}
