package answer

import (
	"fmt"
	"math"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/search"
)

// changes are the sentences of changes whose amount has one form.
var changes = map[search.ChangeKind]struct {
	sentence catalogue.Search
	form     string
	scale    float64
}{
	search.PitchChange:       {"change.pitch", "%+.0f", 100},
	search.BladesChange:      {"change.blade", "%.0f", 1},
	search.CapacityChange:    {"change.capacity", "%.0f", 100},
	search.WornPackChange:    {"change.worn_pack", "%.0f", 1},
	search.CapChange:         {"change.cap", "%.0f", 100},
	search.RootMassChange:    {"change.root_mass", "%.0f", 1},
	search.TipMassChange:     {"change.tip_mass", "%.0f", 1},
	search.CameraOffChange:   {"change.camera_off", "%.0f", 1},
	search.WindChange:        {"change.wind", "%.0f", 1},
	search.AltitudeChange:    {"change.altitude", "%.0f", 1},
	search.TemperatureChange: {"change.temperature", "%.0f", 1},
}

// ChangeName names a change to a combination.
func ChangeName(c *search.Change) string {
	either := func(more, less catalogue.Search, amount string) string {
		if c.Amount < 0 {
			more = less
		}
		return more.Sentence(map[string]any{"amount": amount})
	}
	switch c.Kind {
	case search.AskedChange, search.NoChange:
		return c.Asked
	case search.MassChange:
		return either("change.heavier", "change.lighter", fmt.Sprintf("%.3g", math.Abs(1000*c.Amount)))
	case search.CellsChange:
		return either("change.cell_more", "change.cell_less", "")
	}
	form := changes[c.Kind]
	amount := strings.Replace(fmt.Sprintf(form.form, form.scale*c.Amount), "-", "−", 1)
	return form.sentence.Sentence(map[string]any{"amount": amount})
}

// stepText names a hypothetical part by the owned one that it is a step away from.
func stepText(kind inventory.Kind, of, step string) string {
	return catalogue.Search("step").Sentence(map[string]any{"part": kindAndID(kind, of), "step": catalogue.Search("step." + step).Template()})
}
