package inventory

import "fmt"

func stack(b *Board, f *Frame) Severity {
	if b.StackMm == nil || f.StackMm == nil {
		return Unknown
	}
	if _, ok := b.StackMm.Common(f.StackMm); ok {
		return Fits
	}
	return Misfit
}

// joinsStack says whether an adapter joins the patterns of a board and a frame: a plate has both,
// so either way round.
func joinsStack(e *Extra, b *Board, f *Frame) bool {
	r := e.Bridges
	if r == nil || r.What != "stack_mm" {
		return false
	}
	joins := func(board, frame float64) bool {
		_, onBoard := b.StackMm.Common(Lengths{board})
		_, onFrame := f.StackMm.Common(Lengths{frame})
		return onBoard && onFrame
	}
	return joins(r.FromMm, r.ToMm) || joins(r.ToMm, r.FromMm)
}

func stackAdapter(b *Board, f *Frame, extras []*Extra) *Extra {
	for _, e := range extras {
		if joinsStack(e, b, f) {
			return e
		}
	}
	return nil
}

// BoardFrame is what the rule on stack patterns says of a board and a frame with some extras on
// board.
func BoardFrame(b *Board, f *Frame, extras []*Extra) []Finding {
	finding := func(s Severity, format string, args ...any) []Finding {
		return []Finding{{RuleStack, s, fmt.Sprintf(format, args...)}}
	}
	switch stack(b, f) {
	case Misfit:
		if e := stackAdapter(b, f, extras); e != nil {
			return finding(Remark, "board %s has a %s stack pattern, frame %s takes %s: adapter %s joins them", b.ID, b.StackMm, f.ID, f.StackMm, e.ID)
		}
		return finding(Misfit, "board %s has a %s stack pattern, frame %s takes %s: they do not bolt together; an adapter that joins the two mends it", b.ID, b.StackMm, f.ID, f.StackMm)
	case Unknown:
		switch {
		case b.StackMm == nil && f.StackMm == nil:
			return finding(Unknown, "board %s and frame %s give no stack pattern: measure both before building", b.ID, f.ID)
		case b.StackMm == nil:
			return finding(Unknown, "board %s gives no stack pattern, frame %s takes %s: measure before building", b.ID, f.ID, f.StackMm)
		}
		return finding(Unknown, "board %s has a %s stack pattern, frame %s gives none: measure before building", b.ID, b.StackMm, f.ID)
	}
	return nil
}

func camera(e *Extra, f *Frame) Severity {
	switch {
	case e.Role != Camera:
		return Fits
	case e.WidthMm == nil || f.CameraWidthMm == nil:
		return Unknown
	case *e.WidthMm > *f.CameraWidthMm:
		return Misfit
	}
	return Fits
}

// CameraFrame is what the rule on cameras says of an extra and a frame.
func CameraFrame(e *Extra, f *Frame) []Finding {
	finding := func(s Severity, format string, args ...any) []Finding {
		return []Finding{{RuleCamera, s, fmt.Sprintf(format, args...)}}
	}
	switch camera(e, f) {
	case Misfit:
		return finding(Misfit, "camera %s is %s mm wide, frame %s takes %s mm: it does not go in; a camera of at most %s mm mends it", e.ID, number(*e.WidthMm), f.ID, number(*f.CameraWidthMm), number(*f.CameraWidthMm))
	case Unknown:
		switch {
		case e.WidthMm == nil && f.CameraWidthMm == nil:
			return finding(Unknown, "camera %s and frame %s do not say how wide: measure both before building", e.ID, f.ID)
		case e.WidthMm == nil:
			return finding(Unknown, "camera %s does not say how wide it is, frame %s takes %s mm: measure before building", e.ID, f.ID, number(*f.CameraWidthMm))
		}
		return finding(Unknown, "camera %s is %s mm wide, frame %s does not say what it takes: measure before building", e.ID, number(*e.WidthMm), f.ID)
	}
	return nil
}

func plugsMatch(p *Pack, b *Board) Severity {
	switch {
	case p.Connector == "" || b.Connector == "":
		return Unknown
	case p.Connector == b.Connector:
		return Fits
	}
	return Misfit
}

// joinsPlugs says whether an adapter lead joins the plugs of a pack and a board, either way round:
// which end is the socket is not written down.
func joinsPlugs(e *Extra, p *Pack, b *Board) bool {
	r := e.Bridges
	if r == nil || r.What != "connector" {
		return false
	}
	from, to := Plug(r.From), Plug(r.To)
	return from == p.Connector && to == b.Connector || to == p.Connector && from == b.Connector
}

func plugAdapter(p *Pack, b *Board, extras []*Extra) *Extra {
	for _, e := range extras {
		if joinsPlugs(e, p, b) {
			return e
		}
	}
	return nil
}

// PackBoard is what the rule on connectors says of a pack and a board with some extras on board.
// Plugs that differ are a note: a lead or a soldering iron joins them.
func PackBoard(p *Pack, b *Board, extras []*Extra) []Finding {
	finding := func(s Severity, format string, args ...any) []Finding {
		return []Finding{{RuleConnector, s, fmt.Sprintf(format, args...)}}
	}
	switch plugsMatch(p, b) {
	case Misfit:
		if e := plugAdapter(p, b, extras); e != nil {
			return finding(Remark, "pack %s has %s, board %s has %s: adapter %s joins them, the weaker plug counts", p.ID, plugText(p.Connector), b.ID, plugText(b.Connector), e.ID)
		}
		return finding(Remark, "pack %s has %s, board %s has %s: use an adapter lead, or solder the board's plug to the pack's kind", p.ID, plugText(p.Connector), b.ID, plugText(b.Connector))
	case Unknown:
		switch {
		case p.Connector == "" && b.Connector == "":
			return finding(Unknown, "pack %s and board %s do not name their plugs: look before building", p.ID, b.ID)
		case p.Connector == "":
			return finding(Unknown, "pack %s does not name its plug, board %s has %s: look before building", p.ID, b.ID, plugText(b.Connector))
		}
		return finding(Unknown, "pack %s has %s, board %s does not name its plug: look before building", p.ID, plugText(p.Connector), b.ID)
	case Fits:
		if !p.Connector.Known() {
			return finding(Remark, "pack %s and board %s have %s: no rating is known for this plug, so its amperes are not checked", p.ID, b.ID, plugText(p.Connector))
		}
	}
	return nil
}

func plugText(p Plug) string {
	if p.Known() {
		return string(p)
	}
	return fmt.Sprintf("%q", string(p))
}

// bay compares the pack's length, width and height with the largest that the frame takes; a pack
// may lie on its side.
func bay(p *Pack, f *Frame) Severity {
	if p.SizeMm == nil || f.PackMaxMm == nil {
		return Unknown
	}
	l, w, h := p.SizeMm[0], p.SizeMm[1], p.SizeMm[2]
	m := f.PackMaxMm
	if l <= m[0] && (w <= m[1] && h <= m[2] || h <= m[1] && w <= m[2]) {
		return Fits
	}
	return Remark
}

// PackFrame is what the rule on the battery bay says of a pack and a frame. A pack that is too
// large is a note: straps are longer than one thinks.
func PackFrame(p *Pack, f *Frame) []Finding {
	switch bay(p, f) {
	case Remark:
		return []Finding{{RuleBay, Remark, fmt.Sprintf("pack %s is %s, frame %s takes %s: it sticks out; look whether the strap reaches and the props clear it", p.ID, boxText(p.SizeMm), f.ID, boxText(f.PackMaxMm))}}
	case Unknown:
		text := fmt.Sprintf("pack %s and frame %s do not say their pack sizes: lay one on the other", p.ID, f.ID)
		switch {
		case p.SizeMm != nil:
			text = fmt.Sprintf("pack %s is %s, frame %s does not say what it takes: lay it on", p.ID, boxText(p.SizeMm), f.ID)
		case f.PackMaxMm != nil:
			text = fmt.Sprintf("pack %s does not say its size, frame %s takes %s: lay it on", p.ID, f.ID, boxText(f.PackMaxMm))
		}
		return []Finding{{RuleBay, Unknown, text}}
	}
	return nil
}

func boxText(mm *[3]float64) string {
	return fmt.Sprintf("%s x %s x %s mm", number(mm[0]), number(mm[1]), number(mm[2]))
}
