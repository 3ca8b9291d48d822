package learn

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/uncertain"
)

// hangar is an invented drawer: two motors, props of two series, three packs, two frames.
const hangar = `
air: {altitude_m: 100, temperature_c: 15}
motors:
  - {id: m12, stator: "1204", kv: 6700, mass_g: 5.3, cells: [2, 3]}
  - {id: m14, stator: "1404", kv: 3900, cells: [3, 4]}
props:
  - {id: fine, size: 2.5x1.8x3, series: wing}
  - {id: steep, size: 2.5x2.2x3, series: wing}
  - {id: broad, size: 3.5x2.2x3}
packs:
  - {id: two, size: 2S 560 70C, mass_g: 28}
  - {id: three, size: 3S 450 75C}
  - {id: four, size: 4S 650 95C, mass_g: 76}
frames:
  - {id: small, mass_g: 22, max_prop_in: 2.5}
  - {id: large, mass_g: 48, max_prop_in: 3.5}
boards:
  - {id: b14, esc_current_a: 14, cells: [2, 3]}
  - {id: b25, esc_current_a: 25, cells: [2, 6], mass_g: 8}
extras:
  - {id: cam, role: camera, mass_g: 2, use: always}
  - {id: vtx, role: video, mass_g: 2.5, use: always}
log:
  - {date: 2030-03-01, parts: {motor: m12, prop: fine, pack: two, frame: small, board: b14, extras: [cam, vtx]}, all_up_g: 80, hover_throttle_pct: 35, hover_current_a: 3}
  - {date: 2030-03-02, parts: {motor: m12, prop: steep, pack: two, frame: small, board: b14, extras: [cam, vtx]}, hover_throttle_pct: 35, flight_minutes: 4, flown: cruise, landing_cell_v: 3.5}
  - {date: 2030-03-03, parts: {motor: m12, prop: fine, pack: three, frame: small, board: b14, extras: [cam, vtx]}, all_up_g: 90, full_throttle_current_a: 20, loaded_cell_v: 3.5}
  - {date: 2030-03-04, parts: {motor: m14, prop: broad, pack: four, frame: large, board: b25, extras: [cam, vtx]}, all_up_g: 200, hover_throttle_pct: 30, hover_current_a: 4, full_throttle_current_a: 40, loaded_cell_v: 3.6}
  - {date: 2030-03-05, parts: {motor: m14, prop: broad, pack: four, frame: large, board: b25, extras: [cam, vtx]}, flight_minutes: 5, flown: cruise, used_mah: 520, landing_cell_v: 3.5}
  - {date: 2030-03-06, parts: {motor: m14, prop: broad, pack: three, frame: large, board: b25, extras: [cam, vtx]}, hover_throttle_pct: 40, flight_minutes: 4, flown: hard, used_mah: 380}
`

func mustRead(t testing.TB, text string) *inventory.Drawer {
	t.Helper()
	d, err := inventory.Read("hangar.yaml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("\n%v", err)
	}
	return d
}

func someWays() Ways {
	return Ways{
		"cruise": {SpeedMS: 9, Segments: physics.EasySegments()}, "freestyle": {SpeedMS: 12,
			Segments: physics.MixedSegments()},
		"race": {SpeedMS: 16, Segments: physics.HardSegments()}, "indoor": {SpeedMS: 3, Segments: physics.IndoorSegments()},
	}
}

// invent draws hidden factors for everything in a log and replaces its readings by what a craft
// with these factors shows, read with the errors of the table. It returns false where such a craft
// cannot do what the log says.
func (g *evidence) invent(rng *rand.Rand) (truth []float64, ok bool) {
	truth = make([]float64, len(g.list))
	for i := range truth {
		truth[i] = rng.NormFloat64()
	}
	for _, s := range g.observations {
		shows, ok := predictions(s, truth)
		if !ok {
			return nil, false
		}
		list := s.read()
		for i := range list {
			r := &list[i]
			scale := r.sd()
			x := r.unscaled(shows[i] + scale*rng.NormFloat64())
			if readings[r.Key].relative {
				r.SD = scale * x
			}
			r.Measured = x
		}
	}
	return truth, true
}

// band is the binomial band around a share of n that holds all but a part alpha of cases.
func band(n int, share, alpha float64) (low, high int) {
	b := distuv.Binomial{N: float64(n), P: share}
	for low = 0; b.CDF(float64(low)) < alpha/2; low++ {
	}
	for high = low; b.CDF(float64(high)) < 1-alpha/2; high++ {
	}
	return low, high
}

// Property: of hidden factors drawn from the prior, the share that lies inside the 80 % intervals
// is the one that so many runs let one expect. Each run tries one of the inputs of which the
// readings tell most, in turn: the share of runs lies in the binomial 95 % band. For each input by
// itself the band is the one in which all together lie in 95 % of cases. Left-out entries are
// predicted better on average than by the parts' figures.
func TestHiddenFactorsAreRecovered(t *testing.T) {
	if testing.Short() {
		t.Skip("draws many truths")
	}
	runs := longRuns(40, 100)
	rng := rand.New(rand.NewPCG(1, 2))
	g, err := gather(t.Context(), mustRead(t, hangar), someWays())
	if err != nil {
		t.Fatal(err)
	}
	inside, left := make([][]bool, len(g.targets)), make([]float64, len(g.targets))
	for i := range inside {
		inside[i] = make([]bool, runs)
	}
	var out CrossCheck
	worse := 0
	for run := 0; run < runs; {
		truth, ok := g.invent(rng)
		if !ok {
			continue
		}
		p, err := g.fit(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for i := range g.targets {
			mean, sd := p.moments(g.targets[i].row)
			inside[i][run] = math.Abs(g.targets[i].row.at(truth)-mean) < uncertain.HalfWidth()*sd
			left[i] += sd / g.targets[i].priorSD / float64(runs)
		}
		g.priorOnly = nil // the readings have changed
		l, _ := g.leaveOneOut(p)
		out.Before += l.Before / float64(runs)
		out.After += l.After / float64(runs)
		if l.After > l.Before {
			worse++
		}
		run++
	}
	low, high := band(runs, 0.8, 0.05)
	lowest, highest := band(runs, 0.8, 0.05/float64(len(g.targets)))
	var told []int
	sum := 0
	for i := range g.targets {
		s := &g.targets[i]
		n := 0
		for _, in := range inside[i] {
			if in {
				n++
			}
		}
		sum += n
		t.Logf("%s %s %s: inside in %d of %d runs, %.0f %% of the doubt left", s.kind, s.id, InputKey(s.kind, s.input), n,
			runs, 100*left[i])
		if n < lowest || n > highest {
			t.Errorf("%s %s %s: inside in %d of %d runs, %d to %d expected", s.kind, s.id, InputKey(s.kind, s.input), n, runs,
				lowest, highest)
		}
		if left[i] < 0.8 {
			told = append(told, i)
		}
	}
	if len(told) < 8 {
		t.Fatalf("the log tells of %d inputs only", len(told))
	}
	recovered := 0
	for run := range runs {
		if inside[told[run%len(told)]][run] {
			recovered++
		}
	}
	t.Logf("recovered in %d of %d runs; inside in all: %.3f; left out: %.3f before, %.3f after, worse in %d runs",
		recovered, runs, float64(sum)/float64(runs*len(g.targets)), out.Before, out.After, worse)
	if recovered < low || recovered > high {
		t.Errorf("recovered in %d of %d runs, %d to %d expected", recovered, runs, low, high)
	}
	if out.After >= out.Before {
		t.Errorf("left-out entries are off by %.3f before and %.3f after", out.Before, out.After)
	}
}
