package answer

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/objective"
	"partsaloft/physics/uncertain"
)

// Learned is the document of learn.
type Learned struct {
	Head
	// LearnedFile is the base name of the file written, empty if none was.
	LearnedFile string          `json:"learned_file"`
	Entries     []LearnedEntry  `json:"entries"`
	Bench       []LearnedEntry  `json:"bench"`
	Parts       []LearnedPart   `json:"parts"`
	Doubts      []Inseparable   `json:"doubts"`
	LeftOut     CrossCheck      `json:"left_out"`
	Misfits     []LearnedMisfit `json:"misfits"`
	Gain        *Gain           `json:"gain,omitempty"`

	Report *learn.Report `json:"-"`
	Words  LearnWords    `json:"-"`
}

// LearnWords are the sentences of what was learned.
type LearnWords struct {
	Log     string
	Misfits []string // readings that do not fit
	Parts   []string // what the readings tell of the parts
	Doubts  []string // what they do not tell apart
	Holds   string   // how entries fare that are left out
}

// LearnedEntry is an entry of the log or a row of a bench.
type LearnedEntry struct {
	Entry    int              `json:"entry,omitempty"`
	Line     int              `json:"line"`
	Date     string           `json:"date,omitempty"`
	What     string           `json:"what,omitempty"`
	Parts    *Parts           `json:"parts,omitempty"`
	Readings []LearnedReading `json:"readings"`
}

// LearnedReading is a reading beside what is predicted for it before and after learning, and by all other entries.
type LearnedReading struct {
	Key      string  `json:"key"`
	Measured float64 `json:"measured"`
	SD       float64 `json:"sd"`
	Before   Figure  `json:"before"`
	After    Figure  `json:"after"`
	LeftOut  *Figure `json:"left_out,omitempty"`
	Fits     bool    `json:"fits"`
}

// LearnedPart is what was learned of a part.
type LearnedPart struct {
	Kind    string          `json:"kind"`
	ID      string          `json:"id"`
	Changes []LearnedChange `json:"changes"`
	Text    string          `json:"text,omitempty"`
}

// LearnedChange is what was learned of one of its inputs.
type LearnedChange struct {
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

// Inseparable are two inputs that the readings do not tell apart.
type Inseparable struct {
	A           LearnedInput `json:"a"`
	B           LearnedInput `json:"b"`
	Correlation float64      `json:"correlation"`
	Text        string       `json:"text"`
}

// LearnedInput names an input of a part.
type LearnedInput struct {
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	Input string `json:"input"`
}

// CrossCheck is how entries fare that are left out in turn.
type CrossCheck struct {
	Readings int     `json:"readings"`
	Before   float64 `json:"before"`
	After    float64 `json:"after"`
	// Widened is the factor on the readings' stated doubt, 1 as a rule, 0 if nothing was learned.
	Widened float64 `json:"widened"`
	Text    string  `json:"text"`
}

// LearnedMisfit is a reading that does not fit the rest.
type LearnedMisfit struct {
	Entry int    `json:"entry,omitempty"`
	Line  int    `json:"line"`
	Key   string `json:"key"`
	Text  string `json:"text"`
}

// Learn is the document of what a drawer's log and benches taught; file is the base name of the file written, "" if
// none was.
func Learn(head Head, d *inventory.Drawer, style *objective.Style, r *learn.Report, file string) *Learned {
	x := &Learned{
		Head: head, LearnedFile: file, Entries: learnEntries(r.Entries), Bench: learnEntries(r.Bench), Parts: []LearnedPart{},
		Doubts: []Inseparable{},
		LeftOut: CrossCheck{r.CrossCheck.Readings, hundredths(r.CrossCheck.Before), hundredths(r.CrossCheck.After),
			r.Inflation, catalogue.CrossCheck(r)},
		Misfits: []LearnedMisfit{}, Report: r,
	}
	x.Drawer, x.Care = d.Name, CareOf(&Scene{Drawer: d, Styles: []objective.Style{*style},
		Stand: catalogue.AsksForStand(r)})
	x.Words = LearnWords{Log: catalogue.LearnLog(d.Name, r), Holds: x.LeftOut.Text}
	x.addMisfits(r)
	x.addParts(d, r)
	for i := range r.Inseparable {
		y := &r.Inseparable[i]
		text := catalogue.Inseparable(y)
		x.Words.Doubts = append(x.Words.Doubts, text)
		x.Doubts = append(x.Doubts, Inseparable{learnWhichOf(&y.A), learnWhichOf(&y.B), hundredths(y.Correlation), text})
	}
	return x
}

func (x *Learned) addMisfits(r *learn.Report) {
	add := func(one LearnedMisfit) {
		x.Misfits, x.Words.Misfits = append(x.Misfits, one), append(x.Words.Misfits, one.Text)
	}
	for _, entries := range [...][]learn.Entry{r.Entries, r.Bench} {
		for i := range entries {
			for k := range entries[i].Readings {
				if c := &entries[i].Readings[k]; !c.Fits {
					add(LearnedMisfit{entries[i].Number, entries[i].Line, string(c.Key), catalogue.Misfit(&entries[i], c)})
				}
			}
		}
	}
	for i := range r.Conflicts {
		conflict := &r.Conflicts[i]
		add(LearnedMisfit{conflict.B, r.Entries[conflict.B-1].Line, string(conflict.Key), catalogue.Conflict(conflict)})
	}
}

func (x *Learned) addParts(d *inventory.Drawer, r *learn.Report) {
	var surer []string
	for i := range r.Learned.Parts {
		p := &r.Learned.Parts[i]
		text, narrowed := catalogue.LearnedPart(d, r, p), catalogue.SurerPart(p)
		if text != "" {
			x.Words.Parts = append(x.Words.Parts, text)
		}
		if narrowed != "" {
			surer = append(surer, narrowed)
		}
		x.Parts = append(x.Parts, learnPartOf(p, cmp.Or(text, catalogue.UnshiftedPart(p))))
	}
	if surer != nil {
		x.Words.Parts = append(x.Words.Parts, catalogue.SurerParts(surer))
	}
}

func learnEntries(entries []learn.Entry) []LearnedEntry {
	list := []LearnedEntry{}
	for i := range entries {
		e := &entries[i]
		j := LearnedEntry{Entry: e.Number, Line: e.Line, Date: e.Date, What: e.What, Readings: []LearnedReading{}}
		if e.Number > 0 {
			extras := e.Parts.Extras
			if extras == nil {
				extras = []string{}
			}
			j.Parts = &Parts{Motor: e.Parts.Motor, Prop: e.Parts.Prop, Pack: e.Parts.Pack, Frame: e.Parts.Frame,
				Board: e.Parts.Board, Extras: extras}
		}
		for k := range e.Readings {
			c := &e.Readings[k]
			one := LearnedReading{Key: string(c.Key), Measured: catalogue.Round(c.Measured), SD: catalogue.Round(c.SD),
				Before: predictedOf(&c.Before, uncertain.Estimated), After: predictedOf(&c.After, basisAfter(c)), Fits: c.Fits}
			if e.Number > 0 {
				f := predictedOf(&c.LeftOut, uncertain.Estimated)
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

func predictedOf(x *learn.Interval, basis uncertain.Basis) Figure {
	if !x.Known {
		return Unknown(basis.String(), "the craft is not predicted to do what was read")
	}
	return Known(x.Value, x.Low, x.High, basis.String())
}

func learnPartOf(p *learn.Part, text string) LearnedPart {
	j := LearnedPart{Kind: string(p.Kind), ID: p.ID, Changes: []LearnedChange{}, Text: text}
	for i := range p.Changes {
		c := &p.Changes[i]
		low, high := c.LnInterval()
		j.Changes = append(j.Changes, LearnedChange{
			Input: learn.InputKey(p.Kind, c.Input), What: catalogue.LearnedInput(c.Input), Factor: catalogue.Round(c.Factor()),
			Low: catalogue.Round(math.Exp(low)), High: catalogue.Round(math.Exp(high)),
			DoubtBeforePct: catalogue.Round(100 * c.LnSDBefore), DoubtAfterPct: catalogue.Round(100 * c.LnSDAfter),
			Readings: c.Readings,
		})
	}
	return j
}

func learnWhichOf(w *learn.PartInput) LearnedInput {
	return LearnedInput{string(w.Kind), w.ID, learn.InputKey(w.Kind, w.Input)}
}

// Rows is the readings as a table of plain values.
func (x *Learned) Rows() *Rows {
	rows := &Rows{Keys: []string{"entry", "line", "date", "what", "key", "measured", "sd", "before", "before_low",
		"before_high", "after", "after_low", "after_high",
		"left_out", "left_out_low", "left_out_high", "fits"}}
	cells := func(x *learn.Interval) []string { return intervalCells(x.Known, x.Value, x.Low, x.High) }
	for _, entries := range [...][]learn.Entry{x.Report.Entries, x.Report.Bench} {
		for i := range entries {
			e := &entries[i]
			for k := range e.Readings {
				c := &e.Readings[k]
				entry := ""
				if e.Number > 0 {
					entry = strconv.Itoa(e.Number)
				}
				row := []string{entry, strconv.Itoa(e.Line), e.Date, e.What, string(c.Key),
					catalogue.Raw(catalogue.Round(c.Measured)), catalogue.Raw(catalogue.Round(c.SD))}
				rows.Add(append(slices.Concat(row, cells(&c.Before), cells(&c.After), cells(&c.LeftOut)),
					strconv.FormatBool(c.Fits))...)
			}
		}
	}
	return rows
}
