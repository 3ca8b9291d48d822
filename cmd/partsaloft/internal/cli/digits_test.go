package cli

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"partsaloft/cmd/partsaloft/internal/exit"
)

var figureRow = regexp.MustCompile(`(?m)^  (\S.*?) {2,}(-?[0-9.]+)(?: [^ ]+)? +([0-9.]+) to ([0-9.]+) `)

// Property: no figure has a digit that its interval does not support: the last one is worth a twentieth of
// the interval's half-width at least, and value and ends have the same.
func TestDigitsFollowTheInterval(t *testing.T) {
	skipLong(t)
	rows := 0
	for i, drawer := range []string{"spare-parts.yaml", "racer.yaml", "cruising.yaml"} {
		for k, style := range []string{"cruise", "race"} {
			if (i+k)%2 > 0 && !long() {
				continue // every drawer and every style once
			}
			got := run(t, "explain", "1", "--drawer", filepath.Join("..", "..", "..", "..", "examples", drawer), "--style",
				style, "--quiet")
			if got.code == exit.CodeNothing {
				continue
			}
			if got.code != 0 {
				t.Fatalf("%s, %s: exit %d, %s", drawer, style, got.code, got.err)
			}
			for _, m := range figureRow.FindAllStringSubmatch(got.out, -1) {
				rows++
				decimals := func(s string) int {
					_, part, _ := strings.Cut(s, ".")
					return len(part)
				}
				low, _ := strconv.ParseFloat(m[3], 64)
				high, _ := strconv.ParseFloat(m[4], 64)
				half, unit := (high-low)/2, math.Pow(10, -float64(decimals(m[2])))
				if decimals(m[2]) != decimals(m[3]) || decimals(m[3]) != decimals(m[4]) {
					t.Errorf("%s, %s: %s is %s, from %s to %s", drawer, style, m[1], m[2], m[3], m[4])
				}
				if decimals(m[2]) > 0 && half > 21*unit {
					t.Errorf("%s, %s: %s is %s ± %g", drawer, style, m[1], m[2], half)
				}
			}
		}
	}
	if rows < 100 {
		t.Errorf("only %d figures were looked at", rows)
	}
}

var capRow = regexp.MustCompile(`(?m)^  throttle cap, % +([0-9.]+)`)

// Property: side by side a throttle cap is rounded down as well, for what is set in software must not be over it.
func TestComparedCapsAreRoundedDown(t *testing.T) {
	skipLong(t)
	club := []string{"--drawer", filepath.Join("..", "..", "..", "..", "examples", "club.yaml"), "--quiet"}
	seen := 0 // caps that the nearest whole number would be over
	for _, style := range []string{"race", "freestyle", "cruise"} {
		if seen > 0 && !long() {
			break
		}
		args := append(club, "--style", style)
		document := run(t, append([]string{"rank", "--format", "json"}, args...)...)
		var d struct {
			Results []struct {
				Figures map[string]struct{ Value *float64 }
			}
		}
		if err := json.Unmarshal([]byte(document.out), &d); err != nil || len(d.Results) == 0 {
			t.Fatal(err, document.err)
		}
		for i := range d.Results[1:] {
			limit := d.Results[i].Figures["throttle_cap_pct"].Value
			if limit == nil || !(*limit < 100) || *limit-math.Floor(*limit) < 0.5 {
				continue
			}
			seen++
			table := run(t, append([]string{"compare", strconv.Itoa(i + 1), strconv.Itoa(i + 2)}, args...)...)
			if m := capRow.FindStringSubmatch(table.out); m == nil || m[1] != strconv.Itoa(int(math.Floor(*limit))) {
				t.Errorf("a cap of %.2f %% is shown as %v", *limit, m)
			}
			break
		}
	}
	if seen == 0 {
		t.Error("no craft has a cap that rounds up")
	}
}
