package rotor

import (
	"math"
	"testing"
)

// Published: ISO 2533:1975, table of the standard atmosphere over geopotential altitude.
func TestStandardAir(t *testing.T) {
	tests := []struct{ altitudeM, temperatureK, pressurePa, densityKgM3, soundMS float64 }{
		{0, 288.15, 101325, 1.225, 340.29},
		{250, 286.52, 98357.5, 1.19587, 339.33},
		{500, 284.90, 95460.8, 1.16727, 338.37},
		{1000, 281.65, 89874.6, 1.11164, 336.43},
		{11000, 216.65, 22632, 0.36392, 295.07},
	}
	for _, tt := range tests {
		a, err := StandardAir(tt.altitudeM)
		if err != nil {
			t.Fatal(err)
		}
		for name, pair := range map[string][2]float64{
			"temperature": {a.TemperatureK, tt.temperatureK}, "pressure": {a.PressurePa, tt.pressurePa},
			"density": {a.DensityKgM3, tt.densityKgM3}, "speed of sound": {a.SoundMS, tt.soundMS},
		} {
			if math.Abs(pair[0]/pair[1]-1) > 1e-4 {
				t.Errorf("%g m: %s %.6g, ISO 2533 has %.6g", tt.altitudeM, name, pair[0], pair[1])
			}
		}
	}
	a, _ := StandardAir(0)
	if math.Abs(a.ViscosityPaS/1.7894e-5-1) > 1e-4 {
		t.Errorf("viscosity at sea level %.5g, ISO 2533 has 1.7894e-5", a.ViscosityPaS)
	}
}

func TestAirRefuses(t *testing.T) {
	for _, altitude := range []float64{-501, 11001, math.NaN(), math.Inf(1)} {
		if _, err := StandardAir(altitude); err == nil {
			t.Errorf("altitude %g was taken", altitude)
		}
	}
	for _, pt := range [][2]float64{{1e4, 288}, {1e5, 200}, {1e5, 400}, {math.NaN(), 288}, {1e5, math.NaN()}} {
		if _, err := AirOf(pt[0], pt[1]); err == nil {
			t.Errorf("pressure %g Pa, temperature %g K was taken", pt[0], pt[1])
		}
	}
}
