package analysis

import (
	"context"
	"os"
	"testing"
)

// BenchmarkHourly adds the hourly facts of the first variant of the shipped wall:
// three corners, two years each.
func BenchmarkHourly(b *testing.B) {
	base := loadBase(b)
	text, err := os.ReadFile("../../testdata/houses/alder-court.yaml")
	if err != nil {
		b.Fatal(err)
	}
	a := resolve(b, base, string(text)).Assemblies[0]
	r, err := Run(context.Background(), base, a)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := AddHourly(context.Background(), base, Hourly{First: true}, r); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLeak wets the sheathing of the shipped wall in winter and in summer, at
// three corners.
func BenchmarkLeak(b *testing.B) {
	base := loadBase(b)
	text, err := os.ReadFile("../../testdata/houses/alder-court.yaml")
	if err != nil {
		b.Fatal(err)
	}
	a := resolve(b, base, string(text)).Assemblies[0]
	for b.Loop() {
		if _, err := RunLeak(context.Background(), base, a, Leak{}); err != nil {
			b.Fatal(err)
		}
	}
}
