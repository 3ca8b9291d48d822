package inventory

import "partsaloft/physics"

// si is the chemistry in physics' terms.
func (c Chemistry) si() physics.Chemistry {
	switch c {
	case LiHV:
		return physics.LiHV
	case LiIon:
		return physics.LiIon
	}
	return physics.LiPo
}
