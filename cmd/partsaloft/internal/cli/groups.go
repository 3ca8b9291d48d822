package cli

import (
	"partsaloft/cmd/internal/render"
	"partsaloft/physics"
	"partsaloft/search"
)

// group is what a pilot asks for together.
type group struct {
	name       string
	quantities []physics.Quantity
}

// groups hold every figure once.
var groups = [...]group{
	{"Weight", []physics.Quantity{physics.AllUpMass, physics.DiscLoading}},
	{"Hover", []physics.Quantity{physics.HoverThrottle, physics.HoverCurrent, physics.HoverPower}},
	{"Punch", []physics.Quantity{physics.FullThrottleThrust, physics.FullThrottleCurrent, physics.PackSafeCurrent, physics.PackCurrentUse, physics.BoardCurrentUse,
		physics.MotorCurrentUse, physics.ConnectorCurrentUse, physics.LoadedCell, physics.ThrottleCap, physics.ThrustToWeight}},
	{"Flying time", []physics.Quantity{physics.HoverTime, physics.CruiseTime, physics.HardTime, physics.StyleTime, physics.UsedCharge, physics.MeanCurrent}},
	{"Feel", []physics.Quantity{physics.TurnThrottle, physics.TurnLoadFactor, physics.PullOut, physics.Response, physics.Rise, physics.ThrustStep}},
	{"Speed and range", []physics.Quantity{physics.TopSpeed, physics.ForwardAcceleration, physics.BestEnduranceSpeed, physics.BestRangeSpeed, physics.Range}},
	{"Heat", []physics.Quantity{physics.MotorHeat, physics.MotorTemperature, physics.TipMach}},
}

// figureTable shows every figure with its interval and basis, in groups.
func figureTable(r *search.Result) *render.Table {
	t := &render.Table{Columns: []render.Column{render.Left("figure"), render.Right("value"), render.Right("8 in 10 between"), render.Left("basis")}}
	for _, g := range groups {
		t.Add(g.name)
		for _, q := range g.quantities {
			f := figure(r, q)
			if !f.defined() {
				t.Add("  "+nameOf(f.Key), "–", "", f.why.String())
				continue
			}
			t.Add("  "+nameOf(f.Key), f.String(), f.span(), f.basis)
		}
	}
	return t
}
