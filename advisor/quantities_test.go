package advisor_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"relath/advisor/report"
	"relath/advisor/takeoff"
)

// Units of the trade in SI, from their exact definitions.
const (
	foot = 0.3048
	ft2  = foot * foot
	ft3  = foot * foot * foot
	lb   = 0.45359237
)

// The demonstration house with its plan by hand. The addition wall is 240 − 36 =
// 204 ft² net, the north wall 310 − 42 = 268 ft².
//
//	addition wall
//	felt        204 ft²; order × 1.10 = 224.4 ft²
//	boards      204 × 12/5.125 = 477.659 ft; laid diagonally × 1.17 = 558.861 ft
//	framing     0.25 × 204 = 51 ft² / (1.5/12 ft) = 408 ft; × 1.10 = 448.8 ft
//	cellulose   0.75 × 204 = 153 ft² × 5.5/12 ft = 70.125 ft³; × 1.05 = 73.631 ft³
//	membrane    204 ft²; × 1.10 = 224.4 ft²
//	plaster     204 × 0.875/12 = 14.875 ft³; × 1.24 = 18.445 ft³ (keys, 15 to 33 %)
//	sand        14.875 ft³, the volume of the plaster
//	lime        14.875 × 0.333 × 44.4 = 219.93 lb, in bags of 50 lb 4.3986
//	lath        204/0.62 = 329.032; × 1.075 = 353.710
//	limewash    204 × 0.09290304 = 18.9522 m² × 5/6.5 m²/L = 14.5786 L
//	north wall
//	membrane    268 ft²; × 1.10 = 294.8 ft²
//	board       268/32 = 8.375 panels; × 1.075 = 9.0031
//	screws      268/(16/12 × 16/12) = 150.75
//	clay        268 × 0.125/12 = 2.79167 ft³; × 1.10 = 3.07083 ft³
//	living room
//	floor       240 ft²; × 1.075 = 258 ft²
func TestDemoQuantitiesByHand(t *testing.T) {
	s := demoPapers(t, base(t))
	for _, c := range []struct {
		of, item   string
		kind       takeoff.Kind
		unit       float64
		net, order float64
	}{
		{"addition wall", "asphalt-felt-15", takeoff.Area, ft2, 204, 224.4},
		{"addition wall", "diagonal-board-sheathing", takeoff.Length, foot, 477.659, 558.861},
		{"addition wall", "spf-lumber", takeoff.Length, foot, 408, 448.8},
		{"addition wall", "cellulose-dense-pack", takeoff.Volume, ft3, 70.125, 73.631},
		{"addition wall", "variable-retarder-polyamide", takeoff.Area, ft2, 204, 224.4},
		{"addition wall", "lime-plaster-on-wood-lath", takeoff.Volume, ft3, 14.875, 18.445},
		{"addition wall", "plaster-sand", takeoff.Volume, ft3, 14.875, 18.445},
		{"addition wall", "hydrated-lime", takeoff.Mass, lb, 219.93, 272.71},
		{"addition wall", "hydrated-lime", takeoff.Bags, 1, 4.3986, 5.4542},
		{"addition wall", "wood-lath-pieces", takeoff.Pieces, 1, 329.032, 353.710},
		{"addition wall", "limewash", takeoff.Volume, 0.001, 14.5786, 15.6720},
		{"north wall", "variable-retarder-polyamide", takeoff.Area, ft2, 268, 294.8},
		{"north wall", "gypsum-board", takeoff.Panels, 1, 8.375, 9.0031},
		{"north wall", "gypsum-board-screws", takeoff.Pieces, 1, 150.75, 158.2875},
		{"north wall", "clay-finish-plaster", takeoff.Volume, ft3, 2.79167, 3.07083},
		{"living room", "oak-floor", takeoff.Area, ft2, 240, 258},
	} {
		found := false
		for i := range s.Takeoff.Lines {
			l := &s.Takeoff.Lines[i]
			if l.Item != c.item || l.Where.Assembly+l.Where.Room != c.of {
				continue
			}
			found = true
			m, ok := l.Measure(c.kind)
			if !ok {
				t.Errorf("%s of %s is not measured by %s", c.item, c.of, c.kind)
				continue
			}
			const slack = 2e-4 // of figures written with six digits
			if math.Abs(m.Net.Best/c.unit-c.net) > slack*c.net || math.Abs(m.Order.Best/c.unit-c.order) > slack*c.order {
				t.Errorf("%s of %s: net %.6g, order %.6g; by hand %g and %g", c.item, c.of, m.Net.Best/c.unit, m.Order.Best/c.unit, c.net, c.order)
			}
		}
		if !found {
			t.Errorf("%s of %s is not bought", c.item, c.of)
		}
	}
	// Nothing that stands is bought: no siding, wrap, strand board or batts for the
	// north wall.
	for _, l := range s.Takeoff.Lines {
		switch l.Item {
		case "vinyl-siding", "nonwoven-house-wrap", "osb", "fiberglass-batt":
			t.Errorf("%s stands and is bought", l.Item)
		}
	}
}

// No paper names a brand: no mark of a registered name, and no word that is
// written with capitals inside, as names of products are.
func TestPapersNameNoBrand(t *testing.T) {
	b := base(t)
	s, m := demoPapers(t, b), report.Maker{Base: b}
	inner := regexp.MustCompile(`\b[A-Z]?[a-z]+[A-Z][a-z]+\b`)
	for name, d := range map[string]*report.Document{"specification": m.Spec(s), "client page": m.Client(s)} {
		page := text(t, d)
		if strings.ContainsAny(page, "®™℠") {
			t.Errorf("%s: a registered mark", name)
		}
		if word := inner.FindString(page); word != "" {
			t.Errorf("%s: %q looks like the name of a product", name, word)
		}
	}
}
