package topics

const startTopic = `1. List your parts in a text file, one per line, in your own words:

  motor 1404 3800kv 9.3g x4
  props 3x2.5x3 x8
  4S 650 75C XT30 x2
  frame 3 inch 31g
  AIO 20A 2-4S 25.5x25.5 8g

2. "partsaloft new drawer.yaml parts.txt" turns the list into a drawer and says how it read each line.
   A spreadsheet works too: "partsaloft import" reads CSV.
3. "partsaloft add drawer.yaml" followed by a part in quotes adds one more.
4. "partsaloft check --drawer drawer.yaml" lists every error with its line and how to fix it.
5. "partsaloft rank --drawer drawer.yaml --style cruise" says what to build.

Weigh what you can: a scale is the cheapest way to better numbers. Leave out what you do not know;
it is estimated, and the likely range says how well.`

const drawerTopic = `A drawer is a YAML file that lists what you own. Start one with "partsaloft new FILE", add to it
with
"partsaloft add", check it with "partsaloft check". "partsaloft schema drawer" lets an editor
complete keys.

Units are in the keys (mass_g, size_mm), so values are bare numbers; an unknown key is an error.
Write what you know and leave out the rest: a gap is estimated and its uncertainty shown, a guess
counts as knowledge.

  motors   id, stator, kv needed             see "partsaloft help motors"
  props    id, size needed                   see "partsaloft help props"
  packs    id, size needed                   see "partsaloft help packs"
  frames   id and max_prop_in or motor_spacing_mm needed
  boards   id, esc_current_a, cells needed   flight controller with its ESCs
  extras   id, role, mass_g needed           cameras, video, receivers, antennas, adapters ...
  air      altitude_m, temperature_c or pressure_hpa where you fly
  fleet    crafts that fly already, by name and parts
  log      what you measured                 see "partsaloft help readings"

count is in pieces: a quad takes four motors and four props. Without count, enough for one craft is
assumed. Two kinds of motor with nearly the same kV are paired automatically and named a~b.

Extras: use: always puts one on every craft, use: optional only when asked for (--with), use: with
only on the frames or boards named. Without use, the lightest camera, video transmitter, receiver
and antenna that fit go on board.`

const packsTopic = `A pack needs id and size, such as 4S 1300 100C. For Li-ion rated in amps write 6S 4000 and
discharge_a. Without a rating a low one is assumed, 25C (Li-ion 5C), which caps the throttle early.

  mass_g                 weigh it with lead and plug
  cell_resistance_mohm   per cell, from the charger, pack warm: says more about sag than the C rating
  connector              XT30, XT60, PH 2.0 ...; both the plug and its current are checked
  cycles, condition      sound: fly it anyway; retired: never fly it
  note                   puffed, swollen, dented or damaged packs are told to be retired

C ratings over 75 are usually inflated, so sag is predicted from resistance as well. The weaker of
the two C ratings counts when they contradict each other. Plug limits are what pilots pull through
them in flight and for a few seconds; a caution says when the datasheet says less.

Which pack suits a craft: "partsaloft explain 1 --packs". Heavier packs often cost more than they
give.`

const motorsTopic = `A motor needs id, stator (1404 is 14 mm wide, 4 mm high) and kv.

  cells            [2, 4], or 4S for up to four; too many cells burn it at once
  mass_g           one motor with its leads
  max_current_a    from its sheet; without it the limit is estimated from size and kV
  prop_mount, shaft_mm, hole_pattern_mm   decide what fits
  bench            readings from a thrust stand; even one corrects the motor

A board is a flight controller with its ESCs and needs id, esc_current_a (continuous, of one ESC)
and cells. esc_burst_a counts for punches; without it 1.2 times the continuous current is allowed.
stack_mm decides what fits: 30x30 means 30.5. pwm_khz is the switching frequency: higher ones cost
small motors less.

"partsaloft bench" predicts what a motor and a prop would show on a thrust stand.`

const propsTopic = `A prop needs id and size: diameter x pitch x blades, such as 5.1x4.3x3 or 65mm x 1.2 x 3. Whoop
props may leave out pitch: size 31mm and blades.

  mass_g, bore_mm, mount (screws, nut, press)   the last two decide what fits
  directions       {cw: 4, ccw: 4}
  series           your name for a line of props: what is learned about one helps the others
  blade_stations   blade width by ruler at 75 % of the radius: thrust to 6 % instead of 11
  bench            one thrust reading at a known rpm: thrust to 2 %

A frame needs id and max_prop_in or motor_spacing_mm (between neighbouring motors, shaft to shaft).
max_prop_in: 5 is a class and takes 5.1 and 5.2; ducts take no more than they say. hole_pattern_mm,
stack_mm, camera_width_mm and pack_max_mm decide what fits. body: streamlined means one closed
shell.`

const weightTopic = `Weigh every part and the craft ready to fly: weight moves everything else, and a scale is cheap.
What has no mass_g is estimated from its size, within about 10 % for motors and 20 % for packs.

  keep under a weight     --limit all_up_g=..250
  grams left in a class   "partsaloft explain 1 --class-g 250", with the swaps that get it under
  grams for seconds       "partsaloft explain 1 --packs" shows the seconds gained per gram of pack
  what if                 "partsaloft vary 1 --change craft.mass_g=+12"

Class limits are set by local law; where a build may be just over one, the answer says to weigh it.`

const scoreTopic = `Each figure gets a mark from 0 to 100 on a range that is the same for every drawer and style. The
marks of an axis (grip, endurance, smoothness, top speed) are averaged as a geometric mean, and the
axes by their weights, so one very bad axis pulls the whole score down. "partsaloft styles" shows
ranges and weights.

A score of 100 would need everything at once, which no craft reaches. Compare scores within one
style.

A row of "partsaloft rank" is a motor, a prop and a pack on the best board and frame; --variants
lists the others. Up to 20,000 combinations are all checked; beyond that, branch and bound proves
the list, or says that it could not. --method exact or genetic asks for one of them.

"beats rank 2 in about 55 of 100 cases": the parts may differ from their labels; in 55 of 100 such
cases the first scores higher. Under 70 is too close to call; see "partsaloft help certainty".`

const throttleTopic = `The throttle cap is the highest throttle that pack, ESCs, plug, motors and cell voltage all allow
for a few seconds on a full pack. Set it in software and check it before the first punch. Continuous
ratings are held against the mean current of the flight.

duty is the motor output; what a display shows can differ, so the cap is given for the display as
well. Log throttle_kind (output, thrust or signal) with your hover throttle.

Heat: windings over 100 °C all along, or over 220 °C after a punch, age or burn. Where max_current_a
is not given, the limit is an estimate: ask the maker, keep punches short, and check motor
temperature after landing, disarmed and unplugged. Over some 350 thousand eRPM ESCs may desync.

Hover throttle under 12 % is twitchy, over 50 % leaves little for turns and gusts.`

const readingsTopic = `From the cheapest, and what each is worth:

  scale           every part, and the craft ready to fly
  hover rpm       at a known weight: a prop's thrust is known to 4 % instead of 12
  hover current   power at higher thrust is known to 4.5 % instead of 11
  ruler           blade width at 75 % of the radius: thrust to 6 %
  charger         cell resistance of the pack, warm
  thrust stand    one reading: thrust and torque to 2 %; last, because it takes an hour

Write what you read in the drawer, one entry per flight:

  log:
    - date: 2031-03-21
      parts: {motor: m1303.5-51, prop: p2-24x3, pack: k4s-470, frame: f2-dory, board: b22-24}
      all_up_g: 113.5
      hover_throttle_pct: 33
      throttle_kind: output
      flight_minutes: 3.4
      flown: freestyle
      landing_cell_v: 3.5

"partsaloft learn" corrects the parts and says which reading does not fit. It writes a file beside the
drawer that every command uses; the drawer itself is not changed.`

const physicsTopic = `Props: blade-element momentum theory at low Reynolds numbers, from the label, a ruler or bench readings;
one law for multirotor props, another for those of model aeroplanes.
Motors: torque constant, losses, and a resistance that grows with speed.
ESCs: losses at part throttle and current ripple. Packs: open-circuit curve, resistance, sag, plug.
Together: hover, full throttle, level flight against drag, turns, pull-outs, response, and flights
made of hover, cruise, turns and punches until the reserve or the landing voltage.

What a label leaves out is estimated by laws fitted to published measurements, each with its
uncertainty.

Left out: ground effect, ducts, rotors disturbing each other, gusts, compressibility, packs warming
up. Descent in the craft's own wake is an average from measurements.`

const formatsTopic = `--format table is for people; json, csv and markdown hold the same result. --output writes a file,
whole or not at all, never over a file that was read.

"partsaloft export" writes a list of parts as CSV for a spreadsheet, "partsaloft import" brings it back;
headings such as Name, Qty, Weight (g) are understood. "partsaloft check --fix" writes a tidied
copy.
"partsaloft page" writes one HTML file that works offline, on a phone too.
"partsaloft schema drawer" prints a JSON Schema for an editor.`

const exitTopic = `0    done
1    something else failed, such as a full disk
2    the command line is wrong
3    a drawer, style or log has errors; each is listed with file, line and column
4    nothing can be flown; the reasons and the closest builds are shown
130  interrupted`

// certaintyTopic holds figures that "go run ./physics/internal/fit FOLDER calibration" prints.
const certaintyTopic = `How far to trust a ranking, measured on thrust stands, props and flights that the laws were not
fitted to.

Can be told apart
  thrust and current at a given throttle: two props on one motor are put in the right order in 8 to
  9 of 10 cases, two motors in 9, builds that differ in both in about 8. Props by thrust and torque
  at a given rpm: 7 to 9.

Too close to call
  power at a given thrust, and so hover time at a given weight, of similar props and motors: no better
  than a coin. The answer mostly says so: under 70 of 100 cases. Where it said 75, 44 were right.
  Choose by weight, feel or price, or take a reading.

What the numbers are worth
  said to win in 65 of 100 cases: right in 65; 75: 75; 85: 86; 97: 97.
  A likely range holds in about 8 of 10 cases. Flying time is off by a fifth, one time in ten by half.

"partsaloft help errors" lists the measured errors, "partsaloft help readings" what to measure first.`
