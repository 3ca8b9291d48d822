// Package synthetic makes drawers for tests of the search: random ones of usual parts, and the examples.
package synthetic

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"partsaloft/examples"
	"partsaloft/inventory"
	"partsaloft/objective"
	"partsaloft/physics/rotor"
)

// Sizes are how many motors, props, packs, frames and boards a generated drawer holds.
type Sizes [5]int

// class is a size of craft that generated parts are made for: ranges that parts are drawn from, so that no drawer
// holds the sizes of any one maker.
type class struct {
	statorMm, heightMm [2]float64
	cells              [2]int
	inches             []float64
	mount              inventory.Mount
	shaft, holes       float64
	stacks             []float64
	frameG, escA       [2]float64
	mAh                [2]float64
	plugs              []inventory.Plug
}

// classes from whoop to seven inch; ranges of the usual size (common practice, no source).
var classes = []class{
	{[2]float64{7, 10}, [2]float64{2, 4}, [2]int{1, 2}, []float64{1.2, 1.6, 2}, inventory.Press,
		1, 6.6, []float64{25.5}, [2]float64{3, 12}, [2]float64{4, 9}, [2]float64{250, 750},
		[]inventory.Plug{"PH 2.0", "BT 2.0"}},
	{[2]float64{10, 15}, [2]float64{2, 6}, [2]int{2, 4}, []float64{2, 2.5, 3, 3.5}, inventory.Screws,
		1.5, 9, []float64{25.5, 20}, [2]float64{8, 30}, [2]float64{9, 22}, [2]float64{300, 1000}, []inventory.Plug{"XT30"}},
	{[2]float64{14, 19}, [2]float64{3, 8}, [2]int{3, 6}, []float64{3, 3.5, 4, 4.5},
		inventory.Screws, 1.5, 12, []float64{20, 25.5}, [2]float64{25, 65}, [2]float64{18, 38}, [2]float64{650, 3000},
		[]inventory.Plug{"XT30", "XT60"}},
	{[2]float64{20, 26}, [2]float64{4, 9}, [2]int{4, 6}, []float64{5, 5.1, 6}, inventory.Nut,
		5, 16, []float64{20, 30.5}, [2]float64{65, 140}, [2]float64{32, 62}, [2]float64{900, 4000}, []inventory.Plug{"XT60"}},
}

// Generate makes a drawer at random. With loose parts tell neither mounts nor patterns, so that
// nearly everything fits everything.
func Generate(seed uint64, n Sizes, loose bool) *inventory.Drawer {
	rng := rand.New(rand.NewPCG(seed, 77))
	g := generator{rng, loose}
	d := &inventory.Drawer{Name: fmt.Sprintf("generated-%d.yaml", seed)}
	for i := range n[0] {
		d.Motors = append(d.Motors, g.motor(i))
	}
	for i := range n[1] {
		d.Props = append(d.Props, g.prop(i))
	}
	for i := range n[2] {
		d.Packs = append(d.Packs, g.pack(i))
	}
	for i := range n[3] {
		d.Frames = append(d.Frames, g.frame(i))
	}
	for i := range n[4] {
		d.Boards = append(d.Boards, g.board(i))
	}
	rx, cam := 0.3, 0.7
	d.Extras = []inventory.Extra{
		{Part: inventory.Part{ID: "x-rx"}, Role: inventory.Receiver, MassG: 0.9, PowerW: &rx, Use: inventory.Always},
		{Part: inventory.Part{ID: "x-cam-a"}, Role: inventory.Camera, MassG: 1.7, PowerW: &cam, Use: inventory.Optional},
		{Part: inventory.Part{ID: "x-cam-b"}, Role: inventory.Camera, MassG: 6.5, PowerW: &cam, Use: inventory.Optional},
		{Part: inventory.Part{ID: "x-stack"}, Role: inventory.Adapter, MassG: 1.9, Use: inventory.Optional,
			Bridges: &inventory.Bridge{What: "stack_mm", From: "25.5", To: "20", FromMm: 25.5, ToMm: 20}},
	}
	return d
}

type generator struct {
	rng   *rand.Rand
	loose bool
}

func (g *generator) class() *class { return &classes[g.rng.IntN(len(classes))] }

func pick[T any](g *generator, list []T) T { return list[g.rng.IntN(len(list))] }

// between is log-uniform, with three digits as labels have.
func (g *generator) between(r [2]float64) float64 {
	x := r[0] * math.Pow(r[1]/r[0], g.rng.Float64())
	scale := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}

// maybe is x in half of all cases, else not given.
func (g *generator) maybe(x float64) *float64 {
	if g.rng.IntN(2) == 0 {
		return nil
	}
	return &x
}

func (g *generator) motor(i int) inventory.Motor {
	c := g.class()
	s := [2]float64{math.Round(g.between(c.statorMm)), math.Round(g.between(c.heightMm))}
	cells := inventory.CellRange{Min: c.cells[0], Max: c.cells[1]}
	m := inventory.Motor{
		Part: inventory.Part{ID: fmt.Sprintf("m%03d", i)}, Stator: fmt.Sprintf("%02.0f%02.0f", s[0],
			s[1]), StatorDiameterMm: s[0], StatorHeightMm: s[1],
		KV: g.between([2]float64{0.75e6, 1.35e6}) / (4.2 * float64(cells.Max) * s[0]), // as motors are used
	}
	m.MassG = g.maybe(g.between([2]float64{0.9, 1.15}) * 12.1 * math.Pow(s[0]*s[0]*s[1]/1000, 0.911))
	if i%3 < 2 {
		m.Cells = &cells
	} // else its kV and size decide
	if !g.loose {
		m.ShaftMm, m.PropMount, m.HolePatternMm = &c.shaft, c.mount, inventory.Lengths{c.holes}
	}
	if g.rng.IntN(3) > 0 {
		amps := g.between([2]float64{0.8, 1.8}) * 1.2 * s[0] * s[0] * s[1] / 100
		m.MaxCurrentA = &amps
	}
	return m
}

func (g *generator) prop(i int) inventory.Prop {
	c := g.class()
	d := pick(g, c.inches)
	p := inventory.Prop{Part: inventory.Part{ID: fmt.Sprintf("p%03d", i)}, DiameterIn: d,
		PitchIn: math.Round(10*d*(0.45+0.5*g.rng.Float64())) / 10, Blades: 2 + g.rng.IntN(3)}
	p.MassG = g.maybe(g.between([2]float64{0.8, 1.3}) * 0.13 * math.Pow(d, 2.1))
	p.Blade = pick(g, []inventory.Blade{"", inventory.BladeRoot, inventory.BladeEven, inventory.BladeTip})
	if !g.loose {
		p.BoreMm, p.Mount = &c.shaft, c.mount
	}
	p.Series = pick(g, []string{"", "first", "second"})
	return p
}

func (g *generator) pack(i int) inventory.Pack {
	c := g.class()
	k := inventory.Pack{
		Part: inventory.Part{ID: fmt.Sprintf("k%03d",
			i)}, Cells: c.cells[0] + g.rng.IntN(c.cells[1]-c.cells[0]+1), CapacityMAh: g.between(c.mAh),
		DischargeC: g.between([2]float64{40, 130}), Chemistry: pick(g,
			[]inventory.Chemistry{inventory.LiPo, inventory.LiPo, inventory.LiHV}), Connector: pick(g, c.plugs),
	}
	if k.CapacityMAh > 2000 {
		k.Chemistry, k.DischargeC = inventory.LiIon, g.between([2]float64{5, 15})
	}
	perCell := 9 / (k.CapacityMAh / 1000) * g.between([2]float64{0.7, 1.6})
	if k.Chemistry == inventory.LiIon {
		perCell = 60 / (k.CapacityMAh / 1000)
	}
	k.CellResistanceMohm = g.maybe(perCell)
	k.MassG = g.maybe(g.between([2]float64{0.9, 1.2}) * 30.7 * float64(k.Cells) * k.CapacityMAh / 1000)
	return k
}

func (g *generator) frame(i int) inventory.Frame {
	c := g.class()
	largest := c.inches[len(c.inches)-1]
	f := inventory.Frame{Part: inventory.Part{ID: fmt.Sprintf("f%03d", i)}, MassG: given(g.between(c.frameG)),
		MaxPropIn: &largest}
	f.DragAreaCm2 = g.maybe(g.between([2]float64{0.6, 1.6}) * 30 * largest)
	if !g.loose {
		f.HolePatternMm, f.StackMm = inventory.Lengths{c.holes}, inventory.Lengths{pick(g, c.stacks)}
	}
	if g.rng.IntN(12) == 0 {
		six := 6
		f.Rotors = &six
	}
	return f
}

func given(x float64) *float64 { return &x }

func (g *generator) board(i int) inventory.Board {
	c := g.class()
	b := inventory.Board{Part: inventory.Part{ID: fmt.Sprintf("b%03d", i)}, EscCurrentA: math.Round(g.between(c.escA)),
		Cells: &inventory.CellRange{Min: c.cells[0], Max: c.cells[1]}, Connector: pick(g, c.plugs)}
	b.EscBurstA = g.maybe(math.Round(b.EscCurrentA * (1.1 + 0.4*g.rng.Float64())))
	b.MassG = g.maybe(g.between([2]float64{0.8, 1.2}) * (2 + 0.4*b.EscCurrentA))
	b.PowerW = g.maybe(g.between([2]float64{0.6, 2}))
	if !g.loose {
		b.StackMm = inventory.Lengths{pick(g, c.stacks)}
	}
	return b
}

// Small draws the sizes of a drawer that can be looked at whole.
func Small(rng *rand.Rand) Sizes {
	return Sizes{2 + rng.IntN(5), 2 + rng.IntN(5), 2 + rng.IntN(5), 1 + rng.IntN(3), 1 + rng.IntN(3)}
}

// Club reads the example drawer.
func Club(t testing.TB) *inventory.Drawer { return ExampleDrawer(t, examples.DefaultDrawer) }

// ExampleDrawer reads a drawer of the embedded examples.
func ExampleDrawer(t testing.TB, name string) *inventory.Drawer {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	d, err := inventory.Read(name, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Combinations of the default example drawer.
const (
	Mid      = "m1804-32 p3.5-26x3 k3s-620 f3.5-yawl b22-24"
	Steep    = "m1804-32 p3.5-35x3 k3s-620 f3.5-yawl b22-24"
	FiveInch = "m2207-188 p5-41x3 k6s-1120 f5-cutter b52-36" // its prop has a reading
)

// Combinations are those of ids "motor prop pack frame board", with the extras that follow.
func Combinations(t testing.TB, d *inventory.Drawer, keys ...string) []inventory.Combination {
	t.Helper()
	var list []inventory.Combination
	for _, key := range keys {
		w := strings.Fields(key)
		c, err := d.Combination(&inventory.Parts{Motor: w[0], Prop: w[1], Pack: w[2], Frame: w[3], Board: w[4]})
		if err != nil {
			t.Fatal(err)
		}
		c.Extras = d.Following(c.Frame, c.Board)
		c.Extras = append(c.Extras, d.GoingAlong(&c)...)
		list = append(list, c)
	}
	return list
}

// AirAndStyle are the air of a drawer and a built-in style.
func AirAndStyle(t testing.TB, d *inventory.Drawer, style string) (rotor.Air, objective.Style) {
	t.Helper()
	s, ok := objective.Preset(style)
	if !ok {
		t.Fatalf("no style %s", style)
	}
	air, err := d.Air.SI()
	if err != nil {
		t.Fatal(err)
	}
	return air, s
}
