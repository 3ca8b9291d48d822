package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/uncertain"
)

// timedFlight is a flight with its craft by the rules.
type timedFlight struct {
	row     *flownRow
	craft   physics.Craft
	guessed []string
	way     physics.Flying
}

// flownClasses are the classes of crafts by size.
func flownClasses() []string { return []string{"whoops", "2-4 inch", "5 inch"} }

// class is a flight's class of craft.
func (t *timedFlight) class() string {
	switch d := t.row.diameterIn; {
	case d < 2:
		return flownClasses()[0]
	case d < 4.5:
		return flownClasses()[1]
	}
	return flownClasses()[2]
}

func timedFlights(rows []flownRow, b *flownBuilder) ([]timedFlight, error) {
	var out []timedFlight
	for i := range rows {
		if !rows[i].timed() {
			continue
		}
		c, guessed, err := b.craft(&rows[i])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", rows[i].id, err)
		}
		out = append(out, timedFlight{&rows[i], c, guessed, rows[i].way()})
	}
	return out, nil
}

// minutes that a flight lasts with a factor on the code's unsteadiness; 0 if it cannot be flown.
func (t *timedFlight) minutes(unsteady float64) float64 {
	c := t.craft
	c.FlyingFactor *= unsteady
	f, why := c.Fly(&t.way)
	if why != physics.Defined {
		return 0
	}
	return f.DurationS / 60
}

// unflown is ln measured over predicted of a flight that the model cannot fly.
const unflown = 2.0

// ln of measured over predicted. A range counts by its geometric middle; a bound counts 0 if it
// holds, and then says nothing.
func (t *timedFlight) ln(unsteady float64) (ln float64, says bool) {
	m := t.minutes(unsteady)
	ln = unflown
	if m > 0 {
		ln = math.Log(t.row.middle() / m)
	}
	switch {
	case t.row.bound == "le" && ln > 0, t.row.bound == "ge" && ln < 0:
		return 0, false
	}
	return ln, true
}

const flownSD = 0.3 // residuals beyond 1.5 of these count linearly

// flownCost counts every craft once.
func flownCost(flights []timedFlight, unsteady float64, out string) float64 {
	sum, n := map[string]float64{}, map[string]float64{}
	var names []string
	for i := range flights {
		name := flights[i].row.craftName()
		if name == out {
			continue
		}
		if n[name] == 0 {
			names = append(names, name)
		}
		ln, _ := flights[i].ln(unsteady)
		z := ln / flownSD / robust.RobustCorner
		sum[name] += math.Sqrt(1+z*z) - 1
		n[name]++
	}
	var cost float64
	for _, name := range names {
		cost += sum[name] / n[name]
	}
	return cost
}

// fitUnsteady finds the factor on the code's unsteadiness of least cost by golden section, a craft left out.
func fitUnsteady(flights []timedFlight, out string) float64 {
	const golden = 0.6180339887498949
	cost := func(x float64) float64 { return flownCost(flights, x, out) }
	a, b := 0.8, 1.8
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	f1, f2 := cost(x1), cost(x2)
	for b-a > 2e-3 {
		if f1 < f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - golden*(b-a)
			f1 = cost(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + golden*(b-a)
			f2 = cost(x2)
		}
	}
	return (a + b) / 2
}

// unsteady are factors on the code's unsteadiness outdoors and indoors.
type unsteady struct{ outdoors, indoors float64 }

func (u unsteady) of(t *timedFlight) float64 {
	if t.way.Indoors {
		return u.indoors
	}
	return u.outdoors
}

// fitBoth fits the factors, each to its own flights, a craft left out.
func fitBoth(flights []timedFlight, out string) unsteady {
	var outdoors, indoors []timedFlight
	for i := range flights {
		if flights[i].way.Indoors {
			indoors = append(indoors, flights[i])
		} else {
			outdoors = append(outdoors, flights[i])
		}
	}
	return unsteady{fitUnsteady(outdoors, out), fitUnsteady(indoors, out)}
}

// leaveCrafts are ln measured over predicted of every flight, its craft left out of the fit. Indoor flights are of one
// craft alone: left out, they take the factor outdoors with the ratio of the code's two.
func leaveCrafts(flights []timedFlight) (logs []float64, says []bool) {
	fits := map[string]unsteady{}
	logs, says = make([]float64, len(flights)), make([]bool, len(flights))
	for i := range flights {
		name := flights[i].row.craftName()
		k, ok := fits[name]
		if !ok {
			k = fitBoth(flights, name)
			k.indoors = k.outdoors
			fits[name] = k
		}
		logs[i], says[i] = flights[i].ln(k.of(&flights[i]))
	}
	return logs, says
}

// flownScore sums up flights that say something.
func flownScore(flights []timedFlight, logs []float64, says []bool) string {
	var said []float64
	var perCraft weighted
	within, broken, held := 0.0, 0, 0
	count := map[string]float64{}
	for i := range logs {
		if says[i] {
			count[flights[i].row.craftName()]++
		}
	}
	for i, l := range logs {
		bound := flights[i].row.bound
		if !says[i] {
			held++
			continue
		}
		if bound == "le" || bound == "ge" {
			broken++
		}
		said = append(said, l)
		perCraft = append(perCraft, weightedLog{l, 1 / count[flights[i].row.craftName()]})
		if ratio := math.Exp(-l); ratio >= 0.7 && ratio <= 1.4 {
			within++
		}
	}
	return fmt.Sprintf("median error %.0f %%, nine in ten %.0f %%, predicted 0.7 to 1.4 times the timed %.0f %% of %d; "+
		"crafts counting alike %.0f / %.0f %%; bias of ln %+.2f; bounds held %d, broken %d (counted)",
		100*residual.Median(residual.Relative(said)), 100*uncertain.Quantile(residual.Relative(said),
			0.9), 100*within/float64(len(said)), len(said), 100*perCraft.quantile(0.5), 100*perCraft.quantile(0.9), residual.Median(said), held, broken)
}

// drawnMinutes are the ends of a flight's 80 % interval, all uncertain inputs drawn; its spread of ln is also given.
func (t *timedFlight) drawnMinutes(unsteady, flyingLnSD float64, random *rand.Rand) (low, high, spread float64) {
	budget := t.craft.Uncertainty
	budget.LnSD[uncertain.FlyingPower] = flyingLnSD
	p := uncertain.Propagate(func(d *uncertain.Deviation, values []float64) {
		drawn := *t
		drawn.craft = t.craft.Deviate(d)
		values[0] = math.Max(drawn.minutes(unsteady), 0.01)
	}, 1, &budget, randomDraws(&budget, random), nil)
	low, high = uncertain.Quantile(p.Drawn(0), uncertain.LowShare), uncertain.Quantile(p.Drawn(0), uncertain.HighShare)
	return low, high, math.Log(high/low) / (2 * uncertain.HalfWidth())
}

// randomDraws are draws of a budget.
func randomDraws(b *uncertain.Budget, random *rand.Rand) []uncertain.Deviation {
	draws := make([]uncertain.Deviation, 200)
	for s := range draws {
		var normal [uncertain.InputCount]float64
		for i := range normal {
			normal[i] = random.NormFloat64()
		}
		draws[s] = b.Deviation(&normal)
	}
	return draws
}

func onlySaid(logs []float64, says []bool) []float64 {
	var out []float64
	for i, l := range logs {
		if says[i] {
			out = append(out, l)
		}
	}
	return out
}

// coverFlights is the share of crafts' flights inside their 80 % intervals, crafts counting alike.
// A bound is inside if the interval reaches its good side.
func coverFlights(flights []timedFlight, k unsteady, flyingLnSD float64, random *rand.Rand) (share float64,
	crafts int) {
	in, n := map[string]float64{}, map[string]float64{}
	var names []string
	for i := range flights {
		t := &flights[i]
		low, high, _ := t.drawnMinutes(k.of(t), flyingLnSD, random)
		if t.row.bound == "le" || t.row.bound == "ge" {
			continue
		}
		name := t.row.craftName()
		if n[name] == 0 {
			names = append(names, name)
		}
		n[name]++
		if m := t.row.middle(); m >= low && m <= high {
			in[name]++
		}
	}
	for _, name := range names {
		share += in[name] / n[name]
	}
	return share / float64(len(names)), len(names)
}

// repeated is how far flights of one craft on one pack in one way of flying scatter, the standard
// deviation of ln, and from how many pairs and more.
func repeated(flights []timedFlight) (lnSD float64, sets int) {
	groups := map[string][]float64{}
	var names []string
	for i := range flights {
		r := flights[i].row
		if r.bound != "eq" {
			continue
		}
		key := fmt.Sprint(r.craftName(), r.capacityAh, r.style)
		if groups[key] == nil {
			names = append(names, key)
		}
		groups[key] = append(groups[key], math.Log(r.value))
	}
	var squares, freedom float64
	for _, name := range names {
		x := groups[name]
		if len(x) < 2 {
			continue
		}
		sets++
		m := robust.Mean(x)
		for _, v := range x {
			squares += (v - m) * (v - m)
		}
		freedom += float64(len(x) - 1)
	}
	return math.Sqrt(squares / freedom), sets
}
