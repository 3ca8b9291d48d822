package physics

import "partsaloft/physics/internal/numeric"

// Chemistry is a pack's cell chemistry.
type Chemistry uint8

// The chemistries.
const (
	LiPo Chemistry = iota
	LiHV
	LiIon
)

// String returns the chemistry's name.
func (c Chemistry) String() string { return [...]string{"LiPo", "LiHV", "Li-ion"}[c] }

// FullCellV is the open-circuit voltage of a full cell.
func (c Chemistry) FullCellV() float64 { return [...]float64{4.2, 4.35, 4.2}[c] }

// LowestCellV is the voltage under which a loaded full cell must not fall.
func (c Chemistry) LowestCellV() float64 { return [...]float64{3.0, 3.0, 2.5}[c] }

// openCircuit are cell voltages at 0, 5 … 100 % of charge.
var openCircuit = [...][21]float64{
	// Mean of the cubic of Bauersfeld & Scaramuzza (RA-L 2022, table I) over the upper 80 % and a
	// resting chart in common use below (common practice, no source).
	LiPo: {3.27, 3.45, 3.58, 3.65, 3.70, 3.73, 3.755, 3.775, 3.79, 3.805, 3.825, 3.845, 3.87, 3.90, 3.935, 3.97, 4.01,
		4.05, 4.095, 4.145, 4.20},
	// LiPo's curve with the upper end stretched to 4.35 V (from memory).
	LiHV: {3.30, 3.47, 3.60, 3.67, 3.71, 3.74, 3.77, 3.79, 3.81, 3.83, 3.86, 3.89, 3.93, 3.98, 4.03, 4.08, 4.13, 4.18,
		4.235, 4.29, 4.35},
	// CALCE low-current open-circuit curve of an 18650 cell of 2 Ah at 25 °C, the last points to
	// 4.20 V.
	LiIon: {2.757, 3.4231, 3.4632, 3.51, 3.5508, 3.573, 3.594, 3.6136, 3.631, 3.648, 3.6645, 3.70, 3.742, 3.7858, 3.836,
		3.885, 3.9321, 3.988, 4.0434, 4.107, 4.1732},
}

// CellV is the open-circuit voltage of a cell at a state of charge from 0 to 1, linear between
// points 5 % apart.
func (c Chemistry) CellV(charge float64) float64 {
	x := numeric.Clamp(charge, 0, 1) * 20
	i := min(int(x), 19)
	curve := &openCircuit[c]
	return curve[i] + (x-float64(i))*(curve[i+1]-curve[i])
}

// Pack is a battery with its leads and plug.
type Pack struct {
	Chemistry    Chemistry
	Cells        int
	CapacityAs   float64 // A s, as labelled
	SafeCurrentA float64 // capacity times the label's C, continuous
	InternalOhm  float64 // all cells, warm
	LeadOhm      float64 // leads and plug
	MassKg       float64
	// CapacityFactor is true over labelled capacity.
	CapacityFactor float64
}

// openV is the pack's open-circuit voltage at a state of charge.
func (p *Pack) openV(charge float64) float64 { return float64(p.Cells) * p.Chemistry.CellV(charge) }

func (p *Pack) resistanceOhm() float64 { return p.InternalOhm + p.LeadOhm }

// DisplayCellV is what a board shows for one cell that holds a voltage under a current: less the
// voltage lost in plug and leads, shared by the cells.
func (p *Pack) DisplayCellV(cellV, currentA float64) float64 {
	return cellV - p.LeadOhm*currentA/float64(p.Cells)
}

// SagCurrentA is the current at which a full cell, plug and leads left out, sags to the lowest voltage that it may have
// under load: what the pack's resistance lets it give, whatever its label claims.
func (p *Pack) SagCurrentA() float64 {
	return float64(p.Cells) * (p.Chemistry.FullCellV() - p.Chemistry.LowestCellV()) / p.InternalOhm
}

// cellUnderLoadV is the voltage of one cell, plug and leads left out, at a current.
func (p *Pack) cellUnderLoadV(charge, currentA float64) float64 {
	return p.Chemistry.CellV(charge) - p.InternalOhm*currentA/float64(p.Cells)
}
