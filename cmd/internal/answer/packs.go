package answer

import (
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// PackOnCraft is what one owned pack does on the craft.
type PackOnCraft struct {
	Pack           string   `json:"pack"`
	MassG          float64  `json:"mass_g"`
	Feasible       bool     `json:"feasible"`
	Figures        Fields   `json:"figures"`
	SecondsPerGram *float64 `json:"seconds_per_gram"`
	Text           string   `json:"text"`

	Found *predict.Result `json:"-"`
}

func (e *explaining) packDocuments() []PackOnCraft {
	var list []PackOnCraft
	for i := range e.packs {
		x := &e.packs[i]
		one := PackOnCraft{Pack: x.Combination.Pack.ID, MassG: catalogue.Round(gramsPerKilogram() * x.MassKg),
			Feasible: x.Feasible(), Figures: figuresOf(&x.Result), Found: &x.Result}
		if x.Gains {
			// Seconds a kilogram, as seconds a gram.
			gain := catalogue.Round(x.GainSPerKg / gramsPerKilogram())
			one.SecondsPerGram = &gain
		}
		var words []string
		if x.Beaten != "" {
			words = append(words, catalogue.Say("packs.beaten", "pack", x.Beaten))
		}
		words = append(words, notFlown(&x.Result)...)
		for k := range x.Violations {
			words = append(words, catalogue.Say("packs.breaks", "limit", catalogue.Violation(&x.Violations[k])))
		}
		one.Text = strings.Join(words, "; ")
		list = append(list, one)
	}
	return list
}

// notFlown says for which ways of flying a combination lacks the voltage.
func notFlown(r *predict.Result) []string {
	var ways []string
	for _, way := range [...]struct {
		q    figure.Quantity
		name string
	}{{figure.CruiseTime, "gently"}, {figure.HardTime, "hard"}} {
		if r.Performance.Strained.Has(1 << way.q) {
			ways = append(ways, way.name)
		}
	}
	if len(ways) == 0 {
		return nil
	}
	return []string{catalogue.Say("packs.weak", "ways", strings.Join(ways, " or "))}
}

// gramsPerKilogram is how many grams a kilogram has.
func gramsPerKilogram() float64 { return figure.Of(figure.AllUpMass).PerSI }

// WeightClass says how a combination stands to a weight class.
type WeightClass struct {
	ClassG float64       `json:"class_g"`
	LeftG  Figure        `json:"left_g"`
	Swaps  []Alternative `json:"swaps"`
	Text   string        `json:"text"`
}

func (e *explaining) class() *WeightClass {
	if e.classG == 0 {
		return nil
	}
	f := catalogue.ShownOf(e.Result, figure.AllUpMass)
	left, low, high := e.classG-f.Value, e.classG-f.High, e.classG-f.Low
	c := &WeightClass{ClassG: e.classG, LeftG: Known(left, low, high, f.Basis), Swaps: []Alternative{}}
	class := catalogue.Raw(e.classG) + " g"
	switch {
	case low >= 0:
		c.Text = catalogue.Say("class.left", "left", catalogue.Number(left, low, high), "class", class, "range",
			catalogue.Interval(left, low, high))
	case high < 0:
		c.Text = catalogue.Say("class.over", "over", catalogue.Number(-left, -high, -low), "class", class, "range",
			catalogue.Interval(-left, -high, -low))
	default:
		c.Text = catalogue.Say("class.either", "mass", f.String(), "range", f.Span(), "class", class)
	}
	var ways []string
	for i := range e.lighter {
		w := &e.lighter[i]
		mass := catalogue.ShownOf(&w.Result, figure.AllUpMass)
		text := catalogue.Say("class.swap", "part", string(w.Part), "to", w.To, "mass", mass.String(), "gain",
			catalogue.SignedFixed(w.Evaluation.Score-e.Result.Evaluation.Score, 1))
		c.Swaps = append(c.Swaps, Alternative{Part: string(w.Part), From: w.From, To: w.To, Parts: partsOf(&w.Combination),
			Score: hundredths(w.Evaluation.Score),
			Axes:  axesFields(&w.Evaluation.Axes), Figures: figuresOf(&w.Result), Text: text})
		ways = append(ways, text)
	}
	switch {
	case left >= 0 && low >= 0:
		c.Swaps = []Alternative{}
	case len(ways) > 0:
		c.Text += " " + catalogue.Say("class.swaps", "swaps", strings.Join(ways, "; "))
	default:
		c.Text += " " + catalogue.Say("class.no_swap")
	}
	return c
}
