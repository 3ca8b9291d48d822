package session

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// Options are the values of the shared flags.
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

// Check reports what no command can work with.
func (o *Options) Check(c *cobra.Command) error {
	o.AltitudeGiven = c.Flags().Changed("altitude-m")
	o.TemperatureGiven = c.Flags().Changed("temperature-c")
	o.LearnedGiven = c.Flags().Changed("learned")
	o.plain()
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
		return fmt.Errorf("--drawer names no file; leave it out to read %s in this folder, or the embedded example", DrawerHere)
	}
	return nil
}

// plain writes the values in small letters whose words are known, as they are compared.
func (o *Options) plain() {
	lower := strings.ToLower
	o.Format, o.Method, o.Weights = lower(o.Format), lower(o.Method), lower(o.Weights)
	for _, list := range [][]string{o.Limits, o.With} {
		for i := range list {
			list[i] = lower(list[i])
		}
	}
}

// Inside reports whether a number lies in a range, its ends included.
func Inside(x, low, high float64) bool { return x >= low && x <= high && !math.IsNaN(x) }
