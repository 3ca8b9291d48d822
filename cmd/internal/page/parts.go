package page

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/search"
)

// part is one kind of part, as the page shows it.
type part struct {
	ID   string `json:"id"`
	Text string `json:"text"` // what it is, in the trade's terms
	Note string `json:"note,omitempty"`
	// MassG is the mass of one piece, 0 if the page does not know it; Guess says that it is estimated.
	MassG float64 `json:"massG,omitempty"`
	Guess bool    `json:"guess,omitempty"`
	// Cells of a pack, Blades of a prop.
	Cells  int `json:"cells,omitempty"`
	Blades int `json:"blades,omitempty"`
	// Mixed says of a derived motor how many of which a set takes, by number of rotors.
	Mixed map[string]string `json:"mixed,omitempty"`
}

// kit is a frame with a board and extras, by index.
type kit struct {
	Frame  int   `json:"frame"`
	Board  int   `json:"board"`
	Extras []int `json:"extras"`
	Rotors int   `json:"rotors"`

	body int
}

// parts are all parts of a catalogue's combinations, in the order of their ids, so that comparing
// indices breaks ties.
type parts struct {
	Motors []part `json:"motors"`
	Props  []part `json:"props"`
	Packs  []part `json:"packs"`
	Frames []part `json:"frames"`
	Boards []part `json:"boards"`
	Extras []part `json:"extras"`
	Kits   []kit  `json:"kits"`
}

// chosen are the parts of one combination by index.
type chosen struct{ motor, prop, pack, kit int32 }

// indexed lists parts once each.
type indexed[T comparable] struct {
	at    map[T]int
	parts []part
}

func index[T comparable](list []T, describe func(T) part) indexed[T] {
	x := indexed[T]{at: make(map[T]int, len(list))}
	seen := map[T]bool{}
	var kinds []T
	for _, one := range list {
		if !seen[one] {
			seen[one] = true
			kinds = append(kinds, one)
		}
	}
	described := make(map[T]part, len(kinds))
	for _, one := range kinds {
		described[one] = describe(one)
	}
	slices.SortFunc(kinds, func(a, b T) int { return cmp.Compare(described[a].ID, described[b].ID) })
	for i, one := range kinds {
		x.at[one] = i
		x.parts = append(x.parts, described[one])
	}
	return x
}

// partsOf lists the parts of all entries and says which each is made of.
func partsOf(entries []search.Entry) (parts, []chosen) {
	masses := massesOf(entries)
	all := func(add func(c *inventory.Combination)) {
		for i := range entries {
			add(&entries[i].Combination)
		}
	}
	var motors []*inventory.Motor
	var props []*inventory.Prop
	var packs []*inventory.Pack
	var frames []*inventory.Frame
	var boards []*inventory.Board
	var extras []*inventory.Extra
	all(func(c *inventory.Combination) {
		motors, props, packs = append(motors, c.Motor), append(props, c.Prop), append(packs, c.Pack)
		frames, boards, extras = append(frames, c.Frame), append(boards, c.Board), append(extras, c.Extras...)
	})
	m, p, k := index(motors, masses.motor), index(props, masses.prop), index(packs, masses.pack)
	f, b, x := index(frames, masses.frame), index(boards, masses.board), index(extras, masses.extra)

	kitAt := map[string]int{}
	var kits []kit
	keys := make([]string, len(entries))
	for i := range entries {
		c := &entries[i].Combination
		one := kit{Frame: f.at[c.Frame], Board: b.at[c.Board], Extras: []int{}, Rotors: c.Rotors(), body: entries[i].Body}
		for _, e := range c.Extras {
			one.Extras = append(one.Extras, x.at[e])
		}
		keys[i] = fmt.Sprint(one)
		if _, ok := kitAt[keys[i]]; !ok {
			kitAt[keys[i]] = len(kits)
			kits = append(kits, one)
		}
	}
	order := make([]int, len(kits))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(kits[a].body, kits[b].body), slices.Compare(kits[a].Extras, kits[b].Extras))
	})
	sorted, rank := make([]kit, len(kits)), make([]int, len(kits))
	for at, i := range order {
		sorted[at], rank[i] = kits[i], at
	}
	made := make([]chosen, len(entries))
	for i := range entries {
		c := &entries[i].Combination
		made[i] = chosen{int32(m.at[c.Motor]), int32(p.at[c.Prop]), int32(k.at[c.Pack]), int32(rank[kitAt[keys[i]]])}
	}
	return parts{m.parts, p.parts, k.parts, f.parts, b.parts, x.parts, sorted}, made
}

// masses are the masses of parts in kg as the predictions have them.
type masses map[any]float64

func massesOf(entries []search.Entry) masses {
	kg := masses{}
	for i := range entries {
		if r := entries[i].Result; r != nil {
			c := &entries[i].Combination
			kg[c.Motor], kg[c.Prop], kg[c.Pack] = r.Craft.Motor.MassKg, r.Craft.Propeller.MassKg, r.Craft.Pack.MassKg
			kg[c.Board] = r.Craft.Board.MassKg
		}
	}
	return kg
}

// put fills in the mass: what the drawer says, else the estimate.
func (m masses) put(p part, key any, givenG *float64) part {
	if kg, ok := m[key]; ok {
		p.MassG, p.Guess = 1000*kg, givenG == nil
	} else if givenG != nil {
		p.MassG = *givenG
	}
	return p
}

func (m masses) motor(x *inventory.Motor) part {
	p := part{ID: x.ID, Text: fmt.Sprintf("%s, %s rpm/V", x.Stator, number(x.KV)), Note: x.Note}
	if x.Mixed != nil {
		p.Mixed = map[string]string{}
		for rotors := 3; rotors <= 12; rotors++ {
			a, b := x.Mixed.Pieces(rotors)
			p.Mixed[strconv.Itoa(rotors)] = fmt.Sprintf("%d of %s, %d of %s", a, x.Mixed.A.ID, b, x.Mixed.B.ID)
		}
	}
	return m.put(p, x, x.MassG)
}

func (m masses) prop(x *inventory.Prop) part {
	text := fmt.Sprintf("%s × %s in, %d blades", number(x.DiameterIn), number(x.PitchIn), x.Blades)
	return m.put(part{ID: x.ID, Text: text, Note: x.Note, Blades: x.Blades}, x, x.MassG)
}

var chemistries = map[inventory.Chemistry]string{inventory.LiPo: "LiPo", inventory.LiHV: "LiHV",
	inventory.LiIon: "Li-ion"}

func (m masses) pack(x *inventory.Pack) part {
	words := []string{fmt.Sprintf("%dS %s mAh", x.Cells, number(x.CapacityMAh)), number(x.DischargeC) + "C",
		chemistries[x.Chemistry]}
	if x.Connector != "" {
		words = append(words, string(x.Connector))
	}
	return m.put(part{ID: x.ID, Text: strings.Join(words, ", "), Note: x.Note, Cells: x.Cells}, x, x.MassG)
}

func (m masses) frame(x *inventory.Frame) part {
	text := fmt.Sprintf("%d rotors", x.RotorCount())
	if x.MaxPropIn != nil {
		text += fmt.Sprintf(", props to %s in", number(*x.MaxPropIn))
	}
	return m.put(part{ID: x.ID, Text: text, Note: x.Note}, x, &x.MassG)
}

func (m masses) board(x *inventory.Board) part {
	text := fmt.Sprintf("ESCs of %s A", number(x.EscCurrentA))
	if x.Cells != nil {
		text += fmt.Sprintf(", %d to %dS", x.Cells.Min, x.Cells.Max)
	}
	if x.Connector != "" {
		text += ", " + string(x.Connector)
	}
	return m.put(part{ID: x.ID, Text: text, Note: x.Note}, x, x.MassG)
}

func (m masses) extra(x *inventory.Extra) part {
	text := string(x.Role)
	if x.Bridges != nil {
		unit := ""
		if x.Bridges.What == "stack_mm" {
			unit = " mm"
		}
		text += fmt.Sprintf(", %s%s to %s%s", x.Bridges.From, unit, x.Bridges.To, unit)
	}
	return m.put(part{ID: x.ID, Text: text, Note: x.Note}, x, &x.MassG)
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }
