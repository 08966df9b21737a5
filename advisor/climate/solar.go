package climate

import "math"

// SolarConstant is the irradiance of the sun outside the atmosphere at mean
// distance, W/m².
const SolarConstant = 1367.0

// lowestSin is the sine of 5° of altitude, below which horizontal irradiance says
// nothing safe about the beam.
const lowestSin = 0.087

const degree = math.Pi / 180

// halfHour is half an hour of hour angle.
const halfHour = math.Pi / 24

// Declination returns the declination of the sun in radians on a day of the year,
// 1 to 365: 23.45°·sin(360°(284 + day)/365) (Cooper 1969, in Duffie and Beckman,
// Solar Engineering of Thermal Processes).
func Declination(day int) float64 {
	return 23.45 * degree * math.Sin(2*math.Pi*float64(284+day)/DaysPerYear)
}

// EquationOfTime returns how far apparent solar time is ahead of mean solar time, in
// hours, on a day of the year, 1 to 365 (Spencer 1971, in Duffie and Beckman;
// recalled).
func EquationOfTime(day int) float64 {
	b := 2 * math.Pi * float64(day-1) / DaysPerYear
	minutes := 229.2 * (0.000075 + 0.001868*math.Cos(b) - 0.032077*math.Sin(b) -
		0.014615*math.Cos(2*b) - 0.04089*math.Sin(2*b))
	return minutes / 60
}

// SunsetAngle returns the hour angle of sunset in radians, 0 in polar night and π in
// polar day, for latitude and declination in radians.
func SunsetAngle(latitude, declination float64) float64 {
	return math.Acos(max(-1, min(1, -math.Tan(latitude)*math.Tan(declination))))
}

// normalIrradiance returns the irradiance in W/m² outside the atmosphere on a
// surface facing the sun, on a day of the year, 1 to 365.
func normalIrradiance(day int) float64 {
	return SolarConstant * (1 + 0.033*math.Cos(2*math.Pi*float64(day)/DaysPerYear))
}

// Sun is the sun of one hour, taken at the middle of the part of the hour in which
// it is up.
type Sun struct {
	// Lit is the share of the hour with the sun above the horizon, 0 to 1.
	Lit float64
	// East, North and Up are the direction to the sun, of unit length. Up is the
	// cosine of the zenith angle.
	East, North, Up float64
	// Extraterrestrial is the mean irradiance in the hour on the horizontal outside
	// the atmosphere, W/m².
	Extraterrestrial float64

	hourAngle, sunset float64
}

// Sun returns the sun in hour i of a year at the site.
func (s *Site) Sun(i int) Sun {
	day := i/24 + 1
	clock := float64(i%24) + 0.5
	if !s.SolarTime {
		clock += EquationOfTime(day) + s.Longitude/15 - s.Zone
	}
	return sunAt(s.Latitude*degree, Declination(day), (clock-12)*2*halfHour, normalIrradiance(day))
}

// sunAt returns the sun of the hour around the hour angle in radians.
func sunAt(latitude, declination, hourAngle, normal float64) Sun {
	sunset := SunsetAngle(latitude, declination)
	hourAngle = math.Remainder(hourAngle, 2*math.Pi)
	from, to := hourAngle-halfHour, hourAngle+halfHour
	if sunset < math.Pi {
		from, to = max(from, -sunset), min(to, sunset)
	}
	if from >= to {
		return Sun{sunset: sunset}
	}
	sinL, cosL := math.Sincos(latitude)
	sinD, cosD := math.Sincos(declination)
	middle := (from + to) / 2
	sinW, cosW := math.Sincos(middle)
	return Sun{
		Lit:   (to - from) / (2 * halfHour),
		East:  -cosD * sinW,
		North: sinD*cosL - cosD*sinL*cosW,
		Up:    sinL*sinD + cosL*cosD*cosW,
		Extraterrestrial: normal / (2 * halfHour) *
			(cosL*cosD*(math.Sin(to)-math.Sin(from)) + (to-from)*sinL*sinD),
		hourAngle: middle, sunset: sunset,
	}
}

// DailyExtraterrestrial returns the mean over 24 hours of the irradiance in W/m² on
// the horizontal outside the atmosphere, at a latitude in degrees on a day of the
// year, 1 to 365 (Duffie and Beckman).
func DailyExtraterrestrial(latitude float64, day int) float64 {
	l, d := latitude*degree, Declination(day)
	w := SunsetAngle(l, d)
	return normalIrradiance(day) / math.Pi * (math.Cos(l)*math.Cos(d)*math.Sin(w) + w*math.Sin(l)*math.Sin(d))
}

// diffuseShare returns the share of diffuse in global irradiance of an hour at the
// clearness index k (Erbs, Klein and Duffie 1982, Solar Energy 28, 293, eq. 1).
func diffuseShare(k float64) float64 {
	switch {
	case k <= 0.22:
		return 1 - 0.09*k
	case k <= 0.80:
		return 0.9511 + k*(-0.1604+k*(4.388+k*(-16.638+k*12.336)))
	default:
		return 0.165
	}
}

// split sets Diffuse and Beam of an hour from its Global by the correlation of
// [diffuseShare].
func (h *Hour) split(sun Sun) {
	h.Diffuse = h.Global
	if sun.Extraterrestrial > 0 {
		h.Diffuse *= diffuseShare(h.Global / sun.Extraterrestrial)
	}
	h.beamFromDifference(sun)
}

// beamFromDifference sets Beam from Global and Diffuse. Close to the horizon the
// division is held, and what it leaves over counts as diffuse, so that a horizontal
// surface receives the global irradiance exactly.
func (h *Hour) beamFromDifference(sun Sun) {
	h.Beam = 0
	if sun.Lit > 0 && h.Global > h.Diffuse {
		h.Beam = (h.Global - h.Diffuse) / max(sun.Up, lowestSin)
	}
	h.Diffuse = h.Global - h.Beam*sun.Up
}
