// Package space is the space of candidates of a problem: the combinations of a drawer's parts that go
// together, with the rules of fit tried on pairs and bodies rather than on candidates. It counts what falls to
// each rule without visiting it, puts crafts together in SI numbers, and keeps the drawer's pieces.
package space

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"partsaloft/inventory"
	"partsaloft/inventory/compat"
	"partsaloft/objective"
	"partsaloft/search/internal/parallel"
	"partsaloft/search/progress"
)

// Space is every candidate of a problem, with what does not fit taken out and the props' rotor maps
// computed. It is read-only once made.
//
// A candidate is a motor, a prop, a pack and a body: a frame with a board and a choice of extras.
// Parts are held by index, sorted by id, so that comparing indices compares ids.
type Space struct {
	Problem  Problem
	workers  int
	Roles    []inventory.Role
	optional map[inventory.Role][]*inventory.Extra

	Motors []*inventory.Motor
	Props  []*inventory.Prop
	Packs  []*inventory.Pack
	Frames []*inventory.Frame
	Boards []*inventory.Board
	// Their places in the drawer's lists; a mixed set of motors has two, any other motor has −1 as second.
	MotorAt                          [][2]int
	PropAt, PackAt, FrameAt, BoardAt []int

	// Packs of the same cells and plug are one supply: the rules of fit tell no others apart.
	Supplies []Supply
	SupplyOf []int   // by pack
	classOf  []int32 // by pack: the first of its class, packs of which make variants of one row

	frameLike  []int // by frame: the first that is alike, maybe itself; what is said of frames is shared
	Compatible Compatibility
	Bodies     []Body   // that fit together, by frame, board and extras
	BodyOf     [][2]int // by frame: first body and one past the last

	Candidates  int64
	Excluded    [compat.RuleEnd]int64 // candidates by the first fit rule that they break
	Fitted      int64                 // candidates that fit
	Powertrains int64                 // motor, prop and pack that fit into some body, counted up to a bound

	SI       PartsSI
	SetAside []SetAside
	asks     objective.Questions
}

// Supply is a number of cells behind a kind of plug; packs to be retired are apart.
type Supply struct {
	cells   int
	plug    inventory.Plug
	retired bool
}

// none is a count.
var none = 0

// SetAside is a part that a search left out, because nothing can be reckoned with it: a prop whose
// numbers make no blade.
type SetAside struct {
	Kind inventory.Kind
	ID   string
	Err  error
	// Of a hypothetical part the owned one that it is a step away from, and the step; else empty.
	Of, Step string
}

// New lays out the candidates of a problem: types with enough pieces, fit rules, extras, and
// one rotor map a prop, computed on the given number of workers (0: one a processor). A prop whose
// numbers make no blade is set aside. It fails on a style that does not pass its check, on an unknown
// role, on a drawer that lacks a kind of part or has no prop left, and when the context ends.
func New(ctx context.Context, p Problem, workers int) (*Space, error) {
	if err := p.Style.Check(); err != nil {
		return nil, fmt.Errorf("style %s: %w", p.Style.Name, err)
	}
	roles, err := wantedRoles(&p)
	if err != nil {
		return nil, err
	}
	s := &Space{Problem: p, workers: parallel.Workers(workers), Roles: roles}
	s.asks = p.Style.Questions()
	sound := *s
	if err := s.layOut(ctx); err != nil || len(s.SetAside) == 0 {
		return s, err
	}
	// Without the odd props no other part is tried with a prop, so that all that are left are sound.
	sound.SetAside = s.SetAside
	if err := sound.layOut(ctx); err != nil {
		return nil, err
	}
	return &sound, nil
}

// InStyle is the space for another style: what fits stays, what is judged changes.
func (s *Space) InStyle(style objective.Style) *Space {
	other := *s
	other.Problem.Style, other.asks = style, style.Questions()
	return &other
}

// Work is about the work of laying out a drawer, for a progress.Part.
func Work(d *inventory.Drawer) float64 {
	return progress.RotorMap*float64(len(d.Props)) + progress.Body*float64(len(d.Frames)*len(d.Boards))
}

// layOut fills a space in, without what is set aside, and sets props aside that make no blade.
func (s *Space) layOut(ctx context.Context) error {
	s.collect(s.Problem.Drawer)
	if err := s.lacking(); err != nil {
		return err
	}
	s.tryPairs()
	if err := s.layBodies(ctx); err != nil {
		return err
	}
	progress.Of(ctx).Add(progress.Body / 3 * float64(len(s.Frames)*len(s.Boards)))
	s.count()
	if err := s.convert(ctx); err != nil {
		return err
	}
	s.classOf = s.packClasses()
	return ctx.Err()
}

// collect lists the types of which there is a piece at all, by id.
func (s *Space) collect(d *inventory.Drawer) {
	s.optional = optionalExtras(d)
	motors, at := owned(d.Motors, func(m *inventory.Motor) (string, *int) { return m.ID, m.Count })
	s.Motors, s.MotorAt = motors, make([][2]int, len(at))
	for i := range at {
		s.MotorAt[i] = [2]int{at[i], -1}
	}
	for _, m := range d.MixedMotors() {
		i, _ := slices.BinarySearchFunc(s.Motors, m.ID,
			func(m *inventory.Motor, id string) int { return cmp.Compare(m.ID, id) })
		s.Motors = slices.Insert(s.Motors, i, m)
		s.MotorAt = slices.Insert(s.MotorAt, i, [2]int{m.Mixed.FirstAt, m.Mixed.SecondAt})
	}
	s.Props, s.PropAt = owned(d.Props, func(p *inventory.Prop) (string, *int) {
		if slices.ContainsFunc(s.SetAside, func(a SetAside) bool { return a.ID == p.ID }) {
			return p.ID, &none
		}
		return p.ID, p.Count
	})
	s.Packs, s.PackAt = owned(d.Packs, func(p *inventory.Pack) (string, *int) { return p.ID, p.Count })
	s.Frames, s.FrameAt = owned(d.Frames, func(f *inventory.Frame) (string, *int) { return f.ID, f.Count })
	s.Boards, s.BoardAt = owned(d.Boards, func(b *inventory.Board) (string, *int) { return b.ID, b.Count })

	s.frameLike = alike(s.Frames, (*inventory.Frame).Base, func(f *inventory.Frame) [2]float64 {
		return [2]float64{f.Mass().Value, f.DragArea().Value}
	}, d.Extras)

	for _, k := range s.Packs {
		v := Supply{k.Cells, k.Connector, k.Retired()}
		i := slices.Index(s.Supplies, v)
		if i < 0 {
			i = len(s.Supplies)
			s.Supplies = append(s.Supplies, v)
		}
		s.SupplyOf = append(s.SupplyOf, i)
	}
}

// owned lists the parts of which there is a piece, by id, with their places in the list. A part without a
// count is there.
func owned[T any](list []T, of func(*T) (id string, count *int)) (parts []*T, at []int) {
	for i := range list {
		if _, n := of(&list[i]); n == nil || *n > 0 {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(i, j int) int {
		a, _ := of(&list[i])
		b, _ := of(&list[j])
		return cmp.Compare(a, b)
	})
	for _, i := range at {
		parts = append(parts, &list[i])
	}
	return parts, at
}

// NoPartsError says that no build is possible: the drawer holds no piece of some kinds of part, or
// none that is sound.
type NoPartsError struct {
	Drawer string
	Kinds  []inventory.Kind // of which there is none
	Aside  []SetAside       // if none is left but these
}

// Error names the kinds.
func (e *NoPartsError) Error() string {
	if len(e.Aside) > 0 {
		var faults []error
		for _, a := range e.Aside {
			faults = append(faults, fmt.Errorf("%s %s: %w", a.Kind, a.ID, a.Err))
		}
		return fmt.Sprintf("no build is possible: no prop makes a blade: %v", errors.Join(faults...))
	}
	names := make([]string, len(e.Kinds))
	for i, kind := range e.Kinds {
		names[i] = kind.Section()
	}
	return fmt.Sprintf("no build is possible: %s holds no %s", e.Drawer, strings.Join(names, ", "))
}

// Lacking lists the kinds of part that a craft needs and a drawer holds no piece of.
func Lacking(d *inventory.Drawer) []inventory.Kind {
	var kinds []inventory.Kind
	for _, kind := range inventory.Kinds() {
		there := slices.ContainsFunc(d.Items(kind), func(item inventory.Item) bool {
			n := item.Base().Count
			return n == nil || *n > 0
		})
		if kind != inventory.KindExtra && !there {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// lacking reports what keeps any craft from being put together.
func (s *Space) lacking() error {
	if kinds := Lacking(s.Problem.Drawer); kinds != nil {
		return &NoPartsError{Drawer: s.Problem.Drawer.Name, Kinds: kinds}
	}
	if len(s.Props) == 0 {
		return &NoPartsError{Drawer: s.Problem.Drawer.Name, Aside: s.SetAside}
	}
	return nil
}
