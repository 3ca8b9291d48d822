package learn

import (
	"fmt"
	"hash/fnv"
	"strconv"
	"strings"

	"partsaloft/inventory"
	"partsaloft/physics"
)

// listing writes figures as one text: key value, key value.
type listing struct{ words []string }

func (l *listing) number(key string, x float64) {
	l.words = append(l.words, key+" "+strconv.FormatFloat(x, 'f', -1, 64))
}

func (l *listing) optional(key string, x *float64) {
	if x != nil {
		l.number(key, *x)
	}
}

func (l *listing) text(key, s string) {
	if s != "" {
		l.words = append(l.words, key+" "+s)
	}
}

// rows stands for a list by its length and a checksum of its content.
func (l *listing) rows(key string, n int, content any) {
	if n == 0 {
		return
	}
	h := fnv.New32a()
	fmt.Fprintf(h, "%v", content)
	l.words = append(l.words, fmt.Sprintf("%s %d (%08x)", key, n, h.Sum32()))
}

func (l *listing) String() string { return strings.Join(l.words, ", ") }

// fingerprint are those of a part that its corrections rest on: what its SI numbers are made of. It is
// empty for a part that the drawer does not hold.
func fingerprint(d *inventory.Drawer, kind inventory.Kind, id string) string {
	var l listing
	switch kind {
	case inventory.KindMotor:
		if m := d.Motor(id); m != nil {
			l.text("stator", m.Stator)
			l.number("kv", m.KV)
			l.optional("mass_g", m.MassG)
			l.optional("resistance_mohm", m.ResistanceMohm)
			l.optional("no_load_a", m.NoLoadA)
			l.optional("no_load_v", m.NoLoadV)
		}
	case inventory.KindProp:
		if p := d.Prop(id); p != nil {
			l.number("diameter_in", p.DiameterIn)
			if !p.PitchEstimated {
				l.number("pitch_in", p.PitchIn)
			}
			l.number("blades", float64(p.Blades))
			l.optional("mass_g", p.MassG)
			l.text("flex", string(p.Flex))
			l.text("made_for", string(p.MadeFor))
			l.text("series", p.Series)
			spec := p.Spec()
			l.rows("blade_stations", len(spec.Stations), spec.Stations)
			l.rows("bench", len(spec.Bench), spec.Bench)
		}
	case inventory.KindPack:
		if k := d.Pack(id); k != nil {
			l.number("cells", float64(k.Cells))
			l.number("capacity_mah", k.CapacityMAh)
			l.text("chemistry", string(k.Chemistry))
			l.optional("mass_g", k.MassG)
			l.optional("cell_resistance_mohm", k.CellResistanceMohm)
			if k.Cycles != nil {
				l.number("cycles", float64(*k.Cycles))
			}
		}
	case inventory.KindFrame:
		if f := d.Frame(id); f != nil {
			l.optional("mass_g", f.MassG)
			l.optional("drag_area_cm2", f.DragAreaCm2)
			if f.DragAreaCm2 == nil || f.MassG == nil {
				l.optional("max_prop_in", f.MaxPropIn)
				l.optional("motor_spacing_mm", f.MotorSpacingMm)
			}
		}
	case inventory.KindBoard:
		if b := d.Board(id); b != nil {
			l.number("esc_current_a", b.EscCurrentA)
			l.optional("mass_g", b.MassG)
			l.optional("power_w", b.PowerW)
			l.optional("pwm_khz", b.PwmKHz)
		}
	}
	return l.String()
}

// flyingFingerprint are the segments of a way of flying.
func flyingFingerprint(f *physics.Flying) string {
	var l listing
	for _, g := range f.Segments {
		words := fmt.Sprintf("%v %g %% %g m/s %g g", g.Kind, 100*g.Share, g.SpeedMS, g.LoadFactor)
		if g.SpeedPart > 0 || g.LoadPart > 0 {
			words += fmt.Sprintf(" %g %% speed %g %% load", 100*g.SpeedPart, 100*g.LoadPart)
		}
		l.words = append(l.words, words)
	}
	return l.String()
}
