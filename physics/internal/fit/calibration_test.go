package main

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"partsaloft/physics/internal/fit/calibration"
	"partsaloft/physics/internal/residual"
)

// referenceFolder names the folder of the reference tables for tests that hold the laws against all of them.
const referenceFolder = "PARTSALOFT_REFERENCE"

// Published (the data sets that DEVELOPERS.md names): on stands left out whole, what is said to be likely is as likely,
// the order of thrusts and currents is right far more often than not, and 80 % intervals hold about that share of props
// left out by family. Power at a given thrust is not told apart, and not said to be.
func TestCalibrationOnReferenceTables(t *testing.T) {
	folder := os.Getenv(referenceFolder)
	if folder == "" {
		t.Skipf("the reference tables are not part of the project: give their folder in %s (a minute and a half)",
			referenceFolder)
	}
	c, err := newCalibration(folder)
	if err != nil {
		t.Fatal(err)
	}
	for k, b := range c.pairs.Bands() {
		if b.Pairs < 500 || math.Abs(b.Right-b.Said) > 0.07 {
			t.Errorf("said in the %d0s, %.0f of 100 on average, of %d pairs: right %.0f", 5+k, 100*b.Said, b.Pairs, 100*b.Right)
		}
	}
	for _, x := range []struct {
		q     calibration.Quantity
		k     calibration.Kind
		least float64
	}{
		{calibration.ThrustHalf, calibration.SameMotor, 0.75}, {calibration.ThrustHalf, calibration.BothDiffer, 0.72},
		{calibration.ThrustFull, calibration.SameMotor, 0.75}, {calibration.ThrustFull, calibration.BothDiffer, 0.78},
		{calibration.CurrentHalf, calibration.SameMotor, 0.80}, {calibration.CurrentHalf, calibration.BothDiffer, 0.72},
		{calibration.CT, calibration.PropsAlone, 0.70}, {calibration.CP, calibration.PropsAlone, 0.80},
	} {
		if o := c.pairs.Order(x.q, x.k); !(o.Right >= x.least) || o.Pairs < 100 {
			t.Errorf("%v, %v: %.0f %% of %d pairs right, at least %.0f", x.q, x.k, 100*o.Right, o.Pairs, 100*x.least)
		}
	}
	for _, k := range []calibration.Kind{calibration.SameMotor, calibration.BothDiffer} {
		if o := c.pairs.Order(calibration.PowerQuarter, k); o.Close < 0.8 {
			t.Errorf("power at a quarter, %v: only %.0f %% are said to be too close, %.0f %% are right", k, 100*o.Close,
				100*o.Right)
		}
	}
	for name, cases := range map[string]map[string][]calibration.Case{"CT": c.label.CT, "CP": c.label.CP} {
		in, n := 0.0, 0.0
		for _, class := range cases {
			for i := range class {
				n++
				if class[i].Inside(0.01) {
					in++
				}
			}
		}
		if share := in / n; share < 0.70 || share > 0.92 {
			t.Errorf("%s from labels: %.0f %% of %g props inside their 80 %% intervals", name, 100*share, n)
		}
	}
	var merit []float64
	for class, cases := range c.label.Merit {
		if strings.HasPrefix(class, "multirotor") && !strings.Contains(class, "under") {
			for i := range cases {
				merit = append(merit, cases[i].Error())
			}
		}
	}
	if off := residual.Median(residual.Relative(merit)); len(merit) < 15 || !(off < 0.07) {
		t.Errorf("power at a thrust of %d multirotor props over 2.5 inch errs by %.3f at the median", len(merit), off)
	}
}

// Property: the step stands among the program's words.
func TestCalibrationIsAStep(t *testing.T) {
	if !slices.Contains(strings.Split(names(), "|"), "calibration") {
		t.Errorf("steps are %s", names())
	}
}
