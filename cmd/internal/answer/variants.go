package answer

import (
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// Variants are the builds behind a row: its motor and prop, its pack or a twin of it, on other boards and frames.
type Variants struct {
	// Fitted counts the builds that fit, the row's own among them; Whole says that each was looked at.
	Fitted int64 `json:"fitted"`
	Whole  bool  `json:"whole"`
	// TwinPacks are the packs that cannot be told apart, the row's own among them.
	TwinPacks []string  `json:"twin_packs"`
	Builds    []Variant `json:"builds"` // feasible, but the row's own; the best first
}

// Variant is one build behind a row.
type Variant struct {
	Score        float64  `json:"score"`
	Parts        Parts    `json:"parts"`
	AllUpG       float64  `json:"all_up_g"`
	StyleMinutes *float64 `json:"style_minutes"` // null if it cannot fly so
	Text         string   `json:"text"`
}

func variantsOf(row *predict.Result, g *search.Group) *Variants {
	d := &Variants{Fitted: g.Fitted, Whole: g.Whole, TwinPacks: g.Packs, Builds: []Variant{}}
	for i := range g.Variants {
		v := &g.Variants[i]
		one := Variant{Score: hundredths(v.Evaluation.Score), Parts: partsOf(&v.Combination),
			AllUpG: catalogue.Round(figure.Of(figure.AllUpMass).FromSI(v.AllUpKg)),
			Text:   catalogue.VariantText(&row.Combination, v)}
		if v.StyleTimeS > 0 {
			one.StyleMinutes = ptr(catalogue.Round(figure.Of(figure.StyleTime).FromSI(v.StyleTimeS)))
		}
		d.Builds = append(d.Builds, one)
	}
	return d
}
