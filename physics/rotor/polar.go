package rotor

import (
	"math"

	"partsaloft/physics/internal/numeric"
)

// Polar holds the constants of the one section polar that serves every blade, at Reynolds numbers
// of 5 000 to 130 000. With L = ln(Re/3e4) held in [LogLow, LogHigh], L75 the same at 75 % of
// the radius held in [Zero75Low, Zero75High], and the rounded corner
// corner(x) = 0 up to −b, (x + b)²/(4b) to b, x beyond, b = Softness:
//
//	alpha0 = ZeroLiftRad + ZeroLiftLog L75
//	lin    = Slope (1 + SlopeLog L) sin(alpha − alpha0)
//	clmax  = LiftMax (1 + LiftMaxLog L)
//	over   = corner(lin − clmax),    cl = lin − over
//	under  = corner(LiftMin − cl),   cl = cl + under
//	cd     = cd0 + DragRise (cl − DragLift)² + DragStall (over² + under²),  cd0 = Drag e^(DragLog L)
//
// Over |alpha| of StallRad ± StallWidthRad these give way, along 3u² − 2u³, to a flat plate's
// cl = PlateForce sin alpha cos alpha, cd = cd0 + PlateForce sin² alpha.
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
	polar             *Polar
	sinZero, cosZero  float64 // of the zero-lift angle
	slope, clMax, cd0 float64
}

func (p *Polar) zeroLift(reynolds75 float64) float64 {
	return p.ZeroLiftRad + p.ZeroLiftLog*numeric.Clamp(math.Log(reynolds75/polarReynolds), p.Zero75Low, p.Zero75High)
}

func (p *Polar) section(reynolds, zeroLiftRad float64) section {
	l := numeric.Clamp(math.Log(reynolds/polarReynolds), p.LogLow, p.LogHigh)
	sin, cos := math.Sincos(zeroLiftRad)
	return section{p, sin, cos, p.Slope * (1 + p.SlopeLog*l), p.LiftMax * (1 + p.LiftMaxLog*l),
		p.Drag * math.Exp(p.DragLog*l)}
}

// at returns lift and drag coefficient at an angle of attack, given with its sine and cosine.
func (s *section) at(alphaRad, sin, cos float64) (cl, cd float64) {
	p := s.polar
	lin := s.slope * (sin*s.cosZero - cos*s.sinZero)
	over := corner(lin-s.clMax, p.Softness)
	cl = lin - over
	under := corner(p.LiftMin-cl, p.Softness)
	cl += under
	cd = s.cd0 + p.DragRise*(cl-p.DragLift)*(cl-p.DragLift) + p.DragStall*(over*over+under*under)
	if u := (math.Abs(alphaRad)-p.StallRad)/(2*p.StallWidthRad) + 0.5; u > 0 {
		stalled := 1.0
		if u < 1 {
			stalled = u * u * (3 - 2*u)
		}
		cl += stalled * (p.PlateForce*sin*cos - cl)
		cd += stalled * (s.cd0 + p.PlateForce*sin*sin - cd)
	}
	return cl, cd
}

// corner is max(x, 0) with its corner rounded over |x| < width.
func corner(x, width float64) float64 {
	switch {
	case x <= -width:
		return 0
	case x >= width:
		return x
	}
	return (x + width) * (x + width) / (4 * width)
}
