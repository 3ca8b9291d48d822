package search

import (
	"context"
	"fmt"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
	"partsaloft/search/solve"
	"partsaloft/search/space"
)

// misses works out what comes nearest to being feasible, with what would mend it: of what fits, that
// which breaks its rules least; if nothing fits, that with the fewest misfits.
func misses(ctx context.Context, s *space.Space, t *solve.Incumbents, d *predict.Draws, workers int) []Miss {
	var list []predict.Result
	for i := range t.NearMisses {
		list = append(list, resultOf(s, &t.NearMisses[i]))
	}
	if s.Fitted == 0 {
		for _, c := range s.Closest(solve.MissCount) {
			if prop, err := c.Prop.Propeller(s.Problem.Air); err == nil {
				list = append(list, predict.Predict(c, prop, &s.Problem.Style))
			}
		}
	}
	predict.Judge(ctx, list, &s.Problem.Style, d, workers)
	out := make([]Miss, len(list))
	for i := range list {
		r := &list[i]
		out[i].Result = *r
		if s.Fitted == 0 {
			noteRoles(s, &out[i])
		}
		for k := range r.Violations {
			if way := mend(&r.Violations[k], r); way != "" {
				out[i].Mend = append(out[i].Mend, way)
			}
		}
	}
	return out
}

// noteRoles adds to the misfits the roles that it must carry an extra of and does not.
func noteRoles(s *space.Space, r *Miss) {
	var lacks []string
	for _, role := range s.Roles {
		if !slices.ContainsFunc(r.Combination.Extras, func(e *inventory.Extra) bool { return e.Role == role }) {
			lacks = append(lacks, "no "+string(role))
		}
	}
	if len(lacks) > 0 {
		r.Misfits = append(r.Misfits, "it carries "+space.WordList(lacks))
		r.Mend = append(r.Mend, "list one under extras, or do not ask for the role")
	}
}

// mend says what would bring a broken rule in order, in a pilot's units.
func mend(b *objective.Violation, r *predict.Result) string {
	massG := r.Craft.MassKg() * 1000
	thrust, _ := r.Performance.Get(figure.FullThrottleThrust)
	current, _ := r.Performance.Get(figure.FullThrottleCurrent)
	switch b.Key {
	case "throttle_cap_pct":
		switch r.Performance.Cap {
		case physics.PackLimit:
			return fmt.Sprintf("a pack that gives about %.0f A where this one gives %.0f A, or props that take less", current, r.Craft.Pack.SafeCurrentA)
		case physics.CellLimit:
			return fmt.Sprintf("a pack with less resistance than %.0f mΩ, or props that take less", 1000*r.Craft.Pack.InternalOhm)
		case physics.BoardLimit:
			use, _ := r.Performance.Get(figure.BoardCurrentUse)
			return fmt.Sprintf("a board with ESCs for about %.0f A where these take %.0f A, or props that take less", use*r.Craft.Board.BurstA, r.Craft.Board.BurstA)
		case physics.ConnectorLimit:
			return fmt.Sprintf("a plug for about %.0f A where this one takes %.0f A, or props that take less", current, r.Craft.Connector.PeakA)
		case physics.MotorLimit:
			return "motors that take more, fewer cells, or props that take less"
		}
	case objective.BoardMeanKey:
		return fmt.Sprintf("a board with ESCs for %.0f A all along where these take %.0f A", r.Performance.HardestMotorA, r.Craft.Board.ContinuousA)
	case objective.MotorMeanKey:
		return fmt.Sprintf("motors that bear %.1f A all along where %.1f A are estimated for these; fewer cells, or less weight", r.Performance.HardestMotorA, r.Craft.Motor.MeanLimitA())
	case objective.ConnectorMeanKey:
		return fmt.Sprintf("a plug for %.0f A all along where this one takes %.0f A", r.Performance.HardestPackA, r.Craft.Connector.ContinuousA)
	case "thrust_to_weight":
		if b.Why == physics.Defined && b.Value < b.Bound {
			return fmt.Sprintf("%.0f g less, or %.2f times the thrust", math.Ceil(massG*(1-b.Value/b.Bound)), math.Ceil(100*b.Bound/b.Value)/100) + loosened(b)
		}
	case "hover_throttle_pct":
		if b.Why != physics.Defined {
			return fmt.Sprintf("more thrust or less weight: at full throttle it lifts %.0f g and weighs %.0f g", thrust/physics.GravityMS2*1000, massG)
		}
		return "more thrust or less weight" + loosened(b)
	case "all_up_g":
		if b.Over() {
			return fmt.Sprintf("%.0f g less", math.Ceil(b.Value-b.Bound)) + loosened(b)
		}
	}
	if b.Why != physics.Defined || math.IsInf(b.Bound, 0) {
		return ""
	}
	return "other parts" + loosened(b)
}

// loosened is the limit that would hold the value, where the broken rule is a limit of the style that
// may be loosened so far; else nothing. It is rounded to the side that holds.
func loosened(b *objective.Violation) string {
	f, ok := figure.ByKey(b.Key)
	if !ok || b.Why != physics.Defined {
		return ""
	}
	step := math.Pow10(min(f.Decimals, 2-int(math.Floor(math.Log10(math.Max(math.Abs(b.Value), 1e-9))))))
	now, then := objective.Limit{Quantity: f.Quantity}, objective.Limit{Quantity: f.Quantity}
	if b.Over() {
		now.Range = objective.Range{Low: math.Inf(-1), High: b.Bound}
		then.Range = objective.Range{Low: math.Inf(-1), High: math.Ceil(b.Value*step) / step}
	} else {
		now.Range = objective.Range{Low: b.Bound, High: math.Inf(1)}
		then.Range = objective.Range{Low: math.Floor(b.Value*step) / step, High: math.Inf(1)}
	}
	for _, common := range (&objective.Style{}).Effective() {
		if common.Quantity == f.Quantity && !common.Range.Holds(b.Value) {
			return ""
		}
	}
	return fmt.Sprintf(", or loosen the limit to %s (now %s)", then, now.Range)
}
