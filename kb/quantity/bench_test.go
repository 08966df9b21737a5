package quantity

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		name, text string
		d          Dimension
	}{
		{"fraction", "5-1/2 in", Length},
		{"compound", "110 ng/(Pa s m2)", Permeance},
		{"prefix", "R-13", ThermalResistance},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(c.text, c.d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
