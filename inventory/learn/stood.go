package learn

import (
	"math"

	"partsaloft/physics"
)

// stood is one row of a motor's bench: a motor with a prop on a stand.
type stood struct {
	stand              physics.Stand
	rows               rows
	readings           []Reading
	voltageV, throttle float64
}

func (s *stood) touched() []int { return s.rows.touched() }

func (s *stood) read() []Reading { return s.readings }

func (s *stood) predict(z []float64, into []float64) bool {
	d := s.rows.deviation(z)
	stand := s.stand.Deviate(&d)
	p, err := stand.Point(s.voltageV, s.throttle)
	if err != nil {
		return false
	}
	for i := range s.readings {
		switch s.readings[i].Key {
		case StandSpeed:
			into[i] = p.SpeedRadS * 60 / (2 * math.Pi)
		case StandCurrent:
			into[i] = p.CurrentA
		case StandThrust:
			into[i] = p.ThrustN / physics.GravityMS2 * 1e3
		}
		if !(into[i] > 0) {
			return false
		}
	}
	return true
}

// matched is what bench points of a prop say of its label: the logarithms of measured over
// labelled CT and CP. The prop itself has them already; its sisters learn from them.
type matched struct {
	rows     [2]row // errors of the label in CT and CP
	readings []Reading
}

func (m *matched) touched() []int {
	r := rows{m.rows[0], m.rows[1]}
	return r.touched()
}

func (m *matched) read() []Reading { return m.readings }

func (m *matched) predict(z []float64, into []float64) bool {
	for i := range m.readings {
		into[i] = math.Exp(m.rows[i].at(z))
	}
	return true
}
