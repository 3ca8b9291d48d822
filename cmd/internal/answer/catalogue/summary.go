package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics"
	"partsaloft/physics/figure"
	"partsaloft/search"
	"partsaloft/search/predict"
	"partsaloft/search/space"
)

// SearchedSentence says what was searched and how sure the list is to hold the best.
func SearchedSentence(p *space.Problem, r *search.Ranking) string {
	text := fmt.Sprintf("%s, %s: %s, %s search with %s", p.Drawer.Name, StyleWords(&p.Style),
		Plural(r.Candidates, "candidate", "candidates"), r.Method, Plural(r.Evaluated, "evaluation", "evaluations"))
	if feasible := r.Candidates - totalFallen(r.Infeasible); r.Proven && r.Skipped == 0 {
		text += fmt.Sprintf(", %s feasible", Grouped(feasible))
	}
	text += "."
	switch {
	case r.Interrupted:
		text += " Interrupted: this is the best so far, not the best there is."
	case len(r.Best) == 0:
	case r.Proven:
		text += " Nothing better is left out."
	case r.Gap > 0:
		text += fmt.Sprintf(" Not proven best: up to %s points more could still be there.", Number(r.Gap, 0, 2*r.Gap))
	default:
		text += " Not proven best; --method exact looks at all."
	}
	if fallen := fallenSentence(r.Infeasible); fallen != "" && len(r.Best) > 0 {
		text += " " + fallen
	}
	return text
}

func StyleWords(s *objective.Style) string {
	preset, ok := objective.Preset(s.Name)
	text := "style " + s.Name
	if ok && preset.Weights != s.Weights {
		text += " with weights of your own"
	}
	return text
}

func totalFallen(reasons []search.ReasonCount) int64 {
	var sum int64
	for _, reason := range reasons {
		sum += reason.Count
	}
	return sum
}

// fallenSentence counts what is infeasible by reason.
func fallenSentence(reasons []search.ReasonCount) string {
	var counts []string
	for _, reason := range reasons {
		if reason.Count > 0 {
			counts = append(counts, Grouped(reason.Count)+" to "+FallenTo(reason.Reason))
		}
	}
	if len(counts) == 0 {
		return ""
	}
	return "Fell out: " + strings.Join(counts, ", ") + "."
}

// MissList says of each near miss what it breaks and what would mend it.
func MissList(misses []search.NearMiss) []string {
	var list []string
	for i := range misses {
		m := &misses[i]
		faults := MisfitTexts(&m.Result)
		for k := range m.Violations {
			faults = append(faults, Violation(&m.Violations[k]))
		}
		text := CombinationText(&m.Combination) + ": " + strings.Join(faults, "; ")
		if len(m.Remedies) > 0 {
			text += ". To mend it: " + strings.Join(RemedyTexts(m), "; ")
		}
		list = append(list, text+".")
	}
	return list
}

// Sentences makes sentences of notes.
func Sentences(notes []string) []string {
	list := make([]string, len(notes))
	for i, note := range notes {
		list[i] = strings.TrimRight(note, ".") + "."
	}
	return list
}

// LoneSentence says how a single listed combination stands to what is not listed.
func LoneSentence(r *search.Ranking) string {
	best := &r.Best[0]
	counted := r.Proven && r.Skipped == 0
	switch others := r.Candidates - totalFallen(r.Infeasible) - 1; {
	case best.AheadShare < 1 || counted && others > 0:
		return fmt.Sprintf("The next is not listed; --top 2 shows it. Over what is uncertain this one stays ahead of it in "+
			"%s of the draws: %s.", Percent(best.AheadShare), Sureness(best))
	case counted:
		return "It is the only feasible combination."
	}
	return "It is the only one listed."
}

// WinsSentence says by how much the first of two or more leads the second and which axes make it.
func WinsSentence(style *objective.Style, best []predict.Result) string {
	first, second := &best[0], &best[1]
	gap := first.Evaluation.Score - second.Evaluation.Score
	text := "It scores the same as rank 2"
	if gap >= 0.05 {
		text = fmt.Sprintf("It leads rank 2 by %s", PointsText(gap))
	}
	if reasons := ApartText(style, first, second); reasons != "" {
		text += ": " + reasons
	}
	return text + fmt.Sprintf(". Over what is uncertain it stays ahead in %s of the draws: %s.", Percent(first.AheadShare),
		Sureness(first))
}

// ApartText says which axes make the difference between two scores, the largest first.
func ApartText(style *objective.Style, a, b *predict.Result) string {
	points := objective.Decompose(&style.Weights, &a.Evaluation.Axes, &b.Evaluation.Axes)
	axes := []objective.Axis{objective.Grip, objective.Endurance, objective.Smoothness, objective.TopSpeed}
	slices.SortStableFunc(axes, func(x, y objective.Axis) int {
		switch d := math.Abs(points[y]) - math.Abs(points[x]); {
		case d > 0:
			return 1
		case d < 0:
			return -1
		}
		return 0
	})
	var words []string
	for _, axis := range axes {
		if math.Abs(points[axis]) < 0.05 {
			continue
		}
		verb := "gives"
		if points[axis] < 0 {
			verb = "costs"
		}
		words = append(words, fmt.Sprintf("%s %s %.1f (%s)", axis, verb, math.Abs(points[axis]), Against(a, b, axis)))
	}
	return strings.Join(words, ", ")
}

func PointsText(points float64) string {
	return fmt.Sprintf("%.1f points", points)
}

// ExpectSentence names what a pilot notices first, with intervals.
func ExpectSentence(r *predict.Result) string {
	weight, hover, time := ShownOf(r, figure.AllUpMass), ShownOf(r, figure.HoverThrottle), ShownOf(r, figure.StyleTime)
	return fmt.Sprintf("Expect %s all-up (%s), hover at %s (%s) and %s of flying (%s).",
		weight.String(), weight.Span(), hover.String(), hover.Span(), time.String(), time.Span())
}

// BindsSentence says what holds the throttle back, or how near it comes.
func BindsSentence(r *predict.Result) string {
	limit := ShownOf(r, figure.ThrottleCap)
	use := func(q figure.Quantity) string { f := ShownOf(r, q); return f.String() }
	// What binds lies over 100 %, and is shown so.
	over := func(q figure.Quantity) string {
		f := ShownOf(r, q)
		if digits := Decimals(f.Value, f.Low, f.High); digits < 0 &&
			math.Round(f.Value*math.Pow10(digits)) <= math.Round(100*math.Pow10(digits)) {
			return WithUnit(Fixed(f.Value, 0), f.Unit)
		}
		return f.String()
	}
	end := fmt.Sprintf("; cap the throttle at %s in software, and check the setting before the first punch.",
		limit.String())
	switch r.Performance.Cap {
	case physics.PackLimit:
		return fmt.Sprintf("The pack binds: full throttle would draw %s, %s of its safe %s%s",
			use(figure.FullThrottleCurrent), over(figure.PackCurrentUse), use(figure.PackSafeCurrent), end)
	case physics.CellLimit:
		if f := ShownOf(r, figure.LoadedCell); !f.Defined() {
			return fmt.Sprintf("The cells' voltage binds: %s at full throttle%s", Undefined(f.Why), end)
		}
		return fmt.Sprintf("The cells' voltage binds: at full throttle a full cell would sag to %s%s", use(figure.LoadedCell),
			end)
	case physics.BoardLimit:
		return fmt.Sprintf("The board binds: full throttle would take %s of what one ESC may carry%s",
			over(figure.BoardCurrentUse), end)
	case physics.ConnectorLimit:
		return fmt.Sprintf("The connector binds: full throttle would draw %s, %s of its peak%s",
			use(figure.FullThrottleCurrent), over(figure.ConnectorCurrentUse), end)
	case physics.MotorLimit:
		whose := "its limit"
		if m := &r.Craft.Motor; m.LimitEstimated {
			whose = fmt.Sprintf("the %.1f A that are estimated for it, as it names none", m.MaxCurrentA)
		}
		return fmt.Sprintf("The motor binds: full throttle would take %s of %s%s", over(figure.MotorCurrentUse), whose, end)
	}
	most, what := 0.0, ""
	for _, one := range [...]struct {
		q    figure.Quantity
		what string
	}{
		{figure.PackCurrentUse, "the pack's safe current"}, {figure.BoardCurrentUse, "the ESC's limit"},
		{figure.ConnectorCurrentUse, "the connector's peak"}, {figure.MotorCurrentUse, "the motor's limit"},
	} {
		if f := ShownOf(r, one.q); f.Defined() && f.Value > most && !(one.q == figure.ConnectorCurrentUse &&
			r.Craft.Connector.Advisory) {
			most, what = f.Value, fmt.Sprintf("%s of %s", f.String(), one.what)
		}
	}
	if r.Craft.Motor.LimitEstimated {
		return "Nothing known holds the throttle back: at most, full throttle takes " + what +
			"; the motor gives no largest current, its limit is estimated, so check its heat after a minute of flight: " +
			"landed, disarmed and unplugged."
	}
	return "Nothing holds the throttle back: at most, full throttle takes " + what + "."
}

// InsteadSentences name for each axis the combination that has most of it, with what it gains and
// costs against the best.
func InsteadSentences(r *search.Ranking) []string {
	best := &r.Best[0]
	var tops [objective.AxisCount]*predict.Result
	var offers []string
	for axis := range objective.AxisCount {
		top := best
		for _, pool := range [][]predict.Result{r.Front, r.Best} {
			for i := range pool {
				// One that lacks an axis altogether is no advice.
				if pool[i].Evaluation.Axes[axis] > top.Evaluation.Axes[axis] && pool[i].Evaluation.Score > 0 {
					top = &pool[i]
				}
			}
		}
		offer := "nothing has more than this one"
		if top.Evaluation.Axes[axis]-best.Evaluation.Axes[axis] >= 0.5 {
			tops[axis], offer = top, OtherText(&best.Combination, &top.Combination)
		}
		offers = append(offers, offer)
	}
	axes := []objective.Axis{objective.Grip, objective.Endurance, objective.Smoothness, objective.TopSpeed}
	return Gathered(axes, offers, func(i int, asked []objective.Axis) string {
		if tops[i] == nil {
			return offers[i]
		}
		return fmt.Sprintf("%s: %s; score %.1f", offers[i], DeltasText(best, tops[i], asked), tops[i].Evaluation.Score)
	})
}

// Gathered says what is offered for several axes at once in one sentence; say is told which axes
// ask for offer i.
func Gathered(axes []objective.Axis, offers []string, say func(i int, asked []objective.Axis) string) []string {
	var list []string
	for i := range offers {
		if slices.Contains(offers[:i], offers[i]) {
			continue
		}
		var asked []objective.Axis
		var names []string
		for k := i; k < len(offers); k++ {
			if offers[k] == offers[i] {
				asked, names = append(asked, axes[k]), append(names, axes[k].String())
			}
		}
		list = append(list, Words(names)+": "+say(i, asked)+".")
	}
	return list
}

// OtherText names a combination by what it changes, or in whole if it changes more than two parts.
func OtherText(from, to *inventory.Combination) string {
	if words := changed(from, to); len(words) <= 2 {
		return strings.Join(words, ", ")
	}
	return BareText(to)
}

// DangerList is what may burn or fall of each of the listed, by rank.
func DangerList(best []predict.Result) []string {
	var list []string
	for i := range best {
		if texts := DangerTexts(&best[i]); len(texts) > 0 {
			list = append(list, fmt.Sprintf("%d: %s.", i+1, strings.Join(texts, "; ")))
		}
	}
	return list
}
