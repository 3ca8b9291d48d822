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
	topic := func(name, short, long string) *cobra.Command {
		return &cobra.Command{Use: name, Short: short, Long: long}
	}
	return []*cobra.Command{
		topic("drawer", "How a drawer is written", drawerTopic),
		topic("style", "How a style is written", styleTopic()),
		topic("figures", "What each figure means and how far to trust it", figuresTopic()),
		topic("certainty", "What the program can tell apart, and what it cannot", certaintyTopic),
		topic("exit-codes", "What the exit codes say", exitTopic),
	}
}

const drawerTopic = `A drawer is a YAML file that lists what you own. "partsaloft new FILE" writes one to fill in,
"partsaloft add FILE PART" appends a part from free text, "partsaloft check" reads it over, and
"partsaloft schema drawer" gives an editor what it needs to complete keys.

Units stand in the keys (mass_g, size_mm), numbers are bare, unknown keys are faults. Write what you
know and leave out the rest: a gap is estimated with its doubt, a guess is taken for knowledge.

  motors   id, stator and kv are needed; cells ([2, 4], or 6S for up to six), mass_g, resistance_mohm
           and a bench reading help most
  props    id and size (5.1x4.3x3) are needed; whoop props may be 31mm with blades and no pitch;
           mass_g, one bench reading or blade_stations help most
  packs    id and size (4S 1300 100C) are needed, or 6S 4000 with discharge_a for Li-ion rated in amps;
           mass_g and cell_resistance_mohm help most
  frames   id and max_prop_in or motor_spacing_mm are needed; max_prop_in: 5 is a class that takes 5.1
           and 5.2, ducts take no more than they say; hole_pattern_mm and stack_mm (30x30 is 30.5) say
           what fits; body: streamlined is one closed shell
  boards   id, esc_current_a and cells are needed
  extras   id, role and mass_g are needed; use says when they are on board: always, optional, with; left
           out, one camera, video, receiver and antenna goes along, the lightest that fits
  air      altitude_m, temperature_c or pressure_hpa of where you fly
  fleet    crafts that fly already, by name and parts
  log      what was measured in flight; "partsaloft learn" takes it

count is in pieces: a craft with four rotors takes four motors and four props. Left out it is enough for
one craft; an extra that is always on board or goes along is enough for all. A set of two kinds of motor
whose kV lie close is paired automatically and named a~b.`

// certaintyTopic holds figures that "go run ./physics/internal/fit FOLDER calibration" prints.
const certaintyTopic = `How far to trust a ranking, measured on thrust stands, props and flights left out of the fit.

Can be told apart
  thrust and current at a given throttle: the order of two props on one motor is right in 8 to 9 of 10
  cases, of two motors in 9, of two builds that share neither in about 8; props by thrust and by torque
  at a given rpm in 7 to 9.

Too close to call
  power at a given thrust, and so hover time at a given weight, of like props and motors: the order is
  no better than a coin. The program mostly says so: under 70 of 100. Where it said 75, 44 were right.
  Choose by weight, feel or price, or take a reading.

What its numbers are worth
  said to win in 65 of 100: right in 65; 75: 75; 85: 86; 97: 97.
  A likely range holds in about 8 of 10 cases. Flying time errs by a fifth, in one of ten cases by half.

What to read first, from the cheapest
  scale            every part, and the craft ready to fly
  hover rpm        at a known weight: a prop's thrust is known to 4 % instead of 12
  hover current    power at more thrust is known to 4 % instead of 11
  ruler            width of the blade at three quarters of its radius: thrust to 6 %
  thrust stand     one point: thrust and torque to 1 to 3 %; last, for it takes an hour

Log what you read (hover_rpm, hover_current_a, all_up_g); "partsaloft learn" takes it.`

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
    speed_mps: 10            # at which turns and pull-outs are judged
    landing_cell_v: 3.5      # left out, as usual for the craft
    reserve_pct: 20
    segments:                # shares of the time, together 100
      - {kind: hover, share_pct: 10}
      - {kind: cruise, share_pct: 55, speed_mps: 11}
      - {kind: turn, share_pct: 32, speed_mps: 11, load_factor: 1.5}
      - {kind: punch, share_pct: 3}

speed_pct and load_pct, in place of speed_mps and load_factor, are parts of what a build's motors, props
and cells reach: top speed, and thrust to spare over the weight. So one style means the same for a whoop
and a 5-inch; the built-in styles are written that way, but for indoor.

Weights are shares of the score; an axis without one does not count. A limit may be set on any figure
(see "partsaloft help figures"). --weights and --limit change a style for one run.`
}

const exitTopic = `0    the result is complete
1    a failure that is none of the following, such as a disk that is full
2    the command line asks for what there is not
3    a drawer, style or log has faults; each is named with file, line and column
4    nothing is feasible; the reasons and the nearest misses are shown
130  interrupted`

func figuresTopic() string {
	var b strings.Builder
	b.WriteString(`Every predicted figure has a value, the range in which 8 of 10 such crafts lie, and a basis: measured,
label or estimated, the weakest input that matters. The range is how far to trust it: it is wide
where a label says little. A prop's label fixes its thrust to about a tenth and its torque to a
seventh; weighing parts, one reading on a stand and a pack's measured resistance narrow it most.
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
