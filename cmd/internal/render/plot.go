package render

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"strconv"

	"partsaloft/cmd/internal/answer/catalogue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Curve is a line of a panel. Aids (limits, tangents) are thin and dashed, marks (where something was found) thick; with
// a single point a curve is a dot. A name stands beside it.
type Curve struct {
	Name      string
	X, Y      []float64
	Aid, Mark bool
}

// Panel is one plot with its own y axis; panels of a column that share their x axis carry the same
// label there.
type Panel struct {
	X, Y   string
	Curves []Curve
	// FreeY lets the y axis begin where the curves do instead of at 0.
	FreeY bool
}

// Sheet is a grid of panels by column.
type Sheet struct {
	Title   string
	Columns [][]Panel
	// Wide gives a time series the width that it needs: panels are twice as wide and half as high, their lines thin.
	Wide bool
}

// Sizes of a sheet, for print.
const (
	panelWidth  = 11 * vg.Centimeter
	panelHeight = 6.5 * vg.Centimeter
	titleHeight = 1.2 * vg.Centimeter
	pngDPI      = 150
)

var (
	curveColour = color.RGBA{R: 0x0b, G: 0x3c, B: 0x5d, A: 0xff} // dark blue
	markColour  = color.RGBA{R: 0xb3, G: 0x4a, B: 0x00, A: 0xff} // dark orange, told apart by its width
	aidColour   = color.RGBA{R: 0x44, G: 0x44, B: 0x44, A: 0xff} // dark grey, told apart by its dashes
)

// Write draws the sheet as svg or png, the same bytes for the same sheet.
func (s *Sheet) Write(w io.Writer, form string) error {
	rows := 0
	for _, column := range s.Columns {
		rows = max(rows, len(column))
	}
	across, high := panelWidth, panelHeight
	if s.Wide {
		across, high = 2*panelWidth, panelHeight*0.7
	}
	width, height := across*vg.Length(len(s.Columns)), high*vg.Length(rows)+titleHeight
	var out io.WriterTo
	var canvas draw.Canvas
	switch form {
	case "svg":
		c := vgsvg.New(width, height)
		out, canvas = c, draw.New(c)
	case "png":
		c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(pngDPI))}
		out, canvas = c, draw.New(c)
	default:
		return fmt.Errorf("%q is not a plot format: it is svg or png", form)
	}
	canvas.SetColor(color.White)
	canvas.Fill(canvas.Rectangle.Path())
	grid := make([][]*plot.Plot, rows)
	for r := range grid {
		grid[r] = make([]*plot.Plot, len(s.Columns))
		for c, column := range s.Columns {
			if r < len(column) {
				p, err := column[r].plot(s.Wide)
				if err != nil {
					return err
				}
				grid[r][c] = p
			}
		}
	}
	tiles := draw.Tiles{Rows: rows, Cols: len(s.Columns), PadTop: titleHeight, PadX: vg.Millimeter * 4,
		PadY:    vg.Millimeter * 3,
		PadLeft: vg.Millimeter * 3, PadRight: vg.Millimeter * 5, PadBottom: vg.Millimeter * 3}
	canvases := plot.Align(grid, tiles, canvas)
	for r := range grid {
		for c, p := range grid[r] {
			if p != nil {
				p.Draw(canvases[r][c])
			}
		}
	}
	heading := draw.TextStyle{Color: color.Black, Font: plot.DefaultFont, XAlign: draw.XCenter, YAlign: draw.YCenter,
		Handler: plot.DefaultTextHandler}
	heading.Font.Size = vg.Points(12)
	canvas.FillText(heading, vg.Point{X: width / 2, Y: height - titleHeight/2}, Clean(s.Title))
	var b bytes.Buffer
	if _, err := out.WriteTo(&b); err != nil {
		return err
	}
	_, err := b.WriteTo(w)
	return err
}

func (p *Panel) plot(thin bool) (*plot.Plot, error) {
	g := plot.New()
	g.X.Label.Text, g.Y.Label.Text = p.X, p.Y
	g.X.Tick.Marker, g.Y.Tick.Marker = shortTicks{}, shortTicks{}
	g.X.Min = 0
	if !p.FreeY {
		g.Y.Min = 0
	}
	g.Add(plotter.NewGrid())
	for _, c := range p.Curves {
		if err := c.draw(g, thin); err != nil {
			return nil, err
		}
	}
	g.X.Max += 0.02 * (g.X.Max - g.X.Min)
	g.Y.Max += 0.10 * (g.Y.Max - g.Y.Min)
	return g, nil
}

// shortTicks are the usual ticks with their numbers written as short as can be.
type shortTicks struct{}

// Ticks implements plot.Ticker.
func (shortTicks) Ticks(low, high float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(low, high)
	for i := range ticks {
		if ticks[i].Label != "" {
			ticks[i].Label = strconv.FormatFloat(catalogue.Round(ticks[i].Value), 'f', -1, 64)
		}
	}
	return ticks
}

func (c *Curve) draw(g *plot.Plot, thin bool) error {
	if len(c.X) == 0 || len(c.X) != len(c.Y) {
		return fmt.Errorf("curve %q has %d and %d coordinates", c.Name, len(c.X), len(c.Y))
	}
	points := make(plotter.XYs, len(c.X))
	for i := range points {
		points[i].X, points[i].Y = c.X[i], c.Y[i]
	}
	if len(points) == 1 {
		dot, err := plotter.NewScatter(points)
		if err != nil {
			return err
		}
		dot.GlyphStyle = draw.GlyphStyle{Color: aidColour, Radius: vg.Points(3.5), Shape: draw.CircleGlyph{}}
		g.Add(dot)
	} else {
		line, err := plotter.NewLine(points)
		if err != nil {
			return err
		}
		line.Color, line.Width = curveColour, vg.Points(1.6)
		if thin {
			line.Width = vg.Points(0.7)
		}
		switch {
		case c.Mark:
			line.Color, line.Width = markColour, vg.Points(3)
		case c.Aid:
			line.Color, line.Width, line.Dashes = aidColour, vg.Points(0.9), []vg.Length{vg.Points(4), vg.Points(3)}
		}
		g.Add(line)
	}
	if c.Name == "" {
		return nil
	}
	// A level is named at its left, clear of curves that rise to the right.
	at, align := points[len(points)-1:], draw.XRight
	if last := at[0]; len(points) > 1 && points[0].Y == last.Y {
		at, align = points[:1], draw.XLeft
	}
	label, err := plotter.NewLabels(plotter.XYLabels{XYs: at, Labels: []string{Clean(c.Name)}})
	if err != nil {
		return err
	}
	style := text.Style{Color: color.Black, Font: plot.DefaultFont, Handler: plot.DefaultTextHandler, XAlign: align,
		YAlign: draw.YBottom}
	style.Font.Size = vg.Points(8)
	label.TextStyle = []text.Style{style}
	label.Offset = vg.Point{Y: vg.Points(3)}
	g.Add(label)
	return nil
}
