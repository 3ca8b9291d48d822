package readings

import (
	"bytes"
	"context"
	"math"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/inventory/edit"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/sound"
	"partsaloft/inventory/strict"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/uncertain"
)

// Listen asks what a recording of a hovering craft says of its rotor speed, and what that brings.
type Listen struct {
	Recording *sound.Recording
	Name      string // of the drawer's file, for messages
	Text      []byte // of the drawer
	// Craft and Pick name the craft as those of Record do.
	Craft, Pick string
	Weight      string // ready to fly, as typed; "" takes the one of the log
	Date        string
	Ways        learn.Ways
}

// hoverLnSD is what a hover adds to the doubt of a rotor speed as a measure of thrust: the weight is carried only on
// average, and air moves. Clean recordings of a real 66 mm craft scattered by 0.6 %, where synthetic ones scatter by
// 0.35; the difference is this.
const hoverLnSD = 0.005

// Listened is the document of what was heard.
type Listened struct {
	answer.Head
	Craft string       `json:"craft,omitempty"`
	Parts answer.Parts `json:"parts"`
	Heard bool         `json:"heard"`
	// Reason is why it was not heard, a code.
	Reason string `json:"reason,omitempty"`
	// RPM is the root mean square speed of the rotors, SDPct its standard deviation; both null if it was not heard.
	RPM   *float64 `json:"rpm"`
	SDPct *float64 `json:"sd_pct"`
	// Groups are the speeds of one or two groups of rotors, in rpm.
	Groups       []float64 `json:"groups_rpm"`
	FromS        float64   `json:"from_s"`
	ToS          float64   `json:"to_s"`
	Seconds      float64   `json:"seconds"`
	Harmonics    []int     `json:"harmonics"`
	PredictedRPM float64   `json:"predicted_rpm"`
	// PredictedSDPct is the standard deviation of the prediction.
	PredictedSDPct float64     `json:"predicted_sd_pct"`
	OffPct         *float64    `json:"off_pct"`
	Blades         int         `json:"blades"`
	WeightG        *float64    `json:"weight_g"`
	PropDoubt      *PropDoubt  `json:"prop_doubt,omitempty"`
	Changes        []BuildNews `json:"changes"`
	// Entry is the number of the new entry in the log, 0 if nothing was recorded.
	Entry int      `json:"entry"`
	Lines []string `json:"lines"`

	Words   ListenWords    `json:"-"`
	Reading *sound.Reading `json:"-"`
}

// ListenWords are the sentences of what was heard.
type ListenWords struct {
	Heard   string   `json:"heard"`
	How     []string `json:"how"`
	Brings  string   `json:"brings"`
	Figures string   `json:"figures"`
	Cannot  string   `json:"cannot"`
}

// PropDoubt is the standard deviation of a prop's thrust at an rpm, in per cent, before and after the reading.
type PropDoubt struct {
	Prop   string  `json:"prop"`
	Before float64 `json:"before_pct"`
	After  float64 `json:"after_pct"`
}

// Answer listens: the document, and the text of the drawer with the reading in its log, nil if nothing was heard.
func (l *Listen) Answer(ctx context.Context, ask *answer.Ask) (*Listened, []byte, error) {
	d, err := inventory.Read(l.Name, bytes.NewReader(l.Text))
	if err != nil {
		return nil, nil, err
	}
	parts, name, err := (&Record{Craft: l.Craft, Pick: l.Pick}).craft(d)
	if err != nil {
		return nil, nil, err
	}
	c, err := compat.Build(d, &parts)
	if err != nil {
		return nil, nil, err
	}
	x := l.begin(ask, &c, name)
	before, _, err := l.learned(ctx, d, ask, c.Prop.ID)
	if err != nil {
		return nil, nil, err
	}
	prior, err := l.prior(ctx, ask, d, &parts, before > 0)
	if err != nil {
		return nil, nil, err
	}
	massKg := l.weigh(x, d, &parts)
	if massKg > 0 {
		prior.SpeedRadS *= math.Sqrt(massKg / prior.massKg)
	}
	x.PredictedRPM, x.PredictedSDPct = catalogue.Round(prior.SpeedRadS*30/math.Pi), catalogue.Round(100*prior.LnSD)
	x.Words.How = append(x.Words.How, catalogue.HeardPredicted(x.PredictedRPM, prior.LnSD, before > 0))
	reading, err := sound.Hear(l.Recording, prior.Prior)
	if err != nil {
		return nil, nil, err
	}
	x.Reading, x.Heard = reading, reading.Why == sound.Heard
	if l.Recording.CutToS > 0 {
		x.Words.How = append(x.Words.How, catalogue.HeardCut(l.Recording.CutToS))
	}
	if !x.Heard {
		x.Reason, x.Words.Heard = catalogue.NotHeardCode(reading.Why), catalogue.NotHeard(reading, c.Prop.Blades)
		x.Advice = []string{x.Words.Heard}
		return x, nil, nil
	}
	x.read(reading)
	text, err := l.recorded(x, &parts)
	if err != nil {
		return nil, nil, err
	}
	return x, text, l.brings(ctx, ask, x, d, text, &c, before)
}

func (l *Listen) begin(ask *answer.Ask, c *inventory.Combination, name string) *Listened {
	x := &Listened{Head: ask.Head, Craft: name, Groups: []float64{}, Harmonics: []int{}, Changes: []BuildNews{},
		Lines: []string{}, Seconds: catalogue.Round(l.Recording.Seconds()), Blades: c.Prop.Blades}
	x.Drawer, x.Style = l.Name, ask.Problem.Style.Name
	x.Care = answer.CareOf(&answer.Scene{Drawer: ask.Problem.Drawer})
	x.Care.Cautions = append(x.Care.Cautions, catalogue.HeardCare())
	all := c.Parts()
	x.Parts = answer.Parts{Motor: all.Motor, Prop: all.Prop, Pack: all.Pack, Frame: all.Frame, Board: all.Board,
		Extras: append([]string{}, all.Extras...)}
	x.Words.Cannot = catalogue.HeardCannot()
	return x
}

// leastPriorLnSD is the least doubt of a predicted hover speed with which is listened. Three of it are looked at to each
// side, in which the two halves of a craft whose rotors run 16 % apart must lie with room for the profile of their
// lines; and what differs from hover to hover, such as another camera, other air or a nicked prop, is in no log.
const leastPriorLnSD = 0.06

// expected is the speed at which a craft is predicted to hover, with its mass in kg.
type expected struct {
	sound.Prior
	massKg float64
}

// prior is what is expected of a craft: by the figures of its parts with what such figures are off by, or, where the
// drawer's log has taught something of its prop, as that leaves it.
func (l *Listen) prior(ctx context.Context, ask *answer.Ask, d *inventory.Drawer, parts *inventory.Parts, taught bool) (
	expected, error) {
	if !taught {
		d = ask.Problem.Drawer
	}
	list, err := l.assess(ctx, ask, d, []inventory.Parts{*parts})
	if err != nil {
		return expected{}, err
	}
	speed := list[0].Figures[figure.HoverSpeed]
	if speed.Why != physics.Defined {
		return expected{}, &strict.Problem{Code: "listen.no_hover"}
	}
	c := &list[0].Combination
	prop, err := c.Prop.Propeller(ask.Problem.Air)
	if err != nil {
		return expected{}, err
	}
	craft, err := c.Craft(prop)
	if err != nil {
		return expected{}, err
	}
	p := sound.Prior{SpeedRadS: speed.Value, LnSD: sound.UsualLnSD, Blades: c.Prop.Blades}
	if taught && speed.Low > 0 {
		p.LnSD = math.Log(speed.High/speed.Low) / (2 * uncertain.HalfWidth())
		p.LnSD = math.Max(leastPriorLnSD, math.Min(p.LnSD, sound.UsualLnSD))
	}
	return expected{p, craft.MassKg()}, nil
}

// weigh notes the weight that the craft is known to have, in kg: the one given, else the last of the log; 0 if none.
func (l *Listen) weigh(x *Listened, d *inventory.Drawer, parts *inventory.Parts) float64 {
	massG := 0.0
	if l.Weight != "" {
		if read, err := l.weighed(d, parts); err == nil {
			massG = read
		}
	} else {
		for i := range d.Log {
			if e := &d.Log[i]; e.AllUpG != nil && sameCraft(&e.Parts, parts) {
				massG = *e.AllUpG
			}
		}
	}
	if massG == 0 {
		if l.Weight == "" {
			x.Words.How = append(x.Words.How, catalogue.HeardWeigh())
		}
		return 0
	}
	x.WeightG = &massG
	x.Words.How = append(x.Words.How, catalogue.HeardWeighed(massG, l.Weight != ""))
	return massG * 1e-3
}

// weighed reads the weight that was typed as an entry of the log does, in g.
func (l *Listen) weighed(d *inventory.Drawer, parts *inventory.Parts) (float64, error) {
	text, _, err := edit.AppendEntry(l.Name, l.Text, []string{"- " + edit.PartsLine(parts),
		"  all_up_g: " + strict.Scalar(l.Weight)})
	if err != nil {
		return 0, err
	}
	after, err := inventory.Read(l.Name, bytes.NewReader(text))
	if err != nil {
		return 0, err
	}
	return *after.Log[len(d.Log)].AllUpG, nil
}

// read puts the reading into the document.
func (x *Listened) read(r *sound.Reading) {
	lnSD := math.Hypot(r.LnSD, hoverLnSD)
	rpm, sd, off := catalogue.Round(r.SpeedRadS*30/math.Pi), catalogue.Round(100*lnSD),
		catalogue.Round(100*(math.Exp(r.OffLn)-1))
	x.RPM, x.SDPct, x.OffPct = &rpm, &sd, &off
	for _, g := range r.Groups {
		x.Groups = append(x.Groups, catalogue.Round(g*30/math.Pi))
	}
	x.FromS, x.ToS = catalogue.Round(r.FromS), catalogue.Round(r.ToS)
	x.Harmonics = append(x.Harmonics, r.Harmonics...)
	x.Words.Heard = catalogue.Heard(r, lnSD)
	x.Words.How = append(x.Words.How, catalogue.HowHeard(r, x.Blades)...)
	x.Advice = []string{x.Words.Heard}
}

// recorded is the text of the drawer with the reading in its log.
func (l *Listen) recorded(x *Listened, parts *inventory.Parts) ([]byte, error) {
	x.Lines = []string{"- " + edit.PartsLine(parts)}
	if l.Date != "" {
		x.Lines = []string{"- date: " + strict.Scalar(l.Date), "  " + edit.PartsLine(parts)}
	}
	rpm := math.Round(*x.RPM)
	if l.Weight != "" {
		x.Lines = append(x.Lines, "  all_up_g: "+strict.Scalar(l.Weight))
	} else if x.WeightG != nil {
		x.Lines = append(x.Lines, "  all_up_g: "+catalogue.Raw(*x.WeightG))
	}
	x.Lines = append(x.Lines, "  hover_rpm: "+catalogue.Raw(rpm), "  hover_rpm_from: "+string(inventory.Heard),
		"  within: {hover_rpm: "+catalogue.Raw(math.Ceil(rpm**x.SDPct/100))+"}")
	text, _, err := edit.AppendEntry(l.Name, l.Text, x.Lines)
	return text, err
}

// Rows is what was heard as a table of plain values.
func (x *Listened) Rows() *answer.Rows {
	rows := &answer.Rows{Keys: []string{"heard", "reason", "rpm", "sd_pct", "from_s", "to_s", "predicted_rpm", "blades"}}
	number := func(v *float64) string {
		if v == nil {
			return ""
		}
		return catalogue.Raw(*v)
	}
	heard := "false"
	if x.Heard {
		heard = "true"
	}
	rows.Add(heard, x.Reason, number(x.RPM), number(x.SDPct), catalogue.Raw(x.FromS), catalogue.Raw(x.ToS),
		catalogue.Raw(x.PredictedRPM), catalogue.Raw(float64(x.Blades)))
	return rows
}
