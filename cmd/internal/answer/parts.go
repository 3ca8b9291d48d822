package answer

import (
	"fmt"
	"strconv"
	"strings"

	"partsaloft/inventory"
)

// MotorText says what a motor is, in the trade's terms.
func MotorText(m *inventory.Motor) string {
	return fmt.Sprintf("%s, %s rpm/V", m.Stator, plainNumber(m.KV))
}

// PropText says what a prop is.
func PropText(p *inventory.Prop) string {
	return fmt.Sprintf("%s × %s in, %d blades", plainNumber(p.DiameterIn), plainNumber(p.PitchIn), p.Blades)
}

var chemistries = map[inventory.Chemistry]string{
	inventory.LiPo: "LiPo", inventory.LiHV: "LiHV", inventory.LiIon: "Li-ion",
}

// PackText says what a pack is.
func PackText(p *inventory.Pack) string {
	words := []string{
		fmt.Sprintf("%dS %s mAh", p.Cells, plainNumber(p.CapacityMAh)), plainNumber(p.DischargeC) + "C",
		chemistries[p.Chemistry],
	}
	if p.Connector != "" {
		words = append(words, string(p.Connector))
	}
	return strings.Join(words, ", ")
}

// FrameText says what a frame is.
func FrameText(f *inventory.Frame) string {
	text := fmt.Sprintf("%d rotors", f.RotorCount())
	if f.MaxPropIn != nil {
		text += fmt.Sprintf(", props to %s in", plainNumber(*f.MaxPropIn))
	}
	return text
}

// BoardText says what a board is.
func BoardText(b *inventory.Board) string {
	text := fmt.Sprintf("ESCs of %s A", plainNumber(b.EscCurrentA))
	if b.Cells != nil {
		text += fmt.Sprintf(", %d to %dS", b.Cells.Min, b.Cells.Max)
	}
	if b.Connector != "" {
		text += ", " + string(b.Connector)
	}
	return text
}

// ExtraText says what an extra is.
func ExtraText(x *inventory.Extra) string {
	if x.Bridges == nil {
		return string(x.Role)
	}
	unit := ""
	if x.Bridges.What == "stack_mm" {
		unit = " mm"
	}
	return fmt.Sprintf("%s, %s%s to %s%s", x.Role, x.Bridges.From, unit, x.Bridges.To, unit)
}

// MixedText says how many of which motor a mixed set takes for a number of rotors.
func MixedText(m *inventory.Mix, rotors int) string {
	a, b := m.Pieces(rotors)
	return fmt.Sprintf("%d of %s, %d of %s", a, m.A.ID, b, m.B.ID)
}

// plainNumber writes a number that somebody wrote, with six digits at most.
func plainNumber(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }
