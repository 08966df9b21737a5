package steady

import "fmt"

// MoldLimitRH is the monthly mean relative humidity at a surface above which
// mold is to be expected (ISO 13788, recalled; ASHRAE Handbook—Fundamentals
// 2021, ch. 25).
const MoldLimitRH = 0.8

// SurfaceRatio returns the temperature ratio (t_s − t_o)/(t_i − t_o) of the
// inner surface, 0 to 1, for the inside film resistance and the resistance of
// all the rest, outside film included, in m²·K/W. With [MoldFilm] inside it is
// the f_Rsi of ISO 13788 (recalled).
func SurfaceRatio(film, rest float64) (float64, error) {
	err := firstError(
		within("inside film resistance", film, 0, MaxResistance),
		within("resistance of layers and outside film", rest, 0, MaxLayers*MaxResistance),
		positive("thermal resistance of layers and films together", film+rest),
	)
	if err != nil {
		return 0, err
	}
	return rest / (film + rest), nil
}

// InnerSurface is the state of the inner surface in a month.
type InnerSurface struct {
	Temperature float64 // °C
	RH          float64 // 0 to 1; above 1 the surface is below the dew point
}

// InnerSurface returns the state of an inner surface of a temperature ratio
// from 0 to 1 in the month.
func (m Month) InnerSurface(ratio float64, formula Saturation) (InnerSurface, error) {
	if err := firstError(m.Validate(), within("temperature ratio", ratio, 0, 1)); err != nil {
		return InnerSurface{}, err
	}
	t := m.OutdoorT + ratio*(m.IndoorT-m.OutdoorT)
	return InnerSurface{Temperature: t, RH: m.IndoorP / formula.pressure(t)}, nil
}

// RequiredRatio is the lowest temperature ratio that keeps the inner surface at
// or below a relative humidity.
type RequiredRatio struct {
	// Ratio is the temperature ratio. Above 1 the room air itself is above the
	// limit and no surface can meet it; below 0 any surface does.
	Ratio float64
	// Temperature is the lowest surface temperature, °C.
	Temperature float64
	// Month is the ruling month, 0 for January; −1 if no month rules.
	Month int
}

// RequiredRatio returns the lowest temperature ratio at which the inner surface
// is at most at the relative humidity limit in the month: p_sat(t_s) =
// p_i/limit (ISO 13788, recalled, with [MoldLimitRH]; with a limit of 1 the
// minimum ratio of ASHRAE Handbook—Fundamentals 2021, ch. 25, eq. 34 to 36). No
// ratio is required, and ok is false, in a month that is not colder outdoors
// than indoors, or with vapor too thin to have a dew point.
func (m Month) RequiredRatio(limit float64, formula Saturation) (required RequiredRatio, ok bool, err error) {
	if err := firstError(m.Validate(), checkLimit(limit)); err != nil {
		return RequiredRatio{}, false, err
	}
	t := formula.dewPoint(m.IndoorP / limit)
	if !(t >= MinTemperature) || m.OutdoorT >= m.IndoorT {
		return RequiredRatio{}, false, nil
	}
	ratio := (t - m.OutdoorT) / (m.IndoorT - m.OutdoorT)
	return RequiredRatio{Ratio: ratio, Temperature: t, Month: -1}, true, nil
}

// RulingRatio returns the requirement of the month that asks for the highest
// temperature ratio; its Month is −1 if none asks for any.
func RulingRatio(months *[12]Month, limit float64, formula Saturation) (RequiredRatio, error) {
	ruling := RequiredRatio{Month: -1}
	for i, m := range months {
		required, ok, err := m.RequiredRatio(limit, formula)
		if err != nil {
			return RequiredRatio{}, fmt.Errorf("month %d: %w", i+1, err)
		}
		if ok && (ruling.Month < 0 || required.Ratio > ruling.Ratio) {
			ruling = required
			ruling.Month = i
		}
	}
	return ruling, nil
}

func checkLimit(limit float64) error {
	if limit > 0 && limit <= 1 {
		return nil
	}
	return fmt.Errorf("limit of relative humidity is %g; allowed is above 0 to 1", limit)
}

// ThicknessForRatio returns the thickness in m of insulation of a conductivity
// in W/(m·K) that gives the inner surface the temperature ratio, with the
// inside film coefficient in W/(m²·K) and the resistance of all other layers
// and the outside film in m²·K/W: L = k·(f/(h·(1 − f)) − R), at least 0 (ASHRAE
// Handbook—Fundamentals 2021, ch. 25, eq. 36).
func ThicknessForRatio(ratio, conductivity, film, other float64) (float64, error) {
	if !(ratio >= 0 && ratio < 1) {
		return 0, fmt.Errorf("temperature ratio is %g; allowed is 0 to below 1", ratio)
	}
	err := firstError(
		within("conductivity", conductivity, 1e-4, 500),
		within("inside film coefficient", film, 0.1, 1000),
		within("resistance of other layers", other, 0, MaxLayers*MaxResistance),
	)
	if err != nil {
		return 0, err
	}
	return max(0, conductivity*(ratio/(film*(1-ratio))-other)), nil
}
