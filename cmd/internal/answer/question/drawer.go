package question

import (
	"context"
	"fmt"
	"strings"

	"partsaloft/cmd/internal/answer"
	"partsaloft/inventory"
	"partsaloft/inventory/learn"
	"partsaloft/objective"
)

// corrected is a drawer as a question has it.
type corrected struct {
	drawer *inventory.Drawer
	// from is the number of entries and benches behind the learned file in use; 0 if none is in use.
	from int
	// bare is the drawer without what was learned; nil if no learned file is in use.
	bare *inventory.Drawer
}

// drawerKey is all that a corrected drawer hangs on.
type drawerKey struct {
	name, text, style string
	air               [2]float64
	given             [2]bool
	learned           Text
}

// keptDrawer is the drawer of the last question.
type keptDrawer struct {
	key   drawerKey
	found *corrected
}

// corrected is the drawer with the air of the options on top, corrected by the learned file, or by what its own benches
// teach.
func (a *asked) corrected(o *Shared, style *objective.Style) (*corrected, error) {
	key := drawerKey{name: a.Name, text: a.Drawer, style: fmt.Sprintf("%s %+v", style.Name, style.Flying)}
	for i, value := range [...]*float64{o.AltitudeM, o.TemperatureC} {
		if value != nil {
			key.air[i], key.given[i] = *value, true
		}
	}
	if a.Learned != nil {
		key.learned = *a.Learned
	}
	if a.kept.found != nil && a.kept.key == key {
		return a.kept.found, nil
	}
	found, err := a.correct(o, style)
	if err != nil {
		return nil, err
	}
	a.kept = keptDrawer{key, found}
	return found, nil
}

func (a *asked) correct(o *Shared, style *objective.Style) (*corrected, error) {
	d, err := a.bare(o)
	if err != nil {
		return nil, err
	}
	if a.Learned == nil || a.Learned.Text == "" {
		return &corrected{drawer: d}, a.useBenches(d, style)
	}
	l, err := learn.Read(a.Learned.Name, strings.NewReader(a.Learned.Text))
	if err != nil {
		return nil, err
	}
	if l.Version != answer.ToolVersion {
		return nil, answer.Unusable(fmt.Errorf("%s: was written by version %s, this is %s: run learn again",
			a.Learned.Name, l.Version, answer.ToolVersion))
	}
	if err := l.Apply(d, style.Name, Ways(style)); err != nil {
		return nil, named(err, a.Learned.Name)
	}
	c := &corrected{drawer: d}
	if len(l.Parts) > 0 {
		c.from = len(l.From)
		if c.bare, err = a.bare(o); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// named gives faults the file that they are in.
func named(err error, file string) error {
	faults, ok := err.(inventory.Faults)
	if !ok {
		return answer.Unusable(fmt.Errorf("%s: %w", file, err))
	}
	for i := range faults {
		faults[i].File = file
	}
	return faults
}

// bare is the drawer as it is written, with the air of the options on top.
func (a *asked) bare(o *Shared) (*inventory.Drawer, error) {
	d, err := inventory.Read(a.file(), strings.NewReader(a.Drawer))
	if err != nil {
		return nil, err
	}
	d.NoteThrottleKinds()
	if o.AltitudeM != nil {
		// A pressure would overrule the altitude that was asked for.
		d.Air.AltitudeM, d.Air.PressureHPa = o.AltitudeM, nil
	}
	if o.TemperatureC != nil {
		d.Air.TemperatureC = o.TemperatureC
	}
	return d, nil
}

// file is the drawer's name.
func (a *asked) file() string {
	if a.Name == "" {
		return "drawer.yaml"
	}
	return a.Name
}

// useBenches corrects a drawer by its own benches. Benches that teach nothing of use leave it as it is.
func (a *asked) useBenches(d *inventory.Drawer, style *objective.Style) error {
	l, err := learn.Benches(context.Background(), d)
	if err != nil || l == nil {
		return nil
	}
	return l.Apply(d, style.Name, Ways(style))
}
