package series

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/uncertain"
)

// told is one figure's errors in standard deviations over many flights.
type told struct {
	z, relative []float64
	missing     int
}

func (c *told) add(f *Figure, truth float64) {
	if f == nil {
		c.missing++
		return
	}
	c.z = append(c.z, (f.Value-truth)/f.SD)
	c.relative = append(c.relative, f.Value/truth-1)
}

func (c *told) inside() float64 {
	n := 0
	for _, z := range c.z {
		if math.Abs(z) < uncertain.HalfWidth() {
			n++
		}
	}
	return float64(n) / float64(len(c.z))
}

// Independent: flights simulated from the physics, with sensors that are off, come back within their stated doubt.
func TestTruthIsRecovered(t *testing.T) {
	rounds := 8
	if os.Getenv("PARTSALOFT_LONG") != "" {
		rounds = 24
	}
	if n, err := strconv.Atoi(os.Getenv("PARTSALOFT_COUNT")); err == nil {
		rounds = n
	}
	keys := []string{"hover throttle", "hover rpm", "hover current", "hover volts", "resistance", "open volts", "end open volts",
		"used", "mean power over hover", "full current", "full volts", "largest current", "airborne"}
	by := map[string]*told{}
	for _, k := range keys {
		by[k] = &told{}
	}
	wrong, hovers, flown := map[string]int{}, map[string]int{}, 0
	ways := []string{"cruise", "mixed", "hard", "hover"}
	for round := range rounds {
		for i, c := range crafts(t) {
			rng := rand.New(rand.NewPCG(uint64(round), uint64(i)))
			s := newSimulator(&c, rng)
			way := ways[(round+i)%len(ways)]
			hoverW := c.MassKg() * 150
			lasts := math.Min(0.5*c.Pack.CapacityAs*3.7*float64(c.Pack.Cells)/hoverW, 240)
			s.run(plan(rng, way, lasts))
			o := inventSensors(rng)
			at, list := s.shown(&o)
			name := fmt.Sprintf("%d/%d %s", round, i, way)
			r, err := Read(name, strings.NewReader(csv(at, list, &o)), Options{Pack: Pack{Cells: c.Pack.Cells,
				Chemistry: c.Pack.Chemistry, CapacityAs: c.Pack.CapacityAs}})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			f, err := r.Flight()
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			flown++
			s.compare(f, by, wrong, hovers, o.hasMotion)
		}
	}
	for _, k := range keys {
		c := by[k]
		low, high := band(len(c.z))
		if k == "airborne" {
			high = 1 // its ends lie on frames; half a second is a bound
		}
		t.Logf("%-22s n %3d  none %2d  inside %.2f (%.2f to %.2f)  bias %+.3f  rms %.3f  z %.2f", k, len(c.z), c.missing,
			c.inside(), low, high, medianOf(c.relative), rms(c.relative), rms(c.z))
		if x := c.inside(); x < low || x > high || len(c.z) < 10 {
			t.Errorf("%s: inside its 80 %% interval in %.2f of %d, %.2f to %.2f expected", k, x, len(c.z), low, high)
		}
	}
	t.Logf("%d flights; hover found wrong of found: %v of %v", flown, wrong, hovers)
	for kind, most := range map[string]float64{"with motion": 0.01, "without motion": 0.05} {
		if n := float64(wrong[kind]); n > math.Max(most*float64(hovers[kind]), 1) {
			t.Errorf("%s: %g of %d hovers are none", kind, n, hovers[kind])
		}
	}
}

func rms(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(x)))
}

// band is where a share of 77 to 83 % of n lies in 99 % of cases, by the normal approximation.
func band(n int) (low, high float64) {
	half := 2.58 * math.Sqrt(0.8*0.2/float64(max(n, 1)))
	return 0.77 - half, 0.83 + half
}

func (s *simulator) compare(f *Flight, by map[string]*told, wrong, hovers map[string]int, motion bool) {
	index := func(t float64) int { return min(max(int(t/s.stepS), 0), len(s.now)-1) }
	var truth sample
	var power, n, inHover float64
	for _, st := range f.Steady {
		if st.Verdict != Hovers {
			continue
		}
		for k := index(st.FromS); k < index(st.ToS); k++ {
			x := &s.truth[k]
			truth.duty += physics.OutputThrottle.Shown(x.duty)
			truth.rpm += x.rpm
			truth.amps += x.amps
			truth.volts += x.volts
			power += x.amps * x.volts
			n++
			if s.now[k].kind == "hover" {
				inHover++
			}
		}
	}
	kind := "without motion"
	if motion {
		kind = "with motion"
	}
	if n > 0 {
		hovers[kind]++
		if inHover < n/2 {
			wrong[kind]++
		}
	}
	if n > 0 {
		by["hover throttle"].add(f.Hover.ThrottlePct, 100*truth.duty/n)
		if f.Hover.RPM != nil {
			by["hover rpm"].add(f.Hover.RPM, truth.rpm/n)
		}
		if f.Hover.CurrentA != nil {
			by["hover current"].add(f.Hover.CurrentA, truth.amps/n)
		}
		by["hover volts"].add(f.Hover.PackV, truth.volts/n)
	} else {
		by["hover throttle"].missing++
	}
	half := s.ohm
	for _, b := range s.branch {
		half += b.ohm * (1 - math.Exp(-0.5/b.tauS))
	}
	by["resistance"].add(f.Pack.ResistanceOhm, half)
	cells := float64(s.craft.Pack.Cells)
	from, to := -1, 0
	var airPower, air, largest float64
	width := int(0.3 / s.stepS)
	for k := range s.now {
		kind := s.now[k].kind
		if kind == "ground" || kind == "idle" {
			continue
		}
		if from < 0 {
			from = k
		}
		to = k
		airPower += s.now[k].amps * s.now[k].volts
		air++
		if k >= width {
			m := 0.0
			for j := k - width; j < k; j++ {
				m += s.now[j].amps / float64(width)
			}
			largest = math.Max(largest, m)
		}
	}
	used := func(k int) float64 { return s.now[k].used * 3.6 }
	openAt := func(k int) float64 { return cells * s.craft.Pack.Chemistry.CellV(s.startShare-used(k)/s.capacityAs) }
	if f.Pack.OpenV != nil {
		by["open volts"].add(f.Pack.OpenV, openAt(from))
		by["end open volts"].add(f.Pack.EndOpenV, openAt(to))
	}
	by["airborne"].add(&Figure{f.AirborneS, 0.5}, air*s.stepS)
	if f.Load.LargestA == nil {
		return
	}
	by["used"].add(f.Charge.UsedMAh, s.now[to].used)
	if n > 0 {
		by["mean power over hover"].add(f.Load.OverHover, airPower/air/(power/n))
	}
	by["largest current"].add(f.Load.LargestA, largest)
	if f.Load.FullA != nil {
		best, at := 0.0, 0
		for k := range s.now {
			if s.now[k].kind == "punch" && k > width {
				m := 0.0
				for j := k - width; j < k; j++ {
					m += s.now[j].amps / float64(width)
				}
				if m > best {
					best, at = m, k-width/2
				}
			}
		}
		if at > 0 {
			by["full current"].add(f.Load.FullA, best)
			by["full volts"].add(f.Load.FullV, s.now[at].volts)
		}
	}
}
