package audio

import (
	"bytes"
	"encoding/binary"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// The hover that the files under testdata hold, as testdata/README says: four rotors of three blades.
const (
	hoverRPM     = 13000
	hoverBlades  = 3
	hoverSeconds = 4
)

// hover is a synthetic hover in 16 bit, one channel; low is its level.
func hover(rate int, level float64) []int16 {
	r := rand.New(rand.NewPCG(5, 8))
	out := make([]float64, rate*hoverSeconds)
	square := 0.0
	var off [4]float64
	for i := range off {
		off[i] = 0.006 * r.NormFloat64()
		square += (1 + off[i]) * (1 + off[i]) / 4
	}
	for _, x := range off {
		speed, phase := hoverRPM/60.0*(1+x)/math.Sqrt(square), r.Float64()
		slow, beat := 0.7+0.5*r.Float64(), r.Float64()
		for i := range out {
			phase += speed * (1 + 0.004*math.Sin(2*math.Pi*(slow*float64(i)/float64(rate)+beat))) / float64(rate)
			for h := 1.0; h <= 6 && h*hoverBlades*speed < 0.45*float64(rate); h++ {
				out[i] += math.Sin(2*math.Pi*hoverBlades*h*phase) / h
			}
		}
	}
	whole := make([]int16, len(out))
	for i, x := range out {
		whole[i] = int16(math.Round(level * (x + r.NormFloat64())))
	}
	return whole
}

// wav is a WAV file of 16 bit.
func wav(rate, channels int, samples []int16) []byte {
	var b bytes.Buffer
	put := func(values ...any) {
		for _, v := range values {
			_ = binary.Write(&b, binary.LittleEndian, v)
		}
	}
	put([]byte("RIFF"), uint32(36+2*len(samples)), []byte("WAVEfmt "), uint32(16), uint16(1), uint16(channels), uint32(rate),
		uint32(2*channels*rate), uint16(2*channels), uint16(16), []byte("data"), uint32(2*len(samples)), samples)
	return b.Bytes()
}

var sources = flag.String("sources", "", "write the hovers that testdata is made of into a `FOLDER`")

func TestMain(m *testing.M) {
	flag.Parse()
	if *sources != "" {
		for rate, level := range map[int]float64{8000: 20, 44100: 3000, 22050: 3000, 48000: 3000} {
			name := filepath.Join(*sources, "hover"+strconv.Itoa(rate)+".wav")
			if err := os.WriteFile(name, wav(rate, 1, hover(rate, level)), 0o644); err != nil {
				panic(err)
			}
		}
	}
	os.Exit(m.Run())
}
