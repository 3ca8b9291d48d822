package fault

import (
	"errors"
	"fmt"
	"testing"
)

// Property: faults are found under wrapping and joining, in order, and written with their values sorted.
func TestIn(t *testing.T) {
	a, b := New("a.first", Values{"z": 1.5, "got": "x"}), New("b", nil)
	err := fmt.Errorf("craft: %w", errors.Join(a, fmt.Errorf("other: %w", b), errors.New("no fault")))
	list := In(err)
	if len(list) != 2 || list[0] != a || list[1] != b || In(nil) != nil || In(errors.New("none")) != nil {
		t.Errorf("found %v", list)
	}
	if got := a.Error(); got != "a.first got=x z=1.5" {
		t.Errorf("written %q", got)
	}
}

// Independent: rounded by hand.
func TestDigits(t *testing.T) {
	for x, want := range map[float64]float64{0: 0, 1234567: 1230000, -0.0123456: -0.0123, 9.996: 10} {
		if got := Digits(x, 3); fmt.Sprintf("%.10g", got) != fmt.Sprintf("%.10g", want) {
			t.Errorf("%g to three digits is %g", x, got)
		}
	}
}
