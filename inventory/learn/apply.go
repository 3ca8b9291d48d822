package learn

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"partsaloft/inventory"
	"partsaloft/inventory/strict"
	"partsaloft/physics/uncertain"
)

// measuredNarrow is the share of the standard deviation that readings must have taken away for a
// figure to count as measured.
const measuredNarrow = 0.3

// Apply corrects a drawer's parts for crafts flown in a way: the name of a style with its flying,
// or none, then no way of flying is corrected. The error is a list of the parts whose own figures
// have changed since; then nothing is corrected. Parts that the drawer does not hold are left out. Corrections that the
// drawer had are taken back first.
func (l *Learned) Apply(d *inventory.Drawer, way string, ways Ways) error {
	if err := l.check(d, ways); err != nil {
		return err
	}
	shared, err := l.shared()
	if err != nil {
		return err
	}
	canonical := ""
	if f, ok := ways.flying(way); ok {
		canonical = ways.Canonical(way, &f)
	}
	for _, kind := range inventory.Kinds() {
		for _, item := range d.Items(kind) {
			item.Base().Learned = nil
		}
	}
	var flying inventory.Corrections
	row := 0
	for i := range l.Parts {
		p := &l.Parts[i]
		var list inventory.Corrections
		for _, c := range p.Changes {
			list = append(list, inventory.Correction{
				Input: c.Input, LnFactor: c.LnFactor, LnSD: c.LnSDAfter,
				Measured: c.Narrowed() >= measuredNarrow, Shared: shared[row],
			})
			row++
		}
		switch p.Kind {
		case inventory.KindMotor:
			if m := d.Motor(p.ID); m != nil {
				m.Learned = list
			}
		case inventory.KindProp:
			if m := d.Prop(p.ID); m != nil {
				m.Learned = list
			}
		case inventory.KindPack:
			if m := d.Pack(p.ID); m != nil {
				m.Learned = list
			}
		case inventory.KindFrame:
			if m := d.Frame(p.ID); m != nil {
				m.Learned = list
			}
		case inventory.KindBoard:
			if m := d.Board(p.ID); m != nil {
				m.Learned = list
			}
		case KindFlying:
			if p.ID == canonical {
				flying = list
			}
		}
	}
	for i := range d.Frames {
		fly(&d.Frames[i], flying)
	}
	return nil
}

// fly sums what was learned of the power taken in flight by a frame and by the way of flying; the
// half that was not learned keeps its doubt.
func fly(f *inventory.Frame, flying inventory.Corrections) {
	way, okWay := flying.For(uncertain.FlyingPower)
	own, okOwn := f.Learned.For(uncertain.FlyingPower)
	if !okWay && !okOwn {
		return
	}
	unknown := func(share float64) inventory.Correction {
		return inventory.Correction{Input: uncertain.FlyingPower, LnSD: flyingSpread() * math.Sqrt(share)}
	}
	if !okWay {
		way = unknown(wayShare)
	}
	if !okOwn {
		own = unknown(1 - wayShare)
	}
	kept := slices.DeleteFunc(slices.Clone(f.Learned), func(c inventory.Correction) bool {
		return c.Input == uncertain.FlyingPower
	})
	f.Learned = append(kept, own.Sum(1, way))
}

// check says which parts' own figures have changed.
func (l *Learned) check(d *inventory.Drawer, ways Ways) error {
	var faults inventory.Faults
	for i := range l.Parts {
		p := &l.Parts[i]
		var now string
		if p.Kind == KindFlying {
			f, ok := ways.flying(p.ID)
			if !ok {
				continue
			}
			now = flyingFingerprint(&f)
		} else if now = fingerprint(d, p.Kind, p.ID); now == "" {
			continue
		}
		if now != p.Figures {
			faults = append(faults, inventory.Fault{
				Part:    fmt.Sprintf("%s %s", p.Kind, p.ID),
				Problem: strict.Problem{Code: "learned.changed", Values: strict.Values{"was": p.Figures, "now": now}},
			})
		}
	}
	if faults != nil {
		return faults
	}
	return nil
}

// shared are the rows of a Cholesky factor of the correlations: unit vectors whose products are
// the correlations. Those of a file are rounded; they are drawn together by a hair if need be.
func (l *Learned) shared() ([][]float64, error) {
	n := 0
	for i := range l.Parts {
		n += len(l.Parts[i].Changes)
	}
	if n == 0 {
		return nil, nil
	}
	for _, closer := range [...]float64{0, 1e-4, 1e-3, 1e-2, 0.1} {
		tried := mat.NewSymDense(n, nil)
		for i := range n {
			tried.SetSym(i, i, 1)
			for j := i + 1; j < n; j++ {
				tried.SetSym(i, j, l.Correlation.At(i, j)*(1-closer))
			}
		}
		var factor mat.Cholesky
		if !factor.Factorize(tried) {
			continue
		}
		var lower mat.TriDense
		factor.LTo(&lower)
		rows := make([][]float64, n)
		for i := range rows {
			rows[i] = make([]float64, n)
			for j := range i + 1 {
				rows[i][j] = lower.At(i, j)
			}
		}
		return rows, nil
	}
	return nil, &strict.Problem{Code: "learned.correlations"}
}
