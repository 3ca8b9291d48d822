package learn

import (
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics/uncertain"
)

// Owners of numbers beside the kinds of parts.
const (
	KindSeries inventory.Kind = "series" // what the props of one line have in common
	kindClass  inventory.Kind = "class"  // what all multirotor props have in common
	KindFlying inventory.Kind = "flying" // a way of flying, by its name
	KindExtras inventory.Kind = "extras" // a set of extras
	kindStand  inventory.Kind = "stand"  // the ESC of the stand that a motor was tested on
	kindLoose  inventory.Kind = "loose"  // what a craft weighs beyond its listed parts, by its frame
	kindMix    inventory.Kind = "mix"    // a mixed set of motors, beside what its kinds have of it
	kindRotors inventory.Kind = "rotors" // what the laws leave open of all rotors alike
	kindLaws   inventory.Kind = "laws"   // what the law of motors errs by for all of them
	kindFlight inventory.Kind = "flight" // one flight beside others flown alike, by its entry in the log
	kindLabel  inventory.Kind = "label"  // a prop with bench points, as its label alone tells it
)

// wayShare is the part of FlyingPower's variance that belongs to the way of flying; the rest
// belongs to the frame that flies it (an even split: nothing known tells them apart).
const wayShare = 0.5

// looseShare is the standard deviation of what a craft weighs beyond its listed parts (wires,
// solder, tape) over its mass (common practice, no source). It counts where a craft was weighed.
const looseShare = 0.03

// latent is an independent number with a standard normal prior.
type latent struct {
	kind   inventory.Kind
	id     string
	input  uncertain.Input
	number uncertain.PropNumber // of a class
}

// latents number the latent of a model.
type latents struct {
	list  []latent
	index map[latent]int
}

func (l *latents) of(kind inventory.Kind, id string, input uncertain.Input) int {
	return l.at(latent{kind: kind, id: id, input: input})
}

func (l *latents) at(key latent) int {
	i, ok := l.index[key]
	if !ok {
		if l.index == nil {
			l.index = map[latent]int{}
		}
		i = len(l.list)
		l.index[key] = i
		l.list = append(l.list, key)
	}
	return i
}

// row is a linear form of the latent numbers.
type row []term

type term struct {
	latent int
	by     float64
}

func (r row) at(z []float64) float64 {
	var sum float64
	for _, t := range r {
		sum += t.by * z[t.latent]
	}
	return sum
}

func (r row) scaled(by float64) row {
	if by == 0 {
		return nil
	}
	s := make(row, len(r))
	for i, t := range r {
		s[i] = term{t.latent, by * t.by}
	}
	return s
}

func (r row) plus(other row) row { return append(append(row{}, r...), other...) }

// rows are the logarithms of the factors on a craft's inputs as linear forms.
type rows [uncertain.InputCount]row

func (r *rows) deviation(z []float64) uncertain.Deviation {
	var d uncertain.Deviation
	for i := range d {
		d[i] = r[i].at(z)
	}
	return d
}

// touched lists the latent numbers in the rows, each once, in the order of the inputs.
func (r *rows) touched() []int {
	var list []int
	seen := map[int]bool{}
	for i := range r {
		for _, t := range r[i] {
			if !seen[t.latent] {
				seen[t.latent] = true
				list = append(list, t.latent)
			}
		}
	}
	return list
}

// unitRows are rows of unit variance, before spreads and correlations apply.
type unitRows rows

// rows turns rows of unit variance into logarithms of factors, as Uncertainty.Deviation does.
func (u *unitRows) rows(s *uncertain.Budget) rows {
	var r rows
	for i := range r {
		r[i] = u[i].scaled(s.LnSD[i])
	}
	for i, factor := range s.Factor() {
		input := uncertain.MotorInputs[i]
		r[input] = nil
		for j, by := range factor {
			r[input] = r[input].plus(u[uncertain.MotorInputs[j]].scaled(s.LnSD[input] * by))
		}
	}
	return r
}

// motorInputs and the like are the inputs that a part carries and that readings tell of. Rotor
// inertia shows in no reading.
var (
	motorInputs = [...]uncertain.Input{
		uncertain.MotorSpeed, uncertain.MotorResistance, uncertain.MotorLoss, uncertain.MotorMass, uncertain.RotorModel,
	}
	propInputs  = [...]uncertain.Input{uncertain.PropZeroThrust, uncertain.PropMass} // beside uncertain.FormInputs
	packInputs  = [...]uncertain.Input{uncertain.PackResistance, uncertain.PackCapacity, uncertain.PackMass}
	frameInputs = [...]uncertain.Input{uncertain.FrameMass, uncertain.DragArea}
	boardInputs = [...]uncertain.Input{uncertain.BoardMass, uncertain.ElectronicsPower, uncertain.ThrottleScale,
		uncertain.PartThrottle, uncertain.Ripple}
)

// lawInputs are what all motors have in common.
var lawInputs = [...]uncertain.Input{uncertain.MotorsSpeed, uncertain.MotorsLoss, uncertain.MotorsPower,
	uncertain.EscResistance}

// standInputs are those of the ESC of a stand.
var standInputs = [...]uncertain.Input{uncertain.ThrottleScale, uncertain.PartThrottle, uncertain.Ripple}

// stronger is the sign of the change of an input that lets a craft do more.
var stronger = [uncertain.InputCount]float64{
	uncertain.PropThrust: 1, uncertain.PropPower: -1, uncertain.MotorSpeed: 1, uncertain.MotorResistance: -1,
	uncertain.MotorLoss: -1, uncertain.RotorModel: -1, uncertain.PropMass: -1, uncertain.MotorMass: -1,
	uncertain.PackMass: -1, uncertain.FrameMass: -1, uncertain.BoardMass: -1, uncertain.ExtrasMass: -1,
	uncertain.PackResistance: -1, uncertain.DragArea: -1, uncertain.FlyingPower: -1,
	uncertain.PartThrottle: -1, uncertain.Ripple: -1, uncertain.MotorsSpeed: 1, uncertain.MotorsLoss: -1,
}

// stronger is the sign of the change of a number that lets a craft do more.
func (l latent) stronger() float64 {
	switch l.number {
	case uncertain.OwnMerit, uncertain.SeriesMerit, uncertain.ClassMerit:
		return -1
	case uncertain.SeriesThrust, uncertain.ClassThrust:
		return 1
	case uncertain.OwnThrust: // no number of a class, or a prop's own thrust
		return stronger[l.input]
	}
	return 0
}

func (l *latents) own(u *unitRows, kind inventory.Kind, id string, inputs []uncertain.Input) {
	for _, i := range inputs {
		u[i] = row{{l.of(kind, id, i), 1}}
	}
}

// motor of a mixed set is the mean of its two kinds, with a number of its own that keeps the
// variance that any motor has.
func (l *latents) motor(u *unitRows, m *inventory.Motor) {
	l.own(u, kindLaws, "", lawInputs[:])
	if m.Mixed == nil {
		l.own(u, inventory.KindMotor, m.ID, motorInputs[:])
		return
	}
	l.own(u, kindMix, m.ID, motorInputs[:])
	for _, i := range motorInputs {
		a, b := l.of(inventory.KindMotor, m.Mixed.A.ID, i), l.of(inventory.KindMotor, m.Mixed.B.ID, i)
		u[i] = u[i].scaled(math.Sqrt(0.5)).plus(row{{a, 0.5}, {b, 0.5}})
	}
}

// prop sets the rows of a prop's thrust and torque from numbers of its own, of its series and of its class.
func (l *latents) prop(r *rows, kind inventory.Kind, id, series string, forms *uncertain.PropForms) {
	for k, input := range uncertain.FormInputs() {
		r[input] = nil
		for n, by := range forms[k] {
			if by == 0 {
				continue
			}
			number := uncertain.PropNumber(n)
			key := latent{kind: kind, id: id, number: number}
			switch number.Owned() {
			case uncertain.BySeries:
				key = latent{kind: KindSeries, id: series, number: number}
			case uncertain.ByClass:
				key = latent{kind: kindClass, id: multirotorClass, number: number}
			}
			r[input] = append(r[input], term{l.at(key), by})
		}
	}
}

const multirotorClass = "multirotor"

// flying splits what segments leave open between the way of flying and the frame.
func (l *latents) flying(u *unitRows, way, frame string) {
	u[uncertain.FlyingPower] = row{
		{l.of(KindFlying, way, uncertain.FlyingPower), math.Sqrt(wayShare)},
		{l.of(inventory.KindFrame, frame, uncertain.FlyingPower), math.Sqrt(1 - wayShare)},
	}
}

// learnableInput is an input with its name in a learned file.
type learnableInput struct {
	kind  inventory.Kind
	input uncertain.Input
	key   string
}

// learnable lists what is learned of each kind of part, in the order in which it is shown.
var learnable = [...]learnableInput{
	{inventory.KindMotor, uncertain.MotorSpeed, "kv"},
	{inventory.KindMotor, uncertain.MotorResistance, "resistance"},
	{inventory.KindMotor, uncertain.MotorLoss, "loss"},
	{inventory.KindMotor, uncertain.RotorModel, "rotor_torque"},
	{inventory.KindMotor, uncertain.MotorMass, "mass"},
	{inventory.KindProp, uncertain.PropThrust, "thrust"},
	{inventory.KindProp, uncertain.PropPower, "torque"},
	{inventory.KindProp, uncertain.PropThrustSpeed, "thrust_over_rpm"},
	{inventory.KindProp, uncertain.PropPowerSpeed, "torque_over_rpm"},
	{inventory.KindProp, uncertain.PropZeroThrust, "zero_thrust"},
	{inventory.KindProp, uncertain.PropMass, "mass"},
	{inventory.KindPack, uncertain.PackResistance, "resistance"},
	{inventory.KindPack, uncertain.PackCapacity, "capacity"},
	{inventory.KindPack, uncertain.PackMass, "mass"},
	{inventory.KindFrame, uncertain.DragArea, "drag_area"},
	{inventory.KindFrame, uncertain.FrameMass, "mass"},
	{inventory.KindFrame, uncertain.FlyingPower, "flying_power"},
	{inventory.KindBoard, uncertain.ElectronicsPower, "electronics_power"},
	{inventory.KindBoard, uncertain.ThrottleScale, "throttle_scale"},
	{inventory.KindBoard, uncertain.PartThrottle, "part_throttle"},
	{inventory.KindBoard, uncertain.Ripple, "ripple"},
	{inventory.KindBoard, uncertain.BoardMass, "mass"},
	{KindFlying, uncertain.FlyingPower, "flying_power"},
}

// InputKey is an input's name in a learned file, "" of one that is not learned.
func InputKey(kind inventory.Kind, input uncertain.Input) string {
	for _, n := range learnable {
		if n.kind == kind && n.input == input {
			return n.key
		}
	}
	return ""
}

func inputOf(kind inventory.Kind, key string) (uncertain.Input, bool) {
	for _, n := range learnable {
		if n.kind == kind && n.key == key {
			return n.input, true
		}
	}
	return 0, false
}

// inputsOf lists the inputs that are corrected of a kind.
func inputsOf(kind inventory.Kind) []uncertain.Input {
	var list []uncertain.Input
	for _, n := range learnable {
		if n.kind == kind {
			list = append(list, n.input)
		}
	}
	return list
}

// partners reports whether the errors of two inputs of a part go together.
func partners(a, b uncertain.Input) bool {
	of := func(list ...uncertain.Input) bool { return slices.Contains(list, a) && slices.Contains(list, b) }
	return of(uncertain.PropThrust, uncertain.PropPower) ||
		of(uncertain.PropThrustSpeed, uncertain.PropPowerSpeed) || of(uncertain.MotorInputs[:]...)
}
