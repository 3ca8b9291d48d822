package catalogue

import (
	"strings"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/inventory"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
)

// Sentences on the variants of a row.
const (
	variantLine = "{parts}: score {score}, {grams}{minutes}"
	variantMany = "There are {n:more build|more builds} with the same motor, prop and pack on another board or frame, or with a " +
		"twin pack: --variants lists them."
	variantOne = "There is one more build with the same motor, prop and pack on another board or frame, or with a twin " +
		"pack: --variants lists it."
	variantOfRow = "It is a variant of rank {rank} (score {score}) with {parts} instead."
)

// VariantParts names what a variant has that its row has not: "board b52-36, frame f5-barge".
func VariantParts(row, variant *inventory.Combination) string {
	return strings.ReplaceAll(strings.Join(changed(row, variant), ", "), " → ", " ")
}

// VariantText says what a variant is and what it comes to beside its row.
func VariantText(row *inventory.Combination, v *search.Variant) string {
	minutes := ""
	if v.StyleTimeS > 0 {
		f := figure.Of(figure.StyleTime)
		minutes = ", " + WithUnit(Fixed(f.FromSI(v.StyleTimeS), 1), f.Unit)
	}
	return phrase.Fill(variantLine, map[string]any{"parts": VariantParts(row, &v.Combination), "minutes": minutes,
		"score": Fixed(v.Evaluation.Score, 1), "grams": WithUnit(Fixed(1000*v.AllUpKg, 0), "g")})
}

// VariantsSentence says how many more builds stand behind the rows; "" if there are none.
func VariantsSentence(groups []search.Group) string {
	count := 0
	for i := range groups {
		count += len(groups[i].Variants)
	}
	which := variantMany
	switch count {
	case 0:
		return ""
	case 1:
		which = variantOne
	}
	return phrase.Fill(which, map[string]any{"n": count})
}

// VariantOfSentence says of which row a combination is a variant.
func VariantOfSentence(rank int, row *predict.Result, c *inventory.Combination) string {
	return phrase.Fill(variantOfRow, map[string]any{"rank": rank, "score": Fixed(row.Evaluation.Score, 1),
		"parts": VariantParts(&row.Combination, c)})
}
