package readings

import (
	"context"
	"slices"

	"partsaloft/cmd/internal/answer/catalogue"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
)

// askedAs are the keys under which readings are asked for, where the log has two for one thing.
var askedAs = map[learn.Key]string{learn.FullThrottleCurrent: "punch_current_a", learn.LoadedCell: "punch_pack_v"}

// belong are the keys that belong to a reading and are asked for with it.
var belong = map[string][]string{
	"hover_throttle_pct": {"throttle_kind", "hover_pack_v"}, "hover_current_a": {"hover_pack_v"},
	"hover_rpm": {"hover_rpm_from"}, "flight_minutes": {"flown", "used_mah", "end_pack_v"},
	"punch_current_a": {"punch_pack_v"}, "punch_pack_v": {"punch_current_a"}, "punch_rpm": {"punch_pack_v"},
}

// questions are the readings worth taking of a craft: the weight first if it was never weighed, for all others hang on
// it, then the most telling.
func questions(ctx context.Context, d *inventory.Drawer, ways learn.Ways, parts *inventory.Parts, way string) ([]Question,
	error) {
	list, err := learn.Questions(ctx, d, ways, parts, way)
	if err != nil {
		return nil, err
	}
	weighed, kind := false, false
	for i := range d.Log {
		e := &d.Log[i]
		weighed = weighed || e.AllUpG != nil && sameCraft(&e.Parts, parts)
		kind = kind || e.ThrottleKind != "" && e.Parts.Board == parts.Board
	}
	asked := map[string]bool{"throttle_kind": kind}
	out := []Question{}
	ask := func(key string, left float64) {
		if asked[key] {
			return
		}
		asked[key] = true
		q := catalogueQuestion(key)
		q.LeftPct = catalogue.Round(100 * left)
		for _, with := range belong[key] {
			if !asked[with] {
				asked[with] = true
				q.With = append(q.With, catalogueQuestion(with))
			}
		}
		out = append(out, q)
	}
	if !weighed && !slices.ContainsFunc(list, func(f learn.FurtherReading) bool { return f.Key == learn.AllUp }) {
		ask(string(learn.AllUp), 1)
	}
	for _, one := range list {
		key := string(one.Key)
		if as, ok := askedAs[one.Key]; ok {
			key = as
		}
		ask(key, one.Left)
	}
	return out, nil
}

func catalogueQuestion(key string) Question {
	text, unit := catalogue.AskFor(key)
	return Question{Key: key, Unit: unit, Text: text}
}
