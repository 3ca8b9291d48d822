package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
)

// heaviestLimitKg is up to where printed limits count.
const heaviestLimitKg = 0.110

// limitClass are the sheets of one kind that print a largest current, with the copper heat that it makes in the law's
// winding, in W/kg of motor.
type limitClass struct {
	name   string
	sheets []motorSheet
	logs   []float64 // ln of the heat
}

// limitClasses are the sheets of small multirotor motors, whose limits mean seconds, and general ones, whose limits
// mean minutes.
func limitClasses(sheets []motorSheet, law *physics.MotorLaw) [2]limitClass {
	c := [2]limitClass{{name: "small multirotor motors (seconds)"}, {name: "general sheets (minutes)"}}
	for _, s := range sheets {
		if s.maxA == 0 || s.kv == 0 || s.massKg == 0 || s.massKg > heaviestLimitKg {
			continue
		}
		k := &c[0]
		if s.collected {
			k = &c[1]
		}
		heat := s.maxA * s.maxA * law.Winding(law.TorqueConstant(s.kv).Value, s.massKg).Value / s.massKg
		k.sheets, k.logs = append(k.sheets, s), append(k.logs, math.Log(heat))
	}
	return c
}

// leftSizes are ln of the limit by the others' median heat over the printed one, each stator size left out.
func (c *limitClass) leftSizes() []float64 {
	var out []float64
	for i, s := range c.sheets {
		var others []float64
		for j, o := range c.sheets {
			if o.statorM != s.statorM || o.tallM != s.tallM {
				others = append(others, c.logs[j])
			}
		}
		out = append(out, (residual.Median(others)-c.logs[i])/2)
	}
	return out
}

// printLimits prints the copper heat that printed limits of motors allow.
func printLimits(w io.Writer, folder string) error {
	sheets, err := loadSheets(folder)
	if err != nil {
		return err
	}
	classes := limitClasses(sheets, rig.MotorLaw())
	fmt.Fprintf(w, "Printed limits of motors up to %.0f g: copper heat I² Rw/m with the law's winding\n",
		heaviestLimitKg*1e3)
	for i := range classes {
		c := &classes[i]
		var x [][]float64
		var weights []float64
		for _, s := range c.sheets {
			x, weights = append(x, []float64{1, math.Log(s.massKg / 0.035)}), append(weights, 1)
		}
		p, err := fitPower(x, c.logs, weights)
		if err != nil {
			return err
		}
		sorted := slices.Sorted(slices.Values(c.logs))
		fmt.Fprintf(w, "  %s: %.2f W/g at the median of %d, half of them %.2f to %.2f, spread of ln %.2f, power of mass "+
			"%.2f ± %.2f\n",
			c.name, math.Exp(residual.Median(c.logs))/1e3, len(c.logs), math.Exp(sorted[len(sorted)/4])/1e3,
			math.Exp(sorted[3*len(sorted)/4])/1e3, residual.Spread(centred(c.logs)), p.c[1], p.sd[1])
		left := c.leftSizes()
		fmt.Fprintf(w, "    sizes left out, current by the law over printed: %s, spread of ln %.2f\n", robust.ErrorPair(left),
			robust.RmsOf(left))
		for k, s := range c.sheets {
			fmt.Fprintf(w, "    %-14s %5.1f g  %4.1f A printed, by the law %4.1f A\n", s.name, s.massKg*1e3, s.maxA,
				s.maxA*math.Exp((math.Log(physics.PunchHeatWKg)-c.logs[k])/2))
		}
	}
	return nil
}
