package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
)

// powerLaw is ln y = c0 + c1 x1 + …, fitted robustly with weights.
type powerLaw struct {
	c, sd []float64
}

func (p *powerLaw) at(x []float64) float64 {
	var y float64
	for i, c := range p.c {
		y += c * x[i]
	}
	return y
}

// fitPower is weighted least squares with residuals beyond 1.5 spreads counting linearly
// (iterated weights).
func fitPower(x [][]float64, y, weight []float64) (powerLaw, error) {
	n, k := len(y), len(x[0])
	w := make([]float64, n)
	copy(w, weight)
	p := powerLaw{c: make([]float64, k), sd: make([]float64, k)}
	for range 40 {
		normal, right := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
		for i := range n {
			for a := range k {
				for b := a; b < k; b++ {
					normal.SetSym(a, b, normal.At(a, b)+w[i]*x[i][a]*x[i][b])
				}
				right.SetVec(a, right.AtVec(a)+w[i]*x[i][a]*y[i])
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(normal) {
			return p, errors.New("the columns of the fit depend on each other")
		}
		var c mat.VecDense
		if err := chol.SolveVecTo(&c, right); err != nil {
			return p, err
		}
		copy(p.c, c.RawVector().Data)
		absolute := make([]float64, n)
		for i := range n {
			absolute[i] = math.Abs(y[i] - p.at(x[i]))
		}
		spread := math.Max(1.5*1.48*residual.Median(absolute), 1e-9)
		var inverse mat.SymDense
		if err := chol.InverseTo(&inverse); err != nil {
			return p, err
		}
		for a := range k {
			p.sd[a] = math.Sqrt(inverse.At(a, a)) * spread / 1.5
		}
		for i := range n {
			w[i] = weight[i] / math.Sqrt(1+absolute[i]*absolute[i]/(spread*spread))
		}
	}
	return p, nil
}

// leaveGroups are ln measured over predicted of every case, its group left out of the fit.
func leaveGroups(x [][]float64, y, weight []float64, group []string) ([]float64, error) {
	out := make([]float64, len(y))
	done := map[string]bool{}
	for _, g := range group {
		if done[g] {
			continue
		}
		done[g] = true
		var xs [][]float64
		var ys, ws []float64
		for i := range y {
			if group[i] != g {
				xs, ys, ws = append(xs, x[i]), append(ys, y[i]), append(ws, weight[i])
			}
		}
		p, err := fitPower(xs, ys, ws)
		if err != nil {
			return nil, err
		}
		for i := range y {
			if group[i] == g {
				out[i] = y[i] - p.at(x[i])
			}
		}
	}
	return out, nil
}

// lawCases are measured figures with the forms of law tried on them. y and code are ln of the figure
// and ln of it over what the code has; cases of one group count once together, and are left out
// together.
type lawCases struct {
	y, code []float64
	group   []string
	forms   []lawForm
}

// lawForm is a form of law: the columns of each case, the first of them 1.
type lawForm struct {
	name string
	x    [][]float64
}

// try fits a form to all cases and predicts each group by the others.
func (c *lawCases) try(f lawForm) (p powerLaw, left []float64, err error) {
	weight := spreadOver(c.group)
	if p, err = fitPower(f.x, c.y, weight); err != nil {
		return p, nil, err
	}
	left, err = leaveGroups(f.x, c.y, weight, c.group)
	return p, left, err
}

// print writes every form with its factors and its errors on what was left out.
func (c *lawCases) print(w io.Writer, unit string) error {
	for _, f := range c.forms {
		p, left, err := c.try(f)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "  %-38s %.2f %s", f.name, math.Exp(p.c[0]), unit)
		for i := 1; i < len(p.c); i++ {
			fmt.Fprintf(w, ", power %.3f ± %.2g", p.c[i], p.sd[i])
		}
		fmt.Fprintf(w, ": left out %s, rms of ln %.3f\n", robust.ErrorPair(left), robust.RmsOf(left))
	}
	fmt.Fprintf(w, "  %-38s %s, rms of ln %.3f\n", "constants in the code:", robust.ErrorPair(c.code),
		robust.RmsOf(c.code))
	return nil
}

// motorSheet is one motor's printed data; zero is not printed.
type motorSheet struct {
	name                            string
	statorM, tallM, kv, massKg, ohm float64
	noLoadA, noLoadV, inertiaKgM2   float64
	maxA                            float64
	collected                       bool // from a corpus of general sheets
}

const (
	typicalStatorM = 0.022
	typicalTallM   = 0.007
)

const heaviestSheetKg = 0.15 // beyond it motors are not of this kind

// loadSheets reads printed motor data of motors with a stator in their name.
func loadSheets(folder string) ([]motorSheet, error) {
	t, err := reference.Read(folder, "motor_constants.csv", "motor", "kv_rpm_per_v", "mass_g", "resistance_mohm",
		"no_load_a",
		"no_load_v", "rotor_inertia_g_mm2", "max_a", "kind")
	if err != nil {
		return nil, err
	}
	var out []motorSheet
	for i := range t.Rows {
		s := motorSheet{name: t.Text(i, "motor")}
		// Names such as 1005-90 of half a kilogram count in inches or by another rule.
		if s.statorM, s.tallM, err = rig.StatorOf(s.name); err != nil || strings.HasPrefix(s.name, "1005-") ||
			strings.HasPrefix(s.name, "1021-") || strings.HasPrefix(s.name, "1321-") || strings.HasPrefix(s.name, "1100-") {
			continue
		}
		read := func(column string, scale float64) float64 { x, _ := t.Maybe(i, column); return x * scale }
		s.kv, s.massKg, s.ohm = read("kv_rpm_per_v", 1), read("mass_g", 1e-3), read("resistance_mohm", 1e-3)
		s.noLoadA, s.noLoadV, s.inertiaKgM2 = read("no_load_a", 1), read("no_load_v", 1), read("rotor_inertia_g_mm2", 1e-9)
		s.maxA, s.collected = read("max_a", 1), strings.Contains(t.Text(i, "kind"), "collected")
		if s.massKg <= heaviestSheetKg {
			out = append(out, s)
		}
	}
	return out, t.Err()
}

// motorMassCases are printed masses of motors up to 70 g, by stator size.
func motorMassCases(sheets []motorSheet) lawCases {
	apart, product := lawForm{name: "22 x 7 mm; powers of diameter, height"}, lawForm{name: "1000 mm³; power of " +
		"diameter² x height"}
	var c lawCases
	for _, s := range sheets {
		if s.massKg == 0 || s.massKg > 0.070 {
			continue
		}
		size, _, _ := strings.Cut(s.name, "-")
		c.group, c.y = append(c.group, size), append(c.y, math.Log(s.massKg*1000))
		c.code = append(c.code, math.Log(s.massKg/rig.MotorLaw().Mass(s.statorM, s.tallM).Value))
		apart.x = append(apart.x, []float64{1, math.Log(s.statorM / typicalStatorM), math.Log(s.tallM / typicalTallM)})
		product.x = append(product.x, []float64{1, math.Log(s.statorM * s.statorM * s.tallM * 1e6)})
	}
	c.forms = []lawForm{apart, product}
	return c
}

// printMass prints the laws of mass and inertia.
func printMass(w io.Writer, folder string) error {
	sheets, err := loadSheets(folder)
	if err != nil {
		return err
	}
	c := motorMassCases(sheets)
	fmt.Fprintf(w, "// Motor mass, %d motors up to 70 g, each stator size counting once and left out in turn: "+
		"motorMassKg, motorMassDiameter, motorMassHeight, motorMassLnSD\n", len(c.y))
	if err := c.print(w, "g"); err != nil {
		return err
	}
	printInertia(w, sheets)
	return printPropMass(w, folder)
}

// printInertia compares the bell inertia law with printed inertias.
func printInertia(w io.Writer, sheets []motorSheet) {
	var printed []float64
	for _, s := range sheets {
		if s.inertiaKgM2 > 0 && s.massKg > 0 {
			printed = append(printed, math.Log(s.inertiaKgM2/rig.MotorLaw().BellInertia(s.massKg, s.statorM).Value))
		}
	}
	fmt.Fprintf(w, "Bell inertia over the law's: printed in sheets %.2f at the median of %d motors\n",
		math.Exp(residual.Median(printed)), len(printed))
}

// printPropMass compares the prop mass law with weighed props.
func printPropMass(w io.Writer, folder string) error {
	t, err := reference.Read(folder, "prop_mass.csv", "diameter_in", "pitch_in", "blades", "mass_g")
	if err != nil {
		return err
	}
	var known, guessed []float64
	for i := range t.Rows {
		d := t.Number(i, "diameter_in")
		p, okP := t.Maybe(i, "pitch_in")
		b, okB := t.Maybe(i, "blades")
		g, ok := t.Maybe(i, "mass_g")
		if !ok {
			continue
		}
		if !okP {
			p = rig.GuessedPitch(d)
		}
		if !okB {
			b = 3
		}
		l := math.Log(g / 1000 / rotor.EstimateMass(d*props.MetresPerInch, p*props.MetresPerInch, int(b)).Value)
		if okP && okB {
			known = append(known, l)
		} else {
			guessed = append(guessed, l)
		}
	}
	fmt.Fprintf(w, "Prop mass, law in the code: %d props with all of their label %s, bias %+.3f; %d without blades or "+
		"pitch (three, guessed) %s, bias %+.3f, rms %.3f\n",
		len(known), robust.ErrorPair(known), residual.Median(known), len(guessed), robust.ErrorPair(guessed), residual.Median(guessed), robust.RmsOf(append(known, guessed...)))
	return t.Err()
}
