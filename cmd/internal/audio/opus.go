package audio

import (
	"encoding/binary"
	"fmt"

	"github.com/pion/opus"

	"partsaloft/inventory/sound"
)

// opusRateHz is the rate at which Opus is decoded.
const opusRateHz = 48000

// mostOpusSamples of a channel are in a packet: 120 ms (RFC 6716, 2.1.4).
const mostOpusSamples = opusRateHz * 120 / 1000

// decodeOpus reads mono and stereo Opus (RFC 6716, 7845).
func decodeOpus(p *packets, head []byte) (*sound.Recording, error) {
	if len(head) < 19 || head[8]>>4 != 0 {
		return nil, fmt.Errorf("%w: its header is cut off", ErrDamaged)
	}
	channels, skip := int(head[9]), int(binary.LittleEndian.Uint16(head[10:]))
	if channels < 1 || channels > 2 || head[18] != 0 {
		return nil, fmt.Errorf("%w: surround sound", ErrForm)
	}
	decoder, err := opus.NewDecoderWithOutput(opusRateHz, channels)
	if err != nil {
		return nil, fmt.Errorf("%w: it cannot be decoded", ErrDamaged)
	}
	t, err := newTaken(opusRateHz, channels)
	if err != nil {
		return nil, err
	}
	p.next() // its tags
	out := make([]float32, mostOpusSamples*channels)
	for {
		packet := p.next()
		if packet == nil {
			return t.end(!p.broken)
		}
		n, err := opusPacket(&decoder, packet, out)
		if err != nil {
			return t.end(false)
		}
		for i := range n {
			if skip > 0 {
				skip--
				continue
			}
			if !t.add(func(c int) float64 { return float64(out[i*channels+c]) }) {
				return t.end(false)
			}
		}
	}
}

// opusPacket decodes a packet; a panic is an error of that packet, behind which the file is not read.
func opusPacket(d *opus.Decoder, packet []byte, out []float32) (n int, err error) {
	defer func() {
		if p := recover(); p != nil {
			n, err = 0, fmt.Errorf("%w: a packet cannot be decoded", ErrDamaged)
		}
	}()
	return d.DecodeToFloat32(packet, out)
}
