package rotor

// Doubt is the uncertainty that New states for a prop of this spec, with the value 1 for its
// three factors, without bringing the prop to its bench points: it tells what a measurement would be
// worth before it is made.
func (s *Spec) Doubt() Uncertainty {
	sp := s.spread()
	return s.uncertainty(&sp, 1, 1, 1)
}
