package learn

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// linear is a subject whose readings are linear in the latent numbers: the textbook case.
type linear struct {
	over     []int
	slopes   [][]float64 // by reading
	readings []Reading
}

func (l *linear) touched() []int  { return l.over }
func (l *linear) read() []Reading { return l.readings }
func (l *linear) predict(z, into []float64) bool {
	for i, slopes := range l.slopes {
		into[i] = 0
		for k, latent := range l.over {
			into[i] += slopes[k] * z[latent]
		}
	}
	return true
}

// numbered is a model over n latent numbers.
func numbered(n int, subjects ...observation) *model {
	m := &model{observations: subjects, precision: 1}
	for i := range n {
		m.of(inventory.KindMotor, string(rune('a'+i)), uncertain.MotorSpeed)
	}
	return m
}

// randomLinear are subjects with two readings each over three of n latent numbers, read with errors of scale times
// their standard deviation.
func randomLinear(rng *rand.Rand, n, subjects int, scale float64) []observation {
	truth := make([]float64, n)
	for i := range truth {
		truth[i] = rng.NormFloat64()
	}
	var list []observation
	for range subjects {
		l := &linear{over: rng.Perm(n)[:3]}
		for range 2 {
			slopes := []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			sd := 0.2 + rng.Float64()
			x := scale * sd * (2*rng.Float64() - 1)
			for k, latent := range l.over {
				x += slopes[k] * truth[latent]
			}
			l.slopes, l.readings = append(l.slopes, slopes), append(l.readings, Reading{AllUp, x, sd})
		}
		list = append(list, l)
	}
	return list
}

// conditioned is the mean and covariance of n standard normal numbers given linear readings with normal errors, by
// the gain, K = Hᵀ (H Hᵀ + R)⁻¹: another way than the normal equations.
func conditioned(n int, subjects []observation) (*mat.VecDense, *mat.Dense) {
	rows := 0
	for _, s := range subjects {
		rows += len(s.read())
	}
	h, r, y := mat.NewDense(rows, n, nil), mat.NewDense(rows, rows, nil), mat.NewVecDense(rows, nil)
	at := 0
	for _, s := range subjects {
		l := s.(*linear)
		for i, slopes := range l.slopes {
			for k, latent := range l.over {
				h.Set(at, latent, slopes[k])
			}
			r.Set(at, at, l.readings[i].SD*l.readings[i].SD)
			y.SetVec(at, l.readings[i].Measured)
			at++
		}
	}
	var s, inverse, gain, kh mat.Dense
	s.Mul(h, h.T())
	s.Add(&s, r)
	if err := inverse.Inverse(&s); err != nil {
		panic(err)
	}
	gain.Mul(h.T(), &inverse)
	var mean mat.VecDense
	mean.MulVec(&gain, y)
	kh.Mul(&gain, h)
	covariance := mat.NewDense(n, n, nil)
	for i := range n {
		covariance.Set(i, i, 1)
	}
	covariance.Sub(covariance, &kh)
	return &mean, covariance
}

// Independent: where readings are linear and lie within a standard deviation of the fit, mean and covariance are those
// of the textbook's conditional normal distribution, worked out by the gain; leaving a subject out by Woodbury's
// formula is the same as never having read it.
func TestLinearReadingsHaveTheTextbooksPosterior(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const n = 6
	tried := 0
	for range 40 {
		subjects := randomLinear(rng, n, 5, 0.6)
		m := numbered(n, subjects...)
		p, err := m.fit(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if !full(p) {
			continue
		}
		tried++
		mean, covariance := conditioned(n, subjects)
		for i := range n {
			if math.Abs(p.mean[i]-mean.AtVec(i)) > 1e-6 {
				t.Errorf("mean of %d: %.8f, by the gain %.8f", i, p.mean[i], mean.AtVec(i))
			}
			for j := range n {
				if math.Abs(p.covariance.At(i, j)-covariance.At(i, j)) > 1e-9 {
					t.Errorf("covariance of %d and %d: %.8f, by the gain %.8f", i, j, p.covariance.At(i, j), covariance.At(i, j))
				}
			}
		}
		out, ok := p.leaveOut(2, []int{0, 1})
		if !ok {
			t.Fatal("a subject cannot be left out")
		}
		others := append(append([]observation{}, subjects[:2]...), subjects[3:]...)
		mean, covariance = conditioned(n, others)
		for i := range n {
			if math.Abs(out.mean[i]-mean.AtVec(i)) > 1e-6 {
				t.Errorf("mean of %d without a subject: %.8f, never read %.8f", i, out.mean[i], mean.AtVec(i))
			}
		}
		l := subjects[2].(*linear)
		for i, slopes := range l.slopes {
			var variance float64
			for a, latent := range l.over {
				for b, other := range l.over {
					variance += slopes[a] * slopes[b] * covariance.At(latent, other)
				}
			}
			if math.Abs(out.sds[i]-math.Sqrt(variance)) > 1e-6 {
				t.Errorf("reading %d without its subject: ±%.8f, never read ±%.8f", i, out.sds[i], math.Sqrt(variance))
			}
		}
	}
	if tried < 10 {
		t.Errorf("%d cases only had readings of full weight", tried)
	}
}

// full reports whether every reading of a fit has its full weight.
func full(p *posterior) bool {
	for k := range p.linearised {
		for _, w := range p.linearised[k].robust {
			if w < 1 {
				return false
			}
		}
	}
	return true
}

// Published: beyond one standard deviation the likelihood of a residual falls as the density of Student's
// distribution with six degrees of freedom, and its weight is (ν+1)/(ν+r²) (K. L. Lange, R. J. A. Little, J. M. G.
// Taylor, J. Am. Stat. Assoc. 84, 881, 1989); within, as that of a normal distribution.
func TestTailsAreStudents(t *testing.T) {
	student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 6}
	for _, r := range []float64{1.2, 2, 3, 5, 10, -4} {
		if got, want := robustLoss(r)-robustLoss(1), student.LogProb(1)-student.LogProb(r); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %g the likelihood falls by e^%.6f from that at 1, Student's by e^%.6f", r, got, want)
		}
		if got, want := robustWeight(r), 7/(6+r*r); math.Abs(got-want) > 1e-12 {
			t.Errorf("a residual of %g weighs %.6f, want %.6f", r, got, want)
		}
	}
	normal := distuv.UnitNormal
	for _, r := range []float64{0, 0.4, -0.8, 1} {
		if got, want := robustLoss(r), normal.LogProb(0)-normal.LogProb(r); math.Abs(got-want) > 1e-12 ||
			robustWeight(r) != 1 {
			t.Errorf("at %g: %.6f with weight %g, of a normal distribution %.6f", r, got, robustWeight(r), want)
		}
	}
}

// Property: the normal equations' right-hand side is minus the gradient of the cost, whatever the weights: in the
// tails, in the middle and for readings taken less sure.
func TestNormalEquationsAreTheCostsGradient(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	const n = 5
	for _, weight := range []float64{1, 1.0 / 4, 1.0 / 16} {
		m := numbered(n, randomLinear(rng, n, 6, 6)...)
		m.precision = weight
		z := make([]float64, n)
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		ds, ok := m.lineariseAll(t.Context(), z)
		if !ok {
			t.Fatal("nothing is predicted")
		}
		_, b := normalEquations(n, z, ds)
		for i := range n {
			const h = 1e-5
			above, below := append([]float64{}, z...), append([]float64{}, z...)
			above[i] += h
			below[i] -= h
			if slope := (m.cost(above) - m.cost(below)) / (2 * h); math.Abs(slope+b.AtVec(i)) > 1e-4*(1+math.Abs(slope)) {
				t.Errorf("weight %g, number %d: the cost rises by %.6f, the equations say %.6f", weight, i, slope, -b.AtVec(i))
			}
		}
	}
}

// Property: readings taken as half as sure have four times the variance.
func TestWeightDividesVariances(t *testing.T) {
	m := numbered(1, &linear{[]int{0}, [][]float64{{1}}, []Reading{{AllUp, 0.5, 1}}})
	m.precision = 1.0 / 4
	p, err := m.fit(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if got := p.covariance.At(0, 0); math.Abs(got-1/(1+1.0/4)) > 1e-9 || math.Abs(p.mean[0]-0.5/(1+4)) > 1e-6 {
		t.Errorf("mean %.6f, variance %.6f; want %.6f and %.6f", p.mean[0], got, 0.1, 0.8)
	}
}

// repeated is a model of one number that is read several times with a standard deviation of 0.1, and the log's entries
// for them.
func repeated(values ...float64) *evidence {
	g := &evidence{model: *numbered(1), drawer: &inventory.Drawer{}}
	for i, x := range values {
		g.observations = append(g.observations, &linear{[]int{0}, [][]float64{{1}}, []Reading{{AllUp, x, 0.1}}})
		g.entries = append(g.entries, source{log: i})
	}
	return g
}

// Independent: a reading differs from what the rest expects by its distance over the doubt of both, its own and that
// of the mean of the others; it is named from three standard deviations on, not before, and only if the fit takes it
// for less than three quarters.
func TestMisfitIsThreeStandardDeviationsOff(t *testing.T) {
	for _, c := range []struct {
		off  float64
		fits bool
	}{{0.25, true}, {0.33, true}, {0.50, false}, {-0.50, false}} {
		g := repeated(0, 0, 0, c.off)
		p, err := g.fit(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		x := Compared{Reading: g.observations[3].read()[0]}
		g.crossCheck(&x, p, 3, 0)
		// Three readings of 0 with a prior of 1 leave 1/sqrt(301) of the number.
		want := c.off / math.Hypot(0.1, 1/math.Sqrt(301))
		if math.Abs(x.Off-want) > 0.15*math.Abs(want) || x.Fits != c.fits {
			t.Errorf("read as %g: off by %.2f standard deviations, fits %v; want %.2f, %v", c.off, x.Off, x.Fits, want, c.fits)
		}
	}
}

// Independent: left-out readings count by their distance over the doubt of the prediction and their own, at most four
// of them each.
func TestLeftOutErrorsAreHeld(t *testing.T) {
	g := repeated(0.5, 0.5, 0.5, 9)
	p, err := g.fit(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	l, _ := g.leaveOneOut(p)
	width := math.Hypot(1, 0.1)
	if want := (3*0.5/width + 4) / 4; l.Readings != 4 || math.Abs(l.Before-want) > 1e-6 {
		t.Errorf("%d readings off by %.4f, want %.4f", l.Readings, l.Before, want)
	}
	// By the others the three are expected near 0.5, the last is as far off as may be.
	if l.After < 1 || l.After > 1.2 {
		t.Errorf("off by %.4f after, want a little over 1", l.After)
	}
}

// Independent: the share of a doubt that a further reading leaves is that of the textbook's information filter,
// (C⁻¹ + hᵀh/sd²)⁻¹.
func TestFurtherReadingLeavesWhatTheInformationFilterSays(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	const n = 4
	p, err := numbered(n, randomLinear(rng, n, 4, 0.5)...).fit(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	doubt := row{{0, 1}, {2, -0.7}}
	c := candidate{rows: []row{{{1, 0.4}, {2, 1.1}}, {{0, -0.3}, {3, 0.9}}}, sds: []float64{0.3, 0.15}}
	var information, after mat.Dense
	if err := information.Inverse(p.covariance); err != nil {
		t.Fatal(err)
	}
	for i, r := range c.rows {
		for _, a := range r {
			for _, b := range r {
				information.Set(a.latent, b.latent, information.At(a.latent, b.latent)+a.by*b.by/(c.sds[i]*c.sds[i]))
			}
		}
	}
	if err := after.Inverse(&information); err != nil {
		t.Fatal(err)
	}
	variance := func(m mat.Matrix) float64 {
		var sum float64
		for _, a := range doubt {
			for _, b := range doubt {
				sum += a.by * b.by * m.At(a.latent, b.latent)
			}
		}
		return sum
	}
	if got, want := shareLeft(p, doubt,
		&c), math.Sqrt(variance(&after)/variance(p.covariance)); math.Abs(got-want) > 1e-9 {
		t.Errorf("leaves %.6f of the doubt, want %.6f", got, want)
	}
}

// doubtful is a posterior of pairs of numbers and two inputs of different parts that are those numbers.
func doubtful(correlation, sd float64, pairs int) (*evidence, *posterior) {
	g := &evidence{model: *numbered(2 * pairs)}
	c := mat.NewSymDense(2*pairs, nil)
	for k := range pairs {
		a, b := 2*k, 2*k+1
		c.SetSym(a, a, sd*sd)
		c.SetSym(b, b, sd*sd)
		c.SetSym(a, b, correlation*sd*sd)
		id := string(rune('a' + k))
		g.targets = append(g.targets, target{inventory.KindMotor, id, uncertain.MotorSpeed, row{{a, 1}}, 1},
			target{inventory.KindPack, id, uncertain.PackResistance, row{{b, 1}}, 1})
	}
	return g, &posterior{mean: make([]float64, 2*pairs), covariance: c}
}

// Property: two inputs are told to be in doubt where the readings tie them together by more than the bounds, and at
// most three pairs; what is tied by the prior already is no finding.
func TestDoubtsAreWhatReadingsTieTogether(t *testing.T) {
	for _, c := range []struct {
		correlation, sd float64
		pairs, want     int
	}{{-0.9, 0.8, 1, 1}, {0.45, 0.8, 1, 1}, {0.35, 0.8, 1, 0}, {-0.45, 0.55, 1, 1}, {-0.9, 0.45, 1, 0}, {-0.9, 0.8, 4,
		3}} {
		g, p := doubtful(c.correlation, c.sd, c.pairs)
		list := g.ambiguities(p)
		if len(list) != c.want {
			t.Errorf("%+v: %d doubts, want %d", c, len(list), c.want)
		}
		for _, d := range list {
			if math.Abs(d.Correlation-c.correlation) > 1e-12 || d.A.ID != d.B.ID || d.A.Kind != inventory.KindMotor ||
				d.B.Kind != inventory.KindPack {
				t.Errorf("%+v: %+v", c, d)
			}
		}
	}
	// With 0.5 in common before, 0.55 after is no news and 0.85 is.
	for after, want := range map[float64]int{0.55: 0, 0.85: 1} {
		g, p := doubtful(0, 0.8, 1)
		g.targets[1].row = row{{0, 0.5}, {1, math.Sqrt(0.75)}}
		// cov(z0, 0.5 z0 + 0.866 z1) = 0.64 after, with both variances 0.64.
		c01 := (after*0.64 - 0.5*0.64) / math.Sqrt(0.75)
		p.covariance.SetSym(0, 1, c01)
		p.covariance.SetSym(1, 1, (0.64-0.25*0.64-math.Sqrt(0.75)*c01)/0.75)
		if got := len(g.ambiguities(p)); got != want {
			t.Errorf("0.5 before and %g after: %d doubts, want %d", after, got, want)
		}
	}
}

// Property: what tells best is the reading that leaves least of the direction in which two inputs cannot be told
// apart; one that leaves nearly all is not named.
func TestTheBestFurtherReadingIsNamed(t *testing.T) {
	g, p := doubtful(-0.9, 0.8, 1)
	a, b := &g.targets[0], &g.targets[1]
	reading := func(name string, slopes row, sd float64) candidate {
		return candidate{FurtherReading{Bench: PropBench, ID: name}, []row{slopes}, []float64{sd}}
	}
	along := reading("difference", row{{0, 1}, {1, -1}}, 0.5)
	across := reading("sum", row{{0, 1}, {1, 1}}, 0.1)
	faint := reading("faint", row{{0, 1}}, 1.2)
	if got := bestReading(p, a, b, -0.9, []candidate{across, faint, along}); got.ID != "difference" || !(got.Left < 0.4) {
		t.Errorf("told by %+v", got)
	}
	// The variance of the difference of the scaled numbers is 3.8; sd 1.2 of the first leaves 0.83 of its root.
	if got := bestReading(p, a, b, -0.9, []candidate{across, faint}); got.ID != "faint" ||
		math.Abs(got.Left-math.Sqrt(1-0.95*0.64/(0.64+1.44))) > 1e-9 {
		t.Errorf("told by %+v", got)
	}
	if got := bestReading(p, a, b, -0.9, []candidate{across}); got.Bench != NoBench {
		t.Errorf("told by %+v, which leaves all of it", got)
	}
}
