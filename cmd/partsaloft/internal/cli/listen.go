package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/cmd/internal/audio"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/sound"
	"partsaloft/inventory/strict"
)

type listenOptions struct {
	readings.Listen
	log  bool
	plot string
}

func newListen(s *commands) *cobra.Command {
	o := &listenOptions{}
	c := &cobra.Command{
		Use:   "listen FILE [CRAFT] [DRAWER]",
		Short: "Read the rotor speed of a hovering craft from a sound recording",
		Long: `listen finds the tones of the blades in a recording of a steady hover (WAV, FLAC, MP3, Ogg) and says
the rotor speed with its uncertainty, or why it cannot be heard and what to do. With the craft's weight
that speed fixes how much the prop lifts, for every build with that prop. CRAFT is a craft of the fleet,
as record takes it, or name its parts by --pick; it can be left out where there is only one.

Record 5 to 10 s: phone on the ground 1 to 3 m to the side, craft hovering still, over four diameters
high, no yaw, no wind. Stand well back, nobody in the plane of the discs, outdoors from 4 inch up.
Never run full throttle on a bench for a sound. What only a browser decodes (m4a, videos) goes into the
pocket page, or save it as WAV.`,
		Example: `  partsaloft listen hover.wav tender
  partsaloft listen hover.wav tender --weight 113 --log
  partsaloft listen hover.wav tender --plot spectrum.svg`,
		Args: cobra.RangeArgs(1, 3),
		RunE: func(c *cobra.Command, args []string) error {
			words, err := s.TakeDrawer(args[1:], session.IsDrawer)
			if err != nil {
				return err
			}
			if o.Craft = strings.Join(words, " "); o.Craft != "" && o.Pick != "" {
				return exit.Usagef("name the craft or its parts by --pick, not both")
			}
			if err := s.willPlot(o.plot); err != nil {
				return err
			}
			return s.listen(c.Context(), args[0], o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&o.Pick, "pick", "", "craft by its `PARTS`, as explain takes them")
	f.StringVar(&o.Weight, "weight", "", "`WEIGHT` ready to fly, g or with its unit: 5.3oz; without it that of the "+
		"log")
	f.BoolVar(&o.log, "log", false, "append the reading to the drawer's log")
	f.StringVar(&o.Date, "date", "", "`DAY` of the flight for the log, such as 2026-05-01")
	f.StringVar(&o.plot, "plot", "", "draw the spectrum with the tones into a `FILE` that ends in .svg or .png")
	return s.Take(c, session.UsesDrawer|session.UsesAir|session.UsesLearned|session.UsesStyle|session.UsesSeed|
		session.UsesResult)
}

func (s *commands) listen(ctx context.Context, path string, o *listenOptions) error {
	var err error
	if o.Recording, err = s.recording(path); err != nil {
		return err
	}
	if o.log && (!s.FindDrawer() || s.DrawerFile() == "") {
		return exit.Usagef("--log: name the drawer whose log it goes into, with --drawer FILE")
	}
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d, err := s.Quietly(func(*session.Session) (d *inventory.Drawer, err error) {
		if o.Name, o.Text, err = s.DrawerText(); err != nil {
			return nil, err
		}
		return inventory.Read(o.Name, bytes.NewReader(o.Text))
	})
	if err != nil {
		return exit.AsData(err)
	}
	o.Ways = question.Ways(&ask.Problem.Style)
	s.addWays(o.Ways, d)
	var held *files.Held
	if o.log {
		if held, err = files.Hold(ctx, s.DrawerFile()); err != nil {
			return fmt.Errorf("nothing was recorded: %w", err)
		}
		defer held.Release()
		if o.Text, err = s.Read(s.DrawerFile()); err != nil {
			return err
		}
	}
	x, text, err := o.Answer(ctx, ask)
	if err != nil {
		return unheard(err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if o.plot != "" {
		if err := s.plotSpectrum(ctx, x, o.plot); err != nil {
			return err
		}
	}
	logged := ""
	switch {
	case text == nil || !o.log:
		x.Entry = 0
	default:
		if err := held.Write(text); err != nil {
			return fmt.Errorf("nothing was recorded: %w", err)
		}
		// The entry is in: an interrupt is too late to keep the answer back.
		ctx, logged = context.WithoutCancel(ctx), catalogue.RecordedAs(x.Entry, x.Drawer, x.Craft)
	}
	return s.Deliver(ctx, x, session.Sheet{Page: listenPage(x, logged)})
}

// recording decodes a sound file.
func (s *commands) recording(path string) (*sound.Recording, error) {
	content, err := s.ReadUpTo(path, audio.MostBytes)
	if err != nil {
		return nil, err
	}
	r, err := audio.Decode(content)
	do := ""
	switch {
	case err == nil:
		return r, nil
	case errors.Is(err, audio.ErrBrowser), errors.Is(err, audio.ErrUnknown), errors.Is(err, audio.ErrForm),
		errors.Is(err, sound.ErrWAVFormat):
		do = "; open it in the pocket page, or save it as WAV"
	case errors.Is(err, audio.ErrDamaged), errors.Is(err, sound.ErrWAVDamaged), errors.Is(err, sound.ErrNotWAV):
		do = "; copy it from the recorder once more, or record again"
	}
	return nil, exit.Data(fmt.Errorf("%s: %w%s", filepath.Base(path), err, do))
}

// unheard is a question that cannot be answered, by the command line's fault or by the drawer's.
func unheard(err error) error {
	var list inventory.Faults
	var problem *strict.Problem
	switch {
	case errors.As(err, &list):
		return exit.Data(err)
	case errors.As(err, &problem):
		return exit.Usagef("%s", faults.Error(err))
	}
	return exit.Asked(err)
}

func listenPage(x *readings.Listened, logged string) render.Page {
	var page render.Page
	page.Add(render.List(x.Words.How))
	if x.Heard {
		page.Add(section("What it brings", []string{x.Words.Brings})...)
		if len(x.Changes) > 0 {
			t := &render.Table{Columns: []render.Column{render.Left("build"), render.Left("figure"), render.Right("before"),
				render.Right("after")}}
			for i := range x.Changes {
				build := render.Wrap(x.Changes[i].Text, 34, "")
				for _, f := range x.Changes[i].Figures {
					t.Add(build, catalogue.WithUnit(f.Name, f.Was.Unit), spanOf(&f.Was), spanOf(&f.Is))
					build = ""
				}
			}
			page.Add(render.Paragraph(x.Words.Figures), t)
		}
		page.Add(render.Paragraph(x.Words.Cannot))
	}
	page.Add(render.Paragraph(logged))
	return page
}

// spanOf is a figure with its likely range.
func spanOf(f *catalogue.Shown) string {
	if !f.Defined() {
		return "–"
	}
	return fmt.Sprintf("%s (%s)", f.Number(), f.Span())
}

// plotSpectrum draws the mean spectrum with the tones that were found, or with those that were expected.
func (s *commands) plotSpectrum(ctx context.Context, x *readings.Listened, path string) error {
	spectrum := x.Reading.Spectrum
	if len(spectrum.LevelDB) < 2 {
		s.Remark("--plot: the recording is too short for a spectrum; nothing was drawn.")
		return nil
	}
	tones, name := x.Groups, "tones"
	if !x.Heard {
		tones, name = []float64{x.PredictedRPM}, "expected"
	}
	passing := func(rpm float64) float64 { return rpm / 60 * float64(x.Blades) }
	var curve render.Curve
	top, highest := 1.0, 9.5*passing(slices.Max(tones))
	for i, level := range spectrum.LevelDB {
		if i > 1 && float64(i)*spectrum.BinHz > highest {
			break
		}
		curve.X, curve.Y = append(curve.X, float64(i)*spectrum.BinHz), append(curve.Y, math.Max(0, level))
		top = math.Max(top, level)
	}
	panel := render.Panel{X: "frequency, Hz", Y: "level over the noise, dB", Curves: []render.Curve{curve}}
	for _, rpm := range tones {
		for h := 1.0; h <= 8 && h*passing(rpm) < curve.X[len(curve.X)-1]; h++ {
			at := h * passing(rpm)
			panel.Curves = append(panel.Curves, render.Curve{Name: name, X: []float64{at, at},
				Y: []float64{0, 1.05 * top}, Aid: true})
			name = ""
		}
	}
	sheet := render.Sheet{Title: "Spectrum of the recording", Columns: [][]render.Panel{{panel}}}
	var b bytes.Buffer
	if err := sheet.Write(&b, formOfPlot(path)); err != nil {
		return err
	}
	if err := s.Write(ctx, "--plot", path, b.Bytes()); err != nil {
		return err
	}
	s.Remark("Spectrum written to %s.", path)
	return nil
}
