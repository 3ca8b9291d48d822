package question

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/inventory"
	"partsaloft/inventory/series"
	"partsaloft/inventory/strict"
	"partsaloft/search/progress"
)

// Flown is the document of a recording of a flight with what a screen shows of it; of one that cannot be read only the
// faults and, where it has columns, the headings.
type Flown struct {
	*readings.Flown
	Words  *readings.FlownWords `json:"words"`
	Plot   *Plot                `json:"plot"`
	Faults []answer.Fault       `json:"faults"`
	// Headings are the first columns of the file, and Quantities what a column may hold.
	Headings   []string   `json:"headings"`
	Quantities []Quantity `json:"quantities"`
}

// Quantity is what a column may hold.
type Quantity struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Unit string `json:"unit"`
}

// Plot are the traces of a recording: the least and the largest value of as many stretches of equal length as a screen
// has room for. A trace that the file lacks is empty; a stretch without a value is null.
type Plot struct {
	StepS    float64       `json:"step_s"`
	Throttle [][2]*float64 `json:"throttle_pct"`
	Amps     [][2]*float64 `json:"current_a"`
	// HoverThrottlePct and HoverA are those of hover, null if it was not found.
	HoverThrottlePct *float64 `json:"hover_throttle_pct"`
	HoverA           *float64 `json:"hover_current_a"`
}

const (
	mostHeadings   = 200
	longestHeading = 60
	mostStretches  = 400
	// headBytes of a file are kept to name its columns once more.
	headBytes = 1 << 20
)

// flight reads a recording of a flight, which is attached. The reply's text is the drawer with the entry in its log, if
// the craft is named.
func flight(ctx context.Context, a *asked) (*Reply, error) {
	var o struct {
		Shared
		File    string   `json:"file"` // its name
		Craft   string   `json:"craft"`
		Pick    string   `json:"pick"`
		Columns []string `json:"columns"`
		RateHz  float64  `json:"rate_hz"`
		Poles   int      `json:"poles"`
		Cells   int      `json:"cells"`
		Date    string   `json:"date"`
		Flown   string   `json:"flown"`
		Weight  string   `json:"weight"`
	}
	if err := a.options(&o); err != nil {
		return nil, err
	}
	massG, weighed := readings.Grams(o.Weight)
	switch {
	case o.Craft != "" && o.Pick != "":
		return nil, wrong("craft", "name the craft or its parts, not both")
	case o.Weight != "" && (!weighed || !inside(massG, 5, 20000)):
		return nil, wrong("weight", "takes 5 to 20000 g, such as 151, 151g or 5.3oz; got %s", o.Weight)
	case o.RateHz != 0 && !inside(o.RateHz, 0.5, 1e4):
		return nil, wrong("rate_hz", "must be from 0.5 to 10000, got %g", o.RateHz)
	case o.Poles != 0 && (o.Poles < 2 || o.Poles > 60 || o.Poles%2 != 0):
		return nil, wrong("poles", "must be an even number from 2 to 60, got %d", o.Poles)
	case o.Cells != 0 && (o.Cells < 1 || o.Cells > 14):
		return nil, wrong("cells", "must be from 1 to 14, got %d", o.Cells)
	}
	style, err := a.style(&a.Style)
	if err != nil {
		return nil, err
	}
	file := &watched{ctx: ctx}
	file.from, file.whole = a.brought()
	r := readings.Recording{Name: o.File, File: file, Columns: o.Columns, RateHz: o.RateHz, Poles: o.Poles, Cells: o.Cells,
		Craft: o.Craft, Pick: o.Pick, Style: &style, Ways: Ways(&style), Date: o.Date, Flown: o.Flown, WeightG: massG}
	if r.Craft != "" || r.Pick != "" {
		if r.Drawer, err = a.bare(&o.Shared); err != nil {
			return nil, err
		}
		r.Ways = a.logWays(r.Drawer, &style, o.Flown)
	}
	if _, ok := r.Ways.Flying(o.Flown); o.Flown != "" && !ok {
		return nil, wrong("flown", "no way of flying is called %s; known are hover, cruise, hard and styles", o.Flown)
	}
	x, err := r.Answer(ctx, a.head(&o.Shared))
	a.Attached = nil
	var list inventory.Faults
	if errors.As(err, &list) && len(list) > 0 && list[0].File == o.File {
		d := file.columns(&Flown{Flown: &readings.Flown{Head: a.head(&o.Shared), File: o.File}, Faults: answer.Faulty(
			answer.Head{}, list).Faults})
		return &Reply{Document: d}, ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	x.Unused = x.Unused[:min(len(x.Unused), mostHeadings)]
	d := file.columns(&Flown{Flown: x, Words: &x.Words, Plot: plotOf(x.Traces), Faults: []answer.Fault{}})
	var text []byte
	if x.Learned != nil {
		// Without a reading in it there is no entry, and no text.
		if text, err = x.Append(a.file(), []byte(a.Drawer)); err != nil && !errors.As(err, new(*strict.Problem)) {
			return nil, ofAsk(err)
		}
	}
	return made(d, text, ctx.Err())
}

// watched is a file that is read until the question is stopped. It tells how far it was read, and keeps its head.
type watched struct {
	ctx   context.Context
	from  io.Reader
	head  []byte
	read  int64
	whole int64
}

func (w *watched) Read(b []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.from.Read(b)
	w.read += int64(n)
	w.head = append(w.head, b[:min(n, headBytes-len(w.head))]...)
	progress.Of(w.ctx).At(float64(w.read), float64(max(w.whole-w.read, 0)))
	return n, err
}

func (w *watched) columns(d *Flown) *Flown {
	d.Headings, d.Quantities = []string{}, []Quantity{}
	for _, h := range series.Headings(bytes.NewReader(w.head), mostHeadings) {
		if len(h) > longestHeading {
			h = h[:longestHeading] + "…"
		}
		d.Headings = append(d.Headings, strings.ToValidUTF8(h, ""))
	}
	for _, q := range series.Quantities() {
		d.Quantities = append(d.Quantities, Quantity{string(q), catalogue.QuantityName(string(q)), q.Unit()})
	}
	return d
}

// brought is what the question brings beside its words, and its size.
func (q *Question) brought() (io.Reader, int64) {
	if q.File != nil {
		return q.File, q.File.Size()
	}
	return bytes.NewReader(q.Attached), int64(len(q.Attached))
}

func plotOf(t *series.Traces) *Plot {
	n := max(len(t.Throttle), len(t.Amps), 1)
	by := (n + mostStretches - 1) / mostStretches
	return &Plot{StepS: t.StepS * float64(by), Throttle: extremes(t.Throttle, by), Amps: extremes(t.Amps, by),
		HoverThrottlePct: rounded(t.LevelThrottle), HoverA: rounded(t.LevelCurrent)}
}

// extremes are the least and the largest of as many successive values.
func extremes(list []float64, by int) [][2]*float64 {
	out := [][2]*float64{}
	for from := 0; from < len(list); from += by {
		low, high := math.Inf(1), math.Inf(-1)
		for _, x := range list[from:min(from+by, len(list))] {
			if !math.IsNaN(x) {
				low, high = math.Min(low, x), math.Max(high, x)
			}
		}
		out = append(out, [2]*float64{rounded(low), rounded(high)})
	}
	return out
}

func rounded(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = math.Round(100*x) / 100
	return &x
}
