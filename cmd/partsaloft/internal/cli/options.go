package cli

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/search"
	"partsaloft/search/space"

	"github.com/spf13/cobra"

	"partsaloft/objective"
)

// sharedOptions are the flags that every command takes.
type sharedOptions struct {
	drawer, style, weights string
	limits, with           []string
	altitudeM              float64
	temperatureC           float64
	top                    int
	method                 string
	seed                   uint64
	maxEvals               int64
	learned                string
	format, output         string
	quiet                  bool

	altitudeGiven, temperatureGiven, learnedGiven bool
}

const (
	defaultStyle = "freestyle"
	defaultTop   = 10
	defaultSeed  = 1
	mostTop      = 10000
)

var (
	formats = []string{"table", "json", "csv", "markdown"}
	methods = []string{"auto", "exact", "genetic"}
)

func (o *sharedOptions) register(root *cobra.Command) {
	f := root.PersistentFlags()
	f.SortFlags = false
	f.StringVar(&o.drawer, "drawer", "", "`FILE` that lists your parts; without it the embedded example drawer is read")
	f.StringVar(&o.style, "style", defaultStyle, "way of flying: "+strings.Join(objective.PresetNames(),
		", ")+" or a style `NAME|FILE`")
	f.StringVar(&o.weights, "weights", "", "`AXIS=N,...` instead of the style's weights, such as grip=4,endurance=1; "+
		"axes not named weigh 0")
	f.StringArrayVar(&o.limits, "limit", nil, "`FIGURE=RANGE` to keep, such as all_up_g=..250 or style_minutes=3..; "+
		"may be repeated")
	f.StringArrayVar(&o.with, "with", nil, "`ROLE` of an optional extra to carry, such as camera; may be repeated")
	f.Float64Var(&o.altitudeM, "altitude-m", 0, "altitude of the flying site in `METRES` instead of the drawer's")
	f.Float64Var(&o.temperatureC, "temperature-c", 0, "temperature there in `DEGREES` Celsius instead of the drawer's")
	f.IntVar(&o.top, "top", defaultTop, "show the best `N` builds")
	f.StringVar(&o.method, "method", "auto", "search `METHOD`: "+strings.Join(methods, ", "))
	f.Uint64Var(&o.seed, "seed", defaultSeed, "random seed: a `NUMBER`")
	f.Int64Var(&o.maxEvals, "max-evals", 0, "evaluate at most `N` combinations; 0 leaves it to the method")
	f.StringVar(&o.learned, "learned", "", "`FILE` written by learn, whose corrections are used; without it the one "+
		"beside the drawer, with \"\" none")
	f.StringVar(&o.format, "format", "table", "`FORM` of the result: "+strings.Join(formats, ", "))
	f.StringVar(&o.output, "output", "", "write the result to a `FILE` instead of the standard output")
	f.BoolVar(&o.quiet, "quiet", false, "say nothing but the result and errors")
	for flag, values := range map[string][]string{"format": formats, "method": methods} {
		_ = root.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
	}
	_ = root.RegisterFlagCompletionFunc("style", func(*cobra.Command, []string, string) ([]string,
		cobra.ShellCompDirective) {
		return objective.PresetNames(), cobra.ShellCompDirectiveDefault
	})
}

// check reports what no command can work with.
func (o *sharedOptions) check(c *cobra.Command) error {
	o.altitudeGiven = c.Flags().Changed("altitude-m")
	o.temperatureGiven = c.Flags().Changed("temperature-c")
	o.learnedGiven = c.Flags().Changed("learned")
	switch {
	case !slices.Contains(formats, o.format):
		return fmt.Errorf("--format must be one of %s, got %q", strings.Join(formats, ", "), o.format)
	case !slices.Contains(methods, o.method):
		return fmt.Errorf("--method must be one of %s, got %q", strings.Join(methods, ", "), o.method)
	case o.top < 1 || o.top > mostTop:
		return fmt.Errorf("--top must be from 1 to %d, got %d", mostTop, o.top)
	case o.maxEvals < 0:
		return fmt.Errorf("--max-evals must be over 0 (or 0 to leave it to the method), got %d", o.maxEvals)
	case o.altitudeGiven && !inside(o.altitudeM, -500, 9000):
		return fmt.Errorf("--altitude-m must be from -500 to 9000, got %g", o.altitudeM)
	case o.temperatureGiven && !inside(o.temperatureC, -40, 60):
		return fmt.Errorf("--temperature-c must be from -40 to 60, got %g", o.temperatureC)
	case c.Flags().Changed("weights") && o.weights == "":
		return fmt.Errorf("--weights names no axis: write AXIS=NUMBER, such as grip=4,endurance=1, or leave it out")
	case c.Flags().Changed("output") && o.output == "":
		return fmt.Errorf("--output names no file; leave it out to write to the standard output")
	case c.Flags().Changed("drawer") && o.drawer == "":
		return fmt.Errorf("--drawer names no file; leave it out to read the embedded example drawer")
	}
	return nil
}

func inside(x, low, high float64) bool { return x >= low && x <= high && !math.IsNaN(x) }

// problem is what the shared options ask to search for.
func (s *session) problem() (*space.Problem, error) {
	style, err := s.loadStyle(s.options.style)
	if err != nil {
		return nil, err
	}
	drawer, err := s.loadDrawer()
	if err != nil {
		return nil, err
	}
	air, err := drawer.Air.SI()
	if err != nil {
		return nil, dataError{err}
	}
	return &space.Problem{Drawer: drawer, Air: air, Style: style, With: s.options.with}, nil
}

// ask is the question that the shared options put, with a bar if its search takes long.
func (s *session) ask() (*answer.Ask, error) {
	p, err := s.problem()
	if err != nil {
		return nil, err
	}
	return &answer.Ask{Problem: p, Search: s.searchOptions(), Head: s.head()}, nil
}

func (s *session) searchOptions() search.Options {
	s.bar = newProgress(s.streams.Err, s.streams.ErrTerminal && !s.options.quiet, "searching")
	return search.Options{Method: search.Method(s.options.method), Top: s.options.top, Seed: s.options.seed,
		MaxEvals: s.options.maxEvals, Progress: s.bar.at}
}

// quietly reads something without a remark.
func (s *session) quietly(read func(*session) (*inventory.Drawer, error)) (*inventory.Drawer, error) {
	quiet := s.options.quiet
	s.options.quiet = true
	defer func() { s.options.quiet = quiet }()
	return read(s)
}

// asked tells the command line what an answer refused.
func asked(err error) error {
	var ask answer.AskError
	var drawer answer.DrawerError
	switch {
	case errors.As(err, &ask):
		return usageError{err}
	case errors.As(err, &drawer):
		return dataError{err}
	}
	return err
}
