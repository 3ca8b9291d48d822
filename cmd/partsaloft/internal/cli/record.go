package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/faults"
	"partsaloft/cmd/internal/answer/question"
	"partsaloft/cmd/internal/answer/readings"
	"partsaloft/cmd/internal/files"
	"partsaloft/cmd/internal/render"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/objective"
)

// recordFlags are the flags for readings with the keys that they fill in, in the order in which help lists them.
var recordFlags = [...]struct{ flag, key, usage string }{
	{"date", "date", "`DAY` of the flight, such as 2026-05-01"},
	{"weight", "all_up_g", "`WEIGHT` ready to fly: 151, 151g, 5.3oz"},
	{"hover-throttle", "hover_throttle_pct", "`THROTTLE` in hover, %"},
	{"throttle-kind", "throttle_kind", "`KIND` of throttle that the display shows: output, thrust, signal"},
	{"hover-current", "hover_current_a", "`AMPS` in hover"},
	{"hover-rpm", "hover_rpm", "`RPM` in hover, mean of all rotors"},
	{"hover-rpm-from", "hover_rpm_from", "`SOURCE` of that rpm: telemetry, heard"},
	{"hover-volts", "hover_pack_v", "pack `VOLTS` in hover"},
	{"punch-current", "punch_current_a", "`AMPS` at full throttle"},
	{"punch-rpm", "punch_rpm", "`RPM` at full throttle"},
	{"punch-volts", "punch_pack_v", "pack `VOLTS` at full throttle"},
	{"resistance", "pack_resistance_mohm", "pack resistance in flight, `mΩ`"},
	{"minutes", "flight_minutes", "flying `TIME` from a full pack: 5:20 or 5.3"},
	{"flown", "flown", "how it was flown: hover, cruise, hard or a `STYLE`; without it as in the craft's last entry"},
	{"used", "used_mah", "`CHARGE` put back after the flight, mAh"},
	{"end-volts", "end_pack_v", "pack `VOLTS` at landing"},
	{"power-over-hover", "power_over_hover", "mean power over that in hover: a `NUMBER`"},
	{"top-speed", "top_speed_mps", "top `SPEED`, m/s or with its unit: 90km/h"},
	{"temperature", "temperature_c", "air of that day, `DEGREES` Celsius"},
	{"note", "note", "a `REMARK`"},
}

type recordOptions struct {
	readings.Record
	typed [len(recordFlags)]string
	ask   bool
}

func newRecord(s *commands) *cobra.Command {
	o := &recordOptions{}
	c := &cobra.Command{
		Use:   "record [CRAFT]",
		Short: "Write what you read on a craft into the drawer's log",
		Long: `record appends one entry to the log of the drawer, for learn. CRAFT is a craft of the fleet by its
name, or the number of an entry of the log that is of the same craft; it can be left out where there is
only one. Readings are given by flags, with or without their units; without any, record asks the few
questions that narrow this craft's hover throttle, flying time and thrust-to-weight most, the most
telling first; an empty line skips one. Every other line of the drawer stays.`,
		Example: `  partsaloft record tender --date 2026-05-01 --weight 113 --hover-throttle 31 --minutes 5:20 --used 380
  partsaloft record tender
  partsaloft record 3 --hover-rpm 14.2k --hover-rpm-from heard
  partsaloft record 4 --weight 17oz --punch-volts 21.2`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			args, err := s.TakeDrawer(args, session.IsDrawer)
			if err != nil {
				return err
			}
			if o.Craft = strings.Join(args, " "); o.Craft != "" && o.Pick != "" {
				return exit.Usagef("name the craft or its parts by --pick, not both")
			}
			for i := range recordFlags {
				if c.Flags().Changed(recordFlags[i].flag) {
					o.Readings = append(o.Readings, readings.Reading{Key: recordFlags[i].key, Typed: o.typed[i]})
				}
			}
			return s.record(c.Context(), o)
		},
	}
	f := c.Flags()
	f.SortFlags = false
	for i := range recordFlags {
		f.StringVar(&o.typed[i], recordFlags[i].flag, "", recordFlags[i].usage)
	}
	f.StringVar(&o.Pick, "pick", "", "craft by its `PARTS`, as explain takes them")
	f.BoolVar(&o.ask, "questions", false, "say what to read, most telling first, and record nothing")
	return s.Take(c, session.UsesDrawer|session.UsesStyle|session.UsesResult)
}

// record appends an entry to the drawer's log, or says what to read.
func (s *commands) record(ctx context.Context, o *recordOptions) error {
	style, err := s.LoadStyle(s.Options.Style)
	if err != nil {
		return err
	}
	if !s.FindDrawer() || s.DrawerFile() == "" {
		return exit.Usagef("name the drawer whose log it goes into, with --drawer FILE")
	}
	if err := s.prepareRecord(o, &style); err != nil {
		return err
	}
	if o.ask {
		o.Readings = nil
	}
	if o.ask || !o.reads() {
		d, _, err := o.Answer(ctx, s.Head())
		if err != nil {
			return refused(err)
		}
		if o.ask {
			return s.Deliver(ctx, d, session.Sheet{Page: questionPage(d)})
		}
		if err := s.askAll(ctx, o, d); err != nil {
			return err
		}
		if !o.reads() {
			s.Remark("Nothing was recorded.")
			return s.Deliver(ctx, d, session.Sheet{Page: questionPage(d)})
		}
	}
	return s.keep(ctx, o)
}

// reads reports whether there is a reading, not only a day or a remark.
func (o *recordOptions) reads() bool {
	for _, r := range o.Readings {
		switch r.Key {
		case "date", "note", "temperature_c", "flown", "throttle_kind", "hover_rpm_from":
		default:
			return true
		}
	}
	return false
}

// prepareRecord reads the drawer's text, and the styles that its log may name.
func (s *commands) prepareRecord(o *recordOptions, style *objective.Style) error {
	text, err := s.Read(s.DrawerFile())
	if err != nil {
		return err
	}
	o.Name, o.Text, o.Way, o.Ways = filepath.Base(s.DrawerFile()), text, style.Name, question.Ways(style)
	d, err := s.Drawer(o.Name, text)
	if err != nil {
		return exit.Data(err)
	}
	s.addWays(o.Ways, d)
	return nil
}

// keep writes the entry while no other program writes the drawer.
func (s *commands) keep(ctx context.Context, o *recordOptions) error {
	held, err := files.Hold(ctx, s.DrawerFile())
	if err != nil {
		return fmt.Errorf("nothing was recorded: %w", err)
	}
	defer held.Release()
	if o.Text, err = s.Read(s.DrawerFile()); err != nil {
		return err
	}
	d, text, err := o.Answer(ctx, s.Head())
	if err != nil {
		return refused(err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := held.Write(text); err != nil {
		return fmt.Errorf("nothing was recorded: %w", err)
	}
	// The entry is in: an interrupt is too late to keep the answer back.
	page := render.Page{render.Paragraph(catalogue.RecordedAs(d.Entry, d.Drawer, d.Craft))}
	t := &render.Table{Columns: []render.Column{render.Left("key"), render.Left("value"), render.Left("typed")}}
	for _, r := range d.Readings {
		t.Add(r.Key, r.Value, r.Typed)
	}
	page.Add(t)
	if len(d.Checks) > 0 {
		page.Add(render.List(d.Checks))
	}
	return s.Deliver(context.WithoutCancel(ctx), d, session.Sheet{Page: page})
}

// refused is a record that cannot be, by the command line's fault or by the drawer's.
func refused(err error) error {
	var list inventory.Faults
	var problem *strict.Problem
	switch {
	case errors.As(err, &list) && list[0].File == "":
		return exit.Usagef("nothing was recorded: %s", faults.Error(list))
	case errors.As(err, &list):
		return exit.Data(err)
	case errors.As(err, &problem):
		return exit.Usagef("nothing was recorded: %s", faults.Error(err))
	}
	return err
}

// askAll asks the questions on the error stream and takes the answers from the standard input, line by line; what cannot
// be read is asked for again.
func (s *commands) askAll(ctx context.Context, o *recordOptions, d *readings.Recorded) error {
	if s.Streams.In == nil {
		return nil
	}
	in := bufio.NewScanner(s.Streams.In)
	open := slices.Clone(d.Questions)
	for len(open) > 0 {
		q := open[0]
		unit := ""
		if q.Unit != "" {
			unit = ", " + q.Unit
		}
		fmt.Fprintf(s.Streams.Err, "%s%s: ", q.Text, unit)
		if !in.Scan() {
			fmt.Fprintln(s.Streams.Err)
			return in.Err()
		}
		said := strings.TrimSpace(in.Text())
		if said == "" {
			open = open[1:]
			continue
		}
		tried := o.Record
		tried.Readings = append(slices.Clone(o.Readings), readings.Reading{Key: q.Key, Typed: said})
		if _, _, err := tried.Answer(ctx, s.Head()); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			s.Remark("%s", faults.Error(err))
			continue
		}
		o.Readings = tried.Readings
		open = append(slices.Clone(q.With), open[1:]...)
	}
	return nil
}

// questionPage lists the questions.
func questionPage(d *readings.Recorded) render.Page {
	t := &render.Table{Columns: []render.Column{render.Left("read"), render.Left("unit"), render.Right("doubt left\n%")}}
	for _, q := range d.Questions {
		left := ""
		if q.LeftPct < 100 {
			left = catalogue.Fixed(q.LeftPct, 0)
		}
		t.Add(q.Text, q.Unit, left)
	}
	return render.Page{t}
}
