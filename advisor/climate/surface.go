package climate

import (
	"math"

	"relath/advisor/moistair"
)

// GroundReflectance is that of ground without snow (convention, recalled).
const GroundReflectance = 0.2

// Surface is the orientation of an outside face.
type Surface struct {
	// Azimuth is where the outward normal points, degrees clockwise from north.
	Azimuth float64
	// Tilt is 0 for a flat roof, 90 for a wall, 180 for the underside of a floor,
	// degrees.
	Tilt float64
}

// Irradiance returns the mean solar irradiance in W/m² on a surface in hour i of the
// year: beam, isotropic sky, and ground of [GroundReflectance] (Liu and Jordan, in
// Duffie and Beckman). The sun stands in the middle of the sunlit part of the hour.
// Nothing shades the surface.
func (y *Year) Irradiance(i int, s Surface) float64 {
	h := &y.Hours[i]
	if h.Global+h.Diffuse+h.Beam == 0 {
		return 0
	}
	sun := y.Site.Sun(i)
	cosTilt := math.Cos(s.Tilt * degree)
	return h.Beam*max(0, sun.cosIncidence(s)) +
		h.Diffuse*(1+cosTilt)/2 +
		h.Global*GroundReflectance*(1-cosTilt)/2
}

// cosIncidence returns the cosine of the angle between the sun and the normal of a
// surface.
func (s *Sun) cosIncidence(on Surface) float64 {
	sinTilt, cosTilt := math.Sincos(on.Tilt * degree)
	sinAzimuth, cosAzimuth := math.Sincos(on.Azimuth * degree)
	return sinTilt*(sinAzimuth*s.East+cosAzimuth*s.North) + cosTilt*s.Up
}

// Long-wave exchange.
const (
	// skyDeficit is what a black horizontal surface at air temperature loses to the
	// sky, W/m² (ASHRAE Handbook—Fundamentals, ch. 18, sol-air temperature).
	skyDeficit      = 63.0
	stefanBoltzmann = 5.670374e-8 // W/(m²·K⁴)
)

// LongwaveDeficit returns the net long-wave loss in W/m² of a black surface at air
// temperature: 63 W/m² facing the sky, none when vertical, because there a cold sky
// and warm ground are taken to cancel (ASHRAE Handbook—Fundamentals, ch. 18), in
// between by the cosine of the tilt (assumed). It is a mean over clear and cloudy
// sky, day and night: hours of clear night are colder. Multiply by the emissivity,
// and add the exchange with surroundings at air temperature.
func (s Surface) LongwaveDeficit() float64 {
	return skyDeficit * max(0, math.Cos(s.Tilt*degree))
}

// SkyTemperature returns the temperature in °C of a black sky that causes the
// deficit of a horizontal surface at the air temperature t in °C, above −90 °C.
func SkyTemperature(t float64) float64 {
	k := t + moistair.ZeroCelsius
	return math.Pow(k*k*k*k-skyDeficit/stefanBoltzmann, 0.25) - moistair.ZeroCelsius
}

// drivingRain is how much rain passes a vertical plane per rain on the ground and
// wind speed, s/m (Lacy 1965, in ASHRAE Handbook—Fundamentals, ch. 25).
const drivingRain = 0.2

// RainOn returns the rain in kg/m² that an hour brings onto a surface: what falls
// onto its horizontal projection, and what the wind drives against it, 0.2·v·r·cos θ
// with θ between wind and normal, times factor. The factor is the product of
// exposure and deposition: 1 for the full driving rain in open country, about 0.35
// on a wall below a steep roof, 0.5 below a flat one (ASHRAE Standard 160,
// recalled). Where the wind direction is unknown, the mean over all directions
// stands in. Snow counts as nothing.
func (h *Hour) RainOn(s Surface, factor float64) float64 {
	if h.Rain == 0 {
		return 0
	}
	facing := 1 / math.Pi
	if !math.IsNaN(h.WindDirection) {
		facing = max(0, math.Cos((h.WindDirection-s.Azimuth)*degree))
	}
	sinTilt, cosTilt := math.Sincos(s.Tilt * degree)
	return h.Rain * (max(0, cosTilt) + factor*drivingRain*h.WindSpeed*facing*sinTilt)
}
