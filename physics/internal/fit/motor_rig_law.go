package main

import (
	"math"
	"partsaloft/physics/rotor"
)

// rigLaw is the motor and ESC law, with m the motor's mass in g and w its speed in rad/s:
//
//	ke = 60/(2 pi speedShare kV),  Rw = ke²/(constant m^power)²
//	Re = escOhm + winding Rw (1 + w/growthRadS),  T_loss = lossNmG m
//	I = (Q + T_loss)/ke,  d V = ke w + Re I,  I_bus = d I (1 + partLoss (1 − d))
//
// It is physics' law once more, with its constants free. A test holds the two together.
type rigLaw struct {
	speedShare, constant, power, escOhm, winding, growthRadS, lossNmG, partLoss float64
	eddy                                                                        float64 // a trial: the loss torque grows to 1 + eddy times at 2000 rad/s
}

// startRigLaw is where the fit begins. Winding resistance follows sheets (see printSheets), and
// winding is what the loaded motor shows of it.
func startRigLaw() rigLaw {
	return rigLaw{0.94, 0.66e-3, 0.915, 0.010, 0.7, 2500, 0.14e-3, 0.4, 0}
}

// rigEffect are the logarithms of what one motor has more than the law gives it of kV, effective
// resistance and loss torque.
type rigEffect struct{ speed, resistance, loss float64 }

// rigMotor is a motor under a law.
type rigMotor struct {
	ke, lossNm, eddyNmS, escOhm, windOhm, growthRadS, factor, partLoss float64
}

func (l *rigLaw) motor(r *rig, e rigEffect) rigMotor {
	grams := r.massKg * 1000
	ke := 60 / (2 * math.Pi * l.speedShare * r.labelKV) * math.Exp(-e.speed)
	km := l.constant * math.Pow(grams, l.power)
	loss := l.lossNmG * grams * math.Exp(e.loss)
	return rigMotor{ke, loss, loss * l.eddy / 2000, l.escOhm, l.winding * ke * ke / (km * km), l.growthRadS, math.Exp(e.resistance), l.partLoss}
}

// at is the voltage at the motor and its current for a torque at a speed.
func (m *rigMotor) at(torqueNm, speedRadS float64) (voltageV, currentA float64) {
	currentA = (torqueNm + m.lossNm + m.eddyNmS*speedRadS) / m.ke
	ohm := m.factor * (m.escOhm + m.windOhm*(1+speedRadS/m.growthRadS))
	return m.ke*speedRadS + ohm*currentA, currentA
}

func (m *rigMotor) busA(duty, currentA float64) float64 {
	return duty * currentA * (1 + m.partLoss*(1-duty))
}

// powerW is what the supply gives at a speed that was read.
func (m *rigMotor) powerW(torqueNm float64, row *rigRow) float64 {
	v, i := m.at(torqueNm, row.speedRadS)
	return row.voltageV * m.busA(math.Min(v/row.voltageV, 1), i)
}

// turns is the speed at which a voltage turns a prop, with the motor's current.
func (m *rigMotor) turns(voltageV float64, torque func(speedRadS float64) float64) (speedRadS, currentA float64) {
	low, high := 0.0, voltageV/m.ke
	for range 45 {
		speedRadS = (low + high) / 2
		var v float64
		if v, currentA = m.at(torque(speedRadS), speedRadS); v > voltageV {
			high = speedRadS
		} else {
			low = speedRadS
		}
	}
	return speedRadS, currentA
}

// torqueCurve is a prop's torque over speed squared in still air, linear between nodes in the
// logarithm of speed.
type torqueCurve struct{ coefficient []float64 }

const (
	curveLowRadS = 150.0
	curveStep    = 0.2
	curveNodes   = 24
)

func newTorqueCurve(p *rotor.Propeller) torqueCurve {
	c := torqueCurve{make([]float64, curveNodes)}
	for i := range c.coefficient {
		w := curveLowRadS * math.Exp(curveStep*float64(i))
		_, q := p.Loads(w, rotor.Flow{})
		c.coefficient[i] = q / (w * w)
	}
	return c
}

func (c *torqueCurve) nm(speedRadS float64) float64 {
	x := math.Max(math.Log(math.Max(speedRadS, 1)/curveLowRadS)/curveStep, 0)
	i := min(int(x), curveNodes-2)
	return (c.coefficient[i] + (x-float64(i))*(c.coefficient[i+1]-c.coefficient[i])) * speedRadS * speedRadS
}
