package predict

import (
	"fmt"
	"math"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// Value is one predicted figure in SI units, with the 10 % and 90 % points over the draws. If Why
// is not physics.Defined the figure is undefined and the numbers are 0.
type Value struct {
	Value, Low, High float64
	Basis            uncertain.Basis
	Why              physics.Reason
}

// Result is one combination with what it is predicted to do.
type Result struct {
	Combination inventory.Combination
	Craft       physics.Craft
	Performance physics.Performance
	Evaluation  objective.Evaluation
	// Broken lists the rules it breaks in the air; Misfits says which parts do not fit. Both are
	// empty for a feasible combination. One that does not fit has no performance.
	Violations []objective.Violation
	Misfits    []string
	// Notes are what fits but wants a word, and what to mind.
	Notes []string
	// Figures holds every figure by its quantity.
	Figures [figure.Count]Value
	// AheadShare is the share of the draws in which it stays ahead of the next in the list; BestShare
	// that in which it is the best of the list. Both are over the list's feasible results.
	AheadShare, BestShare float64
	// Unlike is how far it lies from the nearest craft of the fleet over all figures, 0 to 1, and
	// UnlikeText says where it differs most from that craft; set if Options.Novel asks for it.
	Unlike     float64
	UnlikeText string

	novelty float64 // Options.Novel
}

// Predict works a combination out in full, but for its intervals. What cannot be put in numbers is
// a misfit.
func Predict(c inventory.Combination, prop *rotor.Propeller, style *objective.Style) Result {
	r := Result{Combination: c, Notes: c.Dangers()}
	for _, f := range c.Findings() {
		if f.Severity == inventory.Misfit {
			r.Misfits = append(r.Misfits, f.Text)
		} else if f.Text != "" {
			r.Notes = append(r.Notes, f.Text)
		}
	}
	var err error
	if r.Craft, err = c.Craft(prop); err != nil {
		r.Misfits = append(r.Misfits, err.Error())
		return r
	}
	r.Performance = r.Craft.Evaluate(&style.Flying)
	r.Evaluation = style.Evaluate(&r.Craft, &r.Performance)
	r.Violations = style.Violations(&r.Craft, &r.Performance)
	r.nominal()
	r.Notes = append(r.Notes, cautions(&r.Craft, &r.Performance)...)
	return r
}

// Feasible says whether a combination fits and breaks no rule.
func (r *Result) Feasible() bool { return len(r.Misfits) == 0 && r.Evaluation.Feasible() }

// cautions are what a craft's numbers warn of, in words.
func cautions(c *physics.Craft, p *physics.Performance) []string {
	var notes []string
	for _, w := range c.Warnings(p) {
		switch w.Caution {
		case physics.HotWinding:
			notes = append(notes, fmt.Sprintf("the windings may reach %.0f °C in this style, over %.0f °C magnets and enamel age fast: after a minute land, disarm, unplug and feel the motors", celsius(w.Value), celsius(w.Bound)))
		case physics.BurntWinding:
			notes = append(notes, fmt.Sprintf("the windings would burn in this style: they would pass %.0f °C, more than any enamel holds", celsius(w.Bound)))
		case physics.FastElectrical:
			notes = append(notes, fmt.Sprintf("at full throttle the motors make %.0f thousand electrical revolutions a minute, over %.0f thousand ESCs may lose step", w.Value*60e-3, w.Bound*60e-3))
		case physics.FastTip:
			notes = append(notes, fmt.Sprintf("the blade tips reach Mach %.2f at full throttle, over %.2f the prediction is too good", w.Value, w.Bound))
		case physics.TwitchyHover:
			notes = append(notes, fmt.Sprintf("it hovers at %.0f %% throttle, under %.0f %% it is hard to hold a height", 100*w.Value, 100*w.Bound))
		case physics.WeakHover:
			notes = append(notes, fmt.Sprintf("it hovers at %.0f %% throttle, over %.0f %% little is left for turns and gusts", 100*w.Value, 100*w.Bound))
		case physics.DrivenHard:
			notes = append(notes, fmt.Sprintf("a punch at the throttle cap takes %.1f A a motor, of %.1f A that are estimated for it, as it names no largest current: ask its maker before flying, give max_current_a, and keep punches short", p.PeakMotorA, c.Motor.MaxCurrentA))
		case physics.OverdrawnPlug:
			notes = append(notes, fmt.Sprintf("full throttle draws %.1f times what the plug's datasheet allows; pilots do so, and such plugs get hot", w.Value))
		}
	}
	return notes
}

// celsius is a temperature in °C from one in kelvin.
func celsius(temperatureK float64) float64 { return temperatureK - rotor.CelsiusToKelvin(0) }

// straddles notes the limits that the nominal value keeps and the interval does not.
func (r *Result) Straddles(style *objective.Style) {
	limits := style.Effective()
	for i := range limits {
		l := &limits[i]
		v, f := &r.Figures[l.Quantity], figure.Of(l.Quantity)
		if v.Why != physics.Defined {
			continue
		}
		low, high := f.FromSI(v.Low), f.FromSI(v.High)
		if l.Range.Holds(f.FromSI(v.Value)) && (!l.Range.Holds(low) || !l.Range.Holds(high)) {
			r.Notes = append(r.Notes, fmt.Sprintf("%s keeps its limit of %s, but may lie from %s to %s", f.Key, rangeWords(l.Range, f.Unit), told(f, low, &l.Range), told(f, high, &l.Range)))
		}
	}
}

// rangeWords is a range in words: at least 3 min.
func rangeWords(r objective.Range, unit string) string {
	if unit != "" {
		unit = " " + unit
	}
	switch {
	case math.IsInf(r.Low, 0):
		return fmt.Sprintf("at most %g%s", r.High, unit)
	case math.IsInf(r.High, 0):
		return fmt.Sprintf("at least %g%s", r.Low, unit)
	}
	return fmt.Sprintf("%g to %g%s", r.Low, r.High, unit)
}

// told is a figure as it is shown, with a digit more where it would else seem to keep a range that it
// breaks.
func told(f figure.Figure, x float64, r *objective.Range) string {
	if !r.Holds(x) && r.Holds(f.Round(x)) {
		f.Decimals++
	}
	return fmt.Sprintf("%.*f", f.Decimals, x)
}
