package question

import (
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/search"
	"partsaloft/search/space"
)

// Shared are the options of every question; what is left out is as the command line has it.
type Shared struct {
	Top      *int     `json:"top"`  // builds to list; 10
	Seed     *uint64  `json:"seed"` // 1
	Method   string   `json:"method"`
	MaxEvals int64    `json:"max_evals"`
	With     []string `json:"with"` // roles of optional extras to carry
	// AltitudeM and TemperatureC of the flying site are in place of the drawer's.
	AltitudeM    *float64 `json:"altitude_m"`
	TemperatureC *float64 `json:"temperature_c"`
}

const (
	defaultTop  = 10
	defaultSeed = 1
)

// Methods are those of the search.
var Methods = []string{string(search.Auto), string(search.Exact), string(search.Genetic)}

func (o *Shared) check() error {
	switch {
	case o.Top != nil && (*o.Top < 1 || *o.Top > answer.MostTop):
		return wrong("top", "must be from 1 to %d, got %d", answer.MostTop, *o.Top)
	case o.Method != "" && !slices.Contains(Methods, o.Method):
		return wrong("method", "must be one of %s, got %q", strings.Join(Methods, ", "), o.Method)
	case o.MaxEvals < 0:
		return wrong("max_evals", "must be over 0 (or 0 to leave it to the method), got %d", o.MaxEvals)
	case o.AltitudeM != nil && !inside(*o.AltitudeM, -500, 9000):
		return wrong("altitude_m", "must be from -500 to 9000, got %g", *o.AltitudeM)
	case o.TemperatureC != nil && !inside(*o.TemperatureC, -40, 60):
		return wrong("temperature_c", "must be from -40 to 60, got %g", *o.TemperatureC)
	}
	for _, role := range o.With {
		if p := KnownRole(role); p != nil {
			return answer.Refused(p)
		}
	}
	return nil
}

func inside(x, low, high float64) bool { return x >= low && x <= high && !math.IsNaN(x) }

func (o *Shared) seed() uint64 {
	if o.Seed == nil {
		return defaultSeed
	}
	return *o.Seed
}

// search are the options of a search.
func (o *Shared) search() search.Options {
	s := search.Options{Method: search.Auto, Top: defaultTop, Seed: o.seed(), MaxEvals: o.MaxEvals}
	if o.Method != "" {
		s.Method = search.Method(o.Method)
	}
	if o.Top != nil {
		s.Top = *o.Top
	}
	return s
}

// options reads the options of a question: own has Shared in it.
func (a *asked) options(own interface{ check() error }) error {
	if len(a.Options) > 0 {
		if err := decode(a.Options, own); err != nil {
			return err
		}
	}
	return own.check()
}

// ask is the question as answer has it.
func (a *asked) ask(o *Shared) (*answer.Ask, *corrected, error) {
	style, err := a.style(&a.Style)
	if err != nil {
		return nil, nil, err
	}
	c, err := a.corrected(o, &style)
	if err != nil {
		return nil, nil, err
	}
	air, err := c.drawer.Air.SI()
	if err != nil {
		return nil, nil, answer.Unusable(err)
	}
	head := a.head(o)
	if c.from > 0 {
		head.Learned = a.Learned.Name
	}
	p := &space.Problem{Drawer: c.drawer, Air: air, Style: style, With: o.With}
	return &answer.Ask{Problem: p, Search: o.search(), Head: head}, c, nil
}

func (a *asked) head(o *Shared) answer.Head {
	return answer.Head{SchemaVersion: answer.SchemaVersion, ToolVersion: answer.ToolVersion, Seed: o.seed()}
}
