package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// labelTrial is a row predicted by physics from labels alone.
type labelTrial struct {
	name                   string
	speed, thrust, current []float64
	insideThrust           []bool
	insideCurrent          []bool
}

// fromLabels predicts full-throttle rows by physics.Stand with props and motors from their labels.
func fromLabels(rigs []*rig.Rig) ([]labelTrial, error) {
	air, err := props.Laboratory()
	if err != nil {
		return nil, err
	}
	random := rand.New(rand.NewPCG(3, 4))
	var out []labelTrial
	for _, r := range rigs {
		t := labelTrial{name: r.String()}
		for i := range r.Runs {
			run := &r.Runs[i]
			stand, err := labelStand(r, run.Spec, air)
			if err != nil {
				return nil, err
			}
			for _, row := range run.Rows {
				if !row.Full {
					continue
				}
				p, err := stand.Point(row.VoltageV*row.Duty, 1)
				if err != nil {
					return nil, fmt.Errorf("%v %s: %w", r, run.Prop, err)
				}
				if row.SpeedRadS > 0 {
					t.speed = append(t.speed, math.Log(row.SpeedRadS/p.SpeedRadS))
				}
				t.current = append(t.current, math.Log(row.CurrentA/(row.Duty*p.CurrentA)))
				drawn := uncertain.Propagate(func(d *uncertain.Deviation, values []float64) {
					other := stand.Deviate(d)
					if q, err := other.Point(row.VoltageV*row.Duty, 1); err == nil {
						values[0], values[1] = q.ThrustN, q.CurrentA*row.Duty
					}
				}, 2, &stand.Uncertainty, randomDraws(&stand.Uncertainty, random), nil)
				in := func(figure int, read float64) bool {
					low, high := drawn.Interval(figure)
					return low <= read && read <= high
				}
				t.insideCurrent = append(t.insideCurrent, in(1, row.CurrentA))
				if row.ThrustN > 0 && !run.LowReading {
					t.thrust = append(t.thrust, math.Log(row.ThrustN/p.ThrustN))
					t.insideThrust = append(t.insideThrust, in(0, row.ThrustN))
				}
			}
		}
		if len(t.current) > 0 {
			out = append(out, t)
		}
	}
	return out, nil
}

// labelStand is motor and prop as physics has them from their labels, with their uncertainty.
func labelStand(r *rig.Rig, spec rotor.Spec, air rotor.Air) (physics.Stand, error) {
	prop, err := rotor.New(spec, air)
	if err != nil {
		return physics.Stand{}, err
	}
	m := rig.MotorLaw().Motor(physics.MotorLabel{StatorM: r.StatorM, StatorHeightM: r.TallM, KV: r.LabelKV})
	s := physics.Stand{Propeller: *prop, ThrottleExponent: 1, Motor: m.Motor, ESC: rig.MotorLaw().ESC(0).ESC}
	u := &s.Uncertainty
	physics.ShareSpread(u)
	prop.Uncertainty.Put(u)
	esc := rig.MotorLaw().ESC(0)
	esc.Put(u)
	m.Put(u)
	return s, nil
}

// printLabelTrials prints rows from labels: thrust and current at full throttle.
func printLabelTrials(w io.Writer, trials []labelTrial) {
	var thrust, current weighted
	var inThrust, inCurrent, n, m float64
	for _, t := range trials {
		fmt.Fprintf(w, "  %-42s rows %3d  ln measured/predicted: rpm %s  thrust %s  current %s\n",
			strings.TrimSpace(t.name), len(t.current), signed(t.speed), signed(t.thrust), signed(t.current))
		for _, v := range t.thrust {
			thrust = append(thrust, weightedLog{v, 1 / float64(len(t.thrust))})
		}
		for _, v := range t.current {
			current = append(current, weightedLog{v, 1 / float64(len(t.current))})
		}
		if len(t.thrust) > 0 {
			inThrust += part(t.insideThrust)
			n++
		}
		inCurrent += part(t.insideCurrent)
		m++
	}
	fmt.Fprintf(w, "  thrust %v, inside the 80 %% interval %s; current %v, inside %s\n", thrust, band(inThrust/n,
		int(n)), current, band(inCurrent/m, int(m)))
}

func part(inside []bool) float64 {
	n := 0
	for _, b := range inside {
		if b {
			n++
		}
	}
	return float64(n) / float64(len(inside))
}

func signed(x []float64) string {
	if len(x) == 0 {
		return "   –  "
	}
	return fmt.Sprintf("%+.3f", residual.Median(x))
}
