package transient_test

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/sorption"
)

// stepMaterial is the material of the coupled step on a semi-infinite solid (EN
// 15026:2007, annex A, recalled).
func stepMaterial() sorption.Functions {
	content := func(phi float64) float64 { return stepContent(sorption.Suction(phi, 20)) }
	return sorption.Functions{
		Density: 1824, SpecificHeat: 1000, DryConductivity: 1.5, ConductivitySlope: 15.8 / 1000,
		FreeSaturation: 146, Content: content, Redistribution: 1,
		// The case lets permeability fall with temperature, which our functions do
		// not; all its moisture moves at nearly 30 °C.
		Permeability: func(phi float64) float64 { return max(1e-18, stepPermeability(content(phi), 303.15)) },
		Diffusivity: func(w float64) float64 {
			// −ds/dw grows without bound toward saturation.
			w = min(w, 145.999)
			u := math.Pow(146/w, 1/0.375) - 1
			suction := math.Pow(u, 1/1.6) / 8e-8
			slope := -suction / 1.6 / u * (u + 1) / 0.375 / w
			return -stepConductivity(w) * slope
		},
	}
}

func stepContent(suction float64) float64 {
	return 146 / math.Pow(1+math.Pow(8e-8*suction, 1.6), 0.375)
}

func stepConductivity(w float64) float64 {
	y := w - 73
	return math.Exp(-39.2619 + y*(0.0704+y*(-1.7420e-4+y*(-2.7953e-6+y*(-1.1566e-7+y*2.5969e-9)))))
}

func stepPermeability(w, kelvin float64) float64 {
	dry := 1 - w/146
	return 0.018 / (8.314 * kelvin) * 26.1e-6 / 200 * dry / (0.503*dry*dry + 0.497)
}

func TestStepMaterial(t *testing.T) {
	f := checks.Open(t, "transient-step-material.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "content", stepMaterial().Content(row.Float("humidity")))
	}
	f = checks.Open(t, "transient-step-conductivity.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "conductivity", stepConductivity(row.Float("content")))
	}
	f = checks.Open(t, "transient-step-permeability.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "permeability", stepPermeability(row.Float("content"), 293.15))
	}
}

// slabMaterial is the material of the isothermal drying of a slab (HAMSTAD
// benchmark 2, recalled), with a conductivity that keeps it isothermal.
func slabMaterial() sorption.Functions {
	return sorption.Functions{
		Density: 525, SpecificHeat: 800, DryConductivity: 1e4, FreeSaturation: 116, Redistribution: 1,
		Content: func(phi float64) float64 {
			return 116 * math.Pow(1-math.Log(phi)/0.118, -0.869)
		},
		Permeability: func(float64) float64 { return 1e-15 },
		Diffusivity:  func(float64) float64 { return 6e-10 },
	}
}
