package cli

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer"
	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/page"
	"partsaloft/cmd/partsaloft/internal/exit"
	"partsaloft/cmd/partsaloft/internal/session"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/search"
	"partsaloft/search/space"
)

func newPage(s *commands) *cobra.Command {
	return &cobra.Command{
		Use:   "page",
		Short: "Write one HTML file that ranks, compares and prints offline",
		Long: `page writes one HTML file that works without a network, on a phone too: sliders for the weights,
inputs for limits, a plot of two figures, combinations side by side, and a bench sheet to print.
Whatever the weights and limits, its first place is the best of the drawer. Weights and limits of the
command line are where it opens.`,
		Example: `  partsaloft page --output drawer.html
  partsaloft page --drawer drawer.yaml --style cruise --limit all_up_g=..250 --output drawer.html`,
		Args: exit.NoArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			switch {
			case c.Flags().Changed("format"):
				return exit.Usagef("page writes HTML and nothing else: leave out --format")
			case s.Options.Output == "" && s.Streams.OutTerminal:
				return exit.Usagef("page writes a file to open in a browser: name it with --output drawer.html")
			}
			return s.page(c.Context())
		},
	}
}

// page writes the page. Where the limits leave nothing it is written all the same, for they can be
// loosened in it.
func (s *commands) page(ctx context.Context) error {
	p, err := s.Problem()
	if err != nil {
		return err
	}
	if kinds := space.Lacking(p.Drawer); len(kinds) > 0 {
		s.Remark("%s holds no %s, so that there is nothing to show; nothing was written.", p.Drawer.Name,
			phrase.Words(catalogue.Sections(kinds)))
		return exit.Nothing
	}
	in := page.Input{Drawer: p.Drawer.Name, Command: s.rankCommand(p.Drawer)}
	in.Opening, p.Style.Limits = page.Split(p.Style.Limits)
	in.Style = p.Style
	if in.Catalogue, err = s.catalogue(ctx, p, in.Opening); err != nil {
		return err
	}
	in.Care = pageCare(p, in.Catalogue)
	if len(in.Catalogue.Entries) == 0 {
		s.Remark("Nothing is feasible, so that there is nothing to show; nothing was written. rank says what comes nearest.")
		return exit.Nothing
	}
	var b bytes.Buffer
	if err := in.Write(&b); err != nil {
		return err
	}
	if err := s.Put(ctx, b.Bytes()); err != nil {
		return err
	}
	for i := range in.Catalogue.Entries {
		if in.Catalogue.Entries[i].Keeps(in.Opening, page.Bounds()) {
			return nil
		}
	}
	s.Remark("Nothing is feasible within these limits; loosen them in the page.")
	return exit.Nothing
}

func (s *commands) catalogue(ctx context.Context, p *space.Problem, opening []*int32) (*search.Catalogue, error) {
	bar := session.NewProgress(s.Streams.Err, s.Streams.ErrTerminal && !s.Options.Quiet, "looking at each")
	defer bar.End()
	o := search.CatalogueOptions{Options: s.SearchOptions(), Bounds: page.Bounds(), Opening: opening}
	o.Progress = bar.At
	return search.MakeCatalogue(ctx, *p, o)
}

// rankCommand is the command line that ranks the same drawer, files by base name, without weights and
// limits.
func (s *commands) rankCommand(d *inventory.Drawer) string {
	o := &s.Options
	words := []string{"partsaloft rank"}
	add := func(flag, value string) { words = append(words, flag+" "+session.ShellWord(value)) }
	if o.Drawer != "" {
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

// pageCare is what to mind with all that the page lists.
func pageCare(p *space.Problem, c *search.Catalogue) answer.Care {
	scene := answer.Scene{Drawer: p.Drawer, Styles: []objective.Style{p.Style}, Built: true, Feel: true}
	for i := range c.Entries {
		if r := c.Entries[i].Result; r != nil {
			scene.Listed = append(scene.Listed, r)
		}
	}
	return answer.CareOf(&scene)
}
