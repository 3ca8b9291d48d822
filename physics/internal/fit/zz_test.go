package main

import (
	"fmt"
	"math"
	"testing"

	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/rotor"
)

func TestZZ(t *testing.T) {
	ps, err := props.LoadProps("/work/shared/reference")
	if err != nil {
		t.Fatal(err)
	}
	air, _ := props.Laboratory()
	for i := range ps {
		p := &ps[i]
		if !p.Multirotor() {
			continue
		}
		pr, err := rotor.New(p.Spec, air)
		if err != nil {
			t.Fatal(err)
		}
		var sx, st, sk, sxx, sxt, sxk, n, m float64
		lo, hi := 1e9, 0.0
		for _, pt := range p.Static {
			c, err := pr.Coefficients(pt.RPM*props.RPM, 0)
			if err != nil || pt.CP <= 0 {
				continue
			}
			x := math.Log(pt.RPM * props.RPM * p.Spec.DiameterM / 2 / 110)
			et := math.Log(pt.CT / c.Thrust)
			ek := math.Log(pt.CP/c.Power) - 1.5*et
			sx += x
			st += et
			sk += ek
			sxx += x * x
			sxt += x * et
			sxk += x * ek
			n++
			m = math.Max(m, 0)
			lo, hi = math.Min(lo, pt.RPM), math.Max(hi, pt.RPM)
		}
		if n < 1 {
			continue
		}
		v := sxx/n - sx*sx/n/n
		fmt.Printf("%-45s n %3.0f rpm %6.0f-%6.0f tip mid %4.0f  eT %+.3f slope %+.3f  eK %+.3f slope %+.3f\n", p, n, lo, hi, 110*math.Exp(sx/n), st/n, (sxt/n-sx*st/n/n)/v, sk/n, (sxk/n-sx*sk/n/n)/v)
	}
}
