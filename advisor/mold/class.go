package mold

import (
	"fmt"
	"strings"
)

// Class is the mold sensitivity class of a surface (Ojanen et al. 2010). The zero
// value is the most sensitive one, and larger values are more resistant.
type Class int

// The sensitivity classes with the groups of materials that the literature puts
// into them (Vereecken and Roels 2012, Tables 3 and 4).
const (
	// VerySensitive: untreated wood rich in nutrients, such as pine sapwood.
	VerySensitive Class = iota
	// Sensitive: planed wood, paper-coated products, wood-based boards.
	Sensitive
	// MediumResistant: cement- or plastic-based materials, mineral fibers.
	MediumResistant
	// Resistant: glass and metal, materials with an efficient protective treatment.
	Resistant
)

// String returns the name that [ParseClass] reads.
func (c Class) String() string {
	switch c {
	case Sensitive:
		return "sensitive"
	case MediumResistant:
		return "medium-resistant"
	case Resistant:
		return "resistant"
	default:
		return "very-sensitive"
	}
}

// ParseClass reads the name of a sensitivity class.
func ParseClass(name string) (Class, error) {
	classes := []Class{VerySensitive, Sensitive, MediumResistant, Resistant}
	names := make([]string, len(classes))
	for i, c := range classes {
		names[i] = c.String()
		if names[i] == name {
			return c, nil
		}
	}
	return 0, fmt.Errorf("mold sensitivity class %q is not one of %s", name, strings.Join(names, ", "))
}

// constants are those of one class (Vereecken and Roels 2012, Table 4).
type constants struct {
	before, after float64 // k1 while M < 1, and from M = 1
	a, b, c       float64 // of the ceiling a + b·x − c·x²
	minHumidity   float64 // lowest critical relative humidity, %
}

// constants returns those of c; a value that is no class has those of the most
// sensitive one.
func (c Class) constants() constants {
	switch c {
	case Sensitive:
		return constants{before: 0.578, after: 0.386, a: 0.3, b: 6, c: 1, minHumidity: 80}
	case MediumResistant:
		return constants{before: 0.072, after: 0.097, a: 0, b: 5, c: 1.5, minHumidity: 85}
	case Resistant:
		return constants{before: 0.033, after: 0.014, a: 0, b: 3, c: 1, minHumidity: 85}
	default:
		return constants{before: 1, after: 2, a: 1, b: 7, c: 2, minHumidity: 80}
	}
}
