package props

import "partsaloft/physics/internal/fit/reference"

// lowTorque7 is what the torque of the 7-inch stand lacks: it reads 5 to 8 % low.
const lowTorque7 = 1.065

// loadStand7 reads the one prop of the 7-inch stand, run by three motors. Its low speeds rest on sensor offset: they
// scatter by a fifth between runs.
func loadStand7(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "stand_7in.csv", "prop", "diameter_in", "pitch_in", "blades", "rpm", "thrust_g",
		"torque_nm")
	if err != nil {
		return nil, err
	}
	ps := group(t, "stand7", func(i int) (string, bool) { return "stand7 " + t.Text(i, "prop"), true }, func(i int,
		p *Prop) (Point, bool) {
		pt := Coefficient(p.Spec, t.Number(i, "rpm"), t.Number(i, "thrust_g")*NewtonPerGram,
			lowTorque7*t.Number(i, "torque_nm"), standDensity)
		return pt, pt.RPM > 9000
	})
	return ps, t.Err()
}

// loadNano reads the 46 mm prop of a nano quadrotor, four rotors together. Its pitch is not stated: 0.62 of the
// diameter is taken (common practice, no source). Torque over thrust is one number, from memory.
func loadNano(folder string) ([]Prop, error) {
	t, err := reference.Read(folder, "nano_46mm_static.csv", "diameter_mm", "blades", "rpm", "thrust_g_four_rotors",
		"torque_per_thrust_m")
	if err != nil {
		return nil, err
	}
	ps := group(t, "nano", func(int) (string, bool) { return "nano 46 mm", true }, func(i int, p *Prop) (Point, bool) {
		if p.Spec.PitchM == 0 {
			inches := t.Number(i, "diameter_mm") / 1000 / MetresPerInch
			p.Spec = Label(inches, 0.62*inches, int(t.Number(i, "blades")))
			p.Inferred = true
		}
		thrustN := t.Number(i, "thrust_g_four_rotors") / 4 * NewtonPerGram
		pt := Coefficient(p.Spec, t.Number(i, "rpm"), thrustN, thrustN*t.Number(i, "torque_per_thrust_m"), standDensity)
		return pt, pt.RPM > 9000
	})
	return ps, t.Err()
}
