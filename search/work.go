package search

import (
	"cmp"
	"context"
	"math"

	"partsaloft/inventory"
	"partsaloft/search/predict"
	"partsaloft/search/progress"
	"partsaloft/search/space"
)

// mostLooked is about the most work that finding a list takes of which nothing more is known.
const mostLooked = 50_000.0

// geneticLooks is about what a genetic search looks at, and fitting the share of builds that fit (of generated drawers).
const (
	geneticLooks = 12_000.0
	fitting      = 0.03
)

// Work is about the work of a search of a drawer that is not laid out yet, for a progress.Part.
func (o *Options) Work(d *inventory.Drawer) float64 {
	return space.Work(d) + math.Min(builds(d)*fitting, mostLooked) + o.listWork(d)
}

// builds is how many builds the parts of a drawer would make if all went together.
func builds(d *inventory.Drawer) float64 {
	n := 1.0
	for _, kind := range kinds {
		n *= float64(len(d.Items(kind)))
	}
	return n
}

// planLooks is about the work of finding what a wish may take of so many that fit.
func planLooks(fitted int64) float64 {
	if fitted > planWhole {
		return geneticLooks
	}
	return float64(fitted)
}

// listWork is about the work of what is said of a list once it is found.
func (o *Options) listWork(d *inventory.Drawer) float64 {
	if o.Nominal {
		return 0
	}
	of := o.Sampling(d)
	rows := max(o.Top, 1) + 1
	return of.Work(rows+frontShown/2) + of.SharpenWork(rows)
}

// listing are the parts of the work of a ranking.
type listing struct{ seek, rows, sharpen, variants, front, misses *progress.Part }

// plan plans a ranking of a space.
func (o *Options) plan(ctx context.Context, s *space.Space, method Method) (l listing) {
	job, of := progress.Of(ctx), o.Sampling(s.Problem.Drawer)
	looks := float64(s.Fitted)
	switch {
	case method == Genetic:
		looks = math.Min(looks, geneticLooks)
	case looks > plainCandidates:
		looks = math.Min(looks, mostLooked)
	}
	l.seek = job.Plan(progress.Searching, looks)
	rows, sharpen, shown := of.Work(o.Top+1), of.SharpenWork(o.Top+1), of.Work(frontShown/2)
	if o.Nominal {
		rows, sharpen, shown = 0, 0, 0
	}
	l.rows, l.sharpen = job.Plan(progress.Doubting, rows), job.Plan(progress.Doubting, sharpen)
	l.variants = job.Plan(progress.Varying, 0)
	if o.Variants {
		l.variants.Expect(math.Min(float64(s.Fitted)/10, float64(100*o.Top)))
	}
	l.front = job.Plan(progress.Doubting, shown)
	l.misses = job.Plan(progress.Doubting, 0)
	return l
}

// ChangesWork is about the work of so many changes of one build.
func (o *Options) ChangesWork(changes int) float64 {
	of := o.Sampling(nil)
	return of.Work(1+changes) + progress.RotorMap*float64(changes)
}

// stepWork is the work of a step of the choice among claims.
const stepWork = 0.02

// cataloguing are the parts of the work of a catalogue.
type cataloguing struct{ seek, details, rows *progress.Part }

// plan plans a catalogue of a space.
func (o *CatalogueOptions) plan(ctx context.Context, s *space.Space) (c cataloguing) {
	job, of := progress.Of(ctx), o.Sampling(s.Problem.Drawer)
	looks := float64(s.Fitted)
	if o.Method == Genetic || s.Fitted > o.Whole {
		looks = 2 * mostLooked
	}
	c.seek = job.Plan(progress.Searching, looks)
	c.details = job.Plan(progress.Detailing, predict.SpreadWork*math.Min(float64(s.Fitted)/4, float64(o.Details)))
	c.rows = job.Plan(progress.Doubting, of.Work(o.Top))
	return c
}

// Work is about the work of a catalogue of a drawer that is not laid out yet.
func (o *CatalogueOptions) Work(d *inventory.Drawer) float64 {
	most := cmp.Or(max(o.Details, 0), defaultDetails)
	return o.Options.Work(d) + predict.SpreadWork*math.Min(builds(d)*fitting/4, float64(most))
}

// shopWork is about the work of saying what to buy.
func (o *Options) shopWork(d *inventory.Drawer, offered int) float64 {
	return space.Work(d) + math.Min(builds(d)*fitting, mostLooked)*float64(1+offered)/4 + o.listWork(d)
}
