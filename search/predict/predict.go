package predict

import (
	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/physics/rotor"
)

// Predict works a combination out in full, but for its intervals. What cannot be put in numbers is
// a misfit.
func Predict(c inventory.Combination, prop *rotor.Propeller, style *objective.Style) Result {
	r := Result{Combination: c}
	r.Misfits, r.Remarks = Findings(&c)
	var err error
	if r.Craft, err = c.Craft(prop); err != nil {
		r.Misfits = append(r.Misfits, Misfit{Kind: CannotBe, Err: err})
		return r
	}
	r.Fly(style)
	return r
}

// Findings are the misfits and the remarks of a combination by the rules of fit.
func Findings(c *inventory.Combination) (misfits []Misfit, remarks []compat.Finding) {
	for _, f := range compat.Findings(c) {
		switch {
		case f.Severity == compat.Misfit:
			misfits = append(misfits, Misfit{Kind: DoesNotFit, Finding: f})
		default:
			remarks = append(remarks, f)
		}
	}
	return misfits, remarks
}

// Fly predicts and judges the result's craft, flown in a style.
func (r *Result) Fly(style *objective.Style) {
	r.Performance = r.Craft.Evaluate(&style.Flying)
	r.Evaluation = style.Evaluate(&r.Craft, &r.Performance)
	r.Violations = style.Violations(&r.Craft, &r.Performance)
	r.nominal()
	r.Cautions = r.Craft.Warnings(&r.Performance)
}

// limitsAtRisk sets the limits that the nominal value keeps and the interval does not.
func (r *Result) limitsAtRisk(style *objective.Style) {
	r.AtRisk = nil
	for _, l := range style.Effective(r.Craft.Ducted) {
		v, f := &r.Figures[l.Quantity], figure.Of(l.Quantity)
		if v.Why != physics.Defined {
			continue
		}
		low, high := f.FromSI(v.Low), f.FromSI(v.High)
		if l.Range.Holds(f.FromSI(v.Value)) && (!l.Range.Holds(low) || !l.Range.Holds(high)) {
			r.AtRisk = append(r.AtRisk, LimitAtRisk{l, low, high})
		}
	}
}
