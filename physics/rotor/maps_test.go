package rotor

import (
	"sync"
	"testing"
)

// Independent: props made one by one, each with a map of its own. Props that differ in mass alone share a map, those that
// differ in what a map follows from do not.
func TestPropsShareMaps(t *testing.T) {
	base := Spec{DiameterM: 5 * metresPerInch, PitchM: 4.3 * metresPerInch, Blades: 3, MassKg: 0.004}
	heavy, steep, soft, two, benched := base, base, base, base, base
	heavy.MassKg = 0.005
	steep.PitchM *= 1.1
	soft.Flex = FlexSoft
	two.Blades = 2
	benched.Bench = []BenchPoint{{SpeedRadS: 2000, ThrustN: 6}}
	thin := seaLevel(t)
	thin.DensityKgM3 *= 0.9
	cases := []struct {
		name   string
		spec   Spec
		air    Air
		shares bool
	}{
		{"the same", base, seaLevel(t), true}, {"heavier", heavy, seaLevel(t), true}, {"steeper", steep, seaLevel(t), false},
		{"soft", soft, seaLevel(t), false}, {"two blades", two, seaLevel(t), false}, {"thin air", base, thin, false},
		{"a bench point", benched, seaLevel(t), false},
	}
	var maps Maps
	first, err := maps.New(base, seaLevel(t))
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for _, tt := range cases {
		all.Go(func() {
			got, err := maps.New(tt.spec, tt.air)
			want, wantErr := New(tt.spec, tt.air)
			if err != nil || wantErr != nil {
				t.Error(tt.name, err, wantErr)
				return
			}
			if shares := got.Map == first.Map; shares != tt.shares {
				t.Errorf("%s: shares the map: %v", tt.name, shares)
			}
			thrust, torque := got.Loads(1500, Flow{AxialMS: 3, InplaneMS: 8})
			wantN, wantNm := want.Loads(1500, Flow{AxialMS: 3, InplaneMS: 8})
			if thrust != wantN || torque != wantNm || got.MassKg != want.MassKg {
				t.Errorf("%s: %g N, %g N m, %g kg; alone %g, %g, %g", tt.name, thrust, torque, got.MassKg, wantN, wantNm, want.MassKg)
			}
		})
	}
	all.Wait()
}
