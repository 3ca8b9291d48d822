package readings

import (
	"math"
	"strconv"
	"strings"
)

// Grams reads a weight as typed: 151, 151g, 5.3oz; false if it is none.
func Grams(text string) (float64, bool) {
	number, unit := strings.ToLower(strings.TrimSpace(text)), 1.0
	for _, u := range [...]struct {
		name  string
		grams float64
	}{{"kg", 1000}, {"oz", 28.349523125}, {"g", 1}} { // international avoirdupois ounce, exact
		if rest, ok := strings.CutSuffix(number, u.name); ok {
			number, unit = strings.TrimSpace(rest), u.grams
			break
		}
	}
	x, err := strconv.ParseFloat(number, 64)
	return math.Round(x*unit*10) / 10, err == nil
}
