package readings

import (
	"context"
	"io"
	"math"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/series"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// Recording asks what a recording of a flight says.
type Recording struct {
	Name string // of its file, for messages
	File io.Reader
	// Columns name columns as --column does: volts=Vbat.
	Columns []string
	RateHz  float64 // rows a second, for files without time; 0 otherwise
	Poles   int     // magnets of a motor's bell; 0 leaves it to the craft's motor
	Cells   int     // of the pack; 0 leaves it to the craft's pack, or to the voltage

	// Drawer holds the craft that flew and teaches what its readings say; nil if there is none. Craft and Pick name it as
	// those of Record do; both "" leave the craft out, but if Named, where there is only one.
	Drawer      *inventory.Drawer
	Craft, Pick string
	Named       bool
	Style       *objective.Style
	Ways        learn.Ways
	// Date, Flown and WeightG are what the file does not say, for the entry of the log; empty or 0 if not known.
	Date, Flown string
	WeightG     float64
}

// Flown is the document of a recording.
type Flown struct {
	answer.Head
	File  string        `json:"file"`
	Craft string        `json:"craft,omitempty"`
	Parts *answer.Parts `json:"parts,omitempty"`

	Rows_   int            `json:"rows"`
	RateHz  float64        `json:"rate_hz"`
	Columns []FlownColumn  `json:"columns"`
	Unused  []string       `json:"unused_columns"`
	Flight  FlownSpan      `json:"flight"`
	Figures []FlownFigure  `json:"figures"`
	Hover   FlownHover     `json:"hover"`
	Punches []FlownStretch `json:"punches"`
	Notes   []string       `json:"notes"`
	// Entry is the entry of the log, a line each; Missing says what it lacks.
	Entry   []string `json:"entry"`
	Missing []string `json:"missing"`
	// Recorded is the number that the entry has in the log, 0 if it was not recorded.
	Recorded int `json:"recorded"`
	// Learned is what the entry teaches with the drawer's log, nil if no craft was named or nothing is learned.
	Learned *FlownLearned `json:"learned,omitempty"`

	reads bool // the entry has a reading

	Words  FlownWords     `json:"-"`
	Found  *series.Flight `json:"-"`
	Traces *series.Traces `json:"-"`
}

// FlownWords are the sentences of a recording.
type FlownWords struct {
	Title  string
	Hover  []string // what was taken for hover, and what not
	Absent []string // figures that are not there, with why
	Pack   []string
}

// FlownColumn is a column of the file that is used.
type FlownColumn struct {
	Quantity string  `json:"quantity"`
	Heading  string  `json:"heading"`
	Number   int     `json:"number"`
	Unit     string  `json:"unit"`
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
	How      string  `json:"how"`
}

// FlownSpan is where the flight lies in its recording, in s from the first row, and in lines of the file.
type FlownSpan struct {
	StartS    float64 `json:"start_s"`
	EndS      float64 `json:"end_s"`
	AirborneS float64 `json:"airborne_s"`
	Hops      int     `json:"hops"`
	FirstLine int     `json:"first_line"`
	LastLine  int     `json:"last_line"`
	// BegunInAir and EndedInAir say that the recording lacks the take-off or the landing.
	BegunInAir bool `json:"begun_in_air"`
	EndedInAir bool `json:"ended_in_air"`
}

// FlownFigure is a figure read from the file.
type FlownFigure struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Unit string `json:"unit,omitempty"`
	answer.Figure
}

// FlownHover are the stretches in which the craft was steady.
type FlownHover struct {
	Seconds float64 `json:"seconds"`
	// Sure says that speed or tilt was there to tell hover from slow cruising.
	Sure      bool           `json:"sure"`
	Stretches []FlownStretch `json:"stretches"`
}

// FlownStretch is one stretch, in s from the first row of the recording.
type FlownStretch struct {
	FromS       float64  `json:"from_s"`
	ToS         float64  `json:"to_s"`
	Verdict     string   `json:"verdict,omitempty"`
	ThrottlePct *float64 `json:"throttle_pct"`
	RPM         *float64 `json:"rpm"`
	CurrentA    *float64 `json:"current_a"`
	PackV       *float64 `json:"pack_v"`
}

// FlownLearned is what the entry teaches of its craft's parts and of its way of flying.
type FlownLearned struct {
	Readings []answer.LearnedReading `json:"readings"`
	Misfits  []string                `json:"misfits"`
	Parts    []string                `json:"parts"`
}

// Answer reads the recording. The error is an inventory.Faults of the file, a *strict.Problem or an answer.AskError of
// what was asked, or the reader's.
func (r *Recording) Answer(ctx context.Context, head answer.Head) (*Flown, error) {
	columns, err := series.NamedColumns(r.Columns)
	if err != nil {
		return nil, answer.Refused(err)
	}
	o := series.Options{Columns: columns, RateHz: r.RateHz, Poles: r.Poles, Pack: series.Pack{Cells: r.Cells}}
	x := &Flown{Head: head, File: r.Name, Notes: []string{}, Missing: []string{}}
	c, err := r.craft(x)
	if err != nil {
		return nil, err
	}
	if c != nil {
		pack := c.Pack.SI(warmK)
		o.Pack = series.Pack{Cells: pack.Cells, Chemistry: pack.Chemistry, CapacityAs: pack.CapacityAs}
		if o.Poles == 0 && c.Motor.Poles != nil {
			o.Poles = *c.Motor.Poles
		}
	}
	record, err := series.Read(r.Name, r.File, o)
	if err != nil {
		return nil, err
	}
	f, err := record.Flight()
	if err != nil {
		return nil, named(err, r.Name)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	x.Found, x.Traces = f, &f.Traces
	x.tell(f)
	x.enter(r, c, f)
	if c != nil {
		if err := x.learn(ctx, r); err != nil {
			return nil, err
		}
	}
	if r.Drawer != nil {
		x.Drawer = r.Drawer.Name
		x.Care = answer.CareOf(&answer.Scene{Drawer: r.Drawer})
	}
	return x, nil
}

// warmK is the temperature at which a pack's figures are those of its label.
const warmK = 293.15

// named gives faults the file that they are in.
func named(err error, file string) error {
	list, ok := err.(strict.Faults)
	if !ok {
		return err
	}
	for i := range list {
		list[i].File = file
	}
	return list
}

// craft is the craft that flew, nil if none was named.
func (r *Recording) craft(x *Flown) (*inventory.Combination, error) {
	if r.Drawer == nil || r.Craft == "" && r.Pick == "" && !r.Named {
		return nil, nil
	}
	parts, name, err := (&Record{Craft: r.Craft, Pick: r.Pick}).craft(r.Drawer)
	if err != nil {
		return nil, err
	}
	c, err := compat.Build(r.Drawer, &parts)
	if err != nil {
		return nil, err
	}
	p := c.Parts()
	x.Craft = name
	x.Parts = &answer.Parts{Motor: p.Motor, Prop: p.Prop, Pack: p.Pack, Frame: p.Frame, Board: p.Board,
		Extras: append([]string{}, p.Extras...)}
	return &c, nil
}

// tell fills in what was found.
func (x *Flown) tell(f *series.Flight) {
	r := f.Record
	x.Rows_, x.RateHz = r.Rows, catalogue.Round(1/r.StepS)
	x.Columns, x.Unused = []FlownColumn{}, append([]string{}, r.Unused...)
	for i := range r.Columns {
		c := &r.Columns[i]
		if c.Number == 0 {
			continue
		}
		x.Columns = append(x.Columns, FlownColumn{string(c.Quantity), c.Heading, c.Number, c.Unit, catalogue.Round(c.Low),
			catalogue.Round(c.High), string(c.How)})
	}
	x.Flight = FlownSpan{tenths(f.StartS), tenths(f.EndS), tenths(f.AirborneS), f.Hops, f.FirstLine, f.LastLine, f.Begun,
		f.Cut}
	x.Hover = FlownHover{Seconds: tenths(f.Hover.SecondsS), Sure: f.Hover.Sure, Stretches: stretches(f.Steady)}
	x.Punches = stretches(f.Punches)
	x.Figures = figures(f)
	x.Words = FlownWords{Title: catalogue.FlownTitle(r.Rows, 1/r.StepS, f), Hover: catalogue.FlownHover(f),
		Absent: catalogue.FlownAbsent(f), Pack: catalogue.FlownPack(f)}
	for _, n := range r.Notes {
		x.Notes = append(x.Notes, catalogue.Sentence(faults.Problem(&strict.Problem{Code: n.Code, Values: n.Values})))
	}
	if n := r.Bad; n > 0 {
		x.Notes = append(x.Notes, catalogue.FlownBad(n, r.FirstBad))
	}
}

func tenths(x float64) float64 { return math.Round(10*x) / 10 }

func stretches(list []series.Stretch) []FlownStretch {
	out := []FlownStretch{}
	for i := range list {
		s := &list[i]
		out = append(out, FlownStretch{tenths(s.FromS), tenths(s.ToS), string(s.Verdict), finite(s.ThrottlePct), finite(s.RPM),
			finite(s.CurrentA), finite(s.PackV)})
	}
	return out
}

func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = catalogue.Round(x)
	return &x
}

// figures are what was read, in the order of the catalogue's table.
func figures(f *series.Flight) []FlownFigure {
	out := []FlownFigure{}
	for _, one := range catalogue.FlownFigures(f) {
		g := FlownFigure{Key: one.Key, Name: one.Name, Unit: one.Unit}
		if one.Figure == nil {
			g.Figure = answer.Unknown("measured", catalogue.FlownWhy(one.Why))
		} else {
			g.Figure = answer.Known(one.Figure.Value, one.Figure.Low(), one.Figure.High(), "measured")
		}
		out = append(out, g)
	}
	return out
}

// Rows is the figures as a table of plain values.
func (x *Flown) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"key", "value", "low", "high", "unit", "reason"}}
	for i := range x.Figures {
		g := &x.Figures[i]
		cell := func(v *float64) string {
			if v == nil {
				return ""
			}
			return catalogue.Raw(*v)
		}
		rows.Add(g.Key, cell(g.Value), cell(g.Low), cell(g.High), g.Unit, g.Reason)
	}
	return rows
}
