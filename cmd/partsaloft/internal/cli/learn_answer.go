package cli

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/physics/uncertain"
)

// learnDocument is the JSON of learn.
type learnDocument struct {
	answer.Head
	// LearnedFile is the base name of the file written, empty if none was.
	LearnedFile string             `json:"learned_file"`
	Entries     []learnEntryJSON   `json:"entries"`
	Bench       []learnEntryJSON   `json:"bench"`
	Parts       []learnPartJSON    `json:"parts"`
	Doubts      []learnDoubtJSON   `json:"doubts"`
	LeftOut     learnLeftOutJSON   `json:"left_out"`
	Misfits     []learnMisfitsJSON `json:"misfits"`
}

type learnEntryJSON struct {
	Entry    int                `json:"entry,omitempty"`
	Line     int                `json:"line"`
	Date     string             `json:"date,omitempty"`
	What     string             `json:"what,omitempty"`
	Parts    *answer.Parts      `json:"parts,omitempty"`
	Readings []learnReadingJSON `json:"readings"`
}

type learnReadingJSON struct {
	Key      string         `json:"key"`
	Measured float64        `json:"measured"`
	SD       float64        `json:"sd"`
	Before   answer.Figure  `json:"before"`
	After    answer.Figure  `json:"after"`
	LeftOut  *answer.Figure `json:"left_out,omitempty"`
	Fits     bool           `json:"fits"`
}

type learnPartJSON struct {
	Kind    string            `json:"kind"`
	ID      string            `json:"id"`
	Changes []learnChangeJSON `json:"changes"`
	Text    string            `json:"text,omitempty"`
}

type learnChangeJSON struct {
	Input string `json:"input"`
	What  string `json:"what"`
	// Factor on what the part's figures say, with its 80 % interval.
	Factor         float64 `json:"factor"`
	Low            float64 `json:"low"`
	High           float64 `json:"high"`
	DoubtBeforePct float64 `json:"doubt_before_pct"`
	DoubtAfterPct  float64 `json:"doubt_after_pct"`
	Readings       int     `json:"readings"`
}

type learnDoubtJSON struct {
	A           learnWhichJSON `json:"a"`
	B           learnWhichJSON `json:"b"`
	Correlation float64        `json:"correlation"`
	Text        string         `json:"text"`
}

type learnWhichJSON struct {
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	Input string `json:"input"`
}

type learnLeftOutJSON struct {
	Readings int     `json:"readings"`
	Before   float64 `json:"before"`
	After    float64 `json:"after"`
	// Widened is the factor on the readings' stated doubt, 1 as a rule, 0 if nothing was learned.
	Widened float64 `json:"widened"`
	Text    string  `json:"text"`
}

type learnMisfitsJSON struct {
	Entry int    `json:"entry,omitempty"`
	Line  int    `json:"line"`
	Key   string `json:"key"`
	Text  string `json:"text"`
}

func learnAnswer(head answer.Head, d *inventory.Drawer, r *learn.Report, file string, care answer.Care) reply {
	document := learnDocument{
		Head: head, LearnedFile: file, Entries: learnEntries(r.Entries), Bench: learnEntries(r.Bench), Parts: []learnPartJSON{}, Doubts: []learnDoubtJSON{},
		LeftOut: learnLeftOutJSON{r.LeftOut.Readings, hundredths(r.LeftOut.Before), hundredths(r.LeftOut.After), r.Widened, leftOutText(r)},
		Misfits: []learnMisfitsJSON{},
	}
	page := render.Page{render.Paragraph(learnedSentence(d, r))}
	page.Add(learnTables(r)...)
	var misfits, parts, doubts render.List
	for _, entries := range [...][]learn.Entry{r.Entries, r.Bench} {
		for i := range entries {
			for j := range entries[i].Readings {
				if c := &entries[i].Readings[j]; !c.Fits {
					text := misfitText(&entries[i], c)
					misfits = append(misfits, text)
					document.Misfits = append(document.Misfits, learnMisfitsJSON{entries[i].Number, entries[i].Line, string(c.Key), text})
				}
			}
		}
	}
	for i := range r.Clashes {
		text := clashText(&r.Clashes[i])
		misfits = append(misfits, text)
		document.Misfits = append(document.Misfits, learnMisfitsJSON{r.Clashes[i].B, r.Entries[r.Clashes[i].B-1].Line, string(r.Clashes[i].Key), text})
	}
	var surer []string
	for i := range r.Learned.Parts {
		p := &r.Learned.Parts[i]
		text := partText(d, r, p)
		narrowed := surerText(p)
		if text != "" {
			parts = append(parts, text)
		}
		if narrowed != "" {
			surer = append(surer, narrowed)
		}
		document.Parts = append(document.Parts, learnPartOf(p, cmp.Or(text, unshiftedText(p, narrowed))))
	}
	for i := range r.Doubts {
		x := &r.Doubts[i]
		text := doubtText(x)
		doubts = append(doubts, text)
		document.Doubts = append(document.Doubts, learnDoubtJSON{learnWhichOf(&x.A), learnWhichOf(&x.B), hundredths(x.Correlation), text})
	}
	if surer != nil {
		parts = append(parts, "As given, but surer now: "+wordList(surer)+".")
	}
	for _, section := range [...]struct {
		head string
		list render.List
	}{{"Readings that do not fit", misfits}, {"What the readings tell of the parts", parts}, {"What they do not tell apart", doubts}} {
		if section.list != nil {
			page.Add(render.Heading(section.head), section.list)
		}
	}
	if text := leftOutText(r); text != "" {
		page.Add(render.Heading("Does it hold?"), render.Paragraph(text))
	}
	return reply{document, learnRows(r), page, care}
}

func learnedSentence(d *inventory.Drawer, r *learn.Report) string {
	readings := 0
	for _, e := range r.Entries {
		readings += len(e.Readings)
	}
	text := fmt.Sprintf("The log of %s holds %s with %s", d.Name, plural(int64(len(r.Entries)), "entry", "entries"), plural(int64(readings), "reading", "readings"))
	if len(r.Bench) > 0 {
		text += fmt.Sprintf("; %s learned from as well", plural(int64(len(r.Bench)), "row of a bench is", "rows of benches are"))
	}
	return text + ". Before is predicted by the parts' figures alone, after with all that was learned, left out with what the other entries taught; in brackets the 80 % interval; a star marks what does not fit."
}

func learnEntries(entries []learn.Entry) []learnEntryJSON {
	list := []learnEntryJSON{}
	for i := range entries {
		e := &entries[i]
		j := learnEntryJSON{Entry: e.Number, Line: e.Line, Date: e.Date, What: e.What, Readings: []learnReadingJSON{}}
		if e.Number > 0 {
			extras := e.Parts.Extras
			if extras == nil {
				extras = []string{}
			}
			j.Parts = &answer.Parts{Motor: e.Parts.Motor, Prop: e.Parts.Prop, Pack: e.Parts.Pack, Frame: e.Parts.Frame, Board: e.Parts.Board, Extras: extras}
		}
		for k := range e.Readings {
			c := &e.Readings[k]
			one := learnReadingJSON{Key: string(c.Key), Measured: catalogue.Round(c.Measured), SD: catalogue.Round(c.SD),
				Before: predictedOf(&c.Before, uncertain.Estimated), After: predictedOf(&c.After, basisAfter(c)), Fits: c.Fits}
			if e.Number > 0 {
				f := predictedOf(&c.Without, uncertain.Estimated)
				one.LeftOut = &f
			}
			j.Readings = append(j.Readings, one)
		}
		list = append(list, j)
	}
	return list
}

// basisAfter is measured where the readings narrowed the prediction by a third.
func basisAfter(c *learn.Compared) uncertain.Basis {
	if c.Before.Known && c.After.High-c.After.Low < 0.7*(c.Before.High-c.Before.Low) {
		return uncertain.Measured
	}
	return uncertain.Estimated
}

func predictedOf(x *learn.Interval, basis uncertain.Basis) answer.Figure {
	if !x.Known {
		return answer.Unknown(basis.String(), "the craft is not predicted to do what was read")
	}
	return answer.Known(x.Value, x.Low, x.High, basis.String())
}

func learnPartOf(p *learn.Part, text string) learnPartJSON {
	j := learnPartJSON{Kind: string(p.Kind), ID: p.ID, Changes: []learnChangeJSON{}, Text: text}
	for i := range p.Changes {
		c := &p.Changes[i]
		j.Changes = append(j.Changes, learnChangeJSON{learn.InputKey(p.Kind, c.Input), learn.InputWords(p.Kind, c.Input), catalogue.Round(c.Factor()),
			catalogue.Round(math.Exp(c.LnFactor - tenthSD*c.LnSDAfter)), catalogue.Round(math.Exp(c.LnFactor + tenthSD*c.LnSDAfter)),
			catalogue.Round(100 * c.LnSDBefore), catalogue.Round(100 * c.LnSDAfter), c.Readings})
	}
	return j
}

func learnWhichOf(w *learn.Which) learnWhichJSON {
	return learnWhichJSON{string(w.Kind), w.ID, learn.InputKey(w.Kind, w.Input)}
}

// learnTables show every reading beside its predictions: the log, then the benches. A star marks a
// reading that does not fit.
func learnTables(r *learn.Report) []render.Block {
	log := &render.Table{Columns: []render.Column{render.Left("entry"), render.Left("reading"), render.Right("read"), render.Right("before"), render.Right("after"), render.Right("left out")}}
	bench := &render.Table{Columns: []render.Column{render.Left("bench"), render.Left("reading"), render.Right("read"), render.Right("before"), render.Right("after")}}
	put := func(t *render.Table, e *learn.Entry, first, second string) {
		labels := []string{first, second}
		if len(e.Readings) == 1 {
			labels = []string{strings.TrimSpace(first + " " + second)}
		}
		for k := range e.Readings {
			c := &e.Readings[k]
			label := ""
			if k < len(labels) {
				label = labels[k]
			}
			measured := catalogue.Number(c.Measured, c.Measured-c.SD, c.Measured+c.SD)
			if !c.Fits {
				measured += "*"
			}
			t.Add(label, withUnit(readingName(c.Key), unitIn(c.Key)), measured, spanText(&c.Before), spanText(&c.After), valueText(&c.Without))
		}
	}
	for i := range r.Entries {
		put(log, &r.Entries[i], fmt.Sprint(r.Entries[i].Number), r.Entries[i].Date)
	}
	for i := range r.Bench {
		motor, rest, _ := strings.Cut(strings.TrimPrefix(r.Bench[i].What, "bench "), " ")
		put(bench, &r.Bench[i], motor, rest)
	}
	return []render.Block{log, bench}
}

func unitIn(k learn.Key) string { return readingUnits[k] }

func spanText(x *learn.Interval) string {
	if !x.Known {
		return "–"
	}
	return fmt.Sprintf("%s (%s)", catalogue.Number(x.Value, x.Low, x.High), catalogue.Interval(x.Value, x.Low, x.High))
}

func valueText(x *learn.Interval) string {
	if !x.Known {
		return "–"
	}
	return catalogue.Number(x.Value, x.Low, x.High)
}

// learnRows are the readings as CSV.
func learnRows(r *learn.Report) *render.Table {
	t := &render.Table{}
	for _, key := range [...]string{"entry", "line", "date", "what", "key", "measured", "sd", "before", "before_low", "before_high", "after", "after_low", "after_high", "left_out", "left_out_low", "left_out_high", "fits"} {
		t.Columns = append(t.Columns, render.Left(key))
	}
	number := func(x float64) string { return strconv.FormatFloat(catalogue.Round(x), 'f', -1, 64) }
	three := func(x *learn.Interval) []string {
		if !x.Known {
			return []string{"", "", ""}
		}
		return []string{number(x.Value), number(x.Low), number(x.High)}
	}
	for _, entries := range [...][]learn.Entry{r.Entries, r.Bench} {
		for i := range entries {
			e := &entries[i]
			for k := range e.Readings {
				c := &e.Readings[k]
				entry := ""
				if e.Number > 0 {
					entry = strconv.Itoa(e.Number)
				}
				row := []string{entry, strconv.Itoa(e.Line), e.Date, e.What, string(c.Key), number(c.Measured), number(c.SD)}
				row = append(row, three(&c.Before)...)
				row = append(row, three(&c.After)...)
				row = append(row, three(&c.Without)...)
				t.Rows = append(t.Rows, append(row, strconv.FormatBool(c.Fits)))
			}
		}
	}
	return t
}

// asksForStand reports whether what would tell best is read on a thrust stand.
func asksForStand(r *learn.Report) bool {
	return slices.ContainsFunc(r.Doubts, func(d learn.Doubt) bool { return d.Tells.Bench == learn.PropBench || d.Tells.Bench == learn.MotorBench })
}
