package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

const (
	metresPerInch = 0.0254
	newtonPerGram = physics.GravityMS2 / 1000
	rpm           = 2 * math.Pi / 60
	// standDensity is taken where a stand's air was not recorded.
	standDensity = 1.19
	paperDensity = 1.17
)

// sizeClass sorts props by what is built like what.
type sizeClass int

const (
	small  sizeClass = iota // two blades, under 6.5 inch
	racing                  // multirotor props of three blades and more, and their two-blade likes
	large                   // 6.5 inch and more
)

func (c sizeClass) String() string { return [...]string{"small", "FPV", "7-9 inch"}[c] }

// point is one measurement: coefficients CT = T/(rho n² D⁴) and CP = P/(rho n³ D⁵) at an advance
// ratio J = V/(n D). A coefficient of zero was not measured.
type point struct {
	rpm, advance, ct, cp float64
}

// prop is one specimen with all that was measured of it.
type prop struct {
	id, family string
	class      sizeClass
	spec       rotor.Spec
	static     []point
	moving     []point
	twists     bool // known to twist under load
	inferred   bool // cp comes from motor currents: it is fitted to, but tries nothing
}

// known faults of the data, from its notes: twisting blades, mislabelled or wrongly read runs.
var (
	twisting = []string{"mi_3.2x2.2", "mi_4x2.7", "mi_5x3.5", "mit_4.3x3.5", "pl_57x20"}
	badRuns  = []string{
		// 14.7 V runs: thrust 0.72 of other runs of the same props; rpm of 2305-2450.
		"64w", "67w", "9gx", "d4g", "d7g", "d9g", "gy9", "jqw", "k7z", "n7k", "q79", "wwj", "y3r", "z76", "zy6",
		"p3j", "pyr", "dnq", "eqn", "mny", "w4x",
	}
)

// loadProps reads every prop of the reference folder.
func loadProps(folder string) ([]prop, error) {
	var all []prop
	for _, load := range []func(string) ([]prop, error){loadTunnel, loadStand5, loadStand2, loadPaper, loadTables} {
		ps, err := load(folder)
		if err != nil {
			return nil, err
		}
		all = append(all, ps...)
	}
	return all, nil
}

func label(diameterIn, pitchIn float64, blades int) rotor.Spec {
	return rotor.Spec{DiameterM: diameterIn * metresPerInch, PitchM: pitchIn * metresPerInch, Blades: blades}
}

// loadTunnel reads the wind-tunnel props.
func loadTunnel(folder string) ([]prop, error) {
	static, err := readTable(folder, "uiuc_static.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm", "ct", "cp")
	if err != nil {
		return nil, err
	}
	moving, err := readTable(folder, "uiuc_advance.csv", "prop_id", "rpm", "J", "ct", "cp")
	if err != nil {
		return nil, err
	}
	shape, err := readTable(folder, "uiuc_geometry.csv", "prop_id", "r_R", "c_R", "beta_deg")
	if err != nil {
		return nil, err
	}
	index := map[string]int{}
	var ps []prop
	for i := range static.rows {
		id := static.text(i, "prop_id")
		k, ok := index[id]
		if !ok {
			k = len(ps)
			index[id] = k
			p := prop{id: id, spec: label(static.number(i, "diameter_in"), static.number(i, "pitch_in"),
				int(static.number(i, "blades")))}
			p.family, _, _ = strings.Cut(id, "_")
			p.twists = slices.Contains(twisting, id)
			if p.spec.DiameterM >= 6.5*metresPerInch {
				p.class = large
			}
			ps = append(ps, p)
		}
		ps[k].static = append(ps[k].static, point{rpm: static.number(i, "rpm"), ct: static.number(i, "ct"),
			cp: static.number(i, "cp")})
	}
	for i := range moving.rows {
		if k, ok := index[moving.text(i, "prop_id")]; ok {
			ps[k].moving = append(ps[k].moving, point{moving.number(i, "rpm"), moving.number(i, "J"), moving.number(i, "ct"),
				moving.number(i, "cp")})
		}
	}
	for i := range shape.rows {
		if k, ok := index[shape.text(i, "prop_id")]; ok {
			s := &ps[k].spec
			r := shape.number(i, "r_R")
			if r > 0.99 {
				continue
			}
			s.Stations = append(s.Stations, rotor.Measurement{RadiusM: r * s.DiameterM / 2,
				ChordM:   shape.number(i, "c_R") * s.DiameterM / 2,
				AngleRad: shape.number(i, "beta_deg") * math.Pi / 180})
		}
	}
	for _, t := range []*table{static, moving, shape} {
		if err := t.err(); err != nil {
			return nil, err
		}
	}
	return ps, nil
}

// coefficient turns a stand's reading into CT and CP.
func coefficient(s rotor.Spec, rpmRead, thrustN, torqueNm, density float64) point {
	n := rpmRead / 60
	d4 := math.Pow(s.DiameterM, 4)
	return point{rpm: rpmRead, ct: thrustN / (density * n * n * d4),
		cp: 2 * math.Pi * torqueNm / (density * n * n * d4 * s.DiameterM)}
}

// group gathers a stand's rows by prop, in order of first appearance.
func group(t *table, family string, id func(row int) (key string, ok bool), read func(row int, p *prop) (point,
	bool)) []prop {
	index := map[string]int{}
	var ps []prop
	for i := range t.rows {
		key, ok := id(i)
		if !ok {
			continue
		}
		k, seen := index[key]
		if !seen {
			k = len(ps)
			p := prop{id: key, family: family, class: racing}
			if _, ok := t.column["pitch_in"]; ok {
				pitch, _ := t.maybe(i, "pitch_in")
				p.spec = label(t.number(i, "diameter_in"), pitch, int(t.number(i, "blades")))
			}
			index[key] = k
			ps = append(ps, p)
		}
		if pt, ok := read(i, &ps[k]); ok {
			ps[k].static = append(ps[k].static, pt)
		}
	}
	return slices.DeleteFunc(ps, func(p prop) bool { return len(p.static) == 0 || !(p.spec.PitchM > 0) })
}

// loadStand5 reads the 5-inch stand. Its torque below 9000 rpm is sensor offset.
func loadStand5(folder string) ([]prop, error) {
	t, err := readTable(folder, "stand_5in_static.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm",
		"thrust_n", "torque_nm", "test_id")
	if err != nil {
		return nil, err
	}
	ps := group(t, "stand5", func(i int) (string, bool) { return t.text(i, "prop_id"), true }, func(i int,
		p *prop) (point, bool) {
		pt := coefficient(p.spec, t.number(i, "rpm"), t.number(i, "thrust_n"), t.number(i, "torque_nm"), standDensity)
		if pt.rpm < 12000 {
			pt.cp = 0
		}
		return pt, pt.rpm > 9000
	})
	return ps, t.err()
}

// loadStand2 reads the 2-inch stand; its pitch is not stated and taken as 2.4 inch, typical of
// four-blade props of that size (common practice, no source).
func loadStand2(folder string) ([]prop, error) {
	t, err := readTable(folder, "stand_2in_static.csv", "prop_id", "diameter_in", "blades", "rpm", "thrust_n", "torque_nm")
	if err != nil {
		return nil, err
	}
	ps := group(t, "stand2", func(i int) (string, bool) { return t.text(i, "prop_id"), true }, func(i int,
		p *prop) (point, bool) {
		if p.spec.PitchM == 0 {
			p.spec = label(2, 2.4, 4)
		}
		pt := coefficient(p.spec, t.number(i, "rpm"), t.number(i, "thrust_n"), t.number(i, "torque_nm"), standDensity)
		return pt, pt.rpm > 15000
	})
	return ps, t.err()
}

// loadPaper reads the paper's small multirotor props at their top speed.
func loadPaper(folder string) ([]prop, error) {
	t, err := readTable(folder, "small_props_top_speed.csv", "prop_id", "diameter_in", "pitch_in", "blades", "rpm",
		"thrust_n", "torque_nm")
	if err != nil {
		return nil, err
	}
	ps := group(t, "paper", func(i int) (string, bool) { return t.text(i, "prop_id"), true }, func(i int,
		p *prop) (point, bool) {
		return coefficient(p.spec, t.number(i, "rpm"), t.number(i, "thrust_n"), t.number(i, "torque_nm"), paperDensity), true
	})
	return ps, t.err()
}

// loadTables reads props of the motor stands that give rpm: one prop a source and label. Props
// that the 5-inch stand has already are left out, and so are runs known to be wrong.
func loadTables(folder string) ([]prop, error) {
	t, err := readTable(folder, "thrust_tables.csv", "motor", "prop", "diameter_in", "pitch_in", "blades", "thrust_g",
		"rpm", "torque_nm", "source")
	if err != nil {
		return nil, err
	}
	ps := group(t, "", func(i int) (string, bool) {
		source, test, _ := strings.Cut(t.text(i, "source"), ":")
		motor, prop := t.text(i, "motor"), t.text(i, "prop")
		bad := slices.Contains(badRuns, test) || motor == "2207-2600" && strings.HasPrefix(source, "tyto") ||
			motor == "1806-2500" && (prop == "5x4x2" || prop == "5x4x3b")
		return source + " " + prop, !bad && t.text(i, "rpm") != ""
	}, func(i int, p *prop) (point, bool) {
		torque, _ := t.maybe(i, "torque_nm")
		grams, ok := t.maybe(i, "thrust_g")
		pt := coefficient(p.spec, t.number(i, "rpm"), grams*newtonPerGram, torque, standDensity)
		return pt, ok && pt.rpm > 9000
	})
	for i := range ps {
		ps[i].family, _, _ = strings.Cut(ps[i].id, "-")
	}
	return slices.DeleteFunc(ps, func(p prop) bool { return p.spec.DiameterM < 1.5*metresPerInch }), t.err()
}

// thinned are n points spread evenly over the upper part of the rpm range, of the static ones.
func thinned(ps []point, n int) []point {
	s := slices.Clone(ps)
	slices.SortStableFunc(s, func(a, b point) int { return cmp.Compare(a.rpm, b.rpm) })
	s = s[len(s)/4:]
	if len(s) <= n {
		return s
	}
	out := make([]point, n)
	for i := range n {
		out[i] = s[i*(len(s)-1)/(n-1)]
	}
	return out
}

// sweeps are the moving points of the two fastest rpm settings with enough of them, n each.
func sweeps(ps []point, n int) []point {
	s := slices.Clone(ps)
	slices.SortStableFunc(s, func(a, b point) int { return cmp.Compare(a.rpm, b.rpm) })
	var sets [][]point
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j].rpm < 1.03*s[i].rpm {
			j++
		}
		if j-i >= 5 {
			sets = append(sets, s[i:j])
		}
		i = j
	}
	var out []point
	for _, set := range sets[max(0, len(sets)-2):] {
		slices.SortStableFunc(set, func(a, b point) int { return cmp.Compare(a.advance, b.advance) })
		for i := range n {
			out = append(out, set[i*(len(set)-1)/(n-1)])
		}
	}
	return out
}

func (p *prop) String() string {
	return fmt.Sprintf("%s (%.3gx%.3gx%d)", p.id, p.spec.DiameterM/metresPerInch, p.spec.PitchM/metresPerInch,
		p.spec.Blades)
}
