package audio

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/hajimehoshi/go-mp3"

	"partsaloft/inventory/sound"
)

// mostBeforeMP3 are the bytes, of padding or of a cut frame, after which the first frame must begin.
const mostBeforeMP3 = 4096

// mp3Frame is the length in bytes of a frame of layer III by its header, 0 if there is none.
//
// ISO/IEC 11172-3 and 13818-3: eleven bits of sync; version 3 is MPEG-1, 2 MPEG-2; layer 1 is III; the bit rate in
// kbit/s and the sample rate by tables.
func mp3Frame(b []byte) int {
	if len(b) < 4 || b[0] != 0xff || b[1]&0xe0 != 0xe0 || b[1]>>1&3 != 1 {
		return 0
	}
	kilobits := [...]int{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320, 0}
	rates, samples := [...]int{44100, 48000, 32000, 0}, 1152
	switch b[1] >> 3 & 3 {
	case 3:
	case 2:
		kilobits = [...]int{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160, 0}
		rates, samples = [...]int{22050, 24000, 16000, 0}, 576
	default:
		return 0
	}
	rate, bits := rates[b[2]>>2&3], kilobits[b[2]>>4]
	if rate == 0 || bits == 0 {
		return 0
	}
	return samples/8*1000*bits/rate + int(b[2]>>1&1)
}

// isMP3 reports whether a frame with another behind it begins near the front.
func isMP3(file []byte) bool {
	for i := range min(len(file), mostBeforeMP3) {
		if n := mp3Frame(file[i:]); n > 0 && i+n <= len(file) && (i+n == len(file) || mp3Frame(file[i+n:]) > 0) {
			return true
		}
	}
	return false
}

// isADTS reports whether AAC in frames of its own begins here: twelve bits of sync and layer 0.
func isADTS(file []byte) bool { return len(file) >= 7 && file[0] == 0xff && file[1]&0xf6 == 0xf0 }

// misreadMP3Hz is the sample rate at which the library takes padded frames for a byte shorter than they are.
const misreadMP3Hz = 22050

// decodeMP3 reads MPEG-1 and MPEG-2 audio, layer III.
func decodeMP3(file []byte) (*sound.Recording, error) {
	// The library is not given the reader's length: it would read all frames twice.
	d, err := mp3.NewDecoder(onlyReads{&file})
	if err != nil {
		return nil, fmt.Errorf("%w: no frame of it can be decoded", ErrDamaged)
	}
	if d.SampleRate() == misreadMP3Hz {
		return nil, fmt.Errorf("%w: MP3 at %d samples a second", ErrForm, misreadMP3Hz)
	}
	t, err := newTaken(float64(d.SampleRate()), 2)
	if err != nil {
		return nil, err
	}
	var b [4608]byte
	whole := false
	for room := true; room; {
		n, err := io.ReadFull(d, b[:])
		for at := 0; room && at+4 <= n; at += 4 {
			room = t.add(func(c int) float64 { return float64(int16(binary.LittleEndian.Uint16(b[at+2*c:]))) / 32768 })
		}
		if err != nil {
			whole = room && (errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF))
			break
		}
	}
	// The library doubles a single channel.
	if c := t.recording.Channels; slices.Equal(c[0], c[1]) {
		t.recording.Channels = c[:1]
	}
	return t.end(whole)
}

// onlyReads reads what it points to and hides its length.
type onlyReads struct{ rest *[]byte }

func (r onlyReads) Read(p []byte) (int, error) {
	if len(*r.rest) == 0 {
		return 0, io.EOF
	}
	n := copy(p, *r.rest)
	*r.rest = (*r.rest)[n:]
	return n, nil
}
