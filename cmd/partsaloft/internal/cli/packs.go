package cli

import (
	"fmt"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// packJSON is what one owned pack does on the craft.
type packJSON struct {
	Pack           string        `json:"pack"`
	MassG          float64       `json:"mass_g"`
	Feasible       bool          `json:"feasible"`
	Figures        answer.Fields `json:"figures"`
	SecondsPerGram *float64      `json:"seconds_per_gram"`
	Text           string        `json:"text"`
}

// packQuantities are shown for each pack: the ways of flying, and what the pack costs.
var packQuantities = []figure.Quantity{figure.AllUpMass, figure.HoverTime, figure.CruiseTime, figure.HardTime, figure.StyleTime}

func (e *explanation) packDocuments() []packJSON {
	var list []packJSON
	for i := range e.packs {
		x := &e.packs[i]
		one := packJSON{Pack: x.Combination.Pack.ID, MassG: catalogue.Round(gramsPerKilogram() * x.MassKg), Feasible: x.Feasible(), Figures: figuresOf(&x.Result)}
		if x.Gains {
			// Seconds a kilogram, as seconds a gram.
			gain := catalogue.Round(x.GainSPerKg / gramsPerKilogram())
			one.SecondsPerGram = &gain
		}
		var words []string
		if x.Beaten != "" {
			words = append(words, fmt.Sprintf("%s weighs less and flies longer", x.Beaten))
		}
		words = append(words, notFlown(&x.Result)...)
		for k := range x.Violations {
			words = append(words, "breaks: "+brokenSentence(&x.Violations[k]))
		}
		one.Text = strings.Join(words, "; ")
		list = append(list, one)
	}
	return list
}

// notFlown says in which ways a combination cannot be flown.
func notFlown(r *predict.Result) []string {
	var ways []string
	for _, way := range [...]struct {
		q    figure.Quantity
		name string
	}{{figure.CruiseTime, "gently"}, {figure.HardTime, "hard"}} {
		if f := shownOf(r, way.q); f.why == physics.SegmentTooHard {
			ways = append(ways, way.name)
		}
	}
	if len(ways) == 0 {
		return nil
	}
	return []string{"too weak to be flown " + strings.Join(ways, " or ")}
}

func gramsPerKilogram() float64 { return figure.Of(figure.AllUpMass).PerSI }

// packBlocks show what every owned pack does on the craft, the longest flight first.
func (e *explanation) packBlocks() []render.Block {
	if len(e.packs) == 0 {
		return nil
	}
	t := &render.Table{Columns: []render.Column{render.Left("pack"), render.Right("pack\ng"), render.Right("all-up\ng"), render.Right("hover\nmin"), render.Right("gentle\nmin"),
		render.Right("hard\nmin"), render.Right(e.problem.Style.Name + "\nmin"), render.Right("gain\ns/g"), render.Left("mind")}}
	for i, one := range e.packDocuments() {
		x := &e.packs[i].Result
		decimals := 0
		if one.MassG < 100 {
			decimals = 1
		}
		row := []string{one.Pack, raw(catalogue.Decimal(one.MassG, decimals))}
		for _, q := range packQuantities {
			f := shownOf(x, q)
			row = append(row, f.number())
		}
		gain := ""
		if one.SecondsPerGram != nil {
			gain = catalogue.SignedFixed(*one.SecondsPerGram, 1)
		}
		t.Rows = append(t.Rows, append(row, gain, render.Wrap(one.Text, 32, "")))
	}
	return []render.Block{render.Heading("Packs on this craft"), t,
		render.Paragraph("Gain: seconds of flight in this style for each gram over the lightest pack.")}
}

// classJSON says how a combination stands to a weight class.
type classJSON struct {
	ClassG float64           `json:"class_g"`
	LeftG  answer.Figure     `json:"left_g"`
	Swaps  []alternativeJSON `json:"swaps"`
	Text   string            `json:"text"`
}

func (e *explanation) class() *classJSON {
	if e.classG == 0 {
		return nil
	}
	f := shownOf(e.result, figure.AllUpMass)
	left, low, high := e.classG-f.value, e.classG-f.high, e.classG-f.low
	c := &classJSON{ClassG: e.classG, LeftG: answer.Known(left, low, high, f.basis), Swaps: []alternativeJSON{}}
	class := raw(e.classG) + " g"
	switch {
	case low >= 0:
		c.Text = fmt.Sprintf("%s g are left to %s (%s).", catalogue.Number(left, low, high), class, catalogue.Interval(left, low, high))
	case high < 0:
		c.Text = fmt.Sprintf("It is %s g over %s (%s).", catalogue.Number(-left, -high, -low), class, catalogue.Interval(-left, -high, -low))
	default:
		c.Text = fmt.Sprintf("At %s (%s) it may fall on either side of %s: weigh it.", f.String(), f.span(), class)
	}
	var ways []string
	for i := range e.lighter {
		w := &e.lighter[i]
		mass := shownOf(&w.Result, figure.AllUpMass)
		text := fmt.Sprintf("%s → %s: %s, score %s", w.Part, w.To, mass.String(), catalogue.SignedFixed(w.Evaluation.Score-e.result.Evaluation.Score, 1))
		c.Swaps = append(c.Swaps, alternativeJSON{Part: string(w.Part), From: w.From, To: w.To, Parts: partsOf(&w.Result), Score: hundredths(w.Evaluation.Score),
			Axes: axesFields(&w.Evaluation.Axes), Figures: figuresOf(&w.Result), Text: text})
		ways = append(ways, text)
	}
	switch {
	case left >= 0 && low >= 0:
		c.Swaps = []alternativeJSON{}
	case len(ways) > 0:
		c.Text += " One swap gets under it: " + strings.Join(ways, "; ") + "."
	default:
		c.Text += " No swap of one part gets under it."
	}
	return c
}
