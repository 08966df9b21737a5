package steady

import (
	"fmt"
	"math"

	"relath/advisor/moistair"
)

const stefanBoltzmann = 5.670374419e-8 // W/(m²·K⁴)

// narrowSpace is the thickness in m below which a plane air space conducts
// without convection, by the ASHRAE form.
const narrowSpace = 0.013

// AirSpaceISO returns the thermal resistance in m²·K/W of an unventilated air
// layer of a thickness in m, up to 0.3 m, between ordinary surfaces (emittance
// 0.9) at 10 °C: R = 1/(h_a + E·4σT³) with 1/E = 2/0.9 − 1 and h_a the larger
// of 0.025/d and 1.25 for horizontal heat flow, 1.95 up, 0.12·d^−0.44 down
// (ISO 6946, recalled). Slant flow takes the value of horizontal flow.
func AirSpaceISO(thickness float64, flow HeatFlow) (float64, error) {
	if !(thickness > 0 && thickness <= 0.3) {
		return 0, fmt.Errorf("air space is %g m thick; allowed is above 0 to 0.3", thickness)
	}
	const emittance, absolute = 0.9, 283.15
	var convection float64
	switch flow {
	case Horizontal, SlantUp, SlantDown:
		convection = 1.25
	case Up:
		convection = 1.95
	case Down:
		convection = 0.12 * math.Pow(thickness, -0.44)
	default:
		return 0, fmt.Errorf("no air space for heat flow %d", flow)
	}
	conduction := 0.025 / thickness
	effective := 1 / (2/emittance - 1)
	radiation := effective * 4 * stefanBoltzmann * absolute * absolute * absolute
	return 1 / (max(convection, conduction) + radiation), nil
}

// EffectiveEmittance returns the effective emittance of an air space between
// surfaces of emittance e1 and e2: 1/E = 1/e1 + 1/e2 − 1.
func EffectiveEmittance(e1, e2 float64) (float64, error) {
	if !(e1 > 0 && e1 <= 1 && e2 > 0 && e2 <= 1) {
		return 0, fmt.Errorf("emittances are %g and %g; allowed is above 0 to 1", e1, e2)
	}
	return 1 / (1/e1 + 1/e2 - 1), nil
}

// AirSpace is a plane air space by its convection coefficient.
type AirSpace struct {
	Convection float64 // h_c, W/(m²·K)
	Emittance  float64 // effective, 0 to 1
	MeanT      float64 // mean temperature, °C
}

// Resistance returns the thermal resistance of the space in m²·K/W: R = 1/(h_c
// + 0.227·E·((t_m + 273)/100)³) (ASHRAE Handbook—Fundamentals 2021, ch. 26,
// Table 3, footnote a).
func (a AirSpace) Resistance() (float64, error) {
	err := firstError(
		within("convection coefficient of the air space", a.Convection, 0.01, 1000),
		within("effective emittance of the air space", a.Emittance, 0, 1),
		within("mean temperature of the air space", a.MeanT, MinTemperature, MaxTemperature),
	)
	if err != nil {
		return 0, err
	}
	return 1 / (a.Convection + radiation(a.Emittance, a.MeanT)), nil
}

// radiation returns the radiation coefficient of an air space in W/(m²·K).
func radiation(effective, meanT float64) float64 {
	return 0.227 * effective * math.Pow((meanT+273)/100, 3)
}

// NarrowConvection returns the convection coefficient in W/(m²·K) of an air
// space thinner than 13 mm: 21.8·(1 + 0.00274·t_m)/l with l in mm (ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 3, footnote a).
func NarrowConvection(thickness, meanT float64) (float64, error) {
	if !(thickness > 0 && thickness < narrowSpace) {
		return 0, fmt.Errorf("air space is %g m thick; allowed is above 0 to below %g", thickness, narrowSpace)
	}
	if err := within("mean temperature of the air space", meanT, MinTemperature, MaxTemperature); err != nil {
		return 0, err
	}
	return 21.8 * (1 + 0.00274*meanT) / (thickness * 1000), nil
}

// ventHumidity is the ratio of humidity ratio to vapor pressure times total
// pressure as the source of [VentPermeance] rounds it.
const ventHumidity = 0.62

// VentPermeance returns the permeance in kg/(s·m²·Pa) that outdoor air moving
// through a gap has in parallel with the layers outside of the gap, for airflow
// in kg/(s·m²) of assembly and the total pressure in Pa: m_a·0.62/P (TenWolde
// and Carll 1992, as in ASHRAE Handbook—Fundamentals 2021, ch. 27). See
// [Layer].Vent.
func VentPermeance(airflow, pressure float64) (float64, error) {
	if err := firstError(within("airflow", airflow, 0, 1), within("total pressure", pressure, 1e4, 1e6)); err != nil {
		return 0, err
	}
	return airflow * ventHumidity / pressure, nil
}

// VentResistance returns the thermal resistance in m²·K/W that outdoor air
// moving through a gap has in parallel with the layers outside of the gap, for
// airflow in kg/(s·m²): 1/(m_a·c) (same source as [VentPermeance]).
func VentResistance(airflow float64) (float64, error) {
	if err := within("airflow", airflow, 1e-12, 1); err != nil {
		return 0, err
	}
	return 1 / (airflow * moistair.HeatCapacityDryAir), nil
}
