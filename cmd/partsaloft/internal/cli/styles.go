package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics"
)

func newStyles(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "styles",
		Short: "Show the built-in styles and which figure feeds which axis",
		Long: `styles shows the built-in styles: what they weigh, which limits they keep and how they are flown,
and which figure feeds which axis over which range. With --style it shows that style alone, a file
or one changed by --weights and --limit as well.`,
		Example: "  partsaloft styles\n  partsaloft styles --style race --weights grip=2,top_speed=1",
		Args:    noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			var styles []objective.Style
			if changesStyle(c) {
				one, err := s.loadStyle(s.options.style)
				if err != nil {
					return err
				}
				styles = append(styles, one)
			} else {
				for _, name := range objective.PresetNames() {
					preset, _ := objective.Preset(name)
					styles = append(styles, preset)
				}
			}
			care := answer.CareOf(&answer.Scene{Styles: styles})
			return s.deliver(c.Context(), stylesAnswer(s.head("", "", care), styles, care))
		},
	}
}

func changesStyle(c *cobra.Command) bool {
	return slices.ContainsFunc([]string{"style", "weights", "limit"}, c.Flags().Changed)
}

// stylesDocument is the JSON of styles.
type stylesDocument struct {
	answer.Head
	Styles []styleJSON `json:"styles"`
	Feeds  []feedJSON  `json:"feeds"`
}

type styleJSON struct {
	Name          string        `json:"name"`
	About         string        `json:"about,omitempty"`
	Weights       answer.Fields `json:"weights"`
	Limits        answer.Fields `json:"limits"`
	RequiredRoles []string      `json:"required_roles"`
	Flying        flyingJSON    `json:"flying"`
}

type flyingJSON struct {
	SpeedMps     float64       `json:"speed_mps"`
	LandingCellV float64       `json:"landing_cell_v"`
	ReservePct   float64       `json:"reserve_pct"`
	Segments     []segmentJSON `json:"segments"`
}

type segmentJSON struct {
	Kind       string  `json:"kind"`
	SharePct   float64 `json:"share_pct"`
	SpeedMps   float64 `json:"speed_mps"`
	LoadFactor float64 `json:"load_factor"`
}

type feedJSON struct {
	Axis    string  `json:"axis"`
	Figure  string  `json:"figure"`
	Unit    string  `json:"unit"`
	Worst   float64 `json:"worst"`
	Best    float64 `json:"best"`
	Scale   string  `json:"scale"`
	Meaning string  `json:"meaning"`
}

func stylesAnswer(head answer.Head, styles []objective.Style, care answer.Care) reply {
	document := stylesDocument{Head: head}
	for i := range styles {
		document.Styles = append(document.Styles, styleDocument(&styles[i]))
	}
	for _, f := range objective.Criteria() {
		scale := "linear"
		if f.Scale.Log {
			scale = "log"
		}
		shown := f.Figure()
		document.Feeds = append(document.Feeds, feedJSON{f.Axis.Key(), shown.Key, shown.Unit, f.Scale.Worst, f.Scale.Best, scale, shown.Meaning})
	}
	return reply{document, stylesRows(document.Styles), stylesPage(&document), care}
}

func styleDocument(s *objective.Style) styleJSON {
	d := styleJSON{Name: s.Name, About: catalogue.AboutStyle(s.Name), RequiredRoles: s.RequiredRoles}
	if d.RequiredRoles == nil {
		d.RequiredRoles = []string{}
	}
	for a := range objective.AxisCount {
		d.Weights = append(d.Weights, answer.Field{Key: a.Key(), Value: catalogue.Round(s.Weights[a])})
	}
	for _, l := range s.Limits {
		d.Limits = append(d.Limits, answer.Field{Key: l.Key(), Value: l.Range.String()})
	}
	d.Flying = flyingJSON{s.Flying.SpeedMS, landingCellV(&s.Flying), reservePct(&s.Flying), nil}
	for _, g := range s.Flying.Segments {
		d.Flying.Segments = append(d.Flying.Segments, segmentJSON{g.Kind.String(), catalogue.Round(100 * g.Share), g.SpeedMS, max(g.LoadFactor, 1)})
	}
	return d
}

func stylesRows(styles []styleJSON) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("name")}}
	for a := range objective.AxisCount {
		t.Columns = append(t.Columns, render.Right(a.Key()))
	}
	for _, key := range []string{"limits", "required_roles", "speed_mps", "landing_cell_v", "reserve_pct", "segments"} {
		t.Columns = append(t.Columns, render.Left(key))
	}
	for _, s := range styles {
		row := []string{s.Name}
		for _, w := range s.Weights {
			row = append(row, raw(w.Value.(float64)))
		}
		t.Add(append(row, limitsText(s.Limits), strings.Join(s.RequiredRoles, " "), raw(s.Flying.SpeedMps),
			raw(s.Flying.LandingCellV), raw(s.Flying.ReservePct), segmentsText(s.Flying.Segments))...)
	}
	return t
}

func limitsText(limits answer.Fields) string {
	words := make([]string, len(limits))
	for i, l := range limits {
		words[i] = fmt.Sprintf("%s=%s", l.Key, l.Value)
	}
	return strings.Join(words, " ")
}

func segmentsText(segments []segmentJSON) string {
	words := make([]string, len(segments))
	for i, g := range segments {
		words[i] = fmt.Sprintf("%.3g %% %s", g.SharePct, g.Kind)
		if g.SpeedMps > 0 {
			words[i] += fmt.Sprintf(" %.3g m/s", g.SpeedMps)
		}
		if g.LoadFactor > 1 {
			words[i] += fmt.Sprintf(" load %.3g", g.LoadFactor)
		}
	}
	return strings.Join(words, ", ")
}

func stylesPage(d *stylesDocument) render.Page {
	var page render.Page
	weights := &render.Table{Columns: []render.Column{render.Left("style")}}
	for a := range objective.AxisCount {
		weights.Columns = append(weights.Columns, render.Right(a.String()+"\n%"))
	}
	weights.Columns = append(weights.Columns, render.Right("speed\nm/s"), render.Right("landing\nV a cell"), render.Right("reserve\n%"), render.Left("limits"))
	for _, s := range d.Styles {
		row := []string{s.Name}
		for _, w := range s.Weights {
			row = append(row, strconv.FormatFloat(100*w.Value.(float64), 'f', 0, 64))
		}
		weights.Add(append(row, raw(s.Flying.SpeedMps), raw(s.Flying.LandingCellV), raw(s.Flying.ReservePct),
			strings.ReplaceAll(limitsText(s.Limits), " ", "\n"))...)
	}
	page.Add(render.Heading("What a style weighs and which limits it keeps"), weights)
	flown := render.List{}
	for _, s := range d.Styles {
		line := s.Name + ": "
		if s.About != "" {
			line += s.About + " "
		}
		line += "Flown " + segmentsText(s.Flying.Segments) + "."
		if len(s.RequiredRoles) > 0 {
			line += " Carries a " + strings.Join(s.RequiredRoles, ", a ") + "."
		}
		flown = append(flown, line)
	}
	page.Add(render.Heading("How it is flown"), flown)
	feeds := &render.Table{Columns: []render.Column{render.Left("axis"), render.Left("figure"), render.Right("0 at"), render.Right("1 at"), render.Left("steps"), render.Left("meaning")}}
	for _, f := range d.Feeds {
		steps := "even"
		if f.Scale == "log" {
			steps = "by ratio"
		}
		axis, _ := objective.AxisByKey(f.Axis)
		feeds.Add(axis.String(), f.Figure, withUnit(raw(f.Worst), f.Unit), withUnit(raw(f.Best), f.Unit), steps, render.Wrap(f.Meaning, 44, ""))
	}
	page.Add(render.Heading("Which figure feeds which axis"), feeds,
		render.Paragraph(`An axis is 100 times the geometric mean of its figures' desirabilities, the score the weighted geometric mean of the axes.
The ranges are the same for every style and drawer, so that a score means the same everywhere; a figure at or beyond its 0 makes the axis 0.`))
	return page
}

// raw writes a number that somebody chose, without trailing zeros.
func raw(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func withUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// landingCellV and reservePct are what a way of flying lands at, with the defaults that
// physics.Flying documents for 0.
func landingCellV(f *physics.Flying) float64 {
	if f.LandingV == 0 {
		return 3.5
	}
	return f.LandingV
}

func reservePct(f *physics.Flying) float64 {
	if f.Reserve == 0 {
		return 20
	}
	return catalogue.Round(100 * f.Reserve)
}
