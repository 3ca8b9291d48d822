// Package topics holds the texts that help shows beside the commands, with the words by which pilots look for them.
package topics

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"partsaloft/cmd/internal/answer/catalogue/phrase"
	"partsaloft/cmd/internal/render"
	"partsaloft/objective"
	"partsaloft/physics/figure"
)

// New are texts that help shows beside the commands.
func New() []*cobra.Command {
	topic := func(name, short, long, words string) *cobra.Command {
		return &cobra.Command{Use: name, Short: short, Long: long, Aliases: strings.Fields(words)}
	}
	return []*cobra.Command{
		topic("start", "Your own drawer in five minutes", startTopic,
			"begin beginner quickstart tutorial list first getting-started"),
		topic("drawer", "How a drawer is written", drawerTopic,
			"inventory parts part yaml file keys key count counts extras extra camera vtx video receiver antenna adapter units"),
		topic("packs", "What to write about packs, plugs and wear", packsTopic,
			"pack battery batteries lipo lihv liion li-ion cells cell mah capacity c-rating c resistance ir sag plug plugs "+
				"connector xt30 xt60 ph2 cycles puffed worn"),
		topic("motors", "What to write about motors and boards", motorsTopic,
			"motor kv stator esc escs board boards fc aio stack amps current pwm poles magnets"),
		topic("props", "What to write about props and frames", propsTopic,
			"prop propeller propellers pitch blade blades diameter frame frames whoop duct ducts wheelbase arm arms"),
		topic("weight", "Weight, weight classes, and what to weigh", weightTopic,
			"mass grams gram auw all-up scale class classes heavy light 250g sub250"),
		topic("style", "How a style is written", styleTopic(),
			"weights limits limit preset presets flying wish wishes race freestyle cruise indoor hall"),
		topic("score", "How the score is made, and how the list is found", scoreTopic,
			"scores scoring ranking points axis axes grip endurance smoothness speed desirability search method exact genetic"),
		topic("throttle", "Throttle caps, currents and heat", throttleTopic,
			"cap caps duty display osd heat hot temperature overheat overheating burn desync erpm punch safe"),
		topic("figures", "What each figure means and how far to trust it", figuresTopic(),
			"figure numbers value values meaning columns column hover minutes time range thrust t/w"),
		topic("certainty", "What the program is sure of, and what it cannot separate", certaintyTopic,
			"trust uncertainty uncertain sure likely interval intervals toss-up close confidence"),
		topic("errors", "Measured errors: how far predictions were off", errorsTopic(),
			"error accuracy accurate validation validated measured evidence bias"),
		topic("readings", "What to measure and how to log it", readingsTopic,
			"reading log logs logging measure measuring flights telemetry learned correct calibrate"),
		topic("physics", "What is computed, and what is left out", physicsTopic,
			"model models method-of-prediction theory computation assumptions aerodynamics simulation"),
		topic("formats", "JSON, CSV, Markdown, spreadsheets and the offline page", formatsTopic,
			"format csv json markdown spreadsheet sheet html offline phone output"),
		topic("exit-codes", "What the exit codes say", exitTopic,
			"exit code codes status script scripts"),
	}
}

func styleTopic() string {
	return `A style says what you want and how you fly. The built-in ones are
` + phrase.Words(objective.PresetNames()) + `; "partsaloft styles" shows them.
A style of your own is a YAML file:

  name: onshore
  weights: {top_speed: 3, grip: 3, endurance: 2}
  limits:
    all_up_g: ..200          # at most
    style_minutes: 4..       # at least
  required_roles: [camera]
  flying:
    speed_mps: 10            # speed in turns and pull-outs
    landing_cell_v: 3.5      # leave out for the usual one
    reserve_pct: 20
    segments:                # shares of the time, adding up to 100
      - {kind: hover, share_pct: 10}
      - {kind: cruise, share_pct: 55, speed_mps: 11}
      - {kind: turn, share_pct: 32, speed_mps: 11, load_factor: 1.5}
      - {kind: punch, share_pct: 3}

Use speed_pct and load_pct instead of speed_mps and load_factor to fly each build as hard as its
motors, props and cells allow: shares of its top speed and of its spare thrust. That way one style
means the same for a whoop and a 5-inch. The built-in styles are written so, except indoor.

Weights are shares of the score; an axis without a weight does not count. Any figure can have a
limit (see "partsaloft help figures"). --weights and --limit change a style for one run.`
}

func figuresTopic() string {
	var b strings.Builder
	b.WriteString(`Every figure has a value, a likely range (8 of 10 such crafts fall inside it) and a basis: measured,
label or estimated, whichever input is weakest. A wide range means that the label says little. To
narrow it, weigh parts, take one reading on a stand, and read the resistance of the pack.
`)
	for g := range figure.GroupCount {
		b.WriteString("\n" + g.String() + "\n")
		for _, f := range figure.In(g, figure.Listed) {
			about := fmt.Sprintf("%s (%s): %s %s %s", f.Key, cmp.Or(f.Unit, "no unit"), f.Meaning, f.Method, f.Trust)
			b.WriteString("  " + render.Wrap(about, render.Width-2, "      ") + "\n")
		}
	}
	return strings.TrimRight(b.String(), "\n")
}
