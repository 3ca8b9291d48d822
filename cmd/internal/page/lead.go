package page

import (
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"

	"partsaloft/objective"
	"partsaloft/search"
)

// firstShown is how many combinations the page lists before its script runs.
const firstShown = 10

// heads are the heads of the ranking's columns.
func heads() string {
	var b strings.Builder
	b.WriteString(`<th scope="col"><span class="unseen">compare</span></th><th scope="col">#</th>` +
		`<th scope="col" class="left">combination</th><th scope="col">score</th>`)
	for a := range objective.AxisCount {
		fmt.Fprintf(&b, `<th scope="col" class="more axis">%s</th>`, a)
	}
	for i := range limitable {
		fmt.Fprintf(&b, `<th scope="col" class="more">%s</th>`, limitable[i].head)
	}
	return b.String()
}

// firstRows are the rows of the ranking as the page opens.
func (in *Input) firstRows() string {
	var b strings.Builder
	place, bounds := 0, Bounds()
	var shown []*search.Entry
	for i := range in.Catalogue.Entries {
		e := &in.Catalogue.Entries[i]
		if !e.Keeps(in.Opening, bounds) || slices.ContainsFunc(shown, e.SameRow) {
			continue
		}
		shown = append(shown, e)
		if place++; place > firstShown {
			break
		}
		p := e.Combination.Parts()
		fmt.Fprintf(&b, "<tr><td></td><td>%d</td><th scope=\"row\">%s</th><td class=\"score\">%.1f</td>", place,
			html.EscapeString(strings.Join([]string{p.Motor, p.Prop, p.Pack, p.Frame, p.Board}, " ")),
			in.Style.Weights.Score(&e.Axes))
		for a := range objective.AxisCount {
			fmt.Fprintf(&b, "<td class=\"more axis\">%.0f</td>", e.Axes[a])
		}
		for k := range bounds {
			fmt.Fprintf(&b, "<td class=\"more\">%s</td>", strconv.FormatFloat(float64(e.Steps[k])/float64(bounds[k].PerUnit),
				'g', 6, 64))
		}
		b.WriteString("</tr>\n")
	}
	return b.String()
}

// adviceLines are what to build, as the page opens.
func (in *Input) adviceLines() string {
	var b strings.Builder
	if a := in.advice(); a != nil {
		for _, line := range a.Lines {
			fmt.Fprintf(&b, "<p class=\"about\">%s</p>\n", html.EscapeString(line))
		}
	}
	return b.String()
}

// dangers are what stands before everything but what to build.
func (in *Input) dangers() string {
	var b strings.Builder
	for _, text := range in.Care.Dangers {
		fmt.Fprintf(&b, "<p class=\"about\"><strong>%s</strong></p>\n", html.EscapeString(text))
	}
	return b.String()
}
