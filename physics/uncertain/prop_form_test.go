package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// Property: draws of two props' forms through Budget.Deviation have the standard deviations, the correlations and what
// the two have in common that the forms state.
func TestPropFormsAreDrawn(t *testing.T) {
	var a, b PropForms
	rng := rand.New(rand.NewPCG(5, 6))
	for row := range a {
		for n := range a[row] {
			a[row][n], b[row][n] = 0.1*rng.NormFloat64(), 0.1*rng.NormFloat64()
		}
	}
	const draws = 20000
	var drawn [2][4][]float64
	for range draws {
		var common, other [PropNumbers]float64
		for n := range common {
			common[n] = rng.NormFloat64()
			other[n] = common[n]
			if PropNumber(n).Owned() != ByClass {
				other[n] = rng.NormFloat64()
			}
		}
		for k, f := range []*PropForms{&a, &b} {
			var budget Budget
			budget.SetProp(f, Estimated, Estimated, Estimated)
			numbers := [...]*[PropNumbers]float64{&common, &other}[k]
			var normal [InputCount]float64
			for row, z := range f.Normals(numbers) {
				normal[FormInputs()[row]] = z
			}
			d := budget.Deviation(&normal)
			for row, input := range FormInputs() {
				drawn[k][row] = append(drawn[k][row], d[input])
			}
		}
	}
	for row := range a {
		if sd := stat.StdDev(drawn[0][row], nil); math.Abs(sd/a.LnSD(row)-1) > 0.03 {
			t.Errorf("row %d: standard deviation %.4f, want %.4f", row, sd, a.LnSD(row))
		}
		for other := range b {
			want := a.Covariance(&b, row, other, false)
			if got := stat.Covariance(drawn[0][row], drawn[1][other], nil); math.Abs(got-want) > 0.03*a.LnSD(row)*b.LnSD(other) {
				t.Errorf("rows %d and %d of two props: covariance %.5f, want %.5f", row, other, got, want)
			}
		}
	}
	for _, first := range []int{0, 2} {
		if r := stat.Correlation(drawn[0][first], drawn[0][first+1], nil); math.Abs(r-a.Correlation(first, first+1)) > 0.02 {
			t.Errorf("rows %d and %d correlate by %.3f, want %.3f", first, first+1, r, a.Correlation(first, first+1))
		}
	}
}
