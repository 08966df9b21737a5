package transient_test

import (
	"context"
	"testing"

	"relath/advisor/transient"
)

func BenchmarkYear(b *testing.B) {
	in := wall(b, 8760)
	in.Tolerance = 0.1
	m, err := transient.Compile(in)
	if err != nil {
		b.Fatal(err)
	}
	w := new(transient.Workspace)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Run(context.Background(), w); err != nil {
			b.Fatal(err)
		}
	}
}
