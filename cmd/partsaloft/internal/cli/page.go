package cli

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/answer/explore"
	"partsaloft/cmd/internal/page"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search/space"
)

func newPage(s *commands) *cobra.Command {
	return s.Take(&cobra.Command{
		Use:   "page [DRAWER]",
		Short: "Write one HTML file that ranks, compares and prints offline",
		Long: `page writes one HTML file that works without a network, on a phone too: sliders for the weights,
inputs for limits, a plot of two figures, combinations side by side, and a bench sheet to print.
Whatever the weights and limits, its first place is the best of the drawer. Weights and limits of the
command line are where it opens.`,
		Example: `  partsaloft page --output drawer.html
  partsaloft page --drawer drawer.yaml --style cruise --limit all_up_g=..250 --output drawer.html`,
		Args: exit.OneDrawer,
		RunE: func(c *cobra.Command, args []string) error {
			if s.Options.Output == "" && s.Streams.OutTerminal {
				return exit.Usagef("page writes a file to open in a browser: name it with --output drawer.html")
			}
			if _, err := s.TakeDrawer(args, session.Any); err != nil {
				return err
			}
			return s.page(c.Context())
		},
	}, session.UsesSearch&^session.UsesFormat|session.UsesTop)
}

// page writes the page. Where the limits leave nothing it is written all the same, for they can be
// loosened in it.
func (s *commands) page(ctx context.Context) error {
	ask, err := s.Ask()
	if err != nil {
		return err
	}
	d := ask.Problem.Drawer
	if kinds := space.Lacking(d); len(kinds) > 0 {
		s.Remark("%s has no %s, so there is nothing to show; nothing was written.", d.Name,
			phrase.Words(catalogue.Sections(kinds)))
		return exit.ErrNothing
	}
	found, err := explore.MakeWhole(ctx, ask, explore.Options{Command: s.rankCommand(d)})
	if err != nil {
		return err
	}
	if len(found.Catalogue.Entries) == 0 {
		s.Remark("Nothing can be flown, so there is nothing to show; nothing was written. rank says what comes closest.")
		return exit.ErrNothing
	}
	var b bytes.Buffer
	in := page.Input{Input: *found}
	if err := in.Write(&b); err != nil {
		return err
	}
	if err := s.Put(ctx, b.Bytes()); err != nil {
		return err
	}
	if in.First() == nil {
		s.Remark("Nothing can be flown within these limits; loosen them in the page.")
		return exit.ErrNothing
	}
	return nil
}

// rankCommand is the command line that ranks the same drawer, files by base name, without weights and
// limits.
func (s *commands) rankCommand(d *inventory.Drawer) string {
	o := &s.Options
	words := []string{"partsaloft rank"}
	add := func(flag, value string) { words = append(words, flag+" "+session.ShellWord(value)) }
	if s.DrawerFile() != "" {
		add("--drawer", d.Name)
	}
	style := o.Style
	if _, ok := objective.Preset(style); !ok {
		style = filepath.Base(style)
	}
	add("--style", style)
	for _, role := range o.With {
		add("--with", role)
	}
	if o.AltitudeGiven {
		add("--altitude-m", catalogue.Raw(o.AltitudeM))
	}
	if o.TemperatureGiven {
		add("--temperature-c", catalogue.Raw(o.TemperatureC))
	}
	if o.Learned != "" {
		add("--learned", filepath.Base(o.Learned))
	}
	return strings.Join(words, " ")
}
