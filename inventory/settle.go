package inventory

import (
	"fmt"
	"slices"

	"partsaloft/inventory/strict"
)

// settle fills in what follows from what is written and faults what contradicts itself.
func (d *Drawer) settle(doc *strict.Document) {
	d.settleParts(doc)
	d.settleReferences(doc)
	d.settleStands(doc)
	if d.Air.PressureHPa != nil && d.Air.AltitudeM != nil {
		d.remarks.add(strict.Origin{Path: "air", Position: doc.Position("air.pressure_hpa")}, "pressure_hpa", "pressure and altitude are both given: the pressure is used, as read at the place and not reduced to sea level")
	}
	for i := range d.Log {
		d.Log[i].settle(doc)
	}
	for i := range d.Fleet {
		d.Fleet[i].settle(doc)
	}
	uniqueNames(doc, d.Fleet, "name", func(c *FleetCraft) (string, string) { return c.Path, c.Name })
}

// settleParts settles every part by itself.
func (d *Drawer) settleParts(doc *strict.Document) {
	for i := range d.Motors {
		d.Motors[i].settle(doc)
	}
	for i := range d.Props {
		d.Props[i].settle(doc)
	}
	for i := range d.Packs {
		d.Packs[i].settle(doc)
	}
	for i := range d.Frames {
		d.Frames[i].settle(doc)
	}
	for i := range d.Boards {
		d.Boards[i].Connector = NamePlug(string(d.Boards[i].Connector))
	}
	for i := range d.Extras {
		d.Extras[i].settle(doc)
	}
	uniqueNames(doc, d.Motors, "id", func(p *Motor) (string, string) { return p.Path, p.ID })
	uniqueNames(doc, d.Props, "id", func(p *Prop) (string, string) { return p.Path, p.ID })
	uniqueNames(doc, d.Packs, "id", func(p *Pack) (string, string) { return p.Path, p.ID })
	uniqueNames(doc, d.Frames, "id", func(p *Frame) (string, string) { return p.Path, p.ID })
	uniqueNames(doc, d.Boards, "id", func(p *Board) (string, string) { return p.Path, p.ID })
	uniqueNames(doc, d.Extras, "id", func(p *Extra) (string, string) { return p.Path, p.ID })
}

// uniqueNames faults entries of one list that carry the same name.
func uniqueNames[T any](doc *strict.Document, list []T, key string, name func(*T) (path, name string)) {
	first := map[string]string{}
	for i := range list {
		path, s := name(&list[i])
		if s == "" {
			continue
		}
		at := path + "." + key
		if other, ok := first[s]; ok {
			doc.Fault(at, "the %s %s belongs to %s in line %d already; give each its own", key, strict.Show(s), other, doc.Position(other).Line)
			continue
		}
		first[s] = path
	}
}

func (m *Motor) settle(doc *strict.Document) {
	if m.Path == "" {
		return
	}
	if at := m.Path + ".stator"; m.Stator != "" && doc.Sound(at) {
		var err error
		if m.StatorDiameterMm, m.StatorHeightMm, err = parseStator(m.Stator); err != nil {
			doc.Fault(at, "%v", err)
		}
	}
	if at := m.Path + ".poles"; m.Poles != nil && *m.Poles%2 != 0 {
		doc.Fault(at, "must be even, got %d; count the magnets in the bell", *m.Poles)
	}
	switch amps, volts := m.Path+".no_load_a", m.Path+".no_load_v"; {
	case doc.Has(amps) && !doc.Has(volts):
		doc.Fault(amps, "needs no_load_v, the voltage it was measured at; give both or neither")
	case doc.Has(volts) && !doc.Has(amps):
		doc.Fault(volts, "needs no_load_a, the current at that voltage; give both or neither")
	}
	for i := range m.Bench {
		b := &m.Bench[i]
		if b.Path != "" && b.RPM == nil && b.ThrustG == nil && b.CurrentA == nil && doc.Sound(b.Path) {
			doc.Fault(b.Path, "holds no reading; give rpm, thrust_g or current_a")
		}
	}
}

// agree fills value from what a size text says, or faults a value that says something else.
func agree[T int | float64](doc *strict.Document, at string, value *T, said T, size, text string) {
	switch {
	case said == 0:
	case *value == 0 && !doc.Has(at):
		*value = said
	case *value != 0 && !near(float64(*value), float64(said)):
		doc.Fault(at, "is %v, but size %s says %s; keep one of them", *value, strict.Show(text), number(round(float64(said))))
	}
}

func near(a, b float64) bool { return a > b*(1-5e-3) && a < b*(1+5e-3) }

func round(x float64) float64 { return float64(int(x*1000+0.5)) / 1000 }

func (p *Pack) settle(doc *strict.Document) {
	if p.Path == "" {
		return
	}
	p.Connector = NamePlug(string(p.Connector))
	if p.Chemistry == "" {
		p.Chemistry = LiPo
	}
	size := p.Path + ".size"
	sound := doc.Sound(size)
	if p.Size != "" && sound {
		s, err := parsePackSize(p.Size)
		if err != nil {
			doc.Fault(size, "%v", err)
			return
		}
		agree(doc, p.Path+".cells", &p.Cells, s.cells, size, p.Size)
		agree(doc, p.Path+".capacity_mah", &p.CapacityMAh, s.capacityMAh, size, p.Size)
		agree(doc, p.Path+".discharge_c", &p.DischargeC, s.dischargeC, size, p.Size)
	}
	if !sound {
		return
	}
	var keys []string
	for _, k := range []struct {
		key   string
		given bool
	}{{"cells", p.Cells > 0}, {"capacity_mah", p.CapacityMAh > 0}, {"discharge_c", p.DischargeC > 0}} {
		if !k.given && !doc.Has(p.Path+"."+k.key) {
			keys = append(keys, k.key)
		}
	}
	if keys != nil {
		doc.Fault(p.Path, "%s missing; write a size such as 4S 1300 100C, or cells, capacity_mah and discharge_c", areMissing(keys))
	}
}

func (f *Frame) settle(doc *strict.Document) {
	if f.Path == "" {
		return
	}
	if !doc.Has(f.Path+".max_prop_in") && !doc.Has(f.Path+".motor_spacing_mm") {
		doc.Fault(f.Path, "max_prop_in and motor_spacing_mm are missing; give the largest prop that fits, or the distance of neighbouring motors")
	}
}

func (e *Extra) settle(doc *strict.Document) {
	if e.Path == "" {
		return
	}
	e.Connector = NamePlug(string(e.Connector))
	use, with := e.Path+".use", e.Path+".with"
	switch {
	case e.Use == "" && !doc.Has(use) && e.With != nil:
		e.Use = With
	case e.Use == "" && !doc.Has(use):
		e.Use = Optional
	case e.Use == With && !doc.Has(with):
		doc.Fault(use, "needs with, the ids of the frames or boards it goes with, such as with: [f3]")
	case (e.Use == Always || e.Use == Optional) && e.With != nil:
		doc.Fault(with, "contradicts use: %s; write use: with, or leave with out", e.Use)
	}
	slices.Sort(e.With)
	e.With = slices.Compact(e.With)
	if e.Bridges != nil && doc.Sound(e.Path+".bridges") {
		e.Bridges.settle(doc)
	}
}

func (b *Bridge) settle(doc *strict.Document) {
	if b.What == "connector" {
		b.From, b.To = string(NamePlug(b.From)), string(NamePlug(b.To))
	} else {
		b.FromMm = bridgeMm(doc, b.Path+".from", b.From)
		b.ToMm = bridgeMm(doc, b.Path+".to", b.To)
	}
	if b.From == b.To && doc.Sound(b.Path) {
		doc.Fault(b.Path, "joins %s to itself; write two different ends", strict.Show(b.From))
	}
}

func bridgeMm(doc *strict.Document, at, text string) float64 {
	x, ok := positive(text)
	if !ok || x < 10 || x > 60 {
		doc.Fault(at, "must be a stack pattern from 10 to 60 mm, got %s; write a bare number such as 25.5", strict.Show(text))
	}
	return x
}

// settleReferences faults ids of other parts that are not in the drawer.
func (d *Drawer) settleReferences(doc *strict.Document) {
	hosts := append(ids(d.Frames, (*Frame).id), ids(d.Boards, (*Board).id)...)
	for i := range d.Extras {
		e := &d.Extras[i]
		if e.Path == "" || !doc.Sound(e.Path+".with") {
			continue
		}
		for _, id := range e.With {
			if !slices.Contains(hosts, id) {
				doc.Fault(e.Path+".with", "no frame or board is called %s%s", id, didYouMean(id, hosts))
			}
		}
	}
	for i := range d.Fleet {
		if c := &d.Fleet[i]; c.Path != "" && doc.Sound(c.Path+".parts") {
			for _, m := range d.Missing(&c.Parts) {
				doc.Fault(c.Parts.Path+"."+m.Key, "%s", m)
			}
		}
	}
}

func didYouMean(id string, among []string) string {
	if near := strict.Nearest(id, among); near != "" {
		return fmt.Sprintf("; did you mean %s?", near)
	}
	return "; add it, or take the id out here"
}
