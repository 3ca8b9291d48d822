package rotor

import (
	"math"

	"partsaloft/physics/fault"
)

// Constants of ISO 2533:1975, exact by definition there, except the two of Sutherland's law as
// used by the same standard.
const (
	standardGravityMS2   = 9.80665
	seaLevelPressurePa   = 101325.0
	seaLevelTemperatureK = 288.15
	lapseRateKM          = 0.0065    // K/m up to 11 km
	airGasConstantJKgK   = 287.05287 // J/(kg K)
	heatCapacityRatio    = 1.4
	sutherlandBeta       = 1.458e-6 // kg/(m s K^½)
	sutherlandTempK      = 110.4
	ZeroCelsiusK         = 273.15 // the ice point in K
	tropopauseM          = 11000.0
	lowestAltitudeM      = -500.0
	lowestTemperatureC   = -40.0
	highestTemperatureC  = 60.0
	lowestStationPa      = 30000.0
	highestStationPa     = 110000.0
)

// Air is the state of the air a craft flies in.
type Air struct {
	DensityKgM3  float64
	ViscosityPaS float64 // dynamic viscosity
	TemperatureK float64
	PressurePa   float64
	SoundMS      float64 // speed of sound, m/s
}

// StandardAir is the ISO 2533 standard atmosphere at a geopotential altitude in metres, from
// −500 to 11000 m.
func StandardAir(altitudeM float64) (Air, error) {
	if !(altitudeM >= lowestAltitudeM && altitudeM <= tropopauseM) {
		return Air{}, fault.New("air.altitude", fault.Values{"low": lowestAltitudeM, "high": tropopauseM, "got": altitudeM})
	}
	t := seaLevelTemperatureK - lapseRateKM*altitudeM
	p := seaLevelPressurePa * math.Pow(t/seaLevelTemperatureK, standardGravityMS2/(airGasConstantJKgK*lapseRateKM))
	return airOf(p, t), nil
}

// AirOf is air of a given pressure in pascal and temperature in kelvin: density from the gas law,
// viscosity by Sutherland. Humidity is left out (under 1 % of density below 30 °C).
func AirOf(pressurePa, temperatureK float64) (Air, error) {
	if !(pressurePa >= lowestStationPa && pressurePa <= highestStationPa) {
		return Air{}, fault.New("air.pressure", fault.Values{"low": lowestStationPa, "high": highestStationPa,
			"got": pressurePa})
	}
	if !(temperatureK >= CelsiusToKelvin(lowestTemperatureC) && temperatureK <= CelsiusToKelvin(highestTemperatureC)) {
		return Air{}, fault.New("air.temperature", fault.Values{"low": lowestTemperatureC, "high": highestTemperatureC,
			"got": fault.Digits(temperatureK-ZeroCelsiusK, 4)})
	}
	return airOf(pressurePa, temperatureK), nil
}

func airOf(pressurePa, temperatureK float64) Air {
	return Air{
		DensityKgM3:  pressurePa / (airGasConstantJKgK * temperatureK),
		ViscosityPaS: sutherlandBeta * math.Pow(temperatureK, 1.5) / (temperatureK + sutherlandTempK),
		TemperatureK: temperatureK,
		PressurePa:   pressurePa,
		SoundMS:      math.Sqrt(heatCapacityRatio * airGasConstantJKgK * temperatureK),
	}
}

// CelsiusToKelvin converts a temperature from °C to K.
func CelsiusToKelvin(temperatureC float64) float64 { return temperatureC + ZeroCelsiusK }
