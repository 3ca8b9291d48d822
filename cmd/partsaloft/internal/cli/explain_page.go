package cli

import (
	"fmt"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/cmd/internal/render"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search/predict"
)

func (e *explanation) page(one *explained) render.Page {
	r := e.result
	var page render.Page
	title := combinationText(&r.Combination)
	if e.rank > 0 {
		title = fmt.Sprintf("%d: %s", e.rank, title)
	}
	page.Add(render.Heading(title), render.Paragraph(e.standing()))
	if len(r.Violations) > 0 {
		var broken render.List
		for i := range r.Violations {
			broken = append(broken, brokenSentence(&r.Violations[i])+".")
		}
		page.Add(render.Heading("What it breaks"), broken)
	}
	page.Add(render.Heading("Figures"), figureTable(r), render.Paragraph(e.endurance()))
	page.Add(render.Heading("The score taken apart"), e.apartTable(), render.Paragraph(e.apartSentence()))
	page.Add(render.Heading("What binds"), render.Paragraph(one.Binds+" "+punchSentence(r)))
	gives := render.List{}
	for _, g := range one.GivesUp {
		gives = append(gives, g.Text)
	}
	page.Add(render.Heading("What it gives up"), gives)
	swaps := e.swapList()
	if len(swaps) > 0 {
		page.Add(render.Heading("Best swap of one part for each axis"), swaps)
	}
	page.Add(e.packBlocks()...)
	if one.Class != nil {
		page.Add(render.Heading("Weight class"), render.Paragraph(one.Class.Text))
	}
	page.Add(render.Heading("First flight"), cardTable(one.FirstFlight))
	if spares := e.sparesSentence(); spares != "" {
		page.Add(render.Paragraph(spares))
	}
	if notes := noteList(r); len(notes) > 0 {
		page.Add(render.Heading("To note"), notes)
	}
	if len(one.Assumed) > 0 {
		page.Add(render.Heading("Reckoned without knowing"), render.List(sentences(one.Assumed)))
	}
	return page
}

// standing says where the combination stands in its drawer.
func (e *explanation) standing() string {
	score := fmt.Sprintf("Score %.1f of 100 in %s.", e.result.Evaluation.Score, styleWords(&e.problem.Style))
	switch {
	case !e.result.Evaluation.Feasible():
		return score + " It breaks a limit, so rank leaves it out."
	case e.rank == 1 && e.rival == nil:
		return score + " It is the only feasible combination of the drawer."
	case e.rank == 1:
		return score + " " + winsSentence(&e.problem.Style, e.ranking.Best)
	case e.best == nil:
		return score
	case e.rank > 1:
		return score + fmt.Sprintf(" It stands at rank %d; rank 1 is %s.", e.rank, combinationText(&e.best.Combination))
	}
	return score + fmt.Sprintf(" It is not among the best %d; rank 1 is %s with %.1f.", len(e.ranking.Best), combinationText(&e.best.Combination), e.best.Evaluation.Score)
}

// endurance says how the flight of the style ends.
func (e *explanation) endurance() string {
	r := e.result
	minutes, used := shownOf(r, figure.StyleTime), shownOf(r, figure.UsedCharge)
	if !minutes.defined() || !used.defined() {
		return ""
	}
	capacity := e.result.Combination.Pack.CapacityMAh
	end := fmt.Sprintf("with %.0f %% of the charge left, the reserve", reservePct(&e.problem.Style.Flying))
	if r.Performance.Ending == physics.CellLanding {
		end = fmt.Sprintf("when the cell falls to %s V under load, before the reserve", raw(landingOf(r, &e.problem.Style)))
	}
	return fmt.Sprintf("A flight in this style takes %s of %s mAh in %s and ends %s.", used.String(), raw(capacity), minutes.String(), end)
}

func landingOf(r *predict.Result, style *objective.Style) float64 {
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
	return withUnit(catalogue.Number(value, 0.8*value, 1.2*value), unit)
}
