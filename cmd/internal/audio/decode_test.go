package audio

import (
	"bytes"
	"crypto/md5"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"partsaloft/inventory/sound"
)

func fixture(t testing.TB, name string) []byte {
	t.Helper()
	file, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// Independent: encoders that share nothing with what decodes here wrote the files; their samples are those that went in,
// as far as each form keeps them, and all of them are heard as the speed at which they were made. What the forms lose
// is mostly the noise between the tones: 6.8 dB over what differs were found for MP3, 7.0 for Vorbis, 4.8 and 3.7 for
// Opus, and the Debian's decoders of those forms say the same samples within 77, 86, 64 and 47 dB.
func TestDecode(t *testing.T) {
	for _, c := range []struct {
		name   string
		rate   int
		level  float64
		leastN int
		snrDB  float64
	}{
		{"hover.flac", 8000, 20, 32000, 300},
		{"hover.mp3", 44100, 3000, 176400, 6},
		{"hover-mpeg2.mp3", 48000, 3000, 64000, 0},
		{"hover.ogg", 44100, 3000, 176400, 6},
		{"hover.opus", 48000, 3000, 192000, 4},
		{"hover-speech.opus", 48000, 3000, 192000, 3},
	} {
		r, err := Decode(fixture(t, c.name))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(r.Channels) != 1 || len(r.Channels[0]) < c.leastN || len(r.Channels[0]) > c.leastN+3000 || r.CutToS != 0 {
			t.Errorf("%s: %d channels of %d samples, cut to %g s", c.name, len(r.Channels), len(r.Channels[0]), r.CutToS)
		}
		if r.RateHz == float64(c.rate) {
			if snr := likeness(hover(c.rate, c.level), r.Channels[0]); !(snr >= c.snrDB) {
				t.Errorf("%s: samples %.1f dB over what differs", c.name, snr)
			}
		}
		heard, err := sound.Hear(r, sound.Prior{SpeedRadS: 1.04 * hoverRPM * math.Pi / 30, Blades: hoverBlades})
		if err != nil {
			t.Fatal(err)
		}
		rpm := heard.SpeedRadS * 30 / math.Pi
		if heard.Why != sound.Heard || math.Abs(rpm/hoverRPM-1) > math.Max(0.005, 2*heard.LnSD) {
			t.Errorf("%s: verdict %d, %.0f rpm ± %.2f %%, score %.1f", c.name, heard.Why, rpm, 100*heard.LnSD, heard.Score)
		}
	}
}

// likeness is the level of a sound over what differs from it, in dB, at the delay at which least does; 400 if nothing.
func likeness(want []int16, got []float64) float64 {
	most := math.Inf(-1)
	n := min(len(want), len(got)) / 2
	for delay := 0; delay < 1600 && n+delay+n/2 <= len(got); delay++ {
		power, differs := 0.0, 1e-40
		for i := n - 6000; i < n; i++ {
			x := float64(want[i]) / 32768
			d := got[i+delay] - x
			power, differs = power+x*x, differs+d*d
		}
		most = math.Max(most, 10*math.Log10(power/differs))
	}
	return most
}

// Published: the MD5 of the samples that the encoder wrote into the header (RFC 9639, 8.2) is that of what is decoded.
func TestFLACSum(t *testing.T) {
	file := fixture(t, "hover.flac")
	r, err := Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	for _, x := range r.Channels[0] {
		_ = binary.Write(&b, binary.LittleEndian, int16(x*32768))
	}
	if sum := md5.Sum(b.Bytes()); !bytes.Equal(sum[:], file[26:42]) {
		t.Errorf("sum %x, the header says %x", sum, file[26:42])
	}
}

// longer is a file whose sound is there so many times over.
func longer(name string, file []byte, times int) []byte {
	at := 0
	switch filepath.Ext(name) {
	case ".flac":
		for at = 4; ; {
			last, size := file[at]&0x80 != 0, int(file[at+1])<<16|int(file[at+2])<<8|int(file[at+3])
			if at += 4 + size; last {
				break
			}
		}
	case ".ogg", ".opus": // the headers are in the first two pages
		for range 2 {
			at += 4 + bytes.Index(file[at+4:], []byte("OggS"))
		}
	}
	return append(bytes.Clone(file[:at]), bytes.Repeat(file[at:], times)...)
}

// Property: no more than a minute is read, and it is said that there was more; a tag before the sound changes nothing;
// what is cut off is read as far as it goes.
func TestDecodeBounds(t *testing.T) {
	for _, name := range []string{"hover.flac", "hover.mp3", "hover.ogg", "hover.opus"} {
		file := fixture(t, name)
		r, err := Decode(longer(name, file, 18))
		if err != nil || r.Seconds() != sound.LongestS || r.CutToS != sound.LongestS {
			t.Errorf("%s: %v, %v", name, err, r)
			continue
		}
		cut, err := Decode(file[:len(file)*3/4])
		if err != nil || cut.Seconds() < 2 || cut.Seconds() > 3.6 || name != "hover.mp3" && cut.CutToS == 0 {
			t.Errorf("%s cut off: %v", name, err)
		}
		if filepath.Ext(name) == ".flac" || filepath.Ext(name) == ".mp3" {
			tag := append([]byte("ID3\x04\x00\x00\x00\x00\x01\x00"), make([]byte, 128)...)
			tagged, err := Decode(append(tag, file...))
			if err != nil || len(tagged.Channels[0]) < 4*8000 {
				t.Errorf("%s behind a tag: %v", name, err)
			}
		}
	}
}

// Property: every kind that is not read says so, and no damage is more than an error.
func TestDecodeRefuses(t *testing.T) {
	lame := fixture(t, "hover-mpeg2.mp3")
	misread := bytes.Repeat(append([]byte{0xff, 0xf3, 0x40, 0xc0}, make([]byte, 100)...), 20) // 32 kbit/s at 22.05 kHz
	for _, c := range []struct {
		name string
		file []byte
		want error
	}{
		{"nothing", nil, ErrUnknown}, {"text", []byte("no sound at all"), ErrUnknown},
		{"m4a", []byte("\x00\x00\x00\x20ftypM4A "), ErrBrowser}, {"webm", []byte("\x1aE\xdf\xa3 webm"), ErrBrowser},
		{"3gp", []byte("\x00\x00\x00\x1cftyp3gp4"), ErrBrowser}, {"mov", []byte("\x00\x00\x00\x14moov"), ErrBrowser},
		{"aac", append([]byte{0xff, 0xf1, 0x50, 0x80}, make([]byte, 50)...), ErrBrowser},
		{"flac without frames", fixture(t, "hover.flac")[:60], ErrDamaged},
		{"flac of a header", []byte("fLaC\x00\x00\x00\x22"), ErrDamaged},
		{"flac of a tag", append([]byte("fLaC\x04\xff\xff\xff"), make([]byte, 100)...), ErrDamaged},
		{"ogg of a header", fixture(t, "hover.ogg")[:40], ErrDamaged},
		{"ogg of two pages", fixture(t, "hover.ogg")[:3000], ErrDamaged},
		{"opus of a header", fixture(t, "hover.opus")[:100], ErrDamaged},
		{"speex", ogg([]byte("Speex   1.2")), ErrBrowser},
		{"surround opus", ogg([]byte("OpusHead\x01\x06\x00\x00\x80\xbb\x00\x00\x00\x00\x01")), ErrForm},
		{"mp3 at 22.05 kHz", misread, ErrForm}, {"half a frame", lame[:30], ErrUnknown},
	} {
		if r, err := Decode(c.file); !errors.Is(err, c.want) || r != nil {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// ogg is a page that holds one packet.
func ogg(packet []byte) []byte {
	page := append([]byte("OggS\x00\x02"), make([]byte, 20)...)
	return append(append(page, 1, byte(len(packet))), packet...)
}

// Property: a setup header whose codebooks would take endless time or memory is refused, and one that an encoder wrote
// is not.
func TestVorbisSetup(t *testing.T) {
	p := &packets{rest: fixture(t, "hover.ogg")}
	p.next()
	p.next()
	setup := p.next()
	if !soundSetup(setup) {
		t.Error("an encoder's setup is refused")
	}
	book := func(rest ...byte) []byte { return append([]byte("\x05vorbis\x00BCV"), rest...) }
	for name, header := range map[string][]byte{
		"cut off": setup[:len(setup)/8], "no dimensions": book(0, 0, 8, 0, 0, 0xff, 0xff, 0xff, 0xff),
		"16 million entries": book(1, 0, 0xff, 0xff, 0xff, 2), "no entries": book(1, 0, 0, 0, 0, 0),
		"a tree that is not whole": book(1, 0, 2, 0, 0, 0x44, 0x44, 0, 0, 0, 0),
	} {
		if soundSetup(header) {
			t.Errorf("%s: taken", name)
		}
	}
}
