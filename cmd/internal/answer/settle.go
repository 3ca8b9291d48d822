package answer

import (
	"context"
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// likelyShare is the share of draws from which on the first is likely ahead; under it the two are a
// toss-up.
const likelyShare = 0.7

// settle says which single measurement would settle best a toss-up between the first two.
func (a *Ask) settle(ctx context.Context, r *search.Ranking) []Settle {
	list := []Settle{}
	if len(r.Best) < 2 || r.Best[0].AheadShare >= likelyShare {
		return list
	}
	for _, m := range predict.ValueOfInformation(ctx, &a.Problem.Style, &r.Best[0], &r.Best[1], a.Search.Sampling()) {
		list = append(list, Settle{Measure: measureWords(&m), Part: string(m.Part), ID: m.ID, Right: catalogue.Round(m.Right),
			RightNow: catalogue.Round(m.RightNow),
			onStand:  m.Kind == predict.BenchProp || m.Kind == predict.BenchMotor})
	}
	return list
}

// measureWords says what to measure.
func measureWords(m *predict.Measurement) string {
	switch m.Kind {
	case predict.MeasureResistance:
		return "measure the resistance of pack " + m.ID
	case predict.MeasureCapacity:
		return "recharge pack " + m.ID + " after a flight to the landing voltage and note the mAh"
	case predict.BenchProp:
		return "put prop " + m.ID + " on a thrust stand at one rpm"
	case predict.CaliperProp:
		return "measure chord and angle of prop " + m.ID + " at three quarters of its radius"
	case predict.BenchMotor:
		return "take one stand reading of motor " + m.ID + " with a known prop"
	}
	return fmt.Sprintf("weigh %s %s", m.Part, m.ID)
}

// settleSentence names the measurement worth most.
func settleSentence(list []Settle) string {
	if len(list) == 0 {
		return "No single measurement would settle it: fly both."
	}
	best := list[0]
	return fmt.Sprintf("To settle it, %s: the better one would then be picked in %s of cases instead of %s.", best.Measure,
		Percent(best.Right), Percent(best.RightNow))
}
