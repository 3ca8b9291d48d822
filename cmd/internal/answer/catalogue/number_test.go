package catalogue

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestNumberShowsTheDigitsThatItsIntervalSupports(t *testing.T) {
	for _, c := range []struct {
		value, low, high float64
		want, interval   string
	}{
		{7.3142, 5.8, 8.8, "7.3", "5.8 to 8.8"},
		{142.34, 133.7, 150.9, "142", "134 to 151"},
		{638, 608, 668, "640", "610 to 670"},
		{0.2345, 0.204, 0.264, "0.23", "0.20 to 0.26"},
		{24.31, 24.16, 24.46, "24.31", "24.16 to 24.46"},
		{56.6, 56.6, 56.6, "56.6", ""},
		{1300, 1300, 1300, "1300", ""},
		{0, 0, 0, "0", ""},
		{-3.14, -4, -2, "−3.1", "−4.0 to −2.0"},
		{0.04, -0.5, 0.5, "0.0", "−0.5 to 0.5"},
		{3, -40, 50, "3", "−40 to 50"},
	} {
		if got := Number(c.value, c.low, c.high); got != c.want {
			t.Errorf("Number(%g, %g, %g) = %s, want %s", c.value, c.low, c.high, got, c.want)
		}
		if got := Interval(c.value, c.low, c.high); got != c.interval {
			t.Errorf("Interval(%g, %g, %g) = %s, want %s", c.value, c.low, c.high, got, c.interval)
		}
	}
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{{1.24, 1, "+1.2"}, {-1.26, 1, "−1.3"}, {0.04, 1, "0"}, {-0.04, 1, "0"}, {12, 0, "+12"}} {
		if got := SignedFixed(c.value, c.decimals); got != c.want {
			t.Errorf("SignedFixed(%g, %d) = %s, want %s", c.value, c.decimals, got, c.want)
		}
	}
}

// Property: what is shown lies within half of the interval's half-width of the value, has no
// exponent and no negative zero.
func TestNumberStaysNearItsValue(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 5))
	for range 5000 {
		value := math.Pow(10, 6*draw.Float64()-2)
		half := value * math.Pow(10, -2.5*draw.Float64())
		text := Number(value, value-half, value+half)
		got, err := strconv.ParseFloat(text, 64)
		if err != nil || strings.ContainsAny(text, "e-") {
			t.Fatalf("Number(%g ± %g) = %q", value, half, text)
		}
		if math.Abs(got-value) > half/2+0.0006 && math.Abs(got-value) > value*0.0006 {
			t.Fatalf("Number(%g ± %g) = %q is %g off", value, half, text, got-value)
		}
	}
}

func TestRoundKeepsFiveDigitsAndOrder(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a := 1000 * draw.NormFloat64()
		b := a + math.Abs(draw.NormFloat64())*1e-3
		if Round(a) > Round(b) {
			t.Fatalf("Round(%g) > Round(%g)", a, b)
		}
		if math.Abs(Round(a)-a) > 5e-5*math.Abs(a) {
			t.Fatalf("Round(%g) = %g", a, Round(a))
		}
	}
	if math.Signbit(Round(math.Copysign(0, -1))) || math.Signbit(Decimal(-0.001, 2)) {
		t.Error("a rounded number is negative zero")
	}
}
