package predict

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"partsaloft/inventory"
	"partsaloft/physics"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// StandValue is one point of a motor and a prop on a thrust stand, each reading with its interval
// over the draws.
type StandValue struct {
	Throttle, VoltageV           float64 // 0 to 1; V at the ESC
	SpeedRadS, ThrustN, TorqueNm Value
	CurrentA, PowerW             Value
	EfficiencyNPerW              Value
	// ThrottleNeeded is the throttle that a given thrust takes; nil where the throttle was given.
	ThrottleNeeded *Value

	drawn []float64 // draw by draw: of a given thrust the power, else the thrust less
}

// AheadOf is the share of the common draws in which a stand is the better one at one point: it takes less power for a
// given thrust, or gives more thrust at a given throttle; ties halved. A stand that cannot give a thrust is behind.
func (v *StandValue) AheadOf(w *StandValue) float64 {
	ahead := 0.0
	for s, x := range v.drawn {
		y := w.drawn[s]
		switch {
		case x < y || !math.IsNaN(x) && math.IsNaN(y):
			ahead++
		case x == y || math.IsNaN(x) && math.IsNaN(y):
			ahead += 0.5
		}
	}
	return ahead / float64(len(v.drawn))
}

// Better orders points at one condition: less power for a given thrust or more thrust for a given throttle first, what
// cannot give a thrust last.
func (v *StandValue) Better(w *StandValue) int {
	if c := cmp.Compare(v.PowerW.Why, w.PowerW.Why); c != 0 {
		return c
	}
	if v.ThrottleNeeded != nil {
		return cmp.Compare(v.PowerW.Value, w.PowerW.Value)
	}
	return cmp.Compare(w.ThrustN.Value, v.ThrustN.Value)
}

// PropValue is one point of a prop alone, each number with its interval over the draws.
type PropValue struct {
	SpeedRadS, AirspeedMS float64
	Thrust, Power         Value // CT and CP
	ThrustN, TorqueNm     Value
}

// standCraft carries a motor, a prop and their uncertainty; what else it has stands idle.
func standCraft(m *inventory.Motor, propeller *rotor.Propeller) physics.Craft {
	var motor inventory.MotorSI
	if m != nil {
		motor = m.SI()
	}
	return inventory.Assemble(1, propeller, &motor, &inventory.PackSI{}, inventory.StandBody(), physics.Connector{})
}

// StandTest is a motor with a prop on a thrust stand: at every voltage at the ESC, without sag, and every throttle
// from 0 to 1, or every thrust.
type StandTest struct {
	Motor             *inventory.Motor
	Prop              *inventory.Prop
	Air               rotor.Air
	VoltsV, Throttles []float64
	ThrustsN          []float64
}

// ThrustStand predicts what a thrust stand shows.
func ThrustStand(t *StandTest, o Sampling) ([]StandValue, error) {
	propeller, err := t.Prop.Propeller(t.Air)
	if err != nil {
		return nil, err
	}
	craft := standCraft(t.Motor, propeller)
	stand := physics.Stand{Propeller: craft.Propeller, Motor: craft.Motor, ESC: craft.Board.ESC,
		ThrottleExponent: 1, Uncertainty: craft.Uncertainty}
	b := bencher{&stand.Uncertainty, NewDraws(o).ofStand(t.Motor, t.Prop, &stand.Uncertainty)}
	var list []StandValue
	for _, v := range t.VoltsV {
		for _, throttle := range t.Throttles {
			one, err := b.throttled(&stand, v, throttle)
			if err != nil {
				return nil, fmt.Errorf("%.4g V, %.4g %%: %w", v, 100*throttle, err)
			}
			list = append(list, one)
		}
		for _, thrust := range t.ThrustsN {
			one, err := b.lifting(&stand, v, thrust)
			if err != nil {
				return nil, fmt.Errorf("%.4g V, %.4g N: %w", v, thrust, err)
			}
			list = append(list, one)
		}
	}
	return list, nil
}

// throttled is a point at a throttle.
func (b *bencher) throttled(stand *physics.Stand, voltageV, throttle float64) (StandValue, error) {
	x, p, err := b.values(func(d *uncertain.Deviation) ([]float64, error) {
		s := stand.Deviate(d)
		at, err := s.Point(voltageV, throttle)
		return []float64{at.SpeedRadS, at.ThrustN, at.TorqueNm, at.CurrentA, at.PowerW, at.ThrustN / at.PowerW}, err
	})
	if err != nil {
		return StandValue{}, err
	}
	one := StandValue{Throttle: throttle, VoltageV: voltageV, SpeedRadS: x[0], ThrustN: x[1], TorqueNm: x[2],
		CurrentA: x[3], PowerW: x[4], EfficiencyNPerW: x[5]}
	for _, thrust := range p.Drawn(1) {
		one.drawn = append(one.drawn, -thrust)
	}
	return one, nil
}

// lifting is a point at a thrust; its values are undefined where full throttle gives less.
func (b *bencher) lifting(stand *physics.Stand, voltageV, thrustN float64) (StandValue, error) {
	weak := errors.New("full throttle gives less")
	x, p, err := b.values(func(d *uncertain.Deviation) ([]float64, error) {
		s := stand.Deviate(d)
		at, ok, err := s.Lifting(voltageV, thrustN)
		if err == nil && !ok {
			err = weak
		}
		return []float64{at.SpeedRadS, at.TorqueNm, at.CurrentA, at.PowerW, at.ThrustN / at.PowerW, at.Throttle}, err
	})
	thrust := Value{Value: thrustN, Low: thrustN, High: thrustN, Basis: uncertain.Measured}
	one := StandValue{VoltageV: voltageV, ThrustN: thrust}
	switch {
	case errors.Is(err, weak):
		none := Value{Basis: uncertain.Estimated, Why: physics.NotEnoughThrust}
		x = []Value{none, none, none, none, none, none}
	case err != nil:
		return StandValue{}, err
	}
	one.SpeedRadS, one.TorqueNm, one.CurrentA, one.PowerW, one.EfficiencyNPerW = x[0], x[1], x[2], x[3], x[4]
	one.ThrottleNeeded, one.drawn = &x[5], slices.Clone(p.Drawn(3))
	return one, nil
}

// PropAlone predicts a prop alone, at every speed and every airspeed along its axis. Where it
// windmills its numbers are undefined; it fails if it does so everywhere.
func PropAlone(p *inventory.Prop, air rotor.Air, speedsRadS, airspeedsMS []float64, o Sampling) ([]PropValue, error) {
	propeller, err := p.Propeller(air)
	if err != nil {
		return nil, err
	}
	craft := standCraft(nil, propeller)
	// Without a motor nothing of its doubt plays in.
	for _, inputs := range [][]uncertain.Input{motorInputs[:], lawInputs[:], boardInputs[:]} {
		for _, input := range inputs {
			craft.Uncertainty.LnSD[input] = 0
		}
	}
	b := bencher{&craft.Uncertainty, NewDraws(o).ofStand(nil, p, &craft.Uncertainty)}
	var list []PropValue
	var windmills error
	turning := 0
	for _, speed := range speedsRadS {
		for _, airspeed := range airspeedsMS {
			x, _, err := b.values(func(d *uncertain.Deviation) ([]float64, error) {
				other := craft.Deviate(d)
				at, err := other.Propeller.Coefficients(speed, airspeed)
				return []float64{at.Thrust, at.Power, at.ThrustN, at.TorqueNm}, err
			})
			switch none := (Value{Basis: uncertain.Estimated, Why: physics.Windmilling}); {
			case err == nil:
				turning++
			case airspeed > 0 && errors.Is(err, rotor.ErrWindmilling):
				x, windmills = []Value{none, none, none, none}, err
			default:
				return nil, err
			}
			list = append(list, PropValue{speed, airspeed, x[0], x[1], x[2], x[3]})
		}
	}
	if turning == 0 && windmills != nil {
		return nil, windmills
	}
	return list, nil
}

// ofStand are the draws of a motor, which may be nil, and a prop.
func (d *Draws) ofStand(m *inventory.Motor, p *inventory.Prop, u *uncertain.Budget) []uncertain.Deviation {
	out := make([]uncertain.Deviation, d.n)
	prop := d.propNormals(p, &u.Prop)
	var motor []float64
	if m != nil {
		motor = d.motorNormals(m)
	}
	board := d.normals("board", "", len(boardInputs))
	laws := d.normals(lawOwner, "", len(lawInputs))
	for s := range out {
		var normal [uncertain.InputCount]float64
		for i, input := range propInputs {
			normal[input] = prop[s*len(propInputs)+i]
		}
		for i, input := range motorInputs {
			if m != nil {
				normal[input] = motor[s*len(motorInputs)+i]
			}
		}
		for i, input := range boardInputs {
			normal[input] = board[s*len(boardInputs)+i]
		}
		for i, input := range lawInputs {
			normal[input] = laws[s*len(lawInputs)+i]
		}
		out[s] = u.Deviation(&normal)
	}
	return out
}

// bencher finds the intervals and bases of readings.
type bencher struct {
	uncertainty *uncertain.Budget
	deviations  []uncertain.Deviation
}

// values reads nominally, in every draw and with each input moved alone; where there is no nominal reading it fails,
// and the propagation alone is of use.
func (b *bencher) values(read func(*uncertain.Deviation) ([]float64, error)) ([]Value, *uncertain.Propagation, error) {
	nominal, err := read(&uncertain.Deviation{})
	p := uncertain.Propagate(func(at *uncertain.Deviation, values []float64) {
		if x, err := read(at); err == nil {
			copy(values, x)
		}
	}, len(nominal), b.uncertainty, b.deviations, nil)
	if err != nil {
		return nil, p, err
	}
	values := make([]Value, len(nominal))
	for k := range values {
		values[k] = valueOf(p, k)
	}
	return values, p, nil
}
