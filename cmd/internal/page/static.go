package page

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/explore"
	"partsaloft/objective"
	"partsaloft/search"
)

// Input is what the offline page of a drawer is made of.
type Input struct{ explore.Input }

// MostBytes is the largest that an offline page may be.
const MostBytes = 2_000_000

// Fewest results in detail below which a page that is too large is an error.
const fewestDetails = 50

// firstShown is how many builds the page lists before its script runs.
const firstShown = 10

// Write writes the page. Where it would be too large it leaves out results in detail, those of the
// worst ranked first.
func (in *Input) Write(w io.Writer) error {
	for {
		var page bytes.Buffer
		if err := in.page().Write(&page); err != nil {
			return err
		}
		if page.Len() <= MostBytes {
			_, err := w.Write(page.Bytes())
			return err
		}
		if !in.drop() {
			return fmt.Errorf("the page would take %d bytes, at most %d are allowed: leave out parts of the drawer",
				page.Len(), MostBytes)
		}
	}
}

// drop takes the last quarter of the results in detail away; it reports whether enough are left.
func (in *Input) drop() bool {
	count := 0
	for i := range in.Catalogue.Entries {
		if in.Catalogue.Entries[i].Result != nil {
			count++
		}
	}
	keep := count * 3 / 4
	if keep < fewestDetails {
		return false
	}
	for i := range in.Catalogue.Entries {
		if e := &in.Catalogue.Entries[i]; e.Result != nil {
			if keep == 0 {
				e.Result = nil
				continue
			}
			keep--
		}
	}
	return true
}

// start is what a page's script begins with.
type start struct {
	Explore *explore.Document `json:"explore,omitempty"`
}

func (in *Input) page() *Page {
	return &Page{
		Title:   fmt.Sprintf("%s, %s: what to build", in.Drawer, in.Style.Name),
		Heading: fmt.Sprintf("What %s can fly", in.Drawer),
		Opening: Opening{Dangers: in.Care.Dangers, Advice: in.Advice(), About: answer.Holding(&in.Style, in.Catalogue),
			Care: strings.Join(in.Care.Cautions, " "), Rows: in.firstRows()},
		Data: start{Explore: in.Document()},
	}
}

// heads are the heads of the ranking's columns.
func heads() string {
	var b strings.Builder
	b.WriteString(`<th scope="col"><span class="unseen">compare</span></th><th scope="col">#</th>` +
		`<th scope="col" class="left">build</th><th scope="col">score</th>`)
	for a := range objective.AxisCount {
		fmt.Fprintf(&b, `<th scope="col" class="more axis">%s</th>`, a)
	}
	for _, head := range explore.Heads() {
		fmt.Fprintf(&b, `<th scope="col" class="more">%s</th>`, head)
	}
	return b.String()
}

// firstRows are the rows of the ranking as the page opens.
func (in *Input) firstRows() string {
	var b strings.Builder
	place, bounds := 0, explore.Bounds()
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
