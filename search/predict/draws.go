package predict

import (
	"cmp"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
	"partsaloft/search/progress"
)

// defaultDraws is the number of draws of the uncertain inputs, and of those that are stratified together.
const (
	defaultDraws = 200
	lot          = defaultDraws
)

// latin is about the standard deviation of a share of draws that are stratified over that of draws that are not (between
// neighbours in lists, in two styles on three drawers: 0.6 for 200 draws).
const latin = 0.65

// Draws are common random numbers: standard normal ones, one set a part, shared by all
// combinations that use the part, so that two crafts with one prop err alike, and one set a series and one a class of
// props. They hang on what the drawer says of a part, not on its name or place. What belongs to no
// single part is shared as follows: the motor carries what motor and prop data leave open, the
// board the calibration and losses of its ESCs and the electronics' power, the set of extras the straps and
// wires, and all crafts together what the way of flying leaves open.
type Draws struct {
	n      int
	seed   uint64
	cache  map[string][]float64
	owners owners
}

// Sampling says how many draws to take, from which seed, on how many workers.
type Sampling struct {
	Draws   int // of the uncertain inputs; 0 means 200
	Seed    uint64
	Workers int // 0 means one a processor
	// Drawer holds the parts of which changed ones keep the numbers; nil names every part by its own content.
	Drawer *inventory.Drawer
}

// Work is the work of the intervals of so many results, for a progress.Part.
func (d *Draws) Work(results int) float64 { return workOf(d.n, results) }

// Work is the work of the intervals of so many results, for a progress.Part.
func (o *Sampling) Work(results int) float64 { return workOf(cmp.Or(o.Draws, defaultDraws), results) }

// SharpenWork is about the work of sharpening the shares of so many results, few of which lie near a bound.
func (o *Sampling) SharpenWork(results int) float64 {
	if o.Draws > 0 {
		return 0
	}
	return float64(results*defaultDraws) / 3
}

// workOf counts half a prediction a draw, which has the figures of the score alone, and those of the expansion.
func workOf(draws, results int) float64 {
	const expansion = 40
	return progress.Prediction * float64(results) * (expansion + float64(draws)/2)
}

// NewDraws makes the common random numbers of a sampling.
func NewDraws(s Sampling) *Draws {
	if s.Draws <= 0 {
		s.Draws = defaultDraws
	}
	return &Draws{s.Draws, s.Seed, map[string][]float64{}, newOwners(s.Drawer)}
}

var (
	propInputs = [...]uncertain.Input{uncertain.PropThrust, uncertain.PropPower, uncertain.PropZeroThrust,
		uncertain.PropMass, uncertain.PropInertia, uncertain.PropThrustSpeed, uncertain.PropPowerSpeed}
	motorInputs = [...]uncertain.Input{uncertain.MotorSpeed, uncertain.MotorResistance, uncertain.MotorLoss,
		uncertain.MotorMass, uncertain.MotorInertia, uncertain.RotorModel}
	limitInputs = [...]uncertain.Input{uncertain.MotorCurrentLimit}
	packInputs  = [...]uncertain.Input{uncertain.PackResistance, uncertain.PackCapacity, uncertain.PackMass}
	frameInputs = [...]uncertain.Input{uncertain.FrameMass, uncertain.DragArea}
	boardInputs = [...]uncertain.Input{uncertain.BoardMass, uncertain.ElectronicsPower, uncertain.ThrottleScale,
		uncertain.PartThrottle, uncertain.Ripple}
	extrasInputs = [...]uncertain.Input{uncertain.ExtrasMass}
	allInputs    = [...]uncertain.Input{uncertain.FlyingPower, uncertain.RotorDrag}
	lawInputs    = [...]uncertain.Input{uncertain.MotorsSpeed, uncertain.MotorsLoss, uncertain.MotorsPower,
		uncertain.EscResistance}
)

// normals are the numbers of one owner, draw by draw, width a draw: Latin hypercubes (M. D. McKay, R. J. Beckman, W. J.
// Conover, Technometrics 21, 239, 1979) of a lot of draws each. In a lot every number has one draw in each of as many
// slices of equal probability as there are draws.
func (d *Draws) normals(kind, id string, width int) []float64 {
	key := kind + "\x00" + id
	if z, ok := d.cache[key]; ok {
		return z
	}
	h := fnv.New64a()
	h.Write([]byte(key)) // never fails
	rng := rand.New(rand.NewPCG(d.seed, h.Sum64()))
	z := make([]float64, d.n*width)
	for first := 0; first < d.n; first += lot {
		n := min(lot, d.n-first)
		for i := range width {
			for s, slice := range rng.Perm(n) {
				z[(first+s)*width+i] = math.Sqrt2 * math.Erfinv(2*(float64(slice)+rng.Float64())/float64(n)-1)
			}
		}
	}
	d.cache[key] = z
	return z
}

// deviations are the draws of one combination. Not safe for concurrent use.
func (d *Draws) deviations(c *inventory.Combination, u *uncertain.Budget) []uncertain.Deviation {
	normal := make([][uncertain.InputCount]float64, d.n)
	put := func(z []float64, inputs []uncertain.Input) {
		for s := range normal {
			for i, input := range inputs {
				normal[s][input] = z[s*len(inputs)+i]
			}
		}
	}
	put(d.propNormals(c.Prop, &u.Prop), propInputs[:])
	put(d.motorNormals(c.Motor), motorInputs[:])
	put(d.normals("motor current limit", d.owners.of(c.Motor), len(limitInputs)), limitInputs[:])
	put(d.packNormals(c.Pack), packInputs[:])
	put(d.frameNormals(c.Frame), frameInputs[:])
	put(d.boardNormals(c.Board), boardInputs[:])
	put(d.normals("extras", d.owners.ofExtras(c.Extras), len(extrasInputs)), extrasInputs[:])
	put(d.learned(d.normals("all", "", len(allInputs)), allInputs[:], c.Frame.Learned), allInputs[:])

	put(d.normals(lawOwner, "", len(lawInputs)), lawInputs[:])

	out := make([]uncertain.Deviation, d.n)
	for s := range out {
		out[s] = u.Deviation(&normal[s])
	}
	return out
}

// lawOwner owns what the laws of motors and ESCs err by, the same for all crafts and stands.
const lawOwner = "laws"

// propNormals makes a prop's numbers from those of its own, of its series and of its class.
func (d *Draws) propNormals(p *inventory.Prop, forms *uncertain.PropForms) []float64 {
	width := len(propInputs)
	own := d.normals("prop", d.owners.of(p), width)
	mixed := slices.Clone(own)
	inputs := uncertain.FormInputs()
	var at [len(inputs)]int
	for k, input := range inputs {
		at[k] = slices.Index(propInputs[:], input)
	}
	const (
		inSeries = int(uncertain.ClassThrust - uncertain.SeriesThrust)
		inClass  = int(uncertain.PropNumbers - uncertain.ClassThrust)
	)
	series, class := d.normals("series", p.Series, inSeries), d.normals("class", "multirotor", inClass)
	for s := range d.n {
		var numbers [uncertain.PropNumbers]float64
		for k := range inputs {
			numbers[int(uncertain.OwnThrust)+k] = own[s*width+at[k]]
		}
		copy(numbers[uncertain.SeriesThrust:], series[s*inSeries:][:inSeries])
		copy(numbers[uncertain.ClassThrust:], class[s*inClass:][:inClass])
		for k, x := range forms.Normals(&numbers) {
			mixed[s*width+at[k]] = x
		}
	}
	return d.learned(mixed, propInputs[:], p.Learned)
}

// motorNormals of a mixed set are the mean of its kinds', brought back to unit variance.
func (d *Draws) motorNormals(m *inventory.Motor) []float64 {
	width := len(motorInputs)
	if m.Mixed == nil {
		return d.learned(d.normals("motor", d.owners.of(m), width), motorInputs[:], m.Learned)
	}
	a, b := d.normals("motor", d.owners.of(m.Mixed.A), width), d.normals("motor", d.owners.of(m.Mixed.B), width)
	mixed := make([]float64, len(a))
	for i := range mixed {
		mixed[i] = (a[i] + b[i]) / math.Sqrt2
	}
	return d.learned(mixed, motorInputs[:], m.Learned)
}

func (d *Draws) packNormals(p *inventory.Pack) []float64 {
	return d.learned(d.normals("pack", d.owners.of(p), len(packInputs)), packInputs[:], p.Learned)
}

func (d *Draws) frameNormals(f *inventory.Frame) []float64 {
	return d.learned(d.normals("frame", d.owners.of(f), len(frameInputs)), frameInputs[:], f.Learned)
}

func (d *Draws) boardNormals(b *inventory.Board) []float64 {
	return d.learned(d.normals("board", d.owners.of(b), len(boardInputs)), boardInputs[:], b.Learned)
}

// learned gives the numbers of inputs that readings told of what they have in common with other
// corrections.
func (d *Draws) learned(own []float64, inputs []uncertain.Input, corrections inventory.Corrections) []float64 {
	if corrections == nil {
		return own
	}
	mixed := slices.Clone(own)
	width := len(inputs)
	for i, input := range inputs {
		k, ok := corrections.For(input)
		if !ok || len(k.Shared) == 0 {
			continue
		}
		alone := 1.0
		for _, share := range k.Shared {
			alone -= share * share
		}
		alone = math.Sqrt(math.Max(alone, 0))
		common := d.normals("learned", "", len(k.Shared))
		for s := range d.n {
			x := alone * own[s*width+i]
			for j, share := range k.Shared {
				x += share * common[s*len(k.Shared)+j]
			}
			mixed[s*width+i] = x
		}
	}
	decorrelate := func(a, b uncertain.Input) {
		i, j := slices.Index(inputs, a), slices.Index(inputs, b)
		r := corrections.Together(a, b)
		if i < 0 || j < 0 || r*r >= 1 {
			return
		}
		for s := range d.n {
			mixed[s*width+j] = (mixed[s*width+j] - r*mixed[s*width+i]) / math.Sqrt(1-r*r)
		}
	}
	// Uncertainty.Deviation brings their correlation back.
	decorrelate(uncertain.PropThrust, uncertain.PropPower)
	decorrelate(uncertain.PropThrustSpeed, uncertain.PropPowerSpeed)
	if at := slices.Index(inputs, uncertain.MotorSpeed); at >= 0 {
		together := corrections.MotorCorrelation()
		for s := range d.n {
			of := mixed[s*width+at : s*width+at+len(uncertain.MotorInputs)]
			z := together.Independent([3]float64(of))
			copy(of, z[:])
		}
	}
	return mixed
}
