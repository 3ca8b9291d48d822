package page

import (
	"fmt"
	"html"
	"strings"

	"partsaloft/objective"
)

// firstShown is how many combinations the page lists before its script runs.
const firstShown = 10

// about says what the page holds and how far its order can be trusted, in HTML.
func (in *Input) about() string {
	c := in.Catalogue
	var text []string
	add := func(format string, args ...any) { text = append(text, fmt.Sprintf(format, args...)) }
	of := "of these"
	if !c.Proven {
		of = "of those looked at"
	}
	add("Flown as %s. %s candidates, %s fit together, %s %s are feasible.", in.Style.Name, grouped(c.Candidates),
		grouped(c.Fitted), grouped(c.Feasible), of)
	held := int64(len(c.Entries))
	switch {
	case !c.Proven:
		add("Not all of them could be looked at: this page holds %s of the %s that a search came across. For other "+
			"weights and limits than it opens with, something better may be missing.", grouped(held), grouped(c.Evaluated))
		if c.Complete > 0 {
			add("As it opens, the first %s places are proven.", grouped(c.Complete))
		}
	case held == c.Feasible:
		add("All of them are in this page, so that the order is complete for any weights and limits.")
	case c.Loss > 0:
		add("This page holds %s of them. Whatever the weights and limits, the best of the drawer scores at most %.1f %% "+
			"more than the first place here.", grouped(held), 100*c.Loss)
	default:
		add("This page holds %s of them: all that can be the best for some weights and limits. The first place is the "+
			"best of the drawer whatever you set. Further down, what another one beats in everything may be missing; as the "+
			"page opens, the first %s places are complete.", grouped(held), grouped(c.Complete))
	}
	if len(in.Style.Limits) > 0 {
		var kept []string
		for _, l := range in.Style.Limits {
			kept = append(kept, fmt.Sprintf("%s %s", in.Name(l.Key()), rangeText(l.Range)))
		}
		add("Kept throughout: %s.", strings.Join(kept, ", "))
	}
	for _, a := range c.SetAside {
		add("Left out: %s %s, %s.", a.Kind, a.ID, strings.ReplaceAll(a.Err.Error(), "\n", "; "))
	}
	return html.EscapeString(strings.Join(text, " "))
}

func rangeText(r objective.Range) string {
	low, high, _ := strings.Cut(r.String(), "..")
	switch {
	case low == "":
		return "at most " + high
	case high == "":
		return "at least " + low
	}
	return low + " to " + high
}

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
	for i := range in.Catalogue.Entries {
		e := &in.Catalogue.Entries[i]
		if !e.Keeps(in.Opening, bounds) {
			continue
		}
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
			fmt.Fprintf(&b, "<td class=\"more\">%s</td>", number(float64(e.Steps[k])/float64(bounds[k].PerUnit)))
		}
		b.WriteString("</tr>\n")
	}
	return b.String()
}

// grouped writes a whole number with its thousands apart.
func grouped(n int64) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// dangers are what stands before everything else.
func (in *Input) dangers() string {
	var b strings.Builder
	for _, text := range in.Care.Dangers {
		fmt.Fprintf(&b, "<p class=\"about\"><strong>%s</strong></p>\n", html.EscapeString(text))
	}
	return b.String()
}
