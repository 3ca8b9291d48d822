package series

import (
	"slices"
	"strings"

	"partsaloft/inventory/strict"
)

// NamedColumns reads which columns a pilot names for which quantities: volts=Vbat, "volts=Pack [mV]", rpm=3. Several
// for one quantity are its columns together. The error is a *strict.Problem.
func NamedColumns(list []string) (map[Quantity][]string, error) {
	columns := map[Quantity][]string{}
	for _, one := range list {
		word, heading, ok := strings.Cut(one, "=")
		q := Quantity(strings.ToLower(strings.TrimSpace(word)))
		if heading = strings.TrimSpace(heading); !ok || heading == "" || !slices.Contains(Quantities(), q) {
			var known strict.List
			for _, q := range Quantities() {
				known = append(known, string(q))
			}
			return nil, &strict.Problem{Code: "series.column_form", Values: strict.Values{"got": strict.Raw(one),
				"quantities": known}}
		}
		columns[q] = append(columns[q], heading)
	}
	return columns, nil
}
