package rotor

import "partsaloft/physics/uncertain"

// Doubt is the uncertainty that New states for a prop of this spec, with the value 1 for its
// three factors, without bringing the prop to its bench points: it tells what a measurement would be
// worth before it is made.
func (s *Spec) Doubt() Uncertainty {
	sp := s.spread()
	if len(s.Bench) > 0 {
		m := benchMatch{points: len(s.Bench)}
		for _, b := range s.Bench {
			m.torque = m.torque || b.TorqueNm > 0
			m.advancing = m.advancing || b.AxialMS > 0
		}
		sp = m.spread(sp)
	}
	u := Uncertainty{
		Thrust: uncertain.Estimate{Value: 1, LnSD: sp.thrust, Basis: sp.basis}, Power: uncertain.Estimate{Value: 1,
			LnSD: sp.power, Basis: sp.powerBasis}, ZeroThrust: uncertain.Estimate{Value: 1, LnSD: sp.zeroThrust, Basis: sp.advanceBasis},
		ThrustPower: sp.correlation,
	}
	u.Mass = uncertain.Estimate{Value: s.MassKg, LnSD: measuredMassLnSD, Basis: uncertain.Measured}
	if !(s.MassKg > 0) {
		u.Mass = EstimateMass(s.DiameterM, s.PitchM, s.Blades)
	}
	u.Inertia = EstimateInertia(u.Mass.Value, s.DiameterM, s.MassPlace)
	if s.Series {
		u.SeriesShare = sp.seriesShare
	}
	u.addPitch(s)
	return u
}
