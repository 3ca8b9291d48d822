package session

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/objective"
)

// Options are the flags that every command takes.
type Options struct {
	Drawer, Style, Weights string
	Limits, With           []string
	AltitudeM              float64
	TemperatureC           float64
	Top                    int
	Method                 string
	Seed                   uint64
	MaxEvals               int64
	Learned                string
	Format, Output         string
	Quiet                  bool

	AltitudeGiven, TemperatureGiven, LearnedGiven bool
}

const (
	defaultStyle = "freestyle"
	defaultTop   = 10
	defaultSeed  = 1
	mostTop      = 10000
)

// Formats and Methods are the values of --format and --method.
var (
	Formats = []string{"table", "json", "csv", "markdown"}
	Methods = []string{"auto", "exact", "genetic"}
)

// Register gives a command and all below it the flags.
func (o *Options) Register(root *cobra.Command) {
	f := root.PersistentFlags()
	f.SortFlags = false
	f.StringVar(&o.Drawer, "drawer", "", "`FILE` that lists your parts; without it the embedded example drawer is read")
	f.StringVar(&o.Style, "style", defaultStyle, "way of flying: "+strings.Join(objective.PresetNames(),
		", ")+" or a style `NAME|FILE`")
	f.StringVar(&o.Weights, "weights", "", "`AXIS=N,...` instead of the style's weights, such as grip=4,endurance=1; "+
		"axes not named weigh 0")
	f.StringArrayVar(&o.Limits, "limit", nil, "`FIGURE=RANGE` to keep, such as all_up_g=..250 or style_minutes=3..; "+
		"may be repeated")
	f.StringArrayVar(&o.With, "with", nil, "`ROLE` of an optional extra to carry, such as camera; may be repeated")
	f.Float64Var(&o.AltitudeM, "altitude-m", 0, "altitude of the flying site in `METRES` instead of the drawer's")
	f.Float64Var(&o.TemperatureC, "temperature-c", 0, "temperature there in `DEGREES` Celsius instead of the drawer's")
	f.IntVar(&o.Top, "top", defaultTop, "show the best `N` builds")
	f.StringVar(&o.Method, "method", "auto", "search `METHOD`: "+strings.Join(Methods, ", "))
	f.Uint64Var(&o.Seed, "seed", defaultSeed, "random seed: a `NUMBER`")
	f.Int64Var(&o.MaxEvals, "max-evals", 0, "evaluate at most `N` combinations; 0 leaves it to the method")
	f.StringVar(&o.Learned, "learned", "", "`FILE` written by learn, whose corrections are used; without it the one "+
		"beside the drawer, with \"\" none")
	f.StringVar(&o.Format, "format", "table", "`FORM` of the result: "+strings.Join(Formats, ", "))
	f.StringVar(&o.Output, "output", "", "write the result to a `FILE` instead of the standard output")
	f.BoolVar(&o.Quiet, "quiet", false, "say nothing but the result and errors")
	for flag, values := range map[string][]string{"format": Formats, "method": Methods} {
		_ = root.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
	}
	_ = root.RegisterFlagCompletionFunc("style", func(*cobra.Command, []string, string) ([]string,
		cobra.ShellCompDirective) {
		return objective.PresetNames(), cobra.ShellCompDirectiveDefault
	})
}

// Check reports what no command can work with.
func (o *Options) Check(c *cobra.Command) error {
	o.AltitudeGiven = c.Flags().Changed("altitude-m")
	o.TemperatureGiven = c.Flags().Changed("temperature-c")
	o.LearnedGiven = c.Flags().Changed("learned")
	switch {
	case !slices.Contains(Formats, o.Format):
		return fmt.Errorf("--format must be one of %s, got %q", strings.Join(Formats, ", "), o.Format)
	case !slices.Contains(Methods, o.Method):
		return fmt.Errorf("--method must be one of %s, got %q", strings.Join(Methods, ", "), o.Method)
	case o.Top < 1 || o.Top > mostTop:
		return fmt.Errorf("--top must be from 1 to %d, got %d", mostTop, o.Top)
	case o.MaxEvals < 0:
		return fmt.Errorf("--max-evals must be over 0 (or 0 to leave it to the method), got %d", o.MaxEvals)
	case o.AltitudeGiven && !Inside(o.AltitudeM, -500, 9000):
		return fmt.Errorf("--altitude-m must be from -500 to 9000, got %g", o.AltitudeM)
	case o.TemperatureGiven && !Inside(o.TemperatureC, -40, 60):
		return fmt.Errorf("--temperature-c must be from -40 to 60, got %g", o.TemperatureC)
	case c.Flags().Changed("weights") && o.Weights == "":
		return fmt.Errorf("--weights names no axis: write AXIS=NUMBER, such as grip=4,endurance=1, or leave it out")
	case c.Flags().Changed("output") && o.Output == "":
		return fmt.Errorf("--output names no file; leave it out to write to the standard output")
	case c.Flags().Changed("drawer") && o.Drawer == "":
		return fmt.Errorf("--drawer names no file; leave it out to read the embedded example drawer")
	}
	return nil
}

// Inside reports whether a number lies in a range, its ends included.
func Inside(x, low, high float64) bool { return x >= low && x <= high && !math.IsNaN(x) }
