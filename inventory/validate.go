package inventory

import (
	"math"
	"slices"

	"partsaloft/inventory/strict"
)

// validate faults what contradicts itself, and fills in what follows from what is written.
func (d *Drawer) validate(doc *strict.Document) {
	d.validateParts(doc)
	d.noteChoices()
	d.validateReferences(doc)
	d.validateBenches(doc)
	if d.Air.PressureHPa != nil && d.Air.AltitudeM != nil {
		d.remark(strict.Origin{Path: "air", Position: doc.Position("air.pressure_hpa")}, "pressure_hpa", "check.pressure",
			nil)
	}
	for i := range d.Log {
		d.Log[i].validate(doc, d.Pack(d.Log[i].Parts.Pack))
	}
	for i := range d.Fleet {
		d.Fleet[i].validate(doc)
	}
	names := uniqueNames{doc: doc, key: "name"}
	for i := range d.Fleet {
		names.see(d.Fleet[i].Path, d.Fleet[i].Name)
	}
}

// validateParts validates every part by itself, and that no two of a kind have one id.
func (d *Drawer) validateParts(doc *strict.Document) {
	for _, kind := range Kinds() {
		ids := uniqueNames{doc: doc, key: "id"}
		for _, item := range d.Items(kind) {
			part := item.Base()
			if part.Path != "" {
				item.validate(doc)
			}
			ids.see(part.Path, part.ID)
		}
	}
}

// uniqueNames faults entries of one list that carry the same name.
type uniqueNames struct {
	doc   *strict.Document
	key   string            // that holds the name
	first map[string]string // the path of the first entry of each name
}

func (u *uniqueNames) see(path, name string) {
	if name == "" {
		return
	}
	if other, ok := u.first[name]; ok {
		u.doc.Fault(path+"."+u.key, "name.twice", strict.Values{"key": u.key, "name": strict.Raw(name), "other": u.doc.PlaceInList(other),
			"line": strict.Line(u.doc.Position(other).Line)})
		return
	}
	if u.first == nil {
		u.first = map[string]string{}
	}
	u.first[name] = path
}

func (b *Board) validate(*strict.Document) { b.Connector = NamePlug(string(b.Connector)) }

func (m *Motor) validate(doc *strict.Document) {
	if at := m.Path + ".stator"; m.Stator != "" && doc.Sound(at) {
		var problem *strict.Problem
		if m.StatorDiameterMm, m.StatorHeightMm, problem = parseStator(m.Stator); problem != nil {
			doc.Add(at, *problem)
		}
	}
	if at := m.Path + ".poles"; m.Poles != nil && *m.Poles%2 != 0 {
		doc.Fault(at, "poles.odd", strict.Values{"got": strict.Number(*m.Poles)})
	}
	switch amps, volts := m.Path+".no_load_a", m.Path+".no_load_v"; {
	case doc.Has(amps) && !doc.Has(volts):
		doc.Fault(amps, "no_load.no_volts", nil)
	case doc.Has(volts) && !doc.Has(amps):
		doc.Fault(volts, "no_load.no_amps", nil)
	}
	for i := range m.Bench {
		b := &m.Bench[i]
		if b.Path != "" && b.RPM == nil && b.ThrustG == nil && b.CurrentA == nil && doc.Sound(b.Path) {
			doc.Fault(b.Path, "bench.empty", nil)
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
		doc.Fault(at, "size.contradicts", strict.Values{"got": strict.Number(*value), "size": strict.Raw(text),
			"said": strict.Number(round(float64(said)))})
	}
}

func near(a, b float64) bool { return a > b*(1-5e-3) && a < b*(1+5e-3) }

func round(x float64) float64 { return float64(int(x*1000+0.5)) / 1000 }

func (p *Pack) validate(doc *strict.Document) {
	p.Connector = NamePlug(string(p.Connector))
	if p.Chemistry == "" {
		p.Chemistry = LiPo
	}
	size := p.Path + ".size"
	sound := doc.Sound(size)
	if p.Size != "" && sound {
		s, problem := parsePackSize(p.Size)
		if problem != nil {
			doc.Add(size, *problem)
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
	}{{"cells", p.Cells > 0}, {"capacity_mah", p.CapacityMAh > 0}} {
		if !k.given && !doc.Has(p.Path+"."+k.key) {
			keys = append(keys, k.key)
		}
	}
	if keys != nil {
		doc.Fault(p.Path, missingCode("pack.missing", keys), strict.Values{"keys": keys})
		return
	}
	p.rateByAmps(doc)
	if p.DischargeC == 0 && !doc.Has(p.Path+".discharge_c") && !doc.Has(p.Path+".discharge_a") {
		p.assumeC()
	}
}

// rateByAmps turns a rating in A into one in C, or faults one that says something else than the C beside it.
func (p *Pack) rateByAmps(doc *strict.Document) {
	at := p.Path + ".discharge_a"
	if p.DischargeA == nil || !doc.Sound(at) || !(p.CapacityMAh > 0) {
		return
	}
	byAmps := *p.DischargeA / (p.CapacityMAh / 1000)
	switch {
	case p.DischargeC == 0:
		p.DischargeC = byAmps
	case math.Abs(p.DischargeC-byAmps) > 0.02*byAmps:
		doc.Fault(at, "pack.rated_twice", strict.Values{"got": strict.Number(*p.DischargeA),
			"c": strict.Number(p.DischargeC), "amps": strict.Digits(p.DischargeC*p.CapacityMAh/1000, 3)})
	}
}

func (f *Frame) validate(doc *strict.Document) {
	if !doc.Has(f.Path+".max_prop_in") && !doc.Has(f.Path+".motor_spacing_mm") {
		doc.Fault(f.Path, "frame.no_prop_size", nil)
	}
}

func (e *Extra) validate(doc *strict.Document) {
	e.Connector = NamePlug(string(e.Connector))
	use, with := e.Path+".use", e.Path+".with"
	switch {
	case e.Use == "" && !doc.Has(use) && e.With != nil:
		e.Use = With
	case e.Use == "" && !doc.Has(use) && slices.Contains(alongRoles[:], e.Role):
		e.Use = Along
	case e.Use == "" && !doc.Has(use):
		e.Use = Optional
	case e.Use == With && !doc.Has(with):
		doc.Fault(use, "use.no_with", nil)
	case (e.Use == Always || e.Use == Optional) && e.With != nil:
		doc.Fault(with, "with.contradicts_use", strict.Values{"use": string(e.Use)})
	}
	slices.Sort(e.With)
	e.With = slices.Compact(e.With)
	if e.Bridges != nil && doc.Sound(e.Path+".bridges") {
		e.Bridges.validate(doc)
	}
}

func (b *Bridge) validate(doc *strict.Document) {
	if b.What == "connector" {
		b.From, b.To = string(NamePlug(b.From)), string(NamePlug(b.To))
	} else {
		b.FromMm = bridgeMm(doc, b.Path+".from", b.From)
		b.ToMm = bridgeMm(doc, b.Path+".to", b.To)
	}
	if b.From == b.To && doc.Sound(b.Path) {
		doc.Fault(b.Path, "bridge.same_ends", strict.Values{"end": strict.Raw(b.From)})
	}
}

func bridgeMm(doc *strict.Document, at, text string) float64 {
	x, ok := positive(text)
	if !ok || x < 10 || x > 60 {
		doc.Fault(at, "bridge.stack", strict.Values{"got": strict.Raw(text)})
	}
	return x
}

// validateReferences faults ids of other parts that are not in the drawer.
func (d *Drawer) validateReferences(doc *strict.Document) {
	hosts := append(d.IDs(KindFrame), d.IDs(KindBoard)...)
	for i := range d.Extras {
		e := &d.Extras[i]
		if e.Path == "" || !doc.Sound(e.Path+".with") {
			continue
		}
		for _, id := range e.With {
			if !slices.Contains(hosts, id) {
				doc.Add(e.Path+".with", UnknownID("host.unknown", id, hosts))
			}
		}
	}
	for i := range d.Fleet {
		if c := &d.Fleet[i]; c.Path != "" && doc.Sound(c.Path+".parts") {
			for _, m := range d.Missing(&c.Parts) {
				doc.Add(c.Parts.Path+"."+m.Key, m.Problem())
			}
		}
	}
}

// UnknownID is the problem of an id that is not among others.
func UnknownID(code strict.Code, id string, among []string) strict.Problem {
	if near := strict.Nearest(id, among); near != "" {
		return strict.Problem{Code: code, Values: strict.Values{"id": id, "near": near}, Way: "id.near"}
	}
	return strict.Problem{Code: code, Values: strict.Values{"id": id}, Way: "id.none"}
}
