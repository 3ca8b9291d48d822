package sound

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"testing"
)

func chunk(id string, body []byte) []byte {
	b := binary.LittleEndian.AppendUint32([]byte(id), uint32(len(body)))
	b = append(b, body...)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

func wavForm16(tag, channels, bits int, rate uint32, extra ...byte) []byte {
	frame := channels * ((bits + 7) / 8)
	b := binary.LittleEndian.AppendUint16(nil, uint16(tag))
	b = binary.LittleEndian.AppendUint16(b, uint16(channels))
	b = binary.LittleEndian.AppendUint32(b, rate)
	b = binary.LittleEndian.AppendUint32(b, rate*uint32(frame))
	b = binary.LittleEndian.AppendUint16(b, uint16(frame))
	b = binary.LittleEndian.AppendUint16(b, uint16(bits))
	return append(b, extra...)
}

func riff(chunks ...[]byte) []byte {
	body := append([]byte("WAVE"), slices.Concat(chunks...)...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// Published: the forms of RIFF WAVE (Microsoft and IBM, Multimedia Programming Interface, 1991) and of G.711.
func TestWAVFormsAreRead(t *testing.T) {
	float32s := binary.LittleEndian.AppendUint32(nil, math.Float32bits(-0.25))
	float64s := binary.LittleEndian.AppendUint64(nil, math.Float64bits(0.125))
	extensible := append([]byte{22, 0, 24, 0, 0, 0, 0, 0}, append([]byte{1, 0}, make([]byte, 14)...)...)
	for _, c := range []struct {
		name string
		file []byte
		want [][]float64
	}{
		{"8 bit", riff(chunk("fmt ", wavForm16(1, 1, 8, 8000)), chunk("data", []byte{0, 128, 192})),
			[][]float64{{-1, 0, 0.5}}},
		{"16 bit stereo", riff(chunk("fmt ", wavForm16(1, 2, 16, 44100)),
			chunk("data", []byte{0, 0x40, 0, 0xC0, 0, 0x80, 0, 0})),
			[][]float64{{0.5, -1}, {-0.5, 0}}},
		{"24 bit extensible", riff(chunk("fmt ", wavForm16(waveExtensible, 1, 24, 192000, extensible...)),
			chunk("data", []byte{0, 0, 0x40, 0, 0, 0xC0})), [][]float64{{0.5, -0.5}}},
		{"32 bit", riff(chunk("fmt ", wavForm16(1, 1, 32, 96000)),
			chunk("data", []byte{0, 0, 0, 0x80})), [][]float64{{-1}}},
		{"float", riff(chunk("fmt ", wavForm16(3, 1, 32, 48000)), chunk("data", float32s)), [][]float64{{-0.25}}},
		{"double", riff(chunk("fmt ", wavForm16(3, 1, 64, 48000)), chunk("data", float64s)), [][]float64{{0.125}}},
		{"odd chunks before", riff(chunk("LIST", []byte("odd")), chunk("fmt ", wavForm16(1, 1, 8, 8000)),
			chunk("bext", []byte{1}),
			chunk("data", []byte{255})), [][]float64{{127.0 / 128}}},
		{"µ-law", riff(chunk("fmt ", wavForm16(7, 1, 8, 8000)), chunk("data", []byte{0x00, 0x80, 0xFF})),
			[][]float64{{-32124.0 / 32768, 32124.0 / 32768, 0}}},
		{"A-law", riff(chunk("fmt ", wavForm16(6, 1, 8, 8000)), chunk("data", []byte{0xAA, 0x2A, 0xD5})),
			[][]float64{{32256.0 / 32768, -32256.0 / 32768, 8.0 / 32768}}},
		{"cut off", riff(chunk("fmt ", wavForm16(1, 1, 16, 8000)), chunk("data", make([]byte, 64)))[:52],
			[][]float64{{0, 0, 0, 0}}},
	} {
		r, err := ReadWAV(c.file)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !slices.EqualFunc(r.Channels, c.want, slices.Equal) {
			t.Errorf("%s: got %v, want %v", c.name, r.Channels, c.want)
		}
	}
}

func TestMalformedWAVIsNamed(t *testing.T) {
	for _, c := range []struct {
		file []byte
		want error
	}{
		{nil, ErrNotWAV},
		{[]byte("RIFF\x04\x00\x00\x00AVI "), ErrNotWAV},
		{riff(chunk("data", make([]byte, 8))), ErrWAVDamaged},
		{riff(chunk("fmt ", wavForm16(1, 1, 16, 8000))), ErrWAVDamaged},
		{riff(chunk("fmt ", []byte{1, 0})), ErrWAVDamaged},
		{riff(chunk("fmt ", wavForm16(2, 1, 4, 8000)), chunk("data", make([]byte, 8))), ErrWAVFormat},
		{riff(chunk("fmt ", wavForm16(1, 0, 16, 8000)), chunk("data", make([]byte, 8))), ErrWAVFormat},
		{riff(chunk("fmt ", wavForm16(1, 1, 16, 100)), chunk("data", make([]byte, 8))), ErrWAVFormat},
	} {
		if _, err := ReadWAV(c.file); !errors.Is(err, c.want) {
			t.Errorf("%q: got %v, want %v", c.file, err, c.want)
		}
	}
}

// Property: any bytes give a recording with finite samples within its bounds, or an error; what is heard in it is
// finite, and nothing takes long.
func FuzzWAV(f *testing.F) {
	f.Add(riff(chunk("fmt ", wavForm16(1, 2, 16, 8000)), chunk("data", bytes.Repeat([]byte{1, 2, 3, 200}, 9000))))
	f.Add(riff(chunk("fmt ", wavForm16(3, 1, 32, 44100)), chunk("data", make([]byte, 64))))
	f.Add(riff(chunk("fmt ", wavForm16(waveExtensible, 1, 24, 44100, make([]byte, 24)...)),
		chunk("data", make([]byte, 64))))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadWAV(data)
		if err != nil {
			return
		}
		if r.Seconds() > LongestS || len(r.Channels) > MostChannels {
			t.Fatalf("%g s in %d channels", r.Seconds(), len(r.Channels))
		}
		for _, c := range r.Channels {
			for _, x := range c {
				if math.IsNaN(x) || math.Abs(x) > 1e3 {
					t.Fatalf("sample %g", x)
				}
			}
		}
		got, err := Hear(r, Prior{SpeedRadS: 1000, Blades: 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range append(got.Groups, got.SpeedRadS, got.LnSD, got.FromS, got.ToS, got.Score, got.OffLn) {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("not finite: %+v", got)
			}
		}
	})
}
