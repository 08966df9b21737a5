package transient

import (
	"math"

	"relath/advisor/moistair"
)

// stefanBoltzmann in W/(m²·K⁴).
const stefanBoltzmann = 5.670374e-8

// Convection returns the convective heat transfer coefficient in W/(m²·K) of an
// outdoor face at a wind speed in m/s: 4 + 4·v up to 5 m/s, 7.1·v^0.78 above (EN
// 15026, recalled).
func Convection(wind float64) float64 {
	if wind <= 5 {
		return 4 + 4*wind
	}
	return 7.1 * math.Pow(wind, 0.78)
}

// Radiation returns the heat transfer coefficient of long-wave radiation in
// W/(m²·K) of a face with an emissivity at a mean temperature in °C of face and
// surroundings: 4·ε·σ·T³ (EN 15026, recalled).
func Radiation(emissivity, celsius float64) float64 {
	kelvin := celsius + moistair.ZeroCelsius
	return 4 * emissivity * stefanBoltzmann * kelvin * kelvin * kelvin
}

// VaporTransfer returns the vapor transfer coefficient in kg/(s·m²·Pa) of a face
// by its convective heat transfer coefficient in W/(m²·K): 7E−9·h_c (EN 15026
// practice, recalled). The Lewis relation gives 6.1E−9 to 6.9E−9 at 20 °C (ASHRAE
// Handbook—Fundamentals 2021, ch. 6, eq. 39–40).
func VaporTransfer(convection float64) float64 { return 7e-9 * convection }
