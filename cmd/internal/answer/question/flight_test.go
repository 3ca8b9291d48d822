package question

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
)

// hoverFlight is a flight of 3 minutes: hover at 31 % and 6 A with three punches, between two stands on the ground.
func hoverFlight(head string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range 1800 {
		seconds, amps, throttle := float64(i)/10, 6.0, 31.0
		switch {
		case i < 50 || i > 1750:
			amps, throttle = 0.3, 0
		case i%600 > 560:
			amps, throttle = 24, 90
		}
		volts := 16.4 - 0.006*seconds - 0.03*amps + 0.01*float64(i%3)
		fmt.Fprintf(&b, "%.1f,%.2f,%.2f,%.0f\n", seconds, volts, amps+0.1*float64(i%5), throttle+float64(i%4))
	}
	return b.String()
}

const racerPick = "motor=m1804-22,prop=p3.5-27x2,pack=k6s-640,frame=f3.5-gaff,board=b28-36"

func flightOf(t *testing.T, file string, options string) object {
	t.Helper()
	q := example(t, "flight", "racer.yaml", options)
	q.Attached = []byte(file)
	return put(t, &Desk{}, q)
}

// Property: a flight is read as it was made, and its entry goes into the log.
func TestFlightIsRead(t *testing.T) {
	reply := flightOf(t, hoverFlight("time (s),Volts [V],amps,throttle (%)"),
		`{"file":"f.csv","pick":"`+racerPick+`","cells":4,"weight":"211g","date":"2026-05-01"}`)
	d, ok := reply["document"].(object)
	if !ok || len(d["faults"].([]any)) > 0 {
		t.Fatalf("%v", reply)
	}
	for _, f := range d["figures"].([]any) {
		one := f.(object)
		if one["key"] == "hover_throttle_pct" && math.Abs(one["value"].(float64)-32.5) > 1 {
			t.Errorf("hover throttle %v, flown at 32.5", one["value"])
		}
	}
	plot := d["plot"].(object)
	if n := len(plot["throttle_pct"].([]any)); n < 100 || n > mostStretches {
		t.Errorf("the plot has %d stretches", n)
	}
	if text, _ := reply["text"].(string); !strings.Contains(text, "hover_throttle_pct: 32") ||
		!strings.Contains(text, "all_up_g: 211") {
		t.Errorf("the log lacks the entry: %.100q", text)
	}
}

// Property: columns that are not understood are listed, and read once they are named.
func TestFlightColumnsAreNamed(t *testing.T) {
	file := hoverFlight("a,b,<img src=x onerror=alert(1)>,d")
	d := flightOf(t, file, `{"file":"f.csv"}`)["document"].(object)
	if len(d["faults"].([]any)) == 0 || len(d["headings"].([]any)) != 4 || len(d["quantities"].([]any)) == 0 {
		t.Fatalf("%v", d)
	}
	d = flightOf(t, file, `{"file":"f.csv","columns":["time=1 [s]","volts=2 [V]","amps=3 [A]","throttle=4"]}`)["document"].(object)
	if len(d["faults"].([]any)) > 0 || d["hover"].(object)["seconds"].(float64) < 60 {
		t.Errorf("%v", d["faults"])
	}
}

// Property: what is no flight is told with words, whatever it holds.
func TestFlightsThatAreNone(t *testing.T) {
	wide := strings.Repeat("9,", 100_000) + "9\n"
	for name, file := range map[string]string{
		"nothing": "", "garbage": strings.Repeat("\x07\xff\x01%$", 1<<20), "wide": wide + wide,
		"one long line": strings.Repeat("a", 3<<20), "no numbers": "time,volts\n" + strings.Repeat("nan,inf\n", 5000),
		"on the ground": "time,volts,amps\n" + strings.Repeat("1,16,0\n", 5000),
	} {
		d, ok := flightOf(t, file, `{"file":"f.csv"}`)["document"].(object)
		if !ok || len(d["faults"].([]any)) == 0 || len(d["headings"].([]any)) > mostHeadings {
			t.Errorf("%s: %.300v", name, d)
		}
	}
}

// memoryFile is a file in memory.
type memoryFile struct{ *bytes.Reader }

func (c memoryFile) Size() int64 { return c.Reader.Size() }

// A flight that is stopped while it is read ends as stopped, and tells how far it is.
func TestFlightIsStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	content, err := json.Marshal(&Question{Ask: "flight", Options: json.RawMessage(`{"file":"f.csv"}`)})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Repeat(hoverFlight("time,volts,amps,throttle"), 20)
	told := 0.0
	var desk Desk
	out := desk.AnswerJSON(ctx, content, nil, memoryFile{bytes.NewReader([]byte(text))}, func(share float64) {
		if told = share; share > 0.3 {
			stop()
		}
	})
	if !strings.Contains(string(out), `"stopped"`) || told > 0.9 {
		t.Errorf("%s after %.2f", out, told)
	}
}
