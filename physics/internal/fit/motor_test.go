package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"partsaloft/physics"
	"partsaloft/physics/internal/fit/props"
	"partsaloft/physics/internal/fit/rig"
	"partsaloft/physics/internal/residual"
	"partsaloft/physics/rotor"
	"partsaloft/physics/uncertain"
)

// madeSet is a stand of several motors that follow a law exactly but for their own effects.
func madeSet(t *testing.T, law physics.MotorLaw, effects map[string]rig.Effect) *rig.Set {
	t.Helper()
	air, err := props.Laboratory()
	if err != nil {
		t.Fatal(err)
	}
	set := &rig.Set{}
	for i, name := range []string{"1804-2400", "1806-2500", "2205-2600", "2206-2450", "2306-2400", "2207-1800",
		"1105-6000", "1404-3800"} {
		kv := []float64{2400, 2500, 2600, 2450, 2400, 1800, 6000, 3800}[i]
		r, err := rig.RigOf(&set.Rigs, "made", name, kv)
		if err != nil {
			t.Fatal(err)
		}
		for j, spec := range []rotor.Spec{props.Label(5, 4, 3), props.Label(5, 4.5, 2), props.Label(5, 3, 2)} {
			if i >= 6 {
				spec = props.Label([]float64{2, 3.5}[i-6], []float64{1.6, 2.2}[i-6]+0.1*float64(j), 3)
			}
			p, err := rotor.New(spec, air)
			if err != nil {
				t.Fatal(err)
			}
			m := rig.MotorOf(&law, r, effects[name])
			esc := rig.ESCOf(&law, rig.Losses{})
			run := r.Run(fmt.Sprint(spec.DiameterM, spec.PitchM, spec.Blades), "", spec, true)
			for _, volts := range []float64{7.4, 11.1, 14.8} {
				if kv == 6000 && volts > 12 {
					continue
				}
				w, a := rig.Turns(&m, p, 0, volts)
				run.Rows = append(run.Rows, rig.Row{Throttle: 1, VoltageV: volts, CurrentA: a, SpeedRadS: w,
					TorqueNm: rig.TorqueOf(p,
						w), Full: true, Duty: 1})
				for _, duty := range []float64{0.3, 0.5, 0.75} {
					w, a := rig.Turns(&m, p, 0, duty*volts)
					run.Rows = append(run.Rows, rig.Row{Throttle: duty, VoltageV: volts, CurrentA: esc.SuppliedA(&m, duty, volts, a),
						SpeedRadS: w, Duty: 1})
				}
			}
		}
	}
	return set
}

// Property: a fit to a stand made by a law finds the law and what each motor has beyond it, and
// motors left out that follow the law are met.
func TestRigFitFindsTheLaw(t *testing.T) {
	truth := rig.StartRigLaw()
	truth.SpeedShare, truth.WindingShare, truth.LossNmPerG, truth.PartThrottleLoss = 0.96, 0.6, 0.17e-3, 0.3
	set := madeSet(t, truth, map[string]rig.Effect{"2306-2400": {Speed: -0.03, Resistance: 0.2, Loss: 0.3}})
	law := rotor.DefaultLaw()
	fit, err := newMotorFit(set, &law, &law)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := fit.solve(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := whole
	for _, c := range []struct {
		name            string
		got, want, most float64
	}{
		{"share", s.law.SpeedShare, truth.SpeedShare, 0.01}, {"loss", s.law.LossNmPerG, truth.LossNmPerG, 0.1}, {"part",
			s.law.PartThrottleLoss, truth.PartThrottleLoss, 0.05},
		{"resistance at 2000 rad/s", s.law.WindingShare * (1 + 2000/s.law.DoublingRadS),
			truth.WindingShare * (1 + 2000/truth.DoublingRadS), 0.1},
	} {
		if math.Abs(c.got/c.want-1) > c.most {
			t.Errorf("%s: found %g, made with %g", c.name, c.got, c.want)
		}
	}
	for k, r := range set.Rigs {
		if r.Name == "2306-2400" && (whole.motors.Effects[k].Speed > -0.01 || whole.motors.Effects[k].Speed < -0.04 ||
			whole.motors.Effects[k].Resistance < 0.1 || whole.motors.Effects[k].Loss < 0.1) {
			t.Errorf("its own effects are %+v", whole.motors.Effects[k])
		}
	}
	trials, err := leaveMotors(fit, &whole)
	if err != nil {
		t.Fatal(err)
	}
	for _, trial := range trials {
		if trial.rig.Name == "2306-2400" {
			continue
		}
		speed, current := trial.full()
		if math.Abs(residual.Median(speed)) > 0.015 || math.Abs(residual.Median(current)) > 0.04 {
			t.Errorf("%v left out: rpm %+.3f, current %+.3f", trial.rig, residual.Median(speed), residual.Median(current))
		}
	}
}

// Property: intervals of a spread hold about four in five motors that have that spread, and an
// interval of no spread holds none.
func TestCoverage(t *testing.T) {
	effects := map[string]rig.Effect{}
	for i, name := range []string{"1804-2400", "1806-2500", "2205-2600", "2206-2450", "2306-2400", "2207-1800"} {
		effects[name] = rig.Effect{Speed: 0.03 * []float64{-1.9, -0.8, -0.2, 0.3, 0.9, 1.1}[i]}
	}
	law := rig.StartRigLaw()
	set := madeSet(t, law, effects)
	label := rotor.DefaultLaw()
	f, err := rig.NewFit(set, &label, (*rig.Rig).Source)
	if err != nil {
		t.Fatal(err)
	}
	var trials []rigTrial
	for k, r := range f.Rigs {
		trial := rigTrial{rig: r, law: law}
		d := rig.Drive{Motor: rig.MotorOf(&law, r, rig.Effect{}), ESC: rig.ESCOf(&law, rig.Losses{})}
		for i := range f.Reads {
			if f.Reads[i].Rig == k {
				trial.reads = append(trial.reads, trialRead{Read: &f.Reads[i], errors: f.Reads[i].Errors(&d, 0, false)})
			}
		}
		trials = append(trials, trial)
	}
	if c := cover(trials, rig.Effect{Speed: 0.03, Resistance: 0.02, Loss: 0.02}, 0.005,
		uncertain.MotorCorrelation{}); c.speed < 0.6 ||
		c.speed > 0.95 {
		t.Errorf("%.2f of speeds lie inside", c.speed)
	}
	if c := cover(trials, rig.Effect{Speed: 1e-6, Resistance: 1e-6, Loss: 1e-6}, 1e-6,
		uncertain.MotorCorrelation{}); c.speed > 0.3 {
		t.Errorf("without spread %.2f lie inside", c.speed)
	}
}

func TestStatorOf(t *testing.T) {
	for name, want := range map[string][2]float64{"2207-1850": {22, 7}, "1303.5-5500": {13, 3.5}, "2306a-2400": {23, 6},
		"0802": {8, 2}} {
		d, h, err := rig.StatorOf(name)
		if err != nil || math.Abs(d*1000-want[0]) > 1e-9 || math.Abs(h*1000-want[1]) > 1e-9 {
			t.Errorf("%s: %g x %g mm, %v", name, d*1000, h*1000, err)
		}
	}
	for _, name := range []string{"", "big-900", "22-900", "0000-1"} {
		if _, _, err := rig.StatorOf(name); err == nil || !strings.Contains(err.Error(), "such as 2207") {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// A folder with a fault says where it is.
func TestLoadRigsSaysWhere(t *testing.T) {
	folder := t.TempDir()
	head := "motor,kv_rpm_per_v,prop,diameter_in,pitch_in,blades,throttle_pct,thrust_g,voltage_v,current_a,rpm,torque_nm,source\n"
	write := func(text string) {
		if err := os.WriteFile(filepath.Join(folder, "thrust_tables.csv"), []byte(head+text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for text, want := range map[string]string{
		"2207-1850,fast,5x4x3,5,4,3,100,900,15,30,25000,,x\n": "thrust_tables.csv:2: kv_rpm_per_v",
		"big,1850,5x4x3,5,4,3,100,900,15,30,25000,,x\n":       "such as 2207",
	} {
		write(text)
		if _, err := rig.Load(folder); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, want %s", text, err, want)
		}
	}
}
