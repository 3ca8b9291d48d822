package explore

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"partsaloft/cmd/internal/answer/catalogue"
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
	// Class of a pack is the index of the first of its twins: they make variants of one row.
	Class int `json:"class,omitempty"`

	twin string
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

// shelf holds parts of one kind by id.
type shelf map[string]part

// put adds a part with the mass that the drawer gives, if it gives one.
func (s shelf) put(p part, givenG *float64) {
	if _, ok := s[p.ID]; ok {
		return
	}
	if givenG != nil {
		p.MassG = *givenG
	}
	s[p.ID] = p
}

// weigh sets the mass that predictions have for a part.
func (s shelf) weigh(id string, kg float64, givenG *float64) {
	p := s[id]
	p.MassG, p.Guess = 1000*kg, givenG == nil
	s[id] = p
}

// list is the shelf in the order of its ids, and where each stands in it.
func (s shelf) list() ([]part, map[string]int) {
	var list []part
	at := make(map[string]int, len(s))
	for i, id := range slices.Sorted(maps.Keys(s)) {
		list, at[id] = append(list, s[id]), i
	}
	return list, at
}

// partsOf lists the parts of all entries and says which each is made of.
func partsOf(entries []search.Entry) (parts, []chosen) {
	motors, props, packs, frames, boards, extras := shelf{}, shelf{}, shelf{}, shelf{}, shelf{}, shelf{}
	for i := range entries {
		c := &entries[i].Combination
		motors.put(part{ID: c.Motor.ID, Text: catalogue.MotorText(c.Motor), Note: c.Motor.Note, Mixed: mixed(c.Motor)},
			c.Motor.MassG)
		props.put(part{ID: c.Prop.ID, Text: catalogue.PropText(c.Prop), Note: c.Prop.Note, Blades: c.Prop.Blades},
			c.Prop.MassG)
		packs.put(part{ID: c.Pack.ID, Text: catalogue.PackText(c.Pack), Note: c.Pack.Note, Cells: c.Pack.Cells,
			twin: entries[i].Class}, c.Pack.MassG)
		frames.put(part{ID: c.Frame.ID, Text: catalogue.FrameText(c.Frame), Note: c.Frame.Note}, c.Frame.MassG)
		boards.put(part{ID: c.Board.ID, Text: catalogue.BoardText(c.Board), Note: c.Board.Note}, c.Board.MassG)
		for _, x := range c.Extras {
			extras.put(part{ID: x.ID, Text: catalogue.ExtraText(x), Note: x.Note}, &x.MassG)
		}
		if r := entries[i].Result; r != nil {
			motors.weigh(c.Motor.ID, r.Craft.Motor.MassKg, c.Motor.MassG)
			props.weigh(c.Prop.ID, r.Craft.Propeller.MassKg, c.Prop.MassG)
			packs.weigh(c.Pack.ID, r.Craft.Pack.MassKg, c.Pack.MassG)
			boards.weigh(c.Board.ID, r.Craft.Board.MassKg, c.Board.MassG)
		}
	}
	var all parts
	var motorAt, propAt, packAt, frameAt, boardAt, extraAt map[string]int
	all.Motors, motorAt = motors.list()
	all.Props, propAt = props.list()
	all.Packs, packAt = packs.list()
	classes(all.Packs)
	all.Frames, frameAt = frames.list()
	all.Boards, boardAt = boards.list()
	all.Extras, extraAt = extras.list()

	kitAt := map[string]int{}
	var kits []kit
	keys := make([]string, len(entries))
	for i := range entries {
		c := &entries[i].Combination
		one := kit{Frame: frameAt[c.Frame.ID], Board: boardAt[c.Board.ID], Extras: []int{}, Rotors: c.Rotors(),
			body: entries[i].Body}
		for _, x := range c.Extras {
			one.Extras = append(one.Extras, extraAt[x.ID])
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
	rank := make([]int, len(kits))
	for at, i := range order {
		all.Kits, rank[i] = append(all.Kits, kits[i]), at
	}
	made := make([]chosen, len(entries))
	for i := range entries {
		c := &entries[i].Combination
		made[i] = chosen{int32(motorAt[c.Motor.ID]), int32(propAt[c.Prop.ID]), int32(packAt[c.Pack.ID]),
			int32(rank[kitAt[keys[i]]])}
	}
	return all, made
}

// classes sets of each pack the index of the first of its twins that the page holds.
func classes(packs []part) {
	first := map[string]int{}
	for i := range packs {
		if _, ok := first[packs[i].twin]; !ok {
			first[packs[i].twin] = i
		}
		packs[i].Class = first[packs[i].twin]
	}
}

// The numbers of rotors that a mixed set is told for.
const fewestRotors, mostRotors = 3, 12

// mixed says of a derived motor what a set takes; nil for others.
func mixed(m *inventory.Motor) map[string]string {
	if m.Mixed == nil {
		return nil
	}
	sets := map[string]string{}
	for rotors := fewestRotors; rotors <= mostRotors; rotors++ {
		sets[strconv.Itoa(rotors)] = catalogue.MixedText(m.Mixed, rotors)
	}
	return sets
}
