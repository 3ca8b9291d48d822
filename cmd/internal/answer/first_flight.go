package answer

import (
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// FlightReading is one thing to read on the first flight, and what a deviation points to.
type FlightReading struct {
	Reading string   `json:"reading"`
	Where   string   `json:"where"`
	What    string   `json:"what"`
	Unit    string   `json:"unit"`
	Figure  Figure   `json:"figure"`
	Higher  []string `json:"higher"`
	Lower   []string `json:"lower"`

	Expect, Between string `json:"-"` // as a card has them
}

// readingUnit is the unit of a reading, perSI times its SI value.
func readingUnit(kind predict.ReadingKind) (unit string, perSI float64) {
	of := func(q figure.Quantity) (string, float64) { return figure.Of(q).Unit, figure.Of(q).PerSI }
	switch kind {
	case predict.ReadMass:
		return of(figure.AllUpMass)
	case predict.ReadHoverThrottle:
		return of(figure.HoverThrottle)
	case predict.ReadHoverCurrent:
		return of(figure.HoverCurrent)
	case predict.ReadFlightTime:
		return of(figure.StyleTime)
	}
	return "V", 1
}

// withNew appends a text that is not in a list yet.
func withNew(list []string, text string) []string {
	if slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

func (e *explaining) firstFlight() []FlightReading {
	list := []FlightReading{}
	for _, reading := range e.readings {
		unit, perSI := readingUnit(reading.Kind)
		v := reading.Value
		value, low, high := perSI*v.Value, perSI*v.Low, perSI*v.High
		where, what := catalogue.ReadingText(reading.Kind, e.Result, value)
		one := FlightReading{
			Reading: reading.Kind.Key(), Where: where, What: what, Unit: unit,
			Figure: Known(value, low, high, v.Basis.String()), Higher: []string{}, Lower: []string{},
			Expect:  catalogue.WithUnit(catalogue.Number(value, low, high), unit),
			Between: catalogue.Interval(value, low, high),
		}
		for _, cause := range reading.Causes {
			one.Higher = withNew(one.Higher, catalogue.CauseText(cause.Input, cause.Change > 0))
			one.Lower = withNew(one.Lower, catalogue.CauseText(cause.Input, cause.Change <= 0))
		}
		list = append(list, one)
	}
	return list
}
