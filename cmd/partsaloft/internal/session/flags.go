package session

import (
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/objective"
)

// Uses are the shared flags that a command takes.
type Uses uint

// The groups of shared flags.
const (
	UsesDrawer  Uses = 1 << iota // --drawer
	UsesAir                      // --altitude-m, --temperature-c
	UsesLearned                  // --learned
	UsesStyle                    // --style
	UsesGoals                    // --weights, --limit
	UsesExtras                   // --with
	UsesTop                      // --top
	UsesMethod                   // --method, --max-evals
	UsesSeed                     // --seed
	UsesFormat                   // --format
	UsesOutput                   // --output

	// UsesResult are the flags of a command that answers with a document.
	UsesResult = UsesFormat | UsesOutput
	// UsesSearch are those of a command that searches a drawer for builds in a style.
	UsesSearch = UsesDrawer | UsesAir | UsesLearned | UsesStyle | UsesGoals | UsesExtras | UsesMethod | UsesSeed |
		UsesResult
)

// Register gives every command the flags that all take.
func (o *Options) Register(root *cobra.Command) {
	root.PersistentFlags().BoolVarP(&o.Quiet, "quiet", "q", false, "say nothing but the result and errors")
	*o = Options{Style: defaultStyle, Top: defaultTop, Method: Methods[0], Seed: defaultSeed, Format: Formats[0]}
}

// Take gives a command the shared flags that it uses, behind its own.
func (s *Session) Take(c *cobra.Command, uses Uses) *cobra.Command {
	o, f := &s.Options, c.Flags()
	f.SortFlags = false
	for _, one := range []struct {
		uses     Uses
		register func()
	}{
		{UsesDrawer, func() {
			f.StringVarP(&o.Drawer, "drawer", "d", "", "`FILE` that lists your parts, - for the standard input; without it $"+
				DrawerVariable+", then "+DrawerHere+" in this folder, then the embedded example")
		}},
		{UsesStyle, func() {
			f.StringVarP(&o.Style, "style", "s", defaultStyle, "way of flying: "+strings.Join(objective.PresetNames(),
				", ")+" or a style `NAME|FILE`")
		}},
		{UsesGoals, func() {
			f.StringVarP(&o.Weights, "weights", "w", "", "`AXIS=N,...` instead of the style's weights, such as "+
				"grip=4,endurance=1; axes not named weigh 0")
			f.StringArrayVar(&o.Limits, "limit", nil, "`FIGURE=RANGE` to keep, such as all_up_g=..250 or style_minutes=3..; "+
				"may be repeated")
		}},
		{UsesExtras, func() {
			f.StringArrayVar(&o.With, "with", nil, "`ROLE` of an optional extra to carry, such as camera; may be repeated")
		}},
		{UsesAir, func() {
			f.Float64Var(&o.AltitudeM, "altitude-m", 0, "altitude of the flying site in `METRES` instead of the drawer's")
			f.Float64Var(&o.TemperatureC, "temperature-c", 0, "temperature there in `DEGREES` Celsius instead of the drawer's")
		}},
		{UsesTop, func() { f.IntVarP(&o.Top, "top", "n", defaultTop, "show the best `N` builds") }},
		{UsesMethod, func() {
			f.StringVar(&o.Method, "method", Methods[0], "search `METHOD`: "+strings.Join(Methods, ", "))
			f.Int64Var(&o.MaxEvals, "max-evals", 0, "evaluate at most `N` combinations; 0 leaves it to the method")
		}},
		{UsesSeed, func() { f.Uint64Var(&o.Seed, "seed", defaultSeed, "random seed: a `NUMBER`") }},
		{UsesLearned, func() {
			f.StringVar(&o.Learned, "learned", "", "`FILE` written by learn, whose corrections are used; without it the one "+
				"beside the drawer, with \"\" none")
		}},
		{UsesFormat, func() {
			f.StringVarP(&o.Format, "format", "f", Formats[0], "`FORM` of the result: "+strings.Join(Formats, ", "))
		}},
		{UsesOutput, func() {
			f.StringVarP(&o.Output, "output", "o", "", "write the result to a `FILE` instead of the standard output")
		}},
	} {
		if uses&one.uses != 0 {
			one.register()
		}
	}
	return c
}
