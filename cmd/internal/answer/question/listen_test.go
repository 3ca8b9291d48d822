package question

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// hover is ten seconds of four rotors in white noise, as it is attached to a question: each with a wander of its own of
// 0.5 % and six harmonics that fall by 4 dB.
func hover(seed uint64, rateHz, rpm, blades float64, channels int) []byte {
	r := rand.New(rand.NewPCG(seed, 5))
	n := int(10 * rateHz)
	x := make([]float64, n)
	for range 4 {
		off, phase, wander := 1+0.006*(r.Float64()-0.5), 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64()
		turn := 0.3 + 0.3*r.Float64()
		for i := range x {
			t := float64(i) / rateHz
			phase += 2 * math.Pi * rpm / 60 * blades * off * (1 + 0.005*math.Sin(2*math.Pi*turn*t+wander)) / rateHz
			level := 0.05
			for h := 1.0; h <= 6; h++ {
				x[i] += level * math.Sin(h*phase+h*h)
				level *= 0.63
			}
		}
	}
	out := make([]byte, 0, 4*n*channels)
	for range channels {
		for _, s := range x {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(s+0.1*r.NormFloat64())))
		}
	}
	return out
}

// listened puts samples for the club's smallest craft.
func listened(t *testing.T, samples []byte, options string) object {
	t.Helper()
	q := example(t, "listen", "club.yaml", options)
	q.Attached = samples
	var desk Desk
	return put(t, &desk, q)
}

// A synthetic hover of a known speed is heard within three of its stated standard deviations, with the tones where they
// were made, and the drawer's log holds it. Without samples the same craft says what is expected.
func TestListenHears(t *testing.T) {
	before := listened(t, nil, `{"craft":"tender","rate_hz":44100,"channels":1}`)["document"].(object)
	predicted, blades := before["predicted_rpm"].(float64), before["blades"].(float64)
	if before["heard"] != false || before["spectrum"] != nil || before["weight_g"] != 113.5 || blades != 3 {
		t.Fatalf("expected of the craft is %v", before)
	}
	for channels := 1; channels <= 2; channels++ {
		rpm := predicted * 1.04
		reply := listened(t, hover(11, 44100, rpm, blades, channels),
			fmt.Sprintf(`{"craft":"tender","date":"2026-05-01","rate_hz":44100,"channels":%d}`, channels))
		d, _ := reply["document"].(object)
		if d["heard"] != true {
			t.Fatalf("%d channels: %v", channels, reply)
		}
		if off := math.Abs(d["rpm"].(float64)/rpm - 1); off > 3*d["sd_pct"].(float64)/100 {
			t.Errorf("%d channels: %v rpm, made with %v", channels, d["rpm"], rpm)
		}
		text := reply["text"].(string)
		if !strings.Contains(text, "hover_rpm_from: heard") || !strings.Contains(text, "2026-05-01") ||
			!strings.Contains(text, "# Stays in one piece") {
			t.Error("the log does not hold the reading, or the drawer lost its comments")
		}
		spectrum := d["spectrum"].(object)
		step, levels := spectrum["step_hz"].(float64), spectrum["level_db"].([]any)
		for _, one := range spectrum["tones"].([]any)[:3] {
			tone := one.(object)
			hz, made := tone["hz"].(float64), tone["times"].(float64)*rpm/60*blades
			if math.Abs(hz/made-1) > 0.01 || tone["strong"] != true {
				t.Errorf("tone %v, made at %v Hz", tone, made)
			}
			top := 0.0
			for i := int(hz*0.99/step) - 1; i <= int(hz*1.01/step)+1; i++ {
				top = math.Max(top, levels[i].(float64))
			}
			if top < 6 {
				t.Errorf("the spectrum has %v dB at %v Hz", top, hz)
			}
		}
	}
}

// Noise alone is not heard: no text, what to do instead, and the tones that were expected.
func TestListenRefusesNoise(t *testing.T) {
	reply := listened(t, hover(12, 44100, 20000, 0, 1), `{"craft":"tender","rate_hz":44100,"channels":1}`)
	d := reply["document"].(object)
	words := d["words"].(object)
	if d["heard"] != false || reply["text"] != nil || !strings.Contains(words["heard"].(string), "To do:") {
		t.Errorf("%v", d)
	}
	passing := d["predicted_rpm"].(float64) / 60 * d["blades"].(float64)
	first := d["spectrum"].(object)["tones"].([]any)[0].(object)
	if math.Abs(first["hz"].(float64)/passing-1) > 0.001 || first["strong"] != false {
		t.Errorf("the first tone expected is %v, not at %v Hz", first, passing)
	}
}

// Samples that are none are refused with the option that is wrong.
func TestListenRefusesOptions(t *testing.T) {
	for _, c := range []struct {
		options, text string
		bytes         int
	}{
		{`{"craft":"tender","rate_hz":44100,"channels":3}`, "channels: must be from 1 to 2", 24},
		{`{"craft":"tender","rate_hz":1,"channels":1}`, "rate_hz: must be from 4000", 24},
		{`{"craft":"tender","channels":1}`, "rate_hz: must be from 4000", 24},
		{`{"craft":"tender","rate_hz":44100,"channels":2}`, "attached: must be samples of 4 bytes", 12},
		{`{"craft":"tender","pick":"motor=a","rate_hz":44100,"channels":1}`, "not both", 24},
		{`{"craft":"tender","rate_hz":44100,"channels":1,"cut_to_s":61}`, "cut_to_s", 24},
		{`{"craft":"no such","rate_hz":44100,"channels":1}`, "no such", 24},
	} {
		fault, _ := listened(t, make([]byte, c.bytes), c.options)["fault"].(object)
		if fault == nil || !strings.Contains(fault["text"].(string), c.text) {
			t.Errorf("%s: %v", c.options, fault)
		}
	}
}
