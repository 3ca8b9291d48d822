package sound

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// The faults of a WAV file. Those that wrap them say what was found.
var (
	ErrNotWAV     = errors.New("not a WAV file")
	ErrWAVFormat  = errors.New("a form of WAV that is not read")
	ErrWAVDamaged = errors.New("damaged WAV file")
)

// Forms of samples by their number in the file's header.
const (
	wavePCM        = 1
	waveFloat      = 3
	waveALaw       = 6
	waveMuLaw      = 7
	waveExtensible = 0xFFFE
)

// mostSaidChannels is how many channels a file may say it has.
const mostSaidChannels = 64

type wavForm struct {
	tag, channels, bits, frame int
	rateHz                     float64
}

// ReadWAV reads a WAV file (RIFF or RF64): whole numbers of 8 to 32 bits, floating point of 32 and 64, A-law and
// µ-law, any rate and any number of channels, of which the first MostChannels are kept, at most LongestS. A file that
// was cut off is read as far as it goes.
func ReadWAV(data []byte) (*Recording, error) {
	if len(data) < 12 || string(data[8:12]) != "WAVE" ||
		string(data[:4]) != "RIFF" && string(data[:4]) != "RF64" {
		return nil, ErrNotWAV
	}
	var form *wavForm
	for rest := data[12:]; len(rest) >= 8; {
		id, size := string(rest[:4]), uint64(binary.LittleEndian.Uint32(rest[4:8]))
		body := rest[8:]
		if id == "data" {
			if form == nil {
				return nil, fmt.Errorf("%w: samples stand before their form", ErrWAVDamaged)
			}
			// A recorder that was stopped hard leaves the size at 0 or at its largest.
			if size > uint64(len(body)) || size == 0 {
				size = uint64(len(body))
			}
			return form.samples(body[:size])
		}
		if size > uint64(len(body)) {
			break
		}
		if id == "fmt " {
			var err error
			if form, err = readWAVForm(body[:size]); err != nil {
				return nil, err
			}
		}
		rest = body[min(uint64(len(body)), size+size%2):]
	}
	return nil, fmt.Errorf("%w: it has no samples", ErrWAVDamaged)
}

func readWAVForm(b []byte) (*wavForm, error) {
	if len(b) < 16 {
		return nil, fmt.Errorf("%w: its header is cut off", ErrWAVDamaged)
	}
	word := func(at int) int { return int(binary.LittleEndian.Uint16(b[at:])) }
	f := &wavForm{tag: word(0), channels: word(2), rateHz: float64(binary.LittleEndian.Uint32(b[4:])), frame: word(12),
		bits: word(14)}
	if f.tag == waveExtensible {
		if len(b) < 26 {
			return nil, fmt.Errorf("%w: its header is cut off", ErrWAVDamaged)
		}
		f.tag = word(24)
	}
	if f.channels < 1 || f.channels > mostSaidChannels {
		return nil, fmt.Errorf("%w: %d channels", ErrWAVFormat, f.channels)
	}
	if f.rateHz < LowestRateHz || f.rateHz > HighestRateHz {
		return nil, fmt.Errorf("%w: %g samples a second", ErrWAVFormat, f.rateHz)
	}
	bytes := (f.bits + 7) / 8
	switch {
	case f.tag == wavePCM && f.bits >= 8 && f.bits <= 32:
	case f.tag == waveFloat && (f.bits == 32 || f.bits == 64):
	case (f.tag == waveALaw || f.tag == waveMuLaw) && f.bits == 8:
	default:
		return nil, fmt.Errorf("%w: form %d of %d bits", ErrWAVFormat, f.tag, f.bits)
	}
	// A sample may stand in more bytes than it needs: 24 bits in 4.
	if f.frame%f.channels != 0 || f.frame/f.channels < bytes || f.frame/f.channels > 8 {
		f.frame = bytes * f.channels
	}
	return f, nil
}

func (f *wavForm) samples(b []byte) (*Recording, error) {
	n := len(b) / f.frame
	r := &Recording{RateHz: f.rateHz}
	if longest := int(LongestS * f.rateHz); n > longest {
		n, r.CutToS = longest, LongestS
	}
	if n == 0 {
		return nil, fmt.Errorf("%w: it has no samples", ErrWAVDamaged)
	}
	width := f.frame / f.channels
	for c := range min(f.channels, MostChannels) {
		x := make([]float64, n)
		for i := range x {
			at := i*f.frame + c*width
			x[i] = f.sample(b[at : at+width])
		}
		r.Channels = append(r.Channels, x)
	}
	return r, nil
}

// sample is one sample with full scale at 1; whole numbers fill their bytes from the top.
func (f *wavForm) sample(b []byte) float64 {
	switch f.tag {
	case waveFloat:
		x := 0.0
		if f.bits == 64 {
			x = math.Float64frombits(binary.LittleEndian.Uint64(b))
		} else {
			x = float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
		}
		if !(x >= -1e3 && x <= 1e3) {
			return 0
		}
		return x
	case waveALaw:
		return aLaw(b[0])
	case waveMuLaw:
		return muLaw(b[0])
	}
	if len(b) == 1 {
		return (float64(b[0]) - 128) / 128
	}
	var x int64
	for i := len(b) - 1; i >= 0; i-- {
		x = x<<8 | int64(b[i])
	}
	top := uint(8 * len(b))
	x = x << (64 - top) >> (64 - top)
	return float64(x) / float64(int64(1)<<(top-1))
}

// aLaw and muLaw expand a byte of companded sound by ITU-T G.711.
func aLaw(b byte) float64 {
	b ^= 0x55
	x := int(b&0x0F)<<4 + 8
	if e := b >> 4 & 7; e > 0 {
		x = (x + 0x100) << (e - 1)
	}
	if b&0x80 == 0 {
		x = -x
	}
	return float64(x) / 32768
}

func muLaw(b byte) float64 {
	b = ^b
	x := (int(b&0x0F)<<3+0x84)<<(b>>4&7) - 0x84
	if b&0x80 != 0 {
		x = -x
	}
	return float64(x) / 32768
}
