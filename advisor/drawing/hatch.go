package drawing

import (
	"math"
	"math/rand/v2"
)

// Pattern names how a cut material is hatched. The forms follow the customs of
// technical drawing (ISO 128-3, areas on cuts and sections): general hatches at
// 45 degrees, grain for wood, waves for soft insulation, dots for mortars.
type Pattern string

// The patterns.
const (
	Blank     Pattern = ""
	Diagonal  Pattern = "diagonal"  // brick, and solid matter in general
	Pairs     Pattern = "pairs"     // block
	Rubble    Pattern = "rubble"    // stone
	Dense     Pattern = "dense"     // tile and other fired or hard plates
	Dots      Pattern = "dots"      // plaster
	Sparse    Pattern = "sparse"    // boards of gypsum or cement
	Aggregate Pattern = "aggregate" // concrete
	Gravel    Pattern = "gravel"
	Earth     Pattern = "earth"
	EndGrain  Pattern = "end-grain"
	LongGrain Pattern = "long-grain"
	Plies     Pattern = "plies"
	Strands   Pattern = "strands"
	Fibers    Pattern = "fibers"
	Particles Pattern = "particles"
	Straw     Pattern = "straw"
	Wave      Pattern = "wave"  // batts
	Loose     Pattern = "loose" // blown or poured fill
	Cross     Pattern = "cross" // foam
	Pile      Pattern = "pile"  // carpet
	Filled    Pattern = "filled"
)

// Hatch fills a box with a pattern. A layer that runs down the sheet is
// upright: grain and waves turn with it.
func Hatch(k Pattern, in Box, upright bool) []Item {
	across, along := in.X1-in.X0, in.Y1-in.Y0
	if !upright {
		across, along = along, across
	}
	h := &hatch{across: across, along: along, in: in, upright: upright, chance: rand.New(rand.NewPCG(128, 3))}
	h.draw(k)
	return h.items
}

// hatch draws a pattern in its own measures: u across the layer, v along it.
type hatch struct {
	across, along float64
	in            Box
	upright       bool
	chance        *rand.Rand // of a fixed seed: the same box has the same hatch
	items         []Item
}

const (
	thin = 0.13 // mm, of a line of a hatch
	soft = 0.18
)

func (h *hatch) draw(k Pattern) {
	switch k {
	case Diagonal:
		h.slanted(1.8, 1)
	case Pairs:
		h.slanted(3.6, 1)
		h.slanted(3.6, 1, 0.9)
	case Rubble:
		h.stones(5.5, 0.9)
	case Dense:
		h.slanted(0.9, 1)
	case Cross:
		h.slanted(2.2, 1)
		h.slanted(2.2, -1)
	case Dots:
		h.dots(1.15, 0.13)
	case Sparse:
		h.dots(2, 0.13)
	case Aggregate:
		h.dots(1.9, 0.12)
		h.stones(5, 0.25)
	case Gravel:
		h.stones(2.4, 0.8)
	case Earth:
		h.earth()
	case EndGrain:
		h.endGrain()
	case LongGrain:
		h.longGrain()
	case Plies:
		h.plies()
	case Strands:
		h.strokes(1.1, 1.7, 0.35)
	case Fibers:
		h.strokes(1.05, 0.75, math.Pi/2)
	case Particles:
		h.strokes(0.95, 0.35, math.Pi/2)
	case Straw:
		h.strokes(1.7, 2.8, 0.5)
	case Wave:
		h.wave()
	case Loose:
		h.curls()
	case Pile:
		h.pile()
	case Filled:
		p := h.in.Path()
		p.Fill = Medium
		h.items = append(h.items, Item{Path: p})
	}
}

// at maps a place of the layer onto the sheet.
func (h *hatch) at(u, v float64) Point {
	if h.upright {
		return Point{h.in.X0 + u, h.in.Y0 + v}
	}
	return Point{h.in.X0 + v, h.in.Y0 + u}
}

// stroke draws the part of a line that lies in the box.
func (h *hatch) stroke(width, u1, v1, u2, v2 float64) {
	a, b, ok := h.in.clip(h.at(u1, v1), h.at(u2, v2))
	if ok {
		h.items = append(h.items, Item{Path: &Path{Points: []Point{a, b}, Line: Soft, Width: width}})
	}
}

// curve draws the parts of a line through places (u, v) that lie in the box,
// as few pieces.
func (h *hatch) curve(width float64, uv ...[2]float64) {
	var run []Point
	flush := func() {
		if len(run) > 1 {
			h.items = append(h.items, Item{Path: &Path{Points: run, Line: Soft, Width: width}})
		}
		run = nil
	}
	for i := 1; i < len(uv); i++ {
		a, b, ok := h.in.clip(h.at(uv[i-1][0], uv[i-1][1]), h.at(uv[i][0], uv[i][1]))
		if !ok {
			flush()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			flush()
			run = []Point{a}
		}
		run = append(run, b)
	}
	flush()
}

// slanted draws lines at 45 degrees; the shift moves them along.
func (h *hatch) slanted(space, direction float64, shift ...float64) {
	step := space * math.Sqrt2
	at := -h.across
	for _, s := range shift {
		at += s * math.Sqrt2
	}
	for v := at; v < h.along+h.across; v += step {
		h.stroke(thin, 0, v, h.across, v+direction*h.across)
	}
}

// scatter calls f at places about a space apart, none on a grid.
func (h *hatch) scatter(space float64, f func(u, v float64)) {
	rows, columns := max(1, int(math.Round(h.across/space))), max(1, int(math.Round(h.along/space)))
	du, dv := h.across/float64(rows), h.along/float64(columns)
	for c := range columns {
		for r := range rows {
			f((float64(r)+0.2+0.6*h.chance.Float64())*du, (float64(c)+0.2+0.6*h.chance.Float64())*dv)
		}
	}
}
