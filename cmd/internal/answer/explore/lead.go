package explore

import (
	"context"
	"slices"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
)

// Lead is what a ranking says before its rows: what to build, how sure that is, and why.
type Lead struct {
	Advice   []string `json:"advice"`
	Dangers  []string `json:"dangers"` // of the build that is advised, to be read before it is praised
	Sure     string   `json:"sure"`
	Why      string   `json:"why"`
	Notes    []string `json:"notes"` // on the build that is advised
	Others   []string `json:"others"`
	Variants string   `json:"variants"`
	Scale    string   `json:"scale"`
	Instead  []string `json:"instead"`
	RuledOut string   `json:"ruledOut"`
	LeftOut  []string `json:"leftOut"`
	Misses   []string `json:"misses"` // what comes nearest where nothing can be built
	Searched string   `json:"searched"`
	// Care is what to mind, the dangers first, of which there are CareDangers.
	Care        []string  `json:"care"`
	CareDangers int       `json:"careDangers"`
	Settle      []Reading `json:"settle"` // readings that tell the first two apart, the cheapest marked
	Rows        []LeadRow `json:"rows"`
}

// Reading is a measurement that would help to choose between the first two.
type Reading struct {
	Measure  string `json:"measure"`
	Part     string `json:"part"`
	ID       string `json:"id"`
	Cheapest bool   `json:"cheapest"`
}

// LeadRow is one of the first rows.
type LeadRow struct {
	Key      string   `json:"key"`   // names the build by its parts
	Ahead    float64  `json:"ahead"` // in how many of the draws it stays ahead of the next, a share; 0 for the last
	Last     bool     `json:"last"`  // nothing listed follows it
	Sure     string   `json:"sure"`  // what that means
	Score    float64  `json:"score"`
	Dangers  []string `json:"dangers"`
	Variants []string `json:"variants"`
}

// LeadOf is what a ranking says first.
func LeadOf(d *answer.Ranking) *Lead {
	w := &d.Words
	l := &Lead{Advice: list(d.Advice), Dangers: list(w.Dangers), Sure: w.Sure, Why: w.Why, Notes: list(w.Notes),
		Others: list(w.Others), Variants: w.Variants, Scale: w.Scale, Instead: list(w.Instead), RuledOut: w.RuledOut,
		LeftOut: list(w.LeftOut), Misses: list(w.Misses), Searched: w.Searched, Care: d.Care.All(),
		CareDangers: len(d.Care.Dangers), Settle: []Reading{}, Rows: []LeadRow{}}
	for _, s := range d.Settle {
		l.Settle = append(l.Settle, Reading{Measure: s.Measure, Part: s.Part, ID: s.ID, Cheapest: s.Cheapest})
	}
	for i := range d.Results {
		r := &d.Results[i]
		row := LeadRow{Key: Key(&r.Parts), Score: r.Score, Dangers: list(r.Dangers), Variants: []string{},
			Last: i+1 == len(d.Results)}
		if r.AheadShare != nil && !row.Last {
			row.Ahead = *r.AheadShare
			row.Sure = catalogue.Sureness(&d.Found.Best[i])
		}
		if r.Variants != nil {
			for _, v := range r.Variants.Builds {
				row.Variants = append(row.Variants, v.Text)
			}
		}
		l.Rows = append(l.Rows, row)
	}
	return l
}

// MakeLead ranks the drawer and says what stands first.
func MakeLead(ctx context.Context, a *answer.Ask) (*Lead, error) {
	d, err := answer.Rank(ctx, a, answer.RankOptions{})
	if err != nil {
		return nil, err
	}
	return LeadOf(d), nil
}

// Key names a build by its parts, as a pick of it does; extras stand in the order of their ids.
func Key(p *answer.Parts) string {
	text := "motor=" + p.Motor + ",prop=" + p.Prop + ",pack=" + p.Pack + ",frame=" + p.Frame + ",board=" + p.Board
	for i, id := range slices.Sorted(slices.Values(p.Extras)) {
		if i == 0 {
			text += ",extras=" + id
		} else {
			text += "+" + id
		}
	}
	return text
}

// list is the list itself, empty instead of nil.
func list(texts []string) []string {
	if texts == nil {
		return []string{}
	}
	return texts
}
