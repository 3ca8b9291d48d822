package series

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Why says why a figure is not there.
type Why string

// The reasons.
const (
	NoVolts       Why = "no_volts"
	NoAmps        Why = "no_amps"
	NoThrottle    Why = "no_throttle"
	NoRPM         Why = "no_rpm"
	NoHover       Why = "no_hover"
	NoPunch       Why = "no_punch"
	SteadyCurrent Why = "steady_current" // current hardly varies
	Unclear       Why = "unclear"        // it varies, but what voltage does with it is lost in the rest
	NoCapacity    Why = "no_capacity"    // neither capacity nor charge is known
	NoCells       Why = "no_cells"
)

// PackLine is the pack under load: V = E(q) − R I − what the cells relax, by least squares over the flight.
type PackLine struct {
	// ResistanceOhm is that of pack, leads and plug up to where voltage is read, half a second after a change of load.
	ResistanceOhm *Figure
	Why           Why
	// OpenV and EndOpenV are the voltages without load, rested, at the flight's start and end.
	OpenV, EndOpenV *Figure
	// LagS is by how much current is read later than voltage.
	LagS float64
	// ResidualV is what is left over, root mean square.
	ResidualV float64
}

// Time constants of what cells relax (judgement: seconds and tens of seconds), and what the regression is laid on.
const (
	fastRelaxS    = 3
	slowRelaxS    = 25
	regressionS   = 0.3  // over which voltage and current are averaged, twice
	blockS        = 6    // of residuals that hang together
	leastVaries   = 0.12 // sd of current over its mean below which it is steady
	modelShare    = 0.03 // of the resistance, for relaxation that has other times
	restShare     = 0.20 // of the sag at the mean current, the same for the rested voltage at the end
	firstShare    = 0.05 // and at the start
	mostDoubt     = 0.40 // sd over resistance from which it is not told
	groundBeforeS = 15
)

// packLine fits the pack over a flight and what comes before and after on the ground.
func (f *frames) packLine(flights []run) PackLine {
	switch {
	case f.volts == nil:
		return PackLine{Why: NoVolts}
	case f.amps == nil:
		return PackLine{Why: NoAmps}
	}
	from := max(flights[0].from-f.over(groundBeforeS), 0)
	to := min(flights[len(flights)-1].to+f.over(groundBeforeS), f.n)
	width := f.over(regressionS)
	twice := func(x []float64) []float64 { return smooth(smooth(x, width), width) }
	p := &packFit{stepS: f.stepS, volts: twice(f.volts)[from:to], amps: twice(f.amps)}
	p.charge = make([]float64, f.n)
	sum := 0.0
	last := 0.0
	for k, a := range f.amps {
		if !math.IsNaN(a) {
			last = a
		}
		sum += last * f.stepS
		p.charge[k] = sum
	}
	flown := meanOf(f.amps, flights[0].from, flights[len(flights)-1].to)
	varies := sdOf(highPass(p.amps[flights[0].from:flights[len(flights)-1].to], f.over(8)))
	line := PackLine{Why: SteadyCurrent}
	if !(varies > leastVaries*flown) {
		return line
	}
	s, ok := p.fit(from)
	if !ok {
		return PackLine{Why: Unclear}
	}
	line.ResidualV = math.Sqrt(s.squares / float64(s.rows))
	r, sd := s.along(stepAfter(halfS))
	r, sd = -r, sd*studentFactor(float64(s.blocks-1))
	line.LagS = s.beta.AtVec(3) / s.beta.AtVec(0)
	if !(r > 0) || !(sd < mostDoubt*r) {
		line.Why = Unclear
		return line
	}
	line.Why = ""
	line.ResistanceOhm = known(r, math.Hypot(sd, math.Hypot(ampsGainSD, modelShare)*r))
	if line.OpenV = p.openAt(s, p.charge[flights[0].from]); line.OpenV != nil {
		line.OpenV.widen(firstShare * r * flown)
	}
	if line.EndOpenV = p.openAt(s, p.charge[flights[len(flights)-1].to-1]); line.EndOpenV != nil {
		line.EndOpenV.widen(restShare * r * flown)
	}
	return line
}

// highPass takes the running mean off.
func highPass(x []float64, width int) []float64 {
	m := smooth(x, width)
	y := make([]float64, len(x))
	for k := range x {
		y[k] = x[k] - m[k]
	}
	return y
}

// packFit is the regression's data.
type packFit struct {
	stepS  float64
	volts  []float64 // of the frames fitted
	amps   []float64 // of all frames
	charge []float64 // A s, of all frames
	spanAs float64
	fromAs float64
}

type packSolution struct {
	beta    *mat.VecDense
	cov     *mat.SymDense
	squares float64
	rows    int
	blocks  int
	powers  int
}

// The terms are current, what relaxes fast and slowly, the slope of current, and powers of the charge used. The slope
// is there because current is read through a slower filter than voltage: I = I_read + τ dI_read/dt for a filter of
// first order, and to first order for any that is late.
const loadTerms = 4

// halfS is the time after a step of current at which resistance is told.
const halfS = 0.5

// stepAfter is what a step of current by 1 A makes of the terms after a while.
func stepAfter(s float64) [loadTerms]float64 {
	return [loadTerms]float64{1, 1 - math.Exp(-s/fastRelaxS), 1 - math.Exp(-s/slowRelaxS), 0}
}

// along is a linear combination of the first terms, with its standard deviation.
func (s *packSolution) along(terms [loadTerms]float64) (value, sd float64) {
	row := mat.NewVecDense(s.beta.Len(), nil)
	for i, x := range terms {
		row.SetVec(i, x)
	}
	return s.at(row)
}

func (s *packSolution) at(row *mat.VecDense) (value, sd float64) {
	var half mat.VecDense
	half.MulVec(s.cov, row)
	return mat.Dot(row, s.beta), math.Sqrt(math.Max(mat.Dot(row, &half), 0))
}

// fit solves the regression; residuals beyond three robust standard deviations are weighed down (Huber).
func (p *packFit) fit(from int) (*packSolution, bool) {
	n := len(p.volts)
	powers := 4
	if float64(n)*p.stepS < 60 {
		powers = 2
	}
	k := loadTerms + powers
	x := mat.NewDense(n, k, nil)
	used := make([]bool, n)
	p.fromAs, p.spanAs = p.charge[from], math.Max(p.charge[from+n-1]-p.charge[from], 1)
	fast, slow := math.NaN(), math.NaN()
	rows := 0
	for i := range n {
		j := from + i
		a := p.amps[j]
		if math.IsNaN(a) {
			continue
		}
		if math.IsNaN(fast) {
			fast, slow = a, a
		}
		fast += (a - fast) * p.stepS / (fastRelaxS + p.stepS)
		slow += (a - slow) * p.stepS / (slowRelaxS + p.stepS)
		steeper := (p.amps[min(j+1, len(p.amps)-1)] - p.amps[max(j-1, 0)]) / (2 * p.stepS)
		if math.IsNaN(p.volts[i]) || math.IsNaN(steeper) {
			continue
		}
		used[i] = true
		rows++
		q := (p.charge[from+i] - p.fromAs) / p.spanAs
		row := x.RawRowView(i)
		row[0], row[1], row[2], row[3] = a, fast, slow, steeper
		for c, v := 0, 1.0; c < powers; c++ {
			row[loadTerms+c] = v
			v *= q
		}
	}
	if rows < 5*k {
		return nil, false
	}
	weight := make([]float64, n)
	for i := range weight {
		if used[i] {
			weight[i] = 1
		}
	}
	s := &packSolution{rows: rows, powers: powers}
	rest := make([]float64, n)
	var inverse mat.SymDense
	for range 3 {
		normal, right := mat.NewSymDense(k, nil), mat.NewVecDense(k, nil)
		for i := range n {
			if weight[i] == 0 {
				continue
			}
			row := x.RawRowView(i)
			for a := range k {
				right.SetVec(a, right.AtVec(a)+weight[i]*row[a]*p.volts[i])
				for b := a; b < k; b++ {
					normal.SetSym(a, b, normal.At(a, b)+weight[i]*row[a]*row[b])
				}
			}
		}
		var c mat.Cholesky
		if !c.Factorize(normal) || c.Cond() > 1e13 {
			return nil, false
		}
		s.beta = mat.NewVecDense(k, nil)
		if c.SolveVecTo(s.beta, right) != nil || c.InverseTo(&inverse) != nil {
			return nil, false
		}
		s.squares = 0
		var there []float64
		for i := range n {
			if !used[i] {
				continue
			}
			rest[i] = p.volts[i] - mat.Dot(mat.NewVecDense(k, x.RawRowView(i)), s.beta)
			there = append(there, rest[i])
		}
		bound := 3 * madSD(there)
		for i := range n {
			if !used[i] {
				continue
			}
			weight[i] = 1
			if e := math.Abs(rest[i]); bound > 0 && e > bound {
				weight[i] = bound / e
			}
			s.squares += weight[i] * rest[i] * rest[i]
		}
	}
	s.cov = sandwich(x, rest, weight, &inverse, max(int(blockS/p.stepS), 1))
	s.blocks = (n + max(int(blockS/p.stepS), 1) - 1) / max(int(blockS/p.stepS), 1)
	return s, true
}

// sandwich is the covariance of a least-squares estimate whose residuals hang together within blocks of rows: the
// bread of the normal equations about the sum of the blocks' scores (Liang and Zeger 1986), G/(G − 1) for few blocks.
func sandwich(x *mat.Dense, rest, weight []float64, bread *mat.SymDense, block int) *mat.SymDense {
	n, k := x.Dims()
	meat := mat.NewSymDense(k, nil)
	score := mat.NewVecDense(k, nil)
	blocks := 0
	for from := 0; from < n; from += block {
		score.Zero()
		for i := from; i < min(from+block, n); i++ {
			score.AddScaledVec(score, weight[i]*rest[i], mat.NewVecDense(k, x.RawRowView(i)))
		}
		meat.SymRankOne(meat, 1, score)
		blocks++
	}
	var half, whole mat.Dense
	half.Mul(bread, meat)
	whole.Mul(&half, bread)
	cov := mat.NewSymDense(k, nil)
	factor := float64(blocks) / math.Max(float64(blocks-1), 1)
	for a := range k {
		for b := a; b < k; b++ {
			cov.SetSym(a, b, factor*(whole.At(a, b)+whole.At(b, a))/2)
		}
	}
	return cov
}

// openAt is the rested voltage without load at a charge used, with its doubt.
func (p *packFit) openAt(s *packSolution, chargeAs float64) *Figure {
	q := (chargeAs - p.fromAs) / p.spanAs
	row := mat.NewVecDense(s.beta.Len(), nil)
	for c, v := 0, 1.0; c < s.powers; c++ {
		row.SetVec(loadTerms+c, v)
		v *= q
	}
	value, sd := s.at(row)
	f := known(value, sd*studentFactor(float64(s.blocks-1)))
	if f != nil {
		f.widen(voltsGainSD * value)
	}
	return f
}
