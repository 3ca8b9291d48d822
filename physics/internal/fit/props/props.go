// Package props holds the props of the reference tables, what was measured of them, and what physics predicts of them
// from as much as a pilot may know.
package props

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/rotor"
)

const (
	MetresPerInch = 0.0254
	NewtonPerGram = physics.GravityMS2 / 1000
	RPM           = 2 * math.Pi / 60
	// standDensity is taken where a stand's air was not recorded.
	standDensity = 1.19
	paperDensity = 1.17
)

// SizeClass sorts props by what is built like what.
type SizeClass int

const (
	Small  SizeClass = iota // two blades, under 6.5 inch
	Racing                  // multirotor props of three blades and more, and their two-blade likes
	Large                   // 6.5 inch and more
)

func (c SizeClass) String() string { return [...]string{"small", "FPV", "7-9 inch"}[c] }

// Point is one measurement: coefficients CT = T/(rho n² D⁴) and CP = P/(rho n³ D⁵) at an advance
// ratio J = V/(n D). A coefficient of zero was not measured.
type Point struct {
	RPM, Advance, CT, CP float64
}

// Prop is one specimen with all that was measured of it.
type Prop struct {
	ID, Family string
	Class      SizeClass
	Spec       rotor.Spec
	Static     []Point
	Moving     []Point
	Twists     bool // known to twist under load
	Inferred   bool // cp comes from motor currents: it is fitted to, but tries nothing
}

// known faults of the data, from its notes: twisting blades, mislabelled or wrongly read runs.
var (
	twisting = []string{"mi_3.2x2.2", "mi_4x2.7", "mi_5x3.5", "mit_4.3x3.5", "pl_57x20"}
	BadRuns  = []string{
		// 14.7 V runs: thrust 0.72 of other runs of the same props; rpm of 2305-2450.
		"64w", "67w", "9gx", "d4g", "d7g", "d9g", "gy9", "jqw", "k7z", "n7k", "q79", "wwj", "y3r", "z76", "zy6",
		"p3j", "pyr", "dnq", "eqn", "mny", "w4x",
	}
)

// LoadProps reads every prop of the reference folder.
func LoadProps(folder string) ([]Prop, error) {
	var all []Prop
	for _, load := range []func(string) ([]Prop, error){LoadTunnel, loadStand5, loadStand2, loadPaper, loadTables,
		loadStand7,
		loadNano} {
		ps, err := load(folder)
		if err != nil {
			return nil, err
		}
		all = append(all, ps...)
	}
	return all, nil
}

func Label(diameterIn, pitchIn float64, blades int) rotor.Spec {
	return rotor.Spec{DiameterM: diameterIn * MetresPerInch, PitchM: pitchIn * MetresPerInch, Blades: blades}
}

// LoadTunnel reads the wind-tunnel props.
func LoadTunnel(folder string) ([]Prop, error) {
	static, err := reference.Read(folder, "uiuc_static.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm", "ct",
		"cp")
	if err != nil {
		return nil, err
	}
	moving, err := reference.Read(folder, "uiuc_advance.csv", "prop_id", "rpm", "J", "ct", "cp")
	if err != nil {
		return nil, err
	}
	shape, err := reference.Read(folder, "uiuc_geometry.csv", "prop_id", "r_R", "c_R", "beta_deg")
	if err != nil {
		return nil, err
	}
	index := map[string]int{}
	var ps []Prop
	for i := range static.Rows {
		id := static.Text(i, "prop_id")
		k, ok := index[id]
		if !ok {
			k = len(ps)
			index[id] = k
			p := Prop{ID: id, Spec: Label(static.Number(i, "diameter_in"), static.Number(i, "pitch_in"),
				int(static.Number(i, "blades")))}
			p.Family, _, _ = strings.Cut(id, "_")
			p.Spec.MadeFor = rotor.MadeForConventional
			p.Twists = slices.Contains(twisting, id)
			if p.Spec.DiameterM >= 6.5*MetresPerInch {
				p.Class = Large
			}
			ps = append(ps, p)
		}
		ps[k].Static = append(ps[k].Static, Point{RPM: static.Number(i, "rpm"), CT: static.Number(i, "ct"),
			CP: static.Number(i, "cp")})
	}
	for i := range moving.Rows {
		if k, ok := index[moving.Text(i, "prop_id")]; ok {
			ps[k].Moving = append(ps[k].Moving, Point{moving.Number(i, "rpm"), moving.Number(i, "J"), moving.Number(i, "ct"),
				moving.Number(i, "cp")})
		}
	}
	for i := range shape.Rows {
		if k, ok := index[shape.Text(i, "prop_id")]; ok {
			s := &ps[k].Spec
			r := shape.Number(i, "r_R")
			if r > 0.99 {
				continue
			}
			s.Stations = append(s.Stations, rotor.Measurement{RadiusM: r * s.DiameterM / 2,
				ChordM:   shape.Number(i, "c_R") * s.DiameterM / 2,
				AngleRad: shape.Number(i, "beta_deg") * math.Pi / 180})
		}
	}
	for _, t := range []*reference.Table{static, moving, shape} {
		if err := t.Err(); err != nil {
			return nil, err
		}
	}
	return ps, nil
}

// Coefficient turns a stand's reading into CT and CP.
func Coefficient(s rotor.Spec, rpmRead, thrustN, torqueNm, density float64) Point {
	n := rpmRead / 60
	d4 := math.Pow(s.DiameterM, 4)
	return Point{RPM: rpmRead, CT: thrustN / (density * n * n * d4),
		CP: 2 * math.Pi * torqueNm / (density * n * n * d4 * s.DiameterM)}
}

// group gathers a stand's rows by prop, in order of first appearance.
func group(t *reference.Table, family string, id func(row int) (key string, ok bool),
	read func(row int, p *Prop) (Point,
		bool)) []Prop {
	index := map[string]int{}
	var ps []Prop
	for i := range t.Rows {
		key, ok := id(i)
		if !ok {
			continue
		}
		k, seen := index[key]
		if !seen {
			k = len(ps)
			p := Prop{ID: key, Family: family, Class: Racing}
			if _, ok := t.Column["pitch_in"]; ok {
				pitch, _ := t.Maybe(i, "pitch_in")
				p.Spec = Label(t.Number(i, "diameter_in"), pitch, int(t.Number(i, "blades")))
			}
			index[key] = k
			ps = append(ps, p)
		}
		if pt, ok := read(i, &ps[k]); ok {
			ps[k].Static = append(ps[k].Static, pt)
		}
	}
	return slices.DeleteFunc(ps, func(p Prop) bool { return len(p.Static) == 0 || !(p.Spec.PitchM > 0) })
}

// loadStand5 reads the 5-inch stand. Its torque below 9000 rpm is sensor offset.
func loadStand5(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "stand_5in_static.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm",
		"thrust_n", "torque_nm", "test_id")
	if err != nil {
		return nil, err
	}
	ps := group(t, "stand5", func(i int) (string, bool) { return t.Text(i, "prop_id"), true }, func(i int,
		p *Prop) (Point, bool) {
		pt := Coefficient(p.Spec, t.Number(i, "rpm"), t.Number(i, "thrust_n"), t.Number(i, "torque_nm"), standDensity)
		if pt.RPM < 12000 {
			pt.CP = 0
		}
		return pt, pt.RPM > 9000
	})
	return ps, t.Err()
}

// loadStand2 reads the 2-inch stand; its pitch is not stated and taken as 2.4 inch, typical of
// four-blade props of that size (common practice, no source).
func loadStand2(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "stand_2in_static.csv", "prop_id", "diameter_in", "blades", "rpm", "thrust_n",
		"torque_nm")
	if err != nil {
		return nil, err
	}
	ps := group(t, "stand2", func(i int) (string, bool) { return t.Text(i, "prop_id"), true }, func(i int,
		p *Prop) (Point, bool) {
		if p.Spec.PitchM == 0 {
			p.Spec = Label(2, 2.4, 4)
		}
		pt := Coefficient(p.Spec, t.Number(i, "rpm"), t.Number(i, "thrust_n"), t.Number(i, "torque_nm"), standDensity)
		return pt, pt.RPM > 15000
	})
	return ps, t.Err()
}

// loadPaper reads the paper's small multirotor props at their top speed.
func loadPaper(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "small_props_top_speed.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm",
		"thrust_n", "torque_nm")
	if err != nil {
		return nil, err
	}
	ps := group(t, "paper", func(i int) (string, bool) { return t.Text(i, "prop_id"), true }, func(i int,
		p *Prop) (Point, bool) {
		return Coefficient(p.Spec, t.Number(i, "rpm"), t.Number(i, "thrust_n"), t.Number(i, "torque_nm"), paperDensity), true
	})
	return ps, t.Err()
}

// loadTables reads props of the motor stands that give rpm: one prop a source and label. Props
// that the 5-inch stand has already are left out, and so are runs known to be wrong.
func loadTables(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "thrust_tables.csv", "motor", "prop", "diameter_in", "pitch_in", "blades", "thrust_g",
		"rpm", "torque_nm", "source")
	if err != nil {
		return nil, err
	}
	ps := group(t, "", func(i int) (string, bool) {
		source, test, _ := strings.Cut(t.Text(i, "source"), ":")
		motor, prop := t.Text(i, "motor"), t.Text(i, "prop")
		bad := slices.Contains(BadRuns, test) || motor == "2207-2600" && strings.HasPrefix(source, "tyto") ||
			motor == "1806-2500" && (prop == "5x4x2" || prop == "5x4x3b")
		return source + " " + prop, !bad && t.Text(i, "rpm") != ""
	}, func(i int, p *Prop) (Point, bool) {
		torque, _ := t.Maybe(i, "torque_nm")
		grams, ok := t.Maybe(i, "thrust_g")
		pt := Coefficient(p.Spec, t.Number(i, "rpm"), grams*NewtonPerGram, torque, standDensity)
		return pt, ok && pt.RPM > 9000
	})
	for i := range ps {
		ps[i].Family, _, _ = strings.Cut(ps[i].ID, "-")
	}
	return slices.DeleteFunc(ps, func(p Prop) bool { return p.Spec.DiameterM < 1.5*MetresPerInch }), t.Err()
}

// Thinned are n points spread evenly over the upper part of the rpm range, of the static ones.
func Thinned(ps []Point, n int) []Point {
	s := slices.Clone(ps)
	slices.SortStableFunc(s, func(a, b Point) int { return cmp.Compare(a.RPM, b.RPM) })
	s = s[len(s)/4:]
	if len(s) <= n {
		return s
	}
	out := make([]Point, n)
	for i := range n {
		out[i] = s[i*(len(s)-1)/(n-1)]
	}
	return out
}

// Sweeps are the moving points of the two fastest rpm settings with enough of them, n each.
func Sweeps(ps []Point, n int) []Point {
	s := slices.Clone(ps)
	slices.SortStableFunc(s, func(a, b Point) int { return cmp.Compare(a.RPM, b.RPM) })
	var sets [][]Point
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j].RPM < 1.03*s[i].RPM {
			j++
		}
		if j-i >= 5 {
			sets = append(sets, s[i:j])
		}
		i = j
	}
	var out []Point
	for _, set := range sets[max(0, len(sets)-2):] {
		slices.SortStableFunc(set, func(a, b Point) int { return cmp.Compare(a.Advance, b.Advance) })
		for i := range n {
			out = append(out, set[i*(len(set)-1)/(n-1)])
		}
	}
	return out
}

// Multirotor reports whether the prop is fitted with the multirotor class: all that were run on multirotor stands.
func (p *Prop) Multirotor() bool { return p.Class == Racing }

func (p *Prop) String() string {
	return fmt.Sprintf("%s (%.3gx%.3gx%d)", p.ID, p.Spec.DiameterM/MetresPerInch, p.Spec.PitchM/MetresPerInch,
		p.Spec.Blades)
}
