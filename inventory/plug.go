package inventory

import (
	"strings"

	"partsaloft/physics"
)

// Plug is the type of a connector, in the spelling of this package if the type is known; "" if
// it is not given.
type Plug string

// plugs are the plug types with their ratings in A; 0 is unknown. Sources: PH 2.0, XH 2.5 and XT60
// from their datasheets as quoted by sellers; BT 2.0 a maker's claim; XT30 and XT90 from memory;
// the others have no rating here.
var plugs = [...]struct {
	name     Plug
	forms    []string // letters and digits, lower case
	rating   physics.Connector
	ratingOf string
}{
	{"PH 2.0", []string{"ph20", "ph2", "ph", "jstph", "jstph20", "jstph2", "jst20"}, physics.Connector{ContinuousA: 2, PeakA: 2, Advisory: true}, "datasheet"},
	{"BT 2.0", []string{"bt20", "bt2", "bt"}, physics.Connector{PeakA: 15}, "maker's claim"},
	{"XH 2.5", []string{"xh25", "xh", "jstxh", "jstxh25", "xh254", "jstxh254"}, physics.Connector{ContinuousA: 3}, "datasheet"},
	{"RCY", []string{"rcy", "jstrcy", "jstsyp", "syp", "jstbec"}, physics.Connector{}, ""},
	{"A30", []string{"a30"}, physics.Connector{}, ""},
	{"XT30", []string{"xt30", "xt30u", "xt30upb", "xt30pw"}, physics.Connector{ContinuousA: 15, PeakA: 30}, "from memory"},
	{"XT60", []string{"xt60", "xt60h", "xt60e", "xt60pw"}, physics.Connector{ContinuousA: 30, PeakA: 60}, "datasheet"},
	{"XT90", []string{"xt90", "xt90h", "xt90s", "xt90e"}, physics.Connector{ContinuousA: 45, PeakA: 90}, "from memory"},
	{"EC3", []string{"ec3"}, physics.Connector{}, ""},
	{"EC5", []string{"ec5"}, physics.Connector{}, ""},
	{"T plug", []string{"tplug", "deans", "ultraplug"}, physics.Connector{}, ""},
}

// NamePlug brings free text to the name of a known plug type; text that names none is kept, outer
// spaces off.
func NamePlug(text string) Plug {
	form := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		}
		return -1
	}, text)
	for i := range plugs {
		for _, f := range plugs[i].forms {
			if f == form {
				return plugs[i].name
			}
		}
	}
	return Plug(strings.TrimSpace(text))
}

// Rating is the rating of a plug in A, 0 where unknown, with where it comes from; false for a plug
// that is not known or has no rating. PH 2.0 has no peak rating of its own; its datasheet value
// stands for both and is advisory, as pilots draw more.
func (p Plug) Rating() (rating physics.Connector, from string, ok bool) {
	for i := range plugs {
		if plugs[i].name == p {
			return plugs[i].rating, plugs[i].ratingOf, plugs[i].ratingOf != ""
		}
	}
	return physics.Connector{}, "", false
}

// Known says whether the plug is of a known type.
func (p Plug) Known() bool {
	for i := range plugs {
		if plugs[i].name == p {
			return true
		}
	}
	return false
}

// JoinsPlugs reports whether an adapter lead joins the plugs of a pack and a board, either way round:
// which end is the socket is not written down.
func (e *Extra) JoinsPlugs(p *Pack, b *Board) bool {
	r := e.Bridges
	if r == nil || r.What != "connector" {
		return false
	}
	from, to := Plug(r.From), Plug(r.To)
	return from == p.Connector && to == b.Connector || to == p.Connector && from == b.Connector
}

// PlugAdapter is the first extra that joins the plugs of a pack and a board, nil if there is none.
func PlugAdapter(p *Pack, b *Board, extras []*Extra) *Extra {
	for _, e := range extras {
		if e.JoinsPlugs(p, b) {
			return e
		}
	}
	return nil
}
