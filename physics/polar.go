package physics

import "math"

// Polar holds the constants of the one section polar that serves every blade, at Reynolds numbers
// of 5 000 to 130 000. With L = ln(Re/3e4) held in [LogLow, LogHigh] and L75 the same at 75 % of
// the radius held in [Zero75Low, Zero75High]:
//
//	alpha0 = ZeroLiftRad + ZeroLiftLog L75
//	lin    = Slope e^(SlopeLog L) sin(alpha − alpha0)
//	clmax  = LiftMax e^(LiftMaxLog L)
//	over   = b ln(1 + e^((lin − clmax)/b)),  cl = lin − over
//	under  = b ln(1 + e^((LiftMin − cl)/b)), cl = cl + under,   b = Softness
//	cd     = cd0 + DragRise (cl − DragLift)² + DragStall (over² + under²),  cd0 = Drag e^(DragLog L)
//
// Beyond stall the share t = 1/(1 + e^((|alpha| − StallRad)/StallWidthRad)) of these stays, and
// 1 − t of a flat plate's, cl = PlateForce sin alpha cos alpha, cd = cd0 + PlateForce sin² alpha.
type Polar struct {
	ZeroLiftRad, ZeroLiftLog      float64
	Slope, SlopeLog               float64
	LiftMax, LiftMaxLog           float64
	LiftMin, Softness             float64
	Drag, DragLog                 float64
	DragRise, DragLift, DragStall float64
	StallRad, StallWidthRad       float64
	PlateForce                    float64
	LogLow, LogHigh               float64
	Zero75Low, Zero75High         float64
}

const polarReynolds = 3e4 // the Reynolds number at which the polar's factors are 1

// section is the polar at one station: what does not depend on the angle of attack is ready.
type section struct {
	polar                          *Polar
	zeroLiftRad, slope, clMax, cd0 float64
}

func (p *Polar) zeroLift(reynolds75 float64) float64 {
	return p.ZeroLiftRad + p.ZeroLiftLog*clampTo(math.Log(reynolds75/polarReynolds), p.Zero75Low, p.Zero75High)
}

func (p *Polar) section(reynolds, zeroLiftRad float64) section {
	l := clampTo(math.Log(reynolds/polarReynolds), p.LogLow, p.LogHigh)
	return section{p, zeroLiftRad, p.Slope * math.Exp(p.SlopeLog*l), p.LiftMax * math.Exp(p.LiftMaxLog*l), p.Drag * math.Exp(p.DragLog*l)}
}

// at returns lift and drag coefficient at an angle of attack.
func (s *section) at(alphaRad float64) (cl, cd float64) {
	p := s.polar
	lin := s.slope * math.Sin(alphaRad-s.zeroLiftRad)
	over := softPlus(lin-s.clMax, p.Softness)
	cl = lin - over
	under := softPlus(p.LiftMin-cl, p.Softness)
	cl += under
	cd = s.cd0 + p.DragRise*(cl-p.DragLift)*(cl-p.DragLift) + p.DragStall*(over*over+under*under)
	excess := (math.Abs(alphaRad) - p.StallRad) / p.StallWidthRad
	if excess < -20 {
		return cl, cd
	}
	attached := 1 / (1 + math.Exp(excess))
	sin, cos := math.Sincos(alphaRad)
	cl = attached*cl + (1-attached)*p.PlateForce*sin*cos
	cd = attached*cd + (1-attached)*(s.cd0+p.PlateForce*sin*sin)
	return cl, cd
}

// softPlus is width·ln(1 + e^(x/width)), without overflow.
func softPlus(x, width float64) float64 {
	z := x / width
	switch {
	case z > 30:
		return x
	case z < -30:
		return 0
	}
	return width * math.Log1p(math.Exp(z))
}
