package main

import (
	"fmt"
	"math"
	"os"
	"sort"
	"time"

	"partsaloft/physics"
)

func pct(x []float64, q float64) float64 { y := append([]float64{}, x...); sort.Float64s(y); if len(y) == 0 { return 0 }; return y[int(q*float64(len(y)-1)+.5)] }

func main() {
	ps, err := loadProps(os.Args[1])
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	air, _ := laboratory()
	law := physics.LabelLaw()
	report(ps, &law, air)
	f := newPropFit(ps, law, propFreedoms(), air)
	t := time.Now()
	l, s, err := f.solve()
	fmt.Println("fit", time.Since(t), err, s.cost, len(f.weights))
	for i, fr := range f.free {
		fmt.Printf("%-16s %8.4f  from %8.4f sd %.4f\n", fr.name, *fr.at(&l), *fr.at(&law), s.lnSD[i])
	}
	report(ps, &l, air)
}
func report(ps []prop, law *physics.PropLaw, air physics.Air) {
	for _, k := range []knowledge{fromLabel, fromChord, fromStation, fromStations} {
		type acc struct{ ct, cp []float64 }
		st := map[string]*acc{}
		mv := map[string]*acc{}
		get := func(m map[string]*acc, s string) *acc { if m[s] == nil { m[s] = &acc{} }; return m[s] }
		fam := map[string]*acc{}
		for i := range ps {
			p := &ps[i]
			if p.twists || (k > 0 && len(p.spec.Stations) == 0) {
				continue
			}
			b := newBench(p, k, append(thinned(p.static, 3), sweeps(p.moving, 5)...))
			ct, cp := make([]float64, len(b.points)), make([]float64, len(b.points))
			b.predict(law, air, ct, cp)
			var s, q, n, nq float64
			ct0 := 0.0
			for j, pt := range b.points {
				if pt.advance == 0 {
					s += math.Log(pt.ct / ct[j]); n++; ct0 += pt.ct
					if pt.cp > 0 { q += math.Log(pt.cp / cp[j]); nq++ }
				} else {
					for _, c := range []string{p.class.String(), "all"} {
						a := get(mv, c)
						if pt.ct > .25*ct0/n { a.ct = append(a.ct, math.Log(pt.ct/ct[j])); a.cp = append(a.cp, math.Log(pt.cp/cp[j])) }
					}
				}
			}
			for _, c := range []string{p.class.String(), "all"} { a := get(st, c); a.ct = append(a.ct, s/n); if nq > 0 { a.cp = append(a.cp, q/nq) } }
			a := get(fam, p.family); a.ct = append(a.ct, s/n); if nq > 0 { a.cp = append(a.cp, q/nq) }
		}
		show := func(name string, x []float64) {
			var e []float64
			for _, v := range x { if math.IsNaN(v) { continue }; e = append(e, math.Abs(math.Exp(-v)-1)) }
			fmt.Printf("  %-10s n %3d median err %5.1f%% p90 %5.1f%% bias %+.3f\n", name, len(x), 100*pct(e, .5), 100*pct(e, .9), pct(x, .5))
		}
		fmt.Println(k)
		for _, c := range []string{"all", "small", "FPV", "7-9 inch"} {
			if st[c] != nil { show(c+" CT", st[c].ct); show(c+" CP", st[c].cp) }
			if mv[c] != nil { show(c+" CTadv", mv[c].ct); show(c+" CPadv", mv[c].cp) }
		}
		if k == 0 {
			var names []string; for f := range fam { names = append(names, f) }; sort.Strings(names)
			for _, f := range names { fmt.Printf("    %-10s %2d CT %+.3f CP %+.3f\n", f, len(fam[f].ct), mean(fam[f].ct), mean(fam[f].cp)) }
		}
	}
}
func mean(x []float64) float64 { s := 0.0; for _, v := range x { s += v }; return s / float64(len(x)) }
