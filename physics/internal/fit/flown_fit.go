package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"partsaloft/physics"
	"partsaloft/physics/uncertain"
)

// flownKnobs are the few global constants that timed flights may set, as factors on those of the
// code.
type flownKnobs struct{ unsteady, drag, dragPower, electronics, loss, charge float64 }

// oneKnob leaves the code's constants as they are.
func oneKnob() flownKnobs { return flownKnobs{1, 1, 0, 1, 1, 1} }

// timedFlight is a flight with its craft by the rules.
type timedFlight struct {
	row     *flownRow
	craft   physics.Craft
	guessed []string
	way     physics.Flying
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

// minutes that a flight lasts under knobs; 0 if it cannot be flown.
func (t *timedFlight) minutes(k flownKnobs) float64 {
	c := t.craft
	c.FlyingFactor *= k.unsteady
	c.DragAreaM2 *= k.drag * math.Pow(t.row.diameterIn/5, k.dragPower)
	c.ElectronicsW *= k.electronics
	c.Motor.LossNm *= k.loss
	c.Pack.CapacityFactor *= k.charge
	f, why := c.Fly(&t.way, 1)
	if why != physics.Defined {
		return 0
	}
	return f.DurationS / 60
}

// unflown is ln measured over predicted of a flight that the model cannot fly.
const unflown = 2.0

// ln of measured over predicted. A range counts by its geometric middle; a bound counts 0 if it
// holds, and then says nothing.
func (t *timedFlight) ln(k flownKnobs) (ln float64, says bool) {
	m := t.minutes(k)
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
func flownCost(flights []timedFlight, k flownKnobs, out string) float64 {
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
		ln, _ := flights[i].ln(k)
		z := ln / flownSD / robustCorner
		sum[name] += math.Sqrt(1+z*z) - 1
		n[name]++
	}
	var cost float64
	for _, name := range names {
		cost += sum[name] / n[name]
	}
	return cost
}

// knob is one global constant on trial.
type knob struct {
	name      string
	at        func(*flownKnobs) *float64
	low, high float64
	zero      bool // neutral at 0, else at 1
}

var flownTrials = [][]knob{
	{},
	{unsteadyKnob},
	{{"drag area", func(k *flownKnobs) *float64 { return &k.drag }, 0.3, 3, false}},
	{{"electronics", func(k *flownKnobs) *float64 { return &k.electronics }, 0.2, 4, false}},
	{{"loss torque", func(k *flownKnobs) *float64 { return &k.loss }, 0.4, 2.5, false}},
	{{"usable charge", func(k *flownKnobs) *float64 { return &k.charge }, 0.6, 1.2, false}},
	{unsteadyKnob, {"drag area", func(k *flownKnobs) *float64 { return &k.drag }, 0.3, 3, false}},
	{unsteadyKnob, {"drag power", func(k *flownKnobs) *float64 { return &k.dragPower }, -1, 1.5, true}},
	{unsteadyKnob, {"electronics", func(k *flownKnobs) *float64 { return &k.electronics }, 0.2, 4, false}},
	{unsteadyKnob, {"loss torque", func(k *flownKnobs) *float64 { return &k.loss }, 0.4, 2.5, false}},
}

// chosenKnobs are those that the code takes.
var chosenKnobs = []knob{unsteadyKnob}

var unsteadyKnob = knob{"unsteadiness", func(k *flownKnobs) *float64 { return &k.unsteady }, 0.8, 1.8, false}

// fitKnobs minimises the cost along one knob after the other by golden section.
func fitKnobs(flights []timedFlight, knobs []knob, out string) flownKnobs {
	k := oneKnob()
	rounds := 1
	if len(knobs) > 1 {
		rounds = 4
	}
	for range rounds {
		for _, free := range knobs {
			cost := func(x float64) float64 {
				trial := k
				*free.at(&trial) = x
				return flownCost(flights, trial, out)
			}
			const golden = 0.6180339887498949
			a, b := free.low, free.high
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
			*free.at(&k) = (a + b) / 2
		}
	}
	return k
}

// leaveCrafts are ln measured over predicted of every flight, its craft left out of the fit.
func leaveCrafts(flights []timedFlight, knobs []knob) (logs []float64, says []bool) {
	fits := map[string]flownKnobs{}
	logs, says = make([]float64, len(flights)), make([]bool, len(flights))
	for i := range flights {
		name := flights[i].row.craftName()
		k, ok := fits[name]
		if !ok {
			k = fitKnobs(flights, knobs, name)
			fits[name] = k
		}
		logs[i], says[i] = flights[i].ln(k)
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
	return fmt.Sprintf("median error %.0f %%, nine in ten %.0f %%, predicted 0.7 to 1.4 times the timed %.0f %% of %d; crafts counting alike %.0f / %.0f %%; bias of ln %+.2f; bounds held %d, broken %d (counted)",
		100*median(relative(said)), 100*quantile(relative(said), 0.9), 100*within/float64(len(said)), len(said), 100*perCraft.quantile(0.5), 100*perCraft.quantile(0.9), median(said), held, broken)
}

// drawnMinutes are the ends of a flight's 80 % interval, all uncertain inputs drawn; its spread of ln is also given.
func (t *timedFlight) drawnMinutes(k flownKnobs, flyingLnSD float64, random *rand.Rand) (low, high, spread float64) {
	var logs []float64
	u := t.craft.Uncertainty
	u.LnSD[uncertain.FlyingPower] = flyingLnSD
	for range 200 {
		var normal [uncertain.InputCount]float64
		for i := range normal {
			normal[i] = random.NormFloat64()
		}
		d := u.Deviation(&normal)
		drawn := *t
		drawn.craft = t.craft.Deviate(&d)
		m := drawn.minutes(k)
		if m == 0 {
			m = 0.01
		}
		logs = append(logs, math.Log(m))
	}
	low, high = quantile(logs, 0.1), quantile(logs, 0.9)
	return math.Exp(low), math.Exp(high), (high - low) / (2 * half80)
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
func coverFlights(flights []timedFlight, k flownKnobs, flyingLnSD float64, logs []float64, says []bool, random *rand.Rand) (share float64, crafts int) {
	in, n := map[string]float64{}, map[string]float64{}
	var names []string
	for i := range flights {
		t := &flights[i]
		low, high, _ := t.drawnMinutes(k, flyingLnSD, random)
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
		m := mean(x)
		for _, v := range x {
			squares += (v - m) * (v - m)
		}
		freedom += float64(len(x) - 1)
	}
	return math.Sqrt(squares / freedom), sets
}
