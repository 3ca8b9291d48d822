package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"

	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/internal/fit/robust"
	"partsaloft/physics/internal/residual"
)

// printFlown prints what timed flights say: the constants fitted to them,
// errors with whole crafts left out, coverage, and figures that no fit saw.
func printFlown(w io.Writer, folder string) error {
	rows, err := loadFlown(folder)
	if err != nil {
		return err
	}
	b, err := newFlownBuilder(rows)
	if err != nil {
		return err
	}
	flights, err := timedFlights(rows, b)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "Mass without pack where none is weighed: %.0f g (diameter/3 in)^%.2f, spread of ln %.2f left out; "+
		"from %d crafts: %v\n", 1000*math.Exp(b.dryLaw.c[0]), b.dryLaw.c[1], b.drySD, len(b.weighs), b.weighs)
	fmt.Fprintf(w, "%d timed flights; two constants fitted, whole crafts left out\n", len(flights))
	k := fitBoth(flights, "")
	logs, says := leaveCrafts(flights)
	fmt.Fprintf(w, "  %s\n", flownScore(flights, logs, says))
	for _, class := range flownClasses() {
		var of []timedFlight
		var ofLogs []float64
		var ofSays []bool
		for i := range flights {
			if flights[i].class() == class {
				of, ofLogs, ofSays = append(of, flights[i]), append(ofLogs, logs[i]), append(ofSays, says[i])
			}
		}
		fmt.Fprintf(w, "  %s: %s\n", class, flownScore(of, ofLogs, ofSays))
	}
	fmt.Fprintf(w, "UnsteadyOutdoors, UnsteadyIndoors = %.3f, %.3f\n", physics.UnsteadyOutdoors*k.outdoors,
		physics.UnsteadyIndoors*k.indoors)
	random := rand.New(rand.NewPCG(5, 6))
	var spreads, free []float64
	for i := range flights {
		_, _, s := flights[i].drawnMinutes(k.of(&flights[i]), 0, random)
		spreads = append(spreads, s)
		if says[i] {
			free = append(free, logs[i]*logs[i]-s*s)
		}
	}
	fmt.Fprintf(w, "// Parts alone spread ln of time by %.2f at the median; residuals by %.2f; what is left for the way "+
		"of flying: mean square %.3f\n", residual.Median(spreads), residual.Spread(onlySaid(logs, says)), robust.Mean(free))
	again, sets := repeated(flights)
	fmt.Fprintf(w, "// Flights repeated by one pilot scatter by %.2f of ln (%d sets)\n", again, sets)
	for _, sd := range []float64{0.10, 0.20, 0.25, 0.30} {
		share, crafts := coverFlights(flights, k, sd, rand.New(rand.NewPCG(7, 8)))
		fmt.Fprintf(w, "  flyingPowerLnSD %.2f: inside the 80 %% interval %s crafts\n", sd, band(share, crafts))
	}
	order := make([]int, len(flights))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := math.Abs(logs[a]), math.Abs(logs[b])
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	fmt.Fprintln(w, "Flights, worst first; measured and predicted minutes, ln measured/predicted with the craft left out")
	for _, i := range order {
		t := &flights[i]
		p := t.craft.Evaluate(&t.way)
		hover, _ := p.Get(figure.HoverThrottle)
		power, _ := p.Get(figure.HoverPower)
		ratio, _ := p.Get(figure.ThrustToWeight)
		note := ""
		if !says[i] {
			note = "bound holds"
		}
		fmt.Fprintf(w, "  %s %-22s %5.1f g %dS %4.0f mAh %-26s %2s %4.1f  %4.1f  %+.2f %-12s hover %2.0f %% %5.1f W, "+
			"thrust-to-weight %.1f, guessed %v\n", t.row.id, t.row.craftName(), t.craft.MassKg()*1000,
			t.row.cells, t.row.capacityAh*1000, t.row.style, t.row.bound, t.row.middle(), t.minutes(k.of(t)), logs[i], note, 100*hover, power, ratio, t.guessed)
	}
	return printReadings(w, rows, b)
}
