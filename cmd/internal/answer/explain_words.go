package answer

import (
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

// standing says where the combination stands in its drawer.
func (e *explaining) standing() string {
	score := fmt.Sprintf("Score %.1f of 100 in %s.", e.Result.Evaluation.Score, styleWords(&e.Problem.Style))
	switch {
	case !e.Result.Evaluation.Feasible():
		return score + " It breaks a limit, so rank leaves it out."
	case e.Rank == 1 && e.rival == nil:
		return score + " It is the only feasible combination of the drawer."
	case e.Rank == 1:
		return score + " " + winsSentence(&e.Problem.Style, e.Ranking.Best)
	case e.best == nil:
		return score
	case e.Rank > 1:
		return score + fmt.Sprintf(" It stands at rank %d; rank 1 is %s.", e.Rank, CombinationText(&e.best.Combination))
	}
	return score + fmt.Sprintf(" It is not among the best %d; rank 1 is %s with %.1f.", len(e.Ranking.Best),
		CombinationText(&e.best.Combination), e.best.Evaluation.Score)
}

// endurance says how the flight of the style ends.
func (e *explaining) endurance() string {
	r := e.Result
	minutes, used := ShownOf(r, figure.StyleTime), ShownOf(r, figure.UsedCharge)
	if !minutes.Defined() || !used.Defined() {
		return ""
	}
	capacity := e.Result.Combination.Pack.CapacityMAh
	end := fmt.Sprintf("with %.0f %% of the charge left, the reserve", reservePct(&e.Problem.Style.Flying))
	if r.Performance.Ending == physics.CellLanding {
		end = fmt.Sprintf("when the cell falls to %s V under load, before the reserve",
			catalogue.Raw(LandingCellV(r, &e.Problem.Style)))
	}
	return fmt.Sprintf("A flight in this style takes %s of %s mAh in %s and ends %s.", used.String(),
		catalogue.Raw(capacity), minutes.String(), end)
}

// LandingCellV is the cell voltage under load at which a combination lands in a style.
func LandingCellV(r *predict.Result, style *objective.Style) float64 {
	if r.Combination.Pack.Chemistry == inventory.LiIon {
		if style.Flying.IonV == 0 {
			return 3.0
		}
		return style.Flying.IonV
	}
	return landingCellV(&style.Flying)
}

// punchSentence says how long full throttle lasts.
func punchSentence(r *predict.Result) string {
	duty, _ := r.Performance.Get(figure.ThrottleCap)
	seconds := r.Craft.PunchS(duty)
	at := "Full throttle"
	if r.Performance.Cap != physics.NoLimit {
		at = "The capped throttle"
	}
	lowest := catalogue.Fixed(r.Craft.Pack.Chemistry.LowestCellV(), 1)
	if seconds < 1 {
		return fmt.Sprintf("%s takes a full cell under %s V at once.", at, lowest)
	}
	return fmt.Sprintf("%s, held from a full pack, takes the cell to %s V after about %s.", at, lowest, duration(seconds))
}

// duration is a time in seconds, or in minutes from two minutes on, with two digits.
func duration(seconds float64) string {
	value, unit := seconds, "s"
	if seconds >= 120 {
		value, unit = seconds/60, "min"
	}
	return catalogue.WithUnit(catalogue.Number(value, 0.8*value, 1.2*value), unit)
}
