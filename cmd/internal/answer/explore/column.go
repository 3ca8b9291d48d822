package explore

import (
	"encoding/base64"
	"math"
)

// column is a list of numbers for the page, as whole numbers of width bytes, least byte first, that
// stand for from + step·q, or for the exponential of it if log is set. A number with every bit set
// in a column with gaps is missing.
type column struct {
	Width int     `json:"width"`
	From  float64 `json:"from"`
	Step  float64 `json:"step"`
	Log   bool    `json:"log,omitempty"`
	Gaps  bool    `json:"gaps,omitempty"`
	Data  string  `json:"data"`
}

// whole packs whole numbers, exactly, into as few bytes as they need.
func whole(numbers []int32) column {
	low, high := int64(0), int64(0)
	for i, n := range numbers {
		if i == 0 {
			low, high = int64(n), int64(n)
		}
		low, high = min(low, int64(n)), max(high, int64(n))
	}
	width := 1
	for high-low >= 1<<(8*width) {
		width++
	}
	data := make([]byte, 0, width*len(numbers))
	for _, n := range numbers {
		data = little(data, uint64(int64(n)-low), width)
	}
	return column{Width: width, From: float64(low), Step: 1, Data: encode(data)}
}

// axisSteps is the number of steps from 0 to 100 of an axis in three bytes.
const axisSteps = 1<<24 - 1

// axis packs values from 0 to 100, six millionths of a point apart. What is over 0 stays over 0.
func axis(values []float64) column {
	data := make([]byte, 0, 3*len(values))
	for _, x := range values {
		q := math.Round(x / 100 * axisSteps)
		if x > 0 {
			q = max(q, 1)
		}
		data = little(data, uint64(min(q, axisSteps)), 3)
	}
	return column{Width: 3, Step: 100.0 / axisSteps, Data: encode(data)}
}

// measured packs numbers into two bytes, by logarithm where all are over 0: a fifteenth of a per
// mille off over four decades. NaN is missing.
func measured(values []float64) column {
	const missing, most = 65535, 65534
	c := column{Width: 2, Log: true, Gaps: true}
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range values {
		if !math.IsNaN(x) {
			low, high = min(low, x), max(high, x)
		}
	}
	if math.IsInf(low, 0) {
		low, high = 0, 0
	}
	scale := func(x float64) float64 { return x }
	if low > 0 {
		scale = math.Log
	} else {
		c.Log = false
	}
	c.From = scale(low)
	c.Step = (scale(high) - c.From) / most
	data := make([]byte, 0, 2*len(values))
	for _, x := range values {
		q := uint64(missing)
		switch {
		case math.IsNaN(x):
		case c.Step == 0:
			q = 0
		default:
			q = uint64(math.Round((scale(x) - c.From) / c.Step))
		}
		data = little(data, q, 2)
	}
	c.Data = encode(data)
	return c
}

// shares packs numbers from 0 to 1 into a byte each.
func shares(values []float64) column {
	data := make([]byte, len(values))
	for i, x := range values {
		data[i] = byte(math.Round(255 * min(max(x, 0), 1)))
	}
	return column{Width: 1, Step: 1.0 / 255, Data: encode(data)}
}

func little(data []byte, q uint64, width int) []byte {
	for range width {
		data = append(data, byte(q))
		q >>= 8
	}
	return data
}

func encode(data []byte) string { return base64.StdEncoding.EncodeToString(data) }
