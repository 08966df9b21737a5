package kb

import "relath/kb/quantity"

// Reader answers what [Material.Working] does and keeps the answers, for those
// who ask the same of the same materials again and again. A nil Reader keeps none.
// It must not be used by two goroutines at once.
type Reader struct{ answers map[inquiry]answer }

// inquiry is a question to a material; without a property it is the density.
type inquiry struct {
	of               *Material
	property, method string
	thickness        float64
}

type answer struct {
	Working
	known bool
}

// NewReader makes a reader.
func NewReader() *Reader { return &Reader{make(map[inquiry]answer)} }

// Working is [Material.Working].
func (r *Reader) Working(of *Material, property, method string, thickness float64) (Working, bool) {
	return r.keep(inquiry{of, property, method, thickness}, func() (Working, bool) { return of.Working(property, method, thickness) })
}

// Density is [Material.Density].
func (r *Reader) Density(of *Material) (quantity.Range, bool) {
	w, known := r.keep(inquiry{of: of}, func() (Working, bool) {
		density, known := of.Density()
		return Working{SI: density}, known
	})
	return w.SI, known
}

// keep gives an answer, asked for once.
func (r *Reader) keep(q inquiry, ask func() (Working, bool)) (Working, bool) {
	if r == nil {
		return ask()
	}
	a, asked := r.answers[q]
	if !asked {
		a.Working, a.known = ask()
		r.answers[q] = a
	}
	return a.Working, a.known
}
