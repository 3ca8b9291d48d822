package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory/learn"
	"partsaloft/inventory/strict"
)

type flightOptions struct {
	readings.Recording
	weight, plot string
	log          bool
}

func newFlight(s *commands) *cobra.Command {
	o := &flightOptions{}
	c := &cobra.Command{
		Use:   "flight FILE.csv [CRAFT] [DRAWER]",
		Short: "Read hover, pack resistance, charge and power from a recording of a flight",
		Long: `flight reads a time series that a flight controller or a logger exported as CSV. It recognises the
columns of time, volts, amps, throttle, rpm, speed, height, tilt and charge by their headings, units and
ranges, shows which it took, and takes others by --column. It finds the flight, hover and punches by
itself, and gives the entry for the drawer's log. With CRAFT, a craft of the fleet as record takes it, or
its parts by --pick, it says what learn makes of that entry; with --log it appends the entry to the log,
and every other line of the drawer stays.`,
		Example: `  partsaloft flight flight.csv
  partsaloft flight flight.csv tender --flown freestyle --weight 113 --log
  partsaloft flight flight.csv --column "volts=Volts [V]" --column throttle=4 --plot flight.svg`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return exit.Usagef("name one file: flight FILE.csv")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			words, err := s.TakeDrawer(args[1:], session.IsDrawer)
			if err != nil {
				return err
			}
			if o.Craft = strings.Join(words, " "); o.Craft != "" && o.Pick != "" {
				return exit.Usagef("name the craft or its parts by --pick, not both")
			}
			return s.flight(c.Context(), args[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringArrayVar(&o.Columns, "column", nil, "`QUANTITY=HEADING` or number of a column, with its unit in brackets behind "+
		"if the heading lacks it: \"volts=Pack [mV]\"; may be repeated")
	f.StringVar(&o.Pick, "pick", "", "craft by its `PARTS`, as explain takes them")
	f.BoolVar(&o.log, "log", false, "append the entry to the drawer's log")
	f.StringVar(&o.Flown, "flown", "", "how it was flown: hover, cruise, hard or a `STYLE`")
	f.StringVar(&o.Date, "date", "", "`DAY` of the flight for the log, such as 2026-05-01")
	f.StringVar(&o.weight, "weight", "", "`WEIGHT` as flown, g or with its unit: 5.3oz")
	f.IntVar(&o.Poles, "poles", 0, "magnets in a motor's bell, a `NUMBER`, to read electrical rpm")
	f.IntVar(&o.Cells, "cells", 0, "cells of the pack, a `NUMBER`, where no craft is named")
	f.Float64Var(&o.RateHz, "rate-hz", 0, "rows in a second, a `NUMBER`, for files without a column of time")
	f.StringVar(&o.plot, "plot", "", "draw what was found into a `FILE` that ends in .svg or .png")
	return s.Take(c, session.UsesDrawer|session.UsesAir|session.UsesStyle|session.UsesResult)
}

// check says what the flags of flight contradict.
func (o *flightOptions) check() error {
	switch {
	case o.Poles != 0 && (o.Poles < 2 || o.Poles > 60 || o.Poles%2 != 0):
		return exit.Usagef("--poles must be an even number from 2 to 60, got %d", o.Poles)
	case o.Cells != 0 && (o.Cells < 1 || o.Cells > 14):
		return exit.Usagef("--cells must be from 1 to 14, got %d", o.Cells)
	case o.RateHz != 0 && !session.Inside(o.RateHz, 0.5, 1e4):
		return exit.Usagef("--rate-hz must be from 0.5 to 10000, got %g", o.RateHz)
	}
	if o.weight == "" {
		return nil
	}
	massG, ok := readings.Grams(o.weight)
	if !ok || !session.Inside(massG, 5, 20000) {
		return exit.Usagef("--weight takes 5 to 20000 g, such as 151, 151g or 5.3oz; got %s", o.weight)
	}
	o.WeightG = massG
	return nil
}

func (s *commands) flight(ctx context.Context, path string, o *flightOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	if err := s.willPlot(o.plot); err != nil {
		return err
	}
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return err
	}
	o.Style, o.Ways, o.Named = &style, question.Ways(&style), o.log
	var held *files.Held
	if o.log {
		if !s.FindDrawer() || s.DrawerFile() == "" {
			return exit.Usagef("--log: name the drawer whose log it goes into, with --drawer FILE")
		}
		if held, err = files.Hold(ctx, s.DrawerFile()); err != nil {
			return fmt.Errorf("nothing was recorded: %w", err)
		}
		defer held.Release()
	}
	if o.log || o.Craft != "" || o.Pick != "" {
		if o.Drawer, err = s.BareDrawer(); err != nil {
			return err
		}
		s.addWays(o.Ways, o.Drawer)
	}
	if o.Flown != "" && !s.knowsWay(o.Ways, o.Flown) {
		return exit.Usagef("--flown: no way of flying is called %s; known are hover, cruise, hard and styles", o.Flown)
	}
	file, err := s.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	o.Name, o.File = session.FileName(path), file
	d, err := o.Answer(ctx, s.Head())
	if err != nil {
		return unheard(err)
	}
	if o.plot != "" {
		if err := s.plotFlight(ctx, d, o.plot); err != nil {
			return err
		}
	}
	page := flightPage(d)
	if o.log {
		if err := s.keepFlight(ctx, d, held); err != nil {
			return err
		}
		// The entry is in: an interrupt is too late to keep the answer back.
		ctx = context.WithoutCancel(ctx)
		page.Add(render.Paragraph(catalogue.RecordedAs(d.Recorded, d.Drawer, d.Craft)))
	}
	return s.Deliver(ctx, d, session.Sheet{Page: page})
}

// keepFlight writes the entry of a flight while no other program writes the drawer.
func (s *commands) keepFlight(ctx context.Context, d *readings.Flown, held *files.Held) error {
	text, err := s.Read(s.DrawerFile())
	if err != nil {
		return err
	}
	if text, err = d.Append(filepath.Base(s.DrawerFile()), text); err != nil {
		return refused(err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := held.Write(text); err != nil {
		return fmt.Errorf("nothing was recorded: %w", err)
	}
	return nil
}

// knowsWay reports whether a name is a way of flying; one that is a style beside the drawer is added.
func (s *commands) knowsWay(ways learn.Ways, name string) bool {
	switch name {
	case "hover", "cruise", "hard":
		return true
	}
	if _, ok := ways[name]; ok {
		return true
	}
	if !strict.ValidID(name) || strings.HasPrefix(name, ".") {
		return false
	}
	for _, folder := range [...]string{"", "styles"} {
		if w, ok := s.wayIn(folder, name); ok {
			ways[name] = w.Flying
			return true
		}
	}
	return false
}

func (s *commands) plotFlight(ctx context.Context, d *readings.Flown, path string) error {
	sheet := flightSheet(d)
	var b bytes.Buffer
	if err := sheet.Write(&b, formOfPlot(path)); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := s.Write(ctx, "--plot", path, b.Bytes()); err != nil {
		return err
	}
	s.Remark("Plot written to %s.", path)
	return nil
}

func flightPage(d *readings.Flown) render.Page {
	columns := &render.Table{Columns: []render.Column{render.Left("column"), render.Left("taken for"), render.Left("unit"),
		render.Right("lowest"), render.Right("highest"), render.Left("by")}}
	for i := range d.Columns {
		c := &d.Columns[i]
		name := c.Heading
		if name == "" {
			name = fmt.Sprint(c.Number)
		}
		columns.Add(name, catalogue.QuantityName(c.Quantity), c.Unit, catalogue.Raw(c.Low), catalogue.Raw(c.High),
			catalogue.RecognisedBy(c.How))
	}
	figures := &render.Table{Columns: []render.Column{render.Left("read from the flight"), render.Right("value"),
		render.Right("likely range")}}
	for i := range d.Figures {
		if f := &d.Figures[i]; f.Value != nil {
			number, span := catalogue.In(f.Unit, *f.Value, *f.Low, *f.High)
			figures.Add(f.Name, catalogue.WithUnit(number, f.Unit), span)
		}
	}
	page := render.Page{render.Heading("Flight in " + d.File), render.Paragraph(d.Words.Title), figures}
	page.Add(list(d.Words.Absent)...)
	page.Add(section("Hover", d.Words.Hover)...)
	page.Add(section("Load", d.Words.Pack)...)
	page.Add(render.Heading("Columns"), columns)
	page.Add(section("Watch for", d.Notes)...)
	page.Add(render.Heading("Entry for the log"), render.Lines(d.Entry))
	page.Add(list(d.Missing)...)
	if l := d.Learned; l != nil {
		t := &render.Table{Columns: []render.Column{render.Left("reading"), render.Right("read"), render.Right("before"),
			render.Right("after")}}
		for i := range l.Readings {
			r := &l.Readings[i]
			key := learn.Key(r.Key)
			read, _ := catalogue.In(catalogue.ReadingUnit(key), r.Measured, r.Measured-r.SD, r.Measured+r.SD)
			if !r.Fits {
				read += "*"
			}
			t.Add(catalogue.ReadingHead(key), read, figureText(&r.Before), figureText(&r.After))
		}
		page.Add(render.Heading("What learn makes of it"), t)
		page.Add(list(l.Misfits)...)
		page.Add(list(l.Parts)...)
	}
	return page
}

func list(sentences []string) []render.Block {
	if len(sentences) == 0 {
		return nil
	}
	return []render.Block{render.List(sentences)}
}
