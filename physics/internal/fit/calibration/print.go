package calibration

import (
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"partsaloft/physics/internal/fit/robust"
)

// Compared are pairs by quantity.
type Compared map[Quantity][]pair

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// PrintOrder prints how often pairs were put into the right order, by kind and size.
func PrintOrder(w io.Writer, all Compared) {
	fmt.Fprintln(w, "| order of | pair | props | pairs over 3 % | right | best rule of one feature | said under 70 of "+
		"100 |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|---|")
	for q := range quantities {
		for k := range kinds {
			byClass := map[string][]pair{"all": nil}
			for _, p := range all[q] {
				if p.kind == k {
					byClass["all"] = append(byClass["all"], p)
					byClass[p.class] = append(byClass[p.class], p)
				}
			}
			classes := sortedKeys(byClass)
			for _, class := range classes {
				o := orderOf(byClass[class])
				if o.Pairs < 6 || class != "all" && len(classes) == 2 {
					continue
				}
				fmt.Fprintf(w, "| %v | %v | %s | %d | %.0f %% | %.0f %% (%s) | %.0f %% |\n", q, k, class, o.Pairs, 100*o.Right,
					100*o.RuleHits, o.Rule, 100*o.Close)
			}
		}
	}
}

// percent writes a share, with its standard error if there is one.
func percent(share, standardError float64) string {
	switch {
	case math.IsNaN(share):
		return "–"
	case math.IsNaN(standardError):
		return fmt.Sprintf("%.0f", 100*share)
	}
	return fmt.Sprintf("%.0f ± %.0f", 100*share, 100*standardError)
}

// PrintBands prints how often pairs were right that were said to be.
func PrintBands(w io.Writer, all Compared) {
	fmt.Fprintln(w, "| said of 100, right in % ± standard error / of those over 3 % apart (pairs) | 50s | 60s | 70s | "+
		"80s | 90s |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|")
	line := func(name string, pairs []pair) {
		fmt.Fprintf(w, "| %s |", name)
		for _, b := range bandsOf(pairs) {
			if b.Pairs == 0 {
				fmt.Fprint(w, " – |")
				continue
			}
			fmt.Fprintf(w, " said %.0f: %s / %s (%d) |", 100*b.Said, percent(b.Right, b.Error), percent(b.RightOver, math.NaN()),
				b.Pairs)
		}
		fmt.Fprintln(w)
	}
	for q := range quantities {
		line(q.String(), all[q])
		for k := range kinds {
			some := slices.DeleteFunc(slices.Clone(all[q]), func(p pair) bool { return p.kind != k })
			if len(some) >= 30 && q < CT {
				line(q.String()+", "+k.String(), some)
			}
		}
	}
	line("all", all.every())
}

// every are the pairs of all quantities.
func (c Compared) every() []pair {
	var list []pair
	for q := range quantities {
		list = append(list, c[q]...)
	}
	return list
}

// PrintCoverage prints errors and how often 80 % intervals held, a row a class.
func PrintCoverage(w io.Writer, title string, classes map[string]*Covered) {
	for _, class := range sortedKeys(classes) {
		c := classes[class]
		low, high := robust.BinomialBand(c.Groups)
		verdict := ""
		if c.Share() < low || c.Share() > high {
			verdict = fmt.Sprintf(", outside %.0f to %.0f", 100*low, 100*high)
		}
		fmt.Fprintf(w, "| %s | %s | %d | %s | %.0f %%%s |\n", title, class, c.Groups, robust.Signed(c.Errors), 100*c.Share(),
			verdict)
	}
}

// CoverageHead is the head of PrintCoverage's table.
func CoverageHead(w io.Writer) {
	fmt.Fprintln(w, "| figure | class | cases | error, median / nine in ten (bias) | inside the 80 % interval |")
	fmt.Fprintln(w, "|---|---|---|---|---|")
}

// coverCases sorts cases into classes, every part (by key) counting alike, and adds them up as "all".
func coverCases(cases []Case, repeatLnSD float64, class, key func(*Case) string) map[string]*Covered {
	type held struct {
		inside []bool
		errors []float64
	}
	groups := map[string]map[string]*held{}
	put := func(name, part string, c *Case) {
		if groups[name] == nil {
			groups[name] = map[string]*held{}
		}
		h := groups[name][part]
		if h == nil {
			h = &held{}
			groups[name][part] = h
		}
		h.inside, h.errors = append(h.inside, c.Inside(repeatLnSD)), append(h.errors, c.Error())
	}
	for i := range cases {
		c := &cases[i]
		if name := class(c); name != "all" {
			put(name, key(c), c)
		}
		put("all", key(c), c)
	}
	out := map[string]*Covered{}
	for name, parts := range groups {
		out[name] = &Covered{}
		for _, part := range sortedKeys(parts) {
			out[name].add(parts[part].inside, parts[part].errors)
		}
	}
	if len(out) == 2 { // one class is all there is
		delete(out, "all")
	}
	return out
}

// standRepeat is how far a stand repeats a reading of power, thrust or current, of ln: rows within one motor of the
// tables scatter by 1.3 to 3.6 %.
const standRepeat = 0.03

// PrintStands prints what stands show of labels: errors and coverage by class of motor and prop.
func PrintStands(w io.Writer, s *Stands) {
	CoverageHead(w)
	for q := range CT {
		var cases []Case
		for _, g := range s.Groups[q] {
			for _, c := range g {
				if !c.Scaled {
					cases = append(cases, c)
				}
			}
		}
		motor := func(c *Case) string { return c.Stand + c.Motor + c.Esc }
		PrintCoverage(w, q.String(), coverCases(cases, standRepeat,
			func(c *Case) string { return "motors " + c.MotorClass }, motor))
		byProp := coverCases(cases, standRepeat, func(c *Case) string { return "props " + c.PropClass }, motor)
		delete(byProp, "all")
		PrintCoverage(w, q.String(), byProp)
	}
}

// PrintReadings prints what readings leave of the errors of stands.
func PrintReadings(w io.Writer, s *Stands) {
	fmt.Fprintln(w, "| known | "+strings.Join(Targets[:], " | ")+" |")
	fmt.Fprintln(w, "|---"+strings.Repeat("|---", len(Targets))+"|")
	for i := range Reads {
		fmt.Fprintf(w, "| %s |", Reads[i].Name)
		var cases [len(Targets)][]Case
		for k := range s.Tried {
			for _, l := range s.Tried[k].After(&Reads[i]) {
				cases[l.Target] = append(cases[l.Target], l.Case)
			}
		}
		for k := range cases {
			if k == targetPowerQuarter && Reads[i].Current {
				fmt.Fprint(w, " read |")
				continue
			}
			all := coverCases(cases[k], standRepeat, func(*Case) string { return "all" },
				func(c *Case) string { return c.Stand + c.Motor + c.Esc })["all"]
			if all == nil {
				fmt.Fprint(w, " – |")
				continue
			}
			fmt.Fprintf(w, " %s, %.0f %% inside |", robust.Signed(all.Errors), 100*all.Share())
		}
		fmt.Fprintln(w)
	}
}

// Pairs are the pairs of all groups by quantity.
func (s *Stands) Pairs() Compared {
	out := Compared{}
	for q := range CT {
		for _, g := range s.Groups[q] {
			out[q] = append(out[q], pairsOf(g)...)
		}
	}
	return out
}

// Order is how often pairs of a kind were put into the right order.
func (c Compared) Order(q Quantity, k Kind) Order {
	return orderOf(slices.DeleteFunc(slices.Clone(c[q]), func(p pair) bool { return p.kind != k }))
}

// Bands are how often pairs of all kinds and quantities were right that were said to be: 50s, 60s, 70s, 80s, 90s.
func (c Compared) Bands() [5]Band { return bandsOf(c.every()) }

// AddPairs adds the pairs of props alone.
func (p *PropCases) AddPairs(to Compared) {
	for q, cases := range map[Quantity]map[string][]Case{CT: p.CT, CP: p.CP} {
		for _, g := range PropGroups(cases) {
			to[q] = append(to[q], pairsOf(g)...)
		}
	}
}

// PrintProps prints errors and coverage of props at one level of knowledge.
func PrintProps(w io.Writer, known string, p *PropCases) {
	for _, f := range []struct {
		name  string
		cases map[string][]Case
	}{{"CT", p.CT}, {"CP", p.CP}, {"CP/CT^1.5", p.Merit}} {
		classes := map[string]*Covered{}
		var all []Case
		for _, class := range sortedKeys(f.cases) {
			cases := f.cases[class]
			all = append(all, cases...)
			maps.Copy(classes, coverCases(cases, benchRepeat, func(*Case) string { return class },
				func(c *Case) string { return c.Prop }))
		}
		maps.Copy(classes, coverCases(all, benchRepeat, func(*Case) string { return "all" },
			func(c *Case) string { return c.Prop }))
		PrintCoverage(w, f.name+" from "+known, classes)
	}
}
