package search

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/figure"
)

// Space is every candidate of a problem, with what does not fit taken out and the props' surfaces
// computed. It is read-only once made.
//
// A candidate is a motor, a prop, a pack and a body: a frame with a board and a choice of extras.
// Parts are held by index, sorted by id, so that comparing indices compares ids.
type Space struct {
	problem  Problem
	workers  int
	roles    []inventory.Role
	optional map[inventory.Role][]*inventory.Extra

	motors []*inventory.Motor
	props  []*inventory.Prop
	packs  []*inventory.Pack
	frames []*inventory.Frame
	boards []*inventory.Board

	// Packs of the same cells and plug are one supply: the rules of fit tell no others apart.
	supplies []supply
	supplyOf []int // by pack

	fit    fits
	bodies []body   // that fit together, by frame, board and extras
	bodyOf [][2]int // by frame: first body and one past the last

	candidates int64
	fallen     [inventory.RuleEnd]int64 // candidates by the first fit rule that they break
	fitted     int64                    // candidates that fit
	powertrain int64                    // motor, prop and pack that fit into some body, counted up to a bound

	si      tables
	aside   []SetAside
	gentle  physics.Flying // the style's way of flying without its punches …
	punches float64        // … which take this share of it
	judged  figure.Set
}

// supply is a number of cells behind a kind of plug; packs to be retired are apart.
type supply struct {
	cells   int
	plug    inventory.Plug
	retired bool
}

// body is a frame with a board and extras.
type body struct {
	frame, board int
	// with holds, by supply, the extras with the adapters that join what else would not; nil if
	// the supply's cells do not suit the board or an extra.
	with [][]*inventory.Extra
}

var errNoParts = errors.New("nothing can be put together")

// SetAside is a part that a search left out, because nothing can be reckoned with it: a prop whose
// numbers make no blade.
type SetAside struct {
	Kind inventory.Kind
	ID   string
	Like string // of a part that is thought up, what it is like
	Err  error
}

// NewSpace lays out the candidates of a problem: types with enough pieces, fit rules, extras, and
// one surface a prop, computed on the given number of workers (0: one a processor). A prop whose
// numbers make no blade is set aside. It fails on a style that does not pass its check, on an unknown
// role, on a drawer that lacks a kind of part or has no prop left, and when the context ends.
func NewSpace(ctx context.Context, p Problem, workers int) (*Space, error) {
	if err := p.Style.Check(); err != nil {
		return nil, fmt.Errorf("style %s: %w", p.Style.Name, err)
	}
	roles, err := wantedRoles(&p)
	if err != nil {
		return nil, err
	}
	s := &Space{problem: p, workers: workersOr(workers), roles: roles}
	s.judged = p.Style.Judged()
	s.gentle, s.punches = gentleFlying(&p.Style.Flying)
	sound := *s
	if err := s.layOut(ctx); err != nil || len(s.aside) == 0 {
		return s, err
	}
	// Without the odd props no other part is tried with a prop, so that all that are left are sound.
	sound.aside = s.aside
	if err := sound.layOut(ctx); err != nil {
		return nil, err
	}
	return &sound, nil
}

// layOut fills a space in, without what is set aside, and sets props aside that make no blade.
func (s *Space) layOut(ctx context.Context) error {
	s.collect(s.problem.Drawer)
	if err := s.lacking(); err != nil {
		return err
	}
	s.tryPairs()
	if err := s.layBodies(ctx); err != nil {
		return err
	}
	s.count()
	if err := s.convert(ctx); err != nil {
		return err
	}
	return ctx.Err()
}

// collect lists the types of which there is a piece at all, by id.
func (s *Space) collect(d *inventory.Drawer) {
	s.optional = optionalExtras(d)
	s.motors = append(owned(d.Motors, func(m *inventory.Motor) *int { return m.Count }), d.MixedMotors()...)
	s.props = owned(d.Props, func(p *inventory.Prop) *int { return p.Count })
	s.packs = owned(d.Packs, func(p *inventory.Pack) *int { return p.Count })
	s.frames = owned(d.Frames, func(f *inventory.Frame) *int { return f.Count })
	s.boards = owned(d.Boards, func(b *inventory.Board) *int { return b.Count })
	byID(s.motors, func(m *inventory.Motor) string { return m.ID })
	byID(s.props, func(p *inventory.Prop) string { return p.ID })
	byID(s.packs, func(p *inventory.Pack) string { return p.ID })
	byID(s.frames, func(f *inventory.Frame) string { return f.ID })
	byID(s.boards, func(b *inventory.Board) string { return b.ID })
	s.props = slices.DeleteFunc(s.props, func(p *inventory.Prop) bool {
		return slices.ContainsFunc(s.aside, func(a SetAside) bool { return a.ID == p.ID })
	})

	for _, k := range s.packs {
		v := supply{k.Cells, k.Connector, k.Retired()}
		i := slices.Index(s.supplies, v)
		if i < 0 {
			i = len(s.supplies)
			s.supplies = append(s.supplies, v)
		}
		s.supplyOf = append(s.supplyOf, i)
	}
}

func owned[T any](list []T, count func(*T) *int) []*T {
	var out []*T
	for i := range list {
		if n := count(&list[i]); n == nil || *n > 0 {
			out = append(out, &list[i])
		}
	}
	return out
}

func byID[T any](list []*T, id func(*T) string) {
	slices.SortFunc(list, func(a, b *T) int { return cmp.Compare(id(a), id(b)) })
}

// lacking says which kinds of part there are none of.
func (s *Space) lacking() error {
	var missing []string
	for _, kind := range [...]struct {
		name string
		n    int
	}{{"motors", len(s.motors)}, {"props", len(s.props)}, {"packs", len(s.packs)}, {"frames", len(s.frames)}, {"boards", len(s.boards)}} {
		if kind.n == 0 {
			missing = append(missing, kind.name)
		}
	}
	if missing == nil {
		return nil
	}
	if len(s.props) == 0 && len(s.aside) > 0 {
		var faults []error
		for _, a := range s.aside {
			faults = append(faults, fmt.Errorf("%s %s: %w", a.Kind, a.ID, a.Err))
		}
		return fmt.Errorf("%w: no prop makes a blade: %w", errNoParts, errors.Join(faults...))
	}
	return fmt.Errorf("%w: the drawer %s holds no %s; a craft takes motors, props, a pack, a frame and a board", errNoParts, s.problem.Drawer.Name, wordList(missing))
}

// Candidates counts the product of types with enough pieces times the extras' choices.
func (s *Space) Candidates() int64 { return s.candidates }

// Fitted counts the candidates whose parts go together.
func (s *Space) Fitted() int64 { return s.fitted }

// layBodies makes every frame, board and choice of extras, keeps those that fit, and counts the
// others by rule.
func (s *Space) layBodies(ctx context.Context) error {
	s.fit.bodies = make([][][levels]int64, len(s.frames))
	s.bodyOf = make([][2]int, len(s.frames))
	for f, frame := range s.frames {
		s.fit.bodies[f] = make([][levels]int64, len(s.supplies))
		first := len(s.bodies)
		for b, board := range s.boards {
			if err := ctx.Err(); err != nil {
				return err
			}
			choices, err := s.loadouts(frame, board)
			if err != nil {
				return fmt.Errorf("frame %s, board %s: %w", frame.ID, board.ID, err)
			}
			for i := range choices {
				s.layBody(f, b, &choices[i])
			}
		}
		s.bodyOf[f] = [2]int{first, len(s.bodies)}
	}
	return nil
}

func (s *Space) layBody(f, b int, l *loadout) {
	made := body{frame: f, board: b, with: make([][]*inventory.Extra, len(s.supplies))}
	fits := false
	for i := range s.supplies {
		// Any pack of the supply stands for all.
		c := inventory.Combination{Frame: s.frames[f], Board: s.boards[b], Pack: s.packs[slices.Index(s.supplyOf, i)], Extras: l.extras}
		adapters, _ := s.problem.Drawer.Bridges(&c)
		if adapters != nil {
			c.Extras = append(slices.Clone(c.Extras), adapters...)
			sortByID(c.Extras)
		}
		rule := c.FirstFault()
		if l.lacking {
			rule = inventory.RuleCount
		}
		s.fit.bodies[f][i][levelOf(rule)]++
		if rule == inventory.NoRule {
			fits = true
			made.with[i] = c.Extras
			if made.with[i] == nil {
				made.with[i] = []*inventory.Extra{}
			}
		}
	}
	if fits {
		s.bodies = append(s.bodies, made)
	}
}

// combination is the candidate with the given indices.
func (s *Space) combination(c candidate) inventory.Combination {
	b := &s.bodies[c.body]
	return inventory.Combination{
		Motor: s.motors[c.motor], Prop: s.props[c.prop], Pack: s.packs[c.pack],
		Frame: s.frames[b.frame], Board: s.boards[b.board], Extras: b.with[s.supplyOf[c.pack]],
	}
}

// candidate is a combination that fits, by index.
type candidate struct{ motor, prop, pack, body int32 }

// compare orders candidates by the ids of motor, prop, pack, frame, board and extras.
func (c candidate) compare(d candidate) int {
	return cmp.Or(cmp.Compare(c.motor, d.motor), cmp.Compare(c.prop, d.prop), cmp.Compare(c.pack, d.pack), cmp.Compare(c.body, d.body))
}

// each yields every candidate that fits, by frame, motor, prop, pack and body, until yield says no.
func (s *Space) each(yield func(candidate) bool) {
	for f := range s.frames {
		first, end := s.bodyOf[f][0], s.bodyOf[f][1]
		ok := s.fit.motors[f].each(nil, func(m int) bool {
			return s.fit.props[m].each(s.fit.propsOf[f], func(p int) bool {
				return s.fit.packs[m].each(s.fit.packsOf[f], func(k int) bool {
					for b := first; b < end; b++ {
						if s.bodies[b].with[s.supplyOf[k]] != nil && !yield(candidate{int32(m), int32(p), int32(k), int32(b)}) {
							return false
						}
					}
					return true
				})
			})
		})
		if !ok {
			return
		}
	}
}
