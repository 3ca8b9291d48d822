package main

import (
	"fmt"
	"io"
	"math"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/reference"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/residual"
)

// printSheets compares printed winding resistances and no-load currents with the law, and says
// what they are worth against motors under load.
func printSheets(w io.Writer, folder string, study *motorStudy) error {
	law, sd := study.law(), study.sd
	sheets, err := loadSheets(folder)
	if err != nil {
		return err
	}
	var ohms, losses, lossesAtSpeed []float64
	var lossX [][]float64
	for _, s := range sheets {
		if s.massKg == 0 || s.kv == 0 || s.massKg > 0.1 {
			continue
		}
		ke := law.TorqueConstant(s.kv).Value
		if s.ohm > 0 {
			ohms = append(ohms, math.Log(s.ohm/law.Winding(ke, s.massKg).Value))
		}
		if s.noLoadA > 0 && s.noLoadV > 0 {
			l := math.Log(s.noLoadA * ke / (s.massKg * 1000))
			losses = append(losses, l)
			lossX, lossesAtSpeed = append(lossX, []float64{1, math.Log(s.noLoadV / ke / 2000)}), append(lossesAtSpeed, l)
		}
	}
	scatter := residual.Spread(centred(ohms))
	fmt.Fprintf(w, "Sheets of motors up to 100 g: printed resistance over the law's %.2f at the median of %d, spread of "+
		"ln %.2f\n", math.Exp(residual.Median(ohms)), len(ohms), scatter)
	fmt.Fprintf(w, "  motors under load scatter by %.2f about the law, so that a printed resistance errs by %.2f as far "+
		"as the two err apart\n",
		sd.Resistance, math.Sqrt(math.Max(scatter*scatter-sd.Resistance*sd.Resistance, 0)))
	weight := make([]float64, len(losses))
	for i := range weight {
		weight[i] = 1
	}
	p, err := fitPower(lossX, lossesAtSpeed, weight)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "  no-load torque %.3g N m/g at the median of %d, spread of ln %.2f, power of speed %.2f ± %.2f; "+
		"under load the law has %.2f times that\n",
		math.Exp(residual.Median(losses)), len(losses), residual.Spread(centred(losses)), p.c[1], p.sd[1], law.LossNmPerG/math.Exp(residual.Median(losses)))
	// The few motors with both a sheet and a stand, the sheet's kV brought to theirs.
	for k, r := range study.fit.motors.Rigs {
		for _, s := range sheets {
			d, h := s.statorM, s.tallM
			if s.ohm == 0 || d != r.StatorM || h != r.TallM || r.Outlier {
				continue
			}
			ke := law.TorqueConstant(s.kv).Value
			fmt.Fprintf(w, "  %v: loaded resistance %+.2f of ln about the law, sheet of %s %+.2f\n", r,
				study.whole.motors.Effects[k].Resistance, s.name, math.Log(s.ohm/law.Winding(ke, r.MassKg).Value))
		}
	}
	return nil
}

func centred(x []float64) []float64 {
	m := residual.Median(x)
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v - m
	}
	return out
}

// printEffective compares the law with resistances that others fitted to the same stands.
func printEffective(w io.Writer, folder string, law *physics.MotorLaw) error {
	t, err := reference.Read(folder, "motor_effective_resistance.csv", "motor", "kv_label", "resistance_at_label_kv_mohm",
		"resistance_fitted_mohm", "kv_fitted")
	if err != nil {
		return err
	}
	fmt.Fprintln(w, "Effective resistance fitted elsewhere to full-throttle points, milliohm, with the law's at the "+
		"speed of such points (13 to 19 thousand rpm)")
	for i := range t.Rows {
		name := t.Text(i, "motor")
		d, h, err := rig.StatorOf(name)
		if err != nil {
			return err
		}
		r := rig.Rig{Name: name, StatorM: d, TallM: h, LabelKV: t.Number(i, "kv_label"),
			MassKg: rig.MotorLaw().Mass(d, h).Value}
		m := rig.MotorOf(law, &r, rig.Effect{})
		ohm := func(rpmRead float64) float64 { return 1000 * m.EffectiveOhm(rpmRead*props.RPM) }
		fmt.Fprintf(w, "  %-10s kV %4.0f: %3.0f there with kV free (%4.0f), %3.0f with the label's; law %3.0f to %3.0f "+
			"with kV %4.0f\n", name, r.LabelKV,
			t.Number(i, "resistance_fitted_mohm"), t.Number(i, "kv_fitted"), t.Number(i,
				"resistance_at_label_kv_mohm"), ohm(13000), ohm(19000), law.SpeedShare*r.LabelKV)
	}
	return t.Err()
}
