package compat

import (
	"fmt"
	"math"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
)

// nominalMm is how far two written squares of a stack may be apart and still be the same: pilots say 30x30 of 30.5,
// 25x25 of 25.5 and 26x26 of 25.5 and 26.5, which are apart (common practice, no source). Motors are not so: 8.5 and
// 9 mm are two patterns.
const nominalMm = 0.5

// sameStack reports whether two lists of squares have one in common.
func sameStack(a, b inventory.Lengths) bool {
	for _, x := range a {
		for _, y := range b {
			if math.Abs(x-y) <= nominalMm+1e-9 {
				return true
			}
		}
	}
	return false
}

func stack(b *inventory.Board, f *inventory.Frame) Severity {
	switch {
	case b.StackMm == nil || f.StackMm == nil:
		return Unknown
	case sameStack(b.StackMm, f.StackMm):
		return Fits
	}
	return Misfit
}

// joinsStack reports whether an adapter joins the patterns of a board and a frame: a plate has both,
// so either way round.
func joinsStack(e *inventory.Extra, b *inventory.Board, f *inventory.Frame) bool {
	r := e.Bridges
	if r == nil || r.What != "stack_mm" {
		return false
	}
	joins := func(board, frame float64) bool {
		return sameStack(b.StackMm, inventory.Lengths{board}) && sameStack(f.StackMm, inventory.Lengths{frame})
	}
	return joins(r.FromMm, r.ToMm) || joins(r.ToMm, r.FromMm)
}

func stackAdapter(b *inventory.Board, f *inventory.Frame, extras []*inventory.Extra) *inventory.Extra {
	for _, e := range extras {
		if joinsStack(e, b, f) {
			return e
		}
	}
	return nil
}

// BoardFrame is what the rule on stack patterns says of a board and a frame with some extras on
// board.
func BoardFrame(b *inventory.Board, f *inventory.Frame, extras []*inventory.Extra) []Finding {
	values := strict.Values{"board": b.ID, "frame": f.ID, "stack": b.StackMm, "takes": f.StackMm}
	finding := func(s Severity, code strict.Code) []Finding { return []Finding{found(RuleStack, s, code, values)} }
	switch stack(b, f) {
	case Misfit:
		if e := stackAdapter(b, f, extras); e != nil {
			values["adapter"] = e.ID
			return finding(Remark, "fit.stack_bridged")
		}
		return finding(Misfit, "fit.stack")
	case Unknown:
		switch {
		case b.StackMm == nil && f.StackMm == nil:
			return finding(Unknown, "fit.stack_unknown")
		case b.StackMm == nil:
			return finding(Unknown, "fit.board_stack_unknown")
		}
		return finding(Unknown, "fit.frame_stack_unknown")
	}
	return nil
}

func camera(e *inventory.Extra, f *inventory.Frame) Severity {
	switch {
	case e.Role != inventory.Camera:
		return Fits
	case e.WidthMm == nil || f.CameraWidthMm == nil:
		return Unknown
	case !e.GoesIn(f, nil):
		return Misfit
	}
	return Fits
}

// CameraFrame is what the rule on cameras says of an extra and a frame.
func CameraFrame(e *inventory.Extra, f *inventory.Frame) []Finding {
	values := strict.Values{"camera": e.ID, "frame": f.ID}
	if e.WidthMm != nil {
		values["wide"] = strict.Number(*e.WidthMm)
	}
	if f.CameraWidthMm != nil {
		values["takes"] = strict.Number(*f.CameraWidthMm)
	}
	finding := func(s Severity, code strict.Code) []Finding { return []Finding{found(RuleCamera, s, code, values)} }
	switch camera(e, f) {
	case Misfit:
		return finding(Misfit, "fit.camera")
	case Unknown:
		switch {
		case e.WidthMm == nil && f.CameraWidthMm == nil:
			return finding(Unknown, "fit.camera_unknown")
		case e.WidthMm == nil:
			return finding(Unknown, "fit.camera_width_unknown")
		}
		return finding(Unknown, "fit.frame_camera_unknown")
	}
	return nil
}

func plugsMatch(p *inventory.Pack, b *inventory.Board) Severity {
	switch {
	case p.Connector == "" || b.Connector == "":
		return Unknown
	case p.Connector == b.Connector:
		return Fits
	}
	return Misfit
}

// PackBoard is what the rule on connectors says of a pack and a board with some extras on board.
// Plugs that differ are a note: a lead or a soldering iron joins them.
func PackBoard(p *inventory.Pack, b *inventory.Board, extras []*inventory.Extra) []Finding {
	values := strict.Values{"pack": p.ID, "board": b.ID, "pack_plug": p.Connector, "board_plug": b.Connector}
	finding := func(s Severity, code strict.Code) []Finding { return []Finding{found(RuleConnector, s, code, values)} }
	switch plugsMatch(p, b) {
	case Misfit:
		if e := inventory.PlugAdapter(p, b, extras); e != nil {
			values["adapter"] = e.ID
			return finding(Remark, "fit.plugs_bridged")
		}
		return finding(Remark, "fit.plugs")
	case Unknown:
		switch {
		case p.Connector == "" && b.Connector == "":
			return finding(Unknown, "fit.plugs_unknown")
		case p.Connector == "":
			return finding(Unknown, "fit.pack_plug_unknown")
		}
		return finding(Unknown, "fit.board_plug_unknown")
	case Fits:
		if !p.Connector.Known() {
			return finding(Remark, "fit.plug_unrated")
		}
	}
	return nil
}

// bay compares the pack's length, width and height with the largest that the frame takes; a pack
// may lie on its side.
func bay(p *inventory.Pack, f *inventory.Frame) Severity {
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

// Box is length, width and height in mm.
type Box [3]float64

// String writes the box: 70 x 36 x 25 mm.
func (b Box) String() string {
	return fmt.Sprintf("%v x %v x %v mm", strict.Number(b[0]), strict.Number(b[1]), strict.Number(b[2]))
}

// heavyPackRatio is the mass of a pack in masses of the frame from which on it is remarked: 2 to 8 are flown, light
// long-range frames included (common practice, no source).
const heavyPackRatio = 10

// PackFrame is what the rule on the battery bay says of a pack and a frame. A pack that is too
// large is a note: straps are longer than one thinks; so is one that is many times as heavy as the frame.
func PackFrame(p *inventory.Pack, f *inventory.Frame) []Finding {
	list := packInBay(p, f)
	if p.MassG != nil && f.MassG != nil && *p.MassG > heavyPackRatio**f.MassG {
		list = append(list, found(RuleBay, Remark, "fit.pack_heavy", strict.Values{"pack": p.ID, "frame": f.ID,
			"times": strict.Digits(*p.MassG / *f.MassG, 2)}))
	}
	return list
}

func packInBay(p *inventory.Pack, f *inventory.Frame) []Finding {
	values := strict.Values{"pack": p.ID, "frame": f.ID}
	if p.SizeMm != nil {
		values["size"] = Box(*p.SizeMm)
	}
	if f.PackMaxMm != nil {
		values["takes"] = Box(*f.PackMaxMm)
	}
	finding := func(s Severity, code strict.Code) []Finding { return []Finding{found(RuleBay, s, code, values)} }
	switch bay(p, f) {
	case Remark:
		return finding(Remark, "fit.bay")
	case Unknown:
		switch {
		case p.SizeMm != nil:
			return finding(Unknown, "fit.frame_bay_unknown")
		case f.PackMaxMm != nil:
			return finding(Unknown, "fit.pack_size_unknown")
		}
		return finding(Unknown, "fit.bay_unknown")
	}
	return nil
}
