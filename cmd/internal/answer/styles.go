package answer

import (
	"fmt"
	"strconv"
	"strings"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/objective"
)

// Styles is the document of styles.
type Styles struct {
	Head
	Styles []Style `json:"styles"`
	Feeds  []Feed  `json:"feeds"`
}

// Style is what a style weighs, which limits it keeps and how it is flown.
type Style struct {
	Name          string   `json:"name"`
	About         string   `json:"about,omitempty"`
	Weights       Fields   `json:"weights"`
	Limits        Fields   `json:"limits"`
	DuctedLimits  Fields   `json:"ducted_limits,omitempty"` // in place of limits of the same figure, with ducts
	RequiredRoles []string `json:"required_roles"`
	Flying        Flying   `json:"flying"`
}

// Flying is how a style is flown.
type Flying struct {
	SpeedMps     float64   `json:"speed_mps"`
	LandingCellV *float64  `json:"landing_cell_v"` // null: as usual for the craft
	ReservePct   *float64  `json:"reserve_pct"`    // likewise
	Segments     []Segment `json:"segments"`
}

// Segment is a share of the flying time.
type Segment struct {
	Kind       string  `json:"kind"`
	SharePct   float64 `json:"share_pct"`
	SpeedMps   float64 `json:"speed_mps"`
	LoadFactor float64 `json:"load_factor"`
	SpeedPct   float64 `json:"speed_pct"` // of what motors, props and cells reach, on top of speed_mps
	LoadPct    float64 `json:"load_pct"`  // of the thrust that they have to spare, on top of load_factor
}

// Feed is a figure behind an axis, with the ends of its range.
type Feed struct {
	Axis    string  `json:"axis"`
	Figure  string  `json:"figure"`
	Unit    string  `json:"unit"`
	Worst   float64 `json:"worst"`
	Best    float64 `json:"best"`
	Scale   string  `json:"scale"`
	Meaning string  `json:"meaning"`
}

// ShowStyles is the document of styles, and of which figure feeds which axis.
func ShowStyles(head Head, styles []objective.Style) *Styles {
	d := &Styles{Head: head}
	d.Care = CareOf(&Scene{Styles: styles})
	for i := range styles {
		d.Styles = append(d.Styles, styleDocument(&styles[i]))
	}
	for _, f := range objective.Criteria() {
		scale := "linear"
		if f.Scale.Log {
			scale = "log"
		}
		shown := f.Figure()
		d.Feeds = append(d.Feeds, Feed{f.Axis.Key(), shown.Key, shown.Unit, f.Scale.Worst, f.Scale.Best, scale,
			shown.Meaning})
	}
	return d
}

// Sentence says how a style is flown and what it carries.
func (s *Style) Sentence() string {
	which, carries := catalogue.Answer("style.plain"), ""
	if s.About != "" {
		which = "style.about"
	}
	if len(s.RequiredRoles) > 0 {
		carries = catalogue.Say("style.carries", "roles", strings.Join(s.RequiredRoles, ", a "))
	}
	return catalogue.Say(which, "style", s.Name, "about", s.About, "segments", segmentsText(s.Flying.Segments), "carries",
		carries)
}

// Rows is the styles as a table of plain values.
func (d *Styles) Rows() *Rows {
	rows := &Rows{Keys: []string{"name"}}
	for a := range objective.AxisCount {
		rows.Keys = append(rows.Keys, a.Key())
	}
	rows.Keys = append(rows.Keys, "limits", "required_roles", "speed_mps", "landing_cell_v", "reserve_pct", "segments")
	for i := range d.Styles {
		s := &d.Styles[i]
		row := []string{s.Name}
		for _, w := range s.Weights {
			row = append(row, catalogue.Raw(w.Value.(float64)))
		}
		rows.Add(append(row, strings.Join(s.LimitTexts(), " "), strings.Join(s.RequiredRoles, " "),
			catalogue.Raw(s.Flying.SpeedMps),
			rawOr(s.Flying.LandingCellV, ""), rawOr(s.Flying.ReservePct, ""), segmentsText(s.Flying.Segments))...)
	}
	return rows
}

// LimitTexts are the limits as --limit has them.
func (s *Style) LimitTexts() []string {
	words := make([]string, len(s.Limits))
	for i, l := range s.Limits {
		words[i] = fmt.Sprintf("%s=%s", l.Key, l.Value)
	}
	for _, l := range s.DuctedLimits {
		words = append(words, catalogue.Say("style.ducted", "limit", fmt.Sprintf("%s=%s", l.Key, l.Value)))
	}
	return words
}

func styleDocument(s *objective.Style) Style {
	d := Style{Name: s.Name, About: catalogue.AboutStyle(s.Name), RequiredRoles: s.RequiredRoles}
	if d.RequiredRoles == nil {
		d.RequiredRoles = []string{}
	}
	for a := range objective.AxisCount {
		d.Weights = append(d.Weights, Field{Key: a.Key(), Value: catalogue.Round(s.Weights[a])})
	}
	for _, l := range s.Limits {
		d.Limits = append(d.Limits, Field{Key: l.Key(), Value: l.Range.String()})
	}
	d.Flying.SpeedMps = s.Flying.SpeedMS
	if v := s.Flying.LandingV; v > 0 {
		d.Flying.LandingCellV = &v
	}
	if v := catalogue.Round(100 * s.Flying.Reserve); v > 0 {
		d.Flying.ReservePct = &v
	}
	for _, l := range s.DuctedLimits {
		d.DuctedLimits = append(d.DuctedLimits, Field{Key: l.Key(), Value: l.Range.String()})
	}
	for _, g := range s.Flying.Segments {
		d.Flying.Segments = append(d.Flying.Segments, Segment{g.Kind.String(), catalogue.Round(100 * g.Share), g.SpeedMS,
			max(g.LoadFactor, 1), catalogue.Round(100 * g.SpeedPart), catalogue.Round(100 * g.LoadPart)})
	}
	return d
}

// UsualLanding stands for a landing that a style leaves to the craft.
const UsualLanding = "as usual"

// LandingText and ReserveText are a style's landing as a table has it.
func (f *Flying) LandingText() string { return rawOr(f.LandingCellV, UsualLanding) }

// ReserveText is the same of the reserve.
func (f *Flying) ReserveText() string { return rawOr(f.ReservePct, UsualLanding) }

func rawOr(x *float64, otherwise string) string {
	if x == nil {
		return otherwise
	}
	return catalogue.Raw(*x)
}

// short is a number with three digits.
func short(x float64) string { return strconv.FormatFloat(x, 'g', 3, 64) }

func segmentsText(segments []Segment) string {
	words := make([]string, len(segments))
	for i, g := range segments {
		words[i] = catalogue.Say("segment", "share", short(g.SharePct), "kind", g.Kind)
		if g.SpeedMps > 0 {
			words[i] += catalogue.Say("segment.speed", "speed", short(g.SpeedMps))
		}
		if g.SpeedPct > 0 {
			words[i] += catalogue.Say("segment.speed_part", "share", short(g.SpeedPct))
		}
		if g.LoadFactor > 1 {
			words[i] += catalogue.Say("segment.load", "load", short(g.LoadFactor))
		}
		if g.LoadPct > 0 {
			words[i] += catalogue.Say("segment.load_part", "share", short(g.LoadPct))
		}
	}
	return strings.Join(words, ", ")
}
