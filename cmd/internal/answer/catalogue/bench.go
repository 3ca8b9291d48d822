package catalogue

import (
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/search/predict"
)

// BenchPair is two sets on a stand at one condition, the better one first.
type BenchPair struct {
	First, Second      string
	VoltsV, Given      float64 // Given is a thrust in g or a throttle in %
	AtThrust           bool
	Share              float64 // of the draws in which the first is the better one
	Lead               predict.Lead
	Unable, BothUnable bool // full throttle of the second, or of both, gives less than the thrust
}

// Sentences on the order of two sets on a stand.
const (
	benchDraws = "{given} g at {volts} V: {first} draws less than {second} in {share} of 100 cases: {lead}"
	benchPulls = "{given} % throttle at {volts} V: {first} pulls more than {second} in {share} of 100 cases: " +
		"{lead}"
	benchUnable = "{given} g at {volts} V: {second} does not reach it, even at full throttle"
	benchNone   = "{given} g at {volts} V: neither {first} nor {second} reaches it, even at full throttle"
)

// benchLeads say how sure an order is.
var benchLeads = [...]string{predict.TossUp: "too close to call", predict.Likely: "probably", predict.Clear: "clearly"}

// BenchOrderText says which of two sets is better at a condition, and how sure that is.
func BenchOrderText(p *BenchPair) string {
	template := benchPulls
	switch {
	case p.BothUnable:
		template = benchNone
	case p.Unable:
		template = benchUnable
	case p.AtThrust:
		template = benchDraws
	}
	return phrase.Fill(template, map[string]any{"given": Raw(p.Given), "volts": Raw(p.VoltsV), "first": p.First,
		"second": p.Second, "share": About(p.Share), "lead": benchLeads[p.Lead]})
}
