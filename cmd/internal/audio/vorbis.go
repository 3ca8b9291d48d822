package audio

import (
	"encoding/binary"
	"fmt"
	"math"

	"github.com/jfreymuth/vorbis"

	"partsaloft/inventory/sound"
)

// mostVorbisChannels that are decoded.
const mostVorbisChannels = 2

// decodeVorbis reads Vorbis I. The decoder trusts its headers, so that what would make it take endless time or memory is
// refused before.
func decodeVorbis(p *packets, head []byte) (*sound.Recording, error) {
	if len(head) < 30 {
		return nil, fmt.Errorf("%w: its header is cut off", ErrDamaged)
	}
	channels, short, long := int(head[11]), head[28]&15, head[28]>>4
	t, err := newTaken(float64(binary.LittleEndian.Uint32(head[12:])), channels)
	if err != nil {
		return nil, err
	}
	if channels > mostVorbisChannels {
		return nil, fmt.Errorf("%w: %d channels", ErrForm, channels)
	}
	p.next() // its remarks, which the decoder does without
	setup := p.next()
	if short < 6 || long > 13 || short > long || !soundSetup(setup) {
		return nil, fmt.Errorf("%w: its header cannot be read", ErrDamaged)
	}
	var decoder vorbis.Decoder
	for _, header := range [...][]byte{head, setup} {
		if err := decoder.ReadHeader(header); err != nil {
			return nil, fmt.Errorf("%w: its header cannot be read", ErrDamaged)
		}
	}
	buffer := make([]float32, decoder.BufferSize())
	for {
		packet := p.next()
		if packet == nil {
			return t.end(!p.broken)
		}
		if len(packet) == 0 {
			continue
		}
		out, err := vorbisPacket(&decoder, packet, buffer)
		if err != nil {
			return t.end(false)
		}
		for i := 0; i+channels <= len(out); i += channels {
			if !t.add(func(c int) float64 { return float64(out[i+c]) }) {
				return t.end(false)
			}
		}
	}
}

// vorbisPacket decodes a packet; a panic is an error of that packet, behind which the file is not read.
func vorbisPacket(d *vorbis.Decoder, packet []byte, buffer []float32) (out []float32, err error) {
	defer func() {
		if p := recover(); p != nil {
			out, err = nil, fmt.Errorf("%w: a packet cannot be decoded", ErrDamaged)
		}
	}()
	return d.DecodeInto(packet, buffer)
}

// Bounds of codebooks, some ten times what encoders write.
const (
	mostEntries = 1 << 16
	mostValues  = 1 << 20
)

// soundSetup reports whether the codebooks of a setup header (Vorbis I, 3.2.1) are of a size that is worth decoding,
// and whether each is a whole tree of code words, on which every walk ends.
func soundSetup(header []byte) bool {
	if !has(header, 0, "\x05vorbis") {
		return false
	}
	b := &bits{rest: header[7:]}
	values := 0
	for range b.read(8) + 1 {
		n := b.codebook()
		if values += n; n == 0 || values > mostValues {
			return false
		}
	}
	return true
}

// codebook walks over a codebook and returns the numbers that it unpacks to, 0 if it is not sound.
func (b *bits) codebook() int {
	if b.read(24) != 0x564342 {
		return 0
	}
	dimensions, entries := b.read(16), b.read(24)
	if dimensions == 0 || entries == 0 || entries > mostEntries {
		return 0
	}
	used, whole := 0, 0.0
	word := func(length int) {
		used++
		whole += math.Ldexp(1, -length)
	}
	if b.read(1) == 1 {
		length := b.read(5) + 1
		for at := 0; at < entries; length++ {
			n := b.read(bitLength(entries - at))
			if length > 32 || at+n > entries || b.short {
				return 0
			}
			for range n {
				word(length)
			}
			at += n
		}
	} else {
		sparse := b.read(1) == 1
		for range entries {
			if !sparse || b.read(1) == 1 {
				word(b.read(5) + 1)
			}
		}
	}
	if used == 0 || used > 1 && whole != 1 {
		return 0
	}
	switch lookup := b.read(4); lookup {
	case 0:
	case 1, 2:
		b.read(32)
		b.read(32)
		size, count := b.read(4)+1, entries*dimensions
		b.read(1)
		if count > mostValues {
			return 0
		}
		if lookup == 1 {
			count = int(math.Floor(math.Pow(float64(entries), 1/float64(dimensions))))
		}
		for range count {
			b.read(size)
		}
	default:
		return 0
	}
	if b.short {
		return 0
	}
	return entries * max(1, dimensions)
}

// bits are read from the lowest of each byte.
type bits struct {
	rest  []byte
	at    int
	short bool // there were not as many
}

func (b *bits) read(n int) int {
	x := 0
	for i := range n {
		if b.at>>3 >= len(b.rest) {
			b.short = true
			return 0
		}
		x |= int(b.rest[b.at>>3]>>(b.at&7)&1) << i
		b.at++
	}
	return x
}

// bitLength is the number of bits that a number needs.
func bitLength(n int) int {
	length := 0
	for ; n > 0; n >>= 1 {
		length++
	}
	return length
}
