package inventory

import "fmt"

// Assumed says, a sentence each, which ratings of the combination are missing or contradict each
// other and what is reckoned with instead; parts that are nil are left out.
func (c *Combination) Assumed() []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	if m := c.Motor; m != nil && m.MaxCurrentA == nil {
		say("motor %s gives no largest current: %.1f A is estimated from its size and kV, for seconds; give max_current_a if its sheet says more or less", m.ID, m.SI().MaxCurrentA)
	}
	if p := c.Pack; p != nil && p.BurstC != nil && *p.BurstC < p.DischargeC {
		say("pack %s claims %sC for a burst and %sC for good: the lower counts", p.ID, number(*p.BurstC), number(p.DischargeC))
	}
	if b := c.Board; b != nil {
		switch {
		case b.EscBurstA == nil:
			say("board %s gives no burst current: %g times its %s A is allowed for a punch", b.ID, burstShare, number(b.EscCurrentA))
		case *b.EscBurstA < b.EscCurrentA:
			say("board %s claims %s A for a burst and %s A for good: the lower counts for both", b.ID, number(*b.EscBurstA), number(b.EscCurrentA))
		}
	}
	for _, p := range c.plugs() {
		r, from, ok := p.Rating()
		switch {
		case !ok:
			say("no rating is known for the plug %s: its amperes are not checked", plugText(p))
		case r.Advisory:
			say("the plug %s is rated %s A by its %s, pilots draw more: over it is a note, not a limit", p, number(r.ContinuousA), from)
		case from != "datasheet":
			say("the rating of the plug %s is %s", p, ratingFrom(from))
		}
	}
	return list
}

func ratingFrom(from string) string {
	if from == "from memory" {
		return "from memory, not from a datasheet"
	}
	return "a " + from
}
